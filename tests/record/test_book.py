"""The book on its disk: what it is, who may open it, and that it keeps what it was given."""

from __future__ import annotations

import shutil
import signal
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packdesk.desk.ports import Trouble
from packdesk.record.book import Book
from packdesk.session.envelope import BOOK_STREAM
from packdesk.session.fact import UnknownFact
from tests.record.drafts import OPENED, OTHER_SESSION, SESSION, STATION, draft, identity, note

HOLDER = """
import sys
from pathlib import Path
from packdesk.record.book import Book
from tests.record.drafts import OPENED, STATION, draft
book = Book.open(Path(sys.argv[1]), STATION)
book.append([draft(1, OPENED)])
print("open", flush=True)
sys.stdin.read()
"""
ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the book of a test lies; its folder is not there yet."""
    return tmp_path / "data" / "record.packdesk"


@pytest.fixture
def held(path: Path) -> Iterator[subprocess.Popen[str]]:
    """Another program that has the book open, with one entry in it."""
    pipe = subprocess.PIPE
    program = [sys.executable, "-c", HOLDER, str(path)]
    with subprocess.Popen(program, cwd=ROOT, stdin=pipe, stdout=pipe, text=True) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == "open\n"
        yield holder
        holder.kill()


def image(path: Path, to: Path) -> Path:
    """What a program that dies now leaves on the disk: the file and its log."""
    to.mkdir()
    for name in (path.name, f"{path.name}-wal"):
        shutil.copy(path.with_name(name), to / name)
    return to / path.name


def raw(path: Path) -> closing[sqlite3.Connection]:
    """The file of a closed book, as any SQLite sees it."""
    return closing(sqlite3.connect(path, isolation_level=None))


# --------------------------------------------------------------------------------------------
# The file


def test_is_made_with_its_folder_and_marked_as_a_book(path: Path) -> None:
    """A book that is not there is made, and says of itself what it is."""
    Book.open(path, STATION).close()

    assert path.read_bytes()[68:72] == b"PDK1"
    with raw(path) as file:
        assert file.execute("PRAGMA user_version").fetchone() == (1,)


def test_a_new_book_says_what_it_is_without_its_log(path: Path, tmp_path: Path) -> None:
    """From the first moment the file by itself is a record book, though nothing is in it yet."""
    with Book.open(path, STATION):
        alone = shutil.copy(path, tmp_path / "alone.packdesk")

    with Book.open(alone, STATION, read_only=True) as book:
        assert book.verify().sound


def test_commits_to_a_log_and_syncs_more_than_by_default(path: Path) -> None:
    """The open book syncs its write-ahead log at each commit and holds the file for itself."""
    with Book.open(path, STATION) as book:
        answers = [
            book._hold.connection().execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("journal_mode", "synchronous", "locking_mode", "fullfsync")
        ]

    assert answers == ["wal", 3, "exclusive", 1]


def test_leaves_one_file_when_closed(path: Path) -> None:
    """Closing folds the log in, so that a closed book is a single file."""
    with Book.open(path, STATION) as book:
        book.append([draft(1)])
        assert path.with_name("record.packdesk-wal").exists()

    assert [file.name for file in path.parent.iterdir()] == ["record.packdesk"]


def test_keeps_everything_over_closing_and_opening(path: Path) -> None:
    """What was recorded is read again after closing, and numbering goes on."""
    with Book.open(path, STATION) as book:
        first = book.append([draft(1, OPENED), draft(2)])

    with Book.open(path, STATION) as book:
        second = book.append([draft(3)])
        assert book.entries({SESSION}) == first + second

    assert second[0].station_seq == 3


@pytest.mark.parametrize("change", ["UPDATE events SET who = 'nobody'", "DELETE FROM events"])
def test_refuses_to_change_what_is_recorded(path: Path, change: str) -> None:
    """Not even a statement sent past this program changes or removes an entry."""
    with Book.open(path, STATION) as book:
        book.append([draft(1)])

    with raw(path) as file, pytest.raises(sqlite3.IntegrityError, match="append-only"):
        file.execute(change)


def test_a_closed_book_takes_no_more(path: Path) -> None:
    """Using a book after closing it is a bug and says so."""
    book = Book.open(path, STATION)
    book.close()

    with pytest.raises(ValueError, match="closed"):
        book.append([draft(1)])


def test_knows_that_the_program_before_was_cut_off(path: Path, tmp_path: Path) -> None:
    """A book says whether it was closed in good order before."""
    with Book.open(path, STATION) as book:
        assert not book.unclean
        book.append([draft(1)])
        left = image(path, tmp_path / "left")

    with Book.open(left, STATION) as cut_off:
        assert cut_off.unclean
        assert len(cut_off.entries({SESSION})) == 1
    with Book.open(left, STATION) as mended:
        assert not mended.unclean


# --------------------------------------------------------------------------------------------
# Cut off at any moment


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(1, 4), min_size=1, max_size=6), st.data())
def test_reopened_between_any_two_commands_nothing_is_missing(
    tmp_path_factory: pytest.TempPathFactory, sizes: list[int], data: st.DataObject
) -> None:
    """Cut off after any command and opened again, the book has all that append had answered."""
    folder = tmp_path_factory.mktemp("cut")
    path, recorded = folder / "0" / "record.packdesk", 0
    path.parent.mkdir()
    books = [Book.open(path, STATION)]
    answered = []
    for life, size in enumerate(sizes, start=1):
        drafts = [draft(recorded + nth) for nth in range(1, size + 1)]
        answered += books[-1].append(drafts)
        recorded += size
        if data.draw(st.booleans(), label="cut off here"):
            path = image(path, folder / str(life))
            books.append(Book.open(path, STATION))
            assert books[-1].verify().sound
        assert books[-1].entries({SESSION}) == tuple(answered)
    for book in books:
        book.close()


@settings(max_examples=60, deadline=None)
@given(kept=st.floats(0, 1))
def test_a_log_cut_anywhere_loses_whole_commands_from_the_end_only(
    tmp_path_factory: pytest.TempPathFactory, kept: float
) -> None:
    """However much of the log is lost, what is left is sound and ends between two commands."""
    folder = tmp_path_factory.mktemp("torn")
    with Book.open(folder / "record.packdesk", STATION) as book:
        for first in range(1, 31, 3):
            book.append([draft(first), draft(first + 1), draft(first + 2)])
        left = image(book.path, folder / "left")
    log = left.with_name(f"{left.name}-wal")
    log.write_bytes(log.read_bytes()[: round(kept * log.stat().st_size)])

    with Book.open(left, STATION) as cut:
        ids = [entry.id for entry in cut.entries({SESSION})]
        sound = cut.verify().sound

    assert sound
    assert len(ids) % 3 == 0
    assert ids == [identity(number) for number in range(1, len(ids) + 1)]


# --------------------------------------------------------------------------------------------
# One program at a time


def test_a_second_program_is_told_that_the_book_is_open(
    path: Path, held: subprocess.Popen[str]
) -> None:
    """While one PackDesk has the book, another is told so at once, also for reading."""
    for read_only in (False, True):
        with pytest.raises(Trouble) as told:
            Book.open(path, STATION, read_only=read_only)

        assert told.value.sentence == (
            f"Another PackDesk has the record book {path} open. It was not opened."
        )
        assert told.value.cure == "Go on in that one, or close it and try again."


def test_a_killed_program_leaves_no_lock(path: Path, held: subprocess.Popen[str]) -> None:
    """The book of a program that was killed opens at once."""
    held.send_signal(signal.SIGKILL if sys.platform != "win32" else signal.SIGTERM)
    held.wait()

    with Book.open(path, STATION) as book:
        assert [entry.fact for entry in book.entries({SESSION})] == [OPENED]


def test_threads_wait_for_their_turn(path: Path) -> None:
    """Several threads that record, check and copy at once do not disturb each other."""
    copies = [path.parent / f"copy-{nth}" for nth in range(3)]
    with Book.open(path, STATION) as book:
        book.append([draft(1000 + nth) for nth in range(400)])
        work = [
            threading.Thread(target=lambda n=n: [book.append([draft(n + i)]) for i in range(20)])
            for n in (100, 200, 300)
        ]
        work += [threading.Thread(target=book.copy_to, args=(copy,)) for copy in copies]
        work += [threading.Thread(target=book.verify)]
        for thread in work:
            thread.start()
        for thread in work:
            thread.join()

        assert len(book.entries({SESSION})) == 460
        assert book.verify().sound
    for copy in copies:
        with Book.open(copy, STATION, read_only=True) as copied:
            assert copied.verify().sound
            assert len(copied.entries({SESSION})) >= 400


# --------------------------------------------------------------------------------------------
# Other files, newer books, media that cannot be written to


def made_newer(path: Path) -> Path:
    """A book as a newer PackDesk might leave it."""
    with Book.open(path, STATION) as book:
        book.append([draft(1, OPENED)])
    with raw(path) as file:
        file.execute("PRAGMA user_version = 2")
        file.execute("PRAGMA journal_mode = DELETE")
    return path


def test_a_newer_book_is_not_written_to(path: Path) -> None:
    """A book of a newer format is refused without touching it, and the cure is named."""
    before = made_newer(path).read_bytes()

    with pytest.raises(Trouble, match="newer PackDesk") as told:
        Book.open(path, STATION)

    assert "Update PackDesk" in told.value.cure
    assert path.read_bytes() == before


def test_a_newer_book_can_be_read(path: Path) -> None:
    """A book of a newer format opens for reading; recording in it is refused."""
    before = made_newer(path).read_bytes()

    with Book.open(path, STATION, read_only=True) as book:
        assert [head.name for head in book.sessions()] == [OPENED.name]
        with pytest.raises(Trouble, match="for reading only"):
            book.append([draft(2)])

    assert path.read_bytes() == before


@pytest.mark.parametrize("read_only", [False, True])
def test_a_database_of_another_program_is_left_alone(path: Path, read_only: bool) -> None:
    """A database that is no record book is refused without touching it."""
    path.parent.mkdir()
    with raw(path) as file:
        file.execute("CREATE TABLE recipes(name)")
    before = path.read_bytes()

    with pytest.raises(Trouble, match="a database of another program"):
        Book.open(path, STATION, read_only=read_only)

    assert path.read_bytes() == before


@pytest.mark.parametrize("read_only", [False, True])
def test_a_file_that_is_no_database_is_left_alone(path: Path, read_only: bool) -> None:
    """A file of something else, or without its beginning, is refused without touching it."""
    path.parent.mkdir()
    path.write_text("Dear diary, " * 100)

    with pytest.raises(Trouble, match="is damaged: it does not begin as a record book does"):
        Book.open(path, STATION, read_only=read_only)

    assert path.read_text() == "Dear diary, " * 100


def test_a_missing_book_is_not_made_for_reading(path: Path) -> None:
    """Opening for reading makes no book."""
    path.parent.mkdir()

    with pytest.raises(Trouble, match="cannot be opened"):
        Book.open(path, STATION, read_only=True)

    assert not path.exists()


def test_a_log_without_its_book_is_not_thrown_away(path: Path) -> None:
    """When the file is gone and its log is there, no new book is made over what the log holds."""
    with Book.open(path, STATION) as book:
        book.append([draft(1)])
        left = image(path, path.parent / "left")
    left.unlink()

    with pytest.raises(Trouble, match="is missing, but what was last written to it is still there"):
        Book.open(left, STATION)

    assert left.with_name("record.packdesk-wal").stat().st_size > 0


def test_a_folder_that_cannot_be_made_is_trouble(tmp_path: Path) -> None:
    """When something stands where the folder should be, the sentence names the book."""
    (tmp_path / "data").write_text("a file, not a folder")
    path = tmp_path / "data" / "record.packdesk"

    with pytest.raises(Trouble, match="cannot be opened") as told:
        Book.open(path, STATION)

    assert str(path) in told.value.sentence


@pytest.fixture
def unwritable(monkeypatch: pytest.MonkeyPatch) -> None:
    """SQLite as it is on a medium that cannot be written to: only immutable files open there."""
    connect = sqlite3.connect

    def refusing(database: str, **how: Any) -> sqlite3.Connection:
        if "immutable=1" in database:
            return connect(database, **how)
        fault = sqlite3.OperationalError("unable to open database file")
        fault.sqlite_errorcode = sqlite3.SQLITE_CANTOPEN
        raise fault

    monkeypatch.setattr(sqlite3, "connect", refusing)


def test_reads_a_book_on_a_medium_that_cannot_be_written_to(
    path: Path, request: pytest.FixtureRequest
) -> None:
    """A closed book opens for reading where nothing can be written."""
    with Book.open(path, STATION) as book:
        book.append([draft(1, OPENED)])
    request.getfixturevalue("unwritable")

    with Book.open(path, STATION, read_only=True) as book:
        assert [head.name for head in book.sessions()] == [OPENED.name]


def test_does_not_read_past_a_log_that_it_cannot_open(
    path: Path, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    """Where nothing can be written, a book with a log is refused rather than shown out of date."""
    with Book.open(path, STATION) as book:
        book.append([draft(1)])
        left = image(path, tmp_path / "left")
    request.getfixturevalue("unwritable")

    with pytest.raises(Trouble, match=r"Copy the file and its log, record\.packdesk-wal"):
        Book.open(left, STATION, read_only=True)


def test_reads_a_log_that_was_left_without_changing_the_file(path: Path, tmp_path: Path) -> None:
    """Opened for reading, a book that was cut off shows what its log holds and stays as it is."""
    with Book.open(path, STATION) as book:
        book.append([draft(1)])
        left = image(path, tmp_path / "left")
    before = left.read_bytes()

    with Book.open(left, STATION, read_only=True) as reading:
        assert len(reading.entries({SESSION})) == 1

    assert left.read_bytes() == before


# --------------------------------------------------------------------------------------------
# What comes back


def test_a_fact_of_an_unknown_kind_is_kept(path: Path) -> None:
    """A kind this PackDesk does not know comes back as it was written, in its place."""
    with Book.open(path, STATION) as book:
        book.append([draft(1, OPENED), draft(2), draft(3)])
    with raw(path) as file:
        file.execute("DROP TRIGGER events_no_update")
        file.execute("UPDATE events SET kind = 'pail_weighed', v = 3 WHERE station_seq = 2")

    with Book.open(path, STATION) as book:
        facts = [entry.fact for entry in book.entries({SESSION})]

    assert facts == [OPENED, UnknownFact("pail_weighed", 3, '{"text":"note 2"}'), note("note 3")]


def test_content_that_does_not_fit_its_kind_is_damage(path: Path) -> None:
    """Stored content that cannot be read names its entry rather than being skipped."""
    with Book.open(path, STATION) as book:
        book.append([draft(1)])
    with raw(path) as file:
        file.execute("DROP TRIGGER events_no_update")
        file.execute("UPDATE events SET payload = '{}'")

    with Book.open(path, STATION) as book, pytest.raises(Trouble) as told:
        book.entries({SESSION})

    assert "damaged: entry 1 of station 0193aaaa cannot be read" in told.value.sentence
    assert "No copy that can be read was found" in told.value.cure


def test_what_is_damaged_is_not_exported(path: Path) -> None:
    """A row that is not as it was recorded goes into no file; the sentence names its entry."""
    with Book.open(path, STATION) as book:
        book.append([draft(1), draft(2)])
    with raw(path) as file:
        file.execute("DROP TRIGGER events_no_update")
        file.execute("UPDATE events SET who = 'nobody' WHERE station_seq = 2")

    with (
        Book.open(path, STATION) as book,
        pytest.raises(Trouble, match="damaged: entry 2 of station 0193aaaa is not as it was"),
    ):
        list(book.links())


def test_lists_many_sessions_in_order(path: Path) -> None:
    """Sessions are listed by last use whatever their identifiers, and each only once."""
    with Book.open(path, STATION) as book:
        for number in range(1, 40):
            which = SESSION if number % 3 else OTHER_SESSION
            book.append([draft(number, session=which)])

        heads = book.sessions()

    assert [(head.session, head.entries, head.name) for head in heads] == [
        (OTHER_SESSION, 13, ""),
        (SESSION, 26, ""),
    ]


def test_warns_of_a_folder_that_is_kept_on_several_computers(tmp_path: Path) -> None:
    """A book in a folder with a telling name opens with a warning that says what to do."""
    with Book.open(tmp_path / "My Cloud" / "record.packdesk", STATION) as book:
        (warning,) = book.warnings

    assert "“My Cloud”" in warning
    assert "keep it in another folder" in warning


def test_book_entries_lie_in_their_own_stream(path: Path) -> None:
    """A new book answers no entries for a stream that nobody wrote to."""
    with Book.open(path, STATION) as book:
        assert book.entries({BOOK_STREAM, SESSION}) == ()
