"""The record book from the command line: check, copy, restore, hand over, take in."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from packdesk import __version__
from packdesk.app.parts import book_path
from packdesk.record.backup import back_up
from packdesk.record.book import Book
from packdesk.record.copies import backup_folder, newest_readable
from packdesk.record.intake import take_in
from packdesk.record.restore import restore as put_back
from packdesk.record.session_file import FORMAT, Header, read_session_file, write_session_file
from packdesk.session.envelope import BOOK_STREAM
from packdesk.system.clock import SystemClock
from packdesk.system.folders import HOME, Folders, find_folders
from packdesk.system.station import renew_station, station_identity


@contextmanager
def _book(*, there: bool = True) -> Iterator[Book]:
    """The record book; where it has to be `there`, a new one is no answer."""
    folders = find_folders()
    path = book_path(folders)
    if there and not path.exists():
        raise ValueError(_no_book_words(path))
    with Book.open(path, station_identity(folders.made().config)) as book:
        yield book


def _no_book_words(path: Path) -> str:
    astray = path.parent.parent / path.name
    cure = (
        f"One lies in {astray.parent}: copy it and the files beside it into {path.parent}."
        if astray.exists()
        else f"Set {HOME} to the folder that keeps yours, or open PackDesk to begin one."
    )
    return f"There is no record book at {path}. {cure}"


def verify() -> tuple[bool, str]:
    """Read the whole book; whether it is sound, and that in words."""
    with _book() as book:
        report = book.verify()
        return report.sound, report.sentence


def backup() -> str:
    """Make a checked copy of the book and say where it is."""
    with _book() as book:
        copy = back_up(book, SystemClock().reading().utc)
        return f"Copied and checked: {copy.path}"


def restore(copy: Path | None) -> str:
    """Put a copy, or the newest sound one, in the place of the book; what was there is kept."""
    folders: Folders = find_folders().made()
    path = book_path(folders)
    chosen = copy or newest_readable(path, backup_folder(path))
    if chosen is None:
        raise ValueError(f"There is no readable copy in {backup_folder(path)}. Name one yourself.")
    done = put_back(path, chosen, SystemClock().reading().utc)
    renew_station(folders.config)  # numbers given since the copy may be known elsewhere
    kept = f" What was there is kept as {done.set_aside}." if done.set_aside is not None else ""
    return f"Restored {done.entries} entries from {chosen}.{kept}"


def export(out: Path, name: str | None) -> str:
    """Write the session called `name`, or the whole book, as a session file."""
    with _book() as book:
        session = None
        if name is not None:
            found = [head for head in book.sessions() if head.name == name]
            if not found:
                known = ", ".join(head.name for head in book.sessions()) or "none"
                raise ValueError(f"There is no session “{name}” in the book. It has: {known}.")
            session = found[0].session
        streams = None if session is None else {BOOK_STREAM, session}
        header = Header(
            packdesk_session=FORMAT,
            program=f"PackDesk {__version__}",
            written=SystemClock().reading().utc,
            session=session,
        )
        count = write_session_file(out, header, book.links(streams))
        return f"Wrote {count} entries to {out}"


def take(file: Path) -> str:
    """Take the entries of a session file into the book; those it has are skipped.

    What another book wrote keeps its proof; lines written by hand are recorded as of now.
    """
    read = read_session_file(file)
    with _book(there=False) as book:
        taken = take_in(book, read, SystemClock().reading())
        aside = f" {taken.forks} clash and are kept aside." if taken.forks else ""
        return f"Took {taken.added} entries; {taken.known} were there already.{aside}"
