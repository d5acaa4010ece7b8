"""The real parts: the record book in the person's folder, the machine's clock, the papers."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from packdesk.app.choices import FileChoices
from packdesk.catalog.read import Catalog, read_catalog
from packdesk.desk.desk import Desk
from packdesk.desk.ports import Clock, Tools
from packdesk.record.backup import back_up
from packdesk.record.book import Book
from packdesk.system.awake import KeepAwake
from packdesk.system.clock import SystemClock
from packdesk.system.folders import Folders, find_folders, make_folder
from packdesk.system.station import station_identity

BOOK_NAME = "record.packdesk"


@dataclass(frozen=True, slots=True)
class Parts:
    """What a run of the program works with."""

    book: Book
    desk: Desk
    tools: Tools


def book_path(folders: Folders) -> Path:
    """Where the record book lies."""
    return folders.data / BOOK_NAME


def shelf(folders: Folders) -> tuple[Catalog, tuple[str, ...]]:
    """The catalogue with the person's own entries, and its faults in words."""
    catalog, faults = read_catalog(folders.data / "catalog")
    return catalog, tuple(str(fault) for fault in faults)


@contextmanager
def real_parts(folders: Folders | None = None) -> Iterator[Parts]:
    """Open the record book and everything around it; a copy is made when it is closed.

    Raises `ports.Trouble` when the folders or the book cannot be had.
    """
    from packdesk.app.papers import PdfPapers

    places = (folders or find_folders()).made()
    book = Book.open(book_path(places), station_identity(places.config))
    try:
        catalog, faults = shelf(places)
        clock = SystemClock()
        choices = FileChoices(places.config)
        papers = places.data / "papers"
        make_folder(papers, "labels and records")
        tools = Tools(
            catalog=catalog,
            papers=PdfPapers(tuple(catalog.label_stocks.values()), places.data / "catalog"),
            paper_folder=papers,
            awake=KeepAwake(),
            offset_min_at=clock.offset_min,
            notices=(*book.warnings, *faults, *choices.faults),
            choices=choices,
        )
        desk = Desk(book, clock, choices.settings.text("name"))
        yield Parts(book, desk, tools)
        if book.extent():
            back_up(book, clock.reading().utc)
    finally:
        book.close()


def sign(parts: Parts, name: str) -> None:
    """Let `name` stand beside all that is entered from now on, in later runs too.

    Raises `ValueError`, in words, for what is no name, `ports.Trouble` when it cannot be kept.
    """
    choices = parts.tools.choices
    choices.keep(choices.settings.with_choice("name", " ".join(name.split())))
    parts.desk.who = choices.settings.text("name")


@contextmanager
def rehearsal_parts(
    folder: Path, clock: Clock, offset_min_at: Callable[..., int]
) -> Iterator[Parts]:
    """Open a new record book in `folder` and a desk on a driven clock, for a rehearsal."""
    from packdesk.app.papers import PdfPapers

    places = Folders(folder / "data", folder / "config", folder / "cache").made()
    catalog, faults = read_catalog(None)
    with Book.open(book_path(places), station_identity(places.config)) as book:
        tools = Tools(
            catalog=catalog,
            papers=PdfPapers(tuple(catalog.label_stocks.values())),
            paper_folder=folder,
            awake=KeepAwake(lambda _: _Sleepless()),
            offset_min_at=offset_min_at,
            notices=tuple(str(fault) for fault in faults),
        )
        yield Parts(book, Desk(book, clock), tools)


class _Sleepless:
    """A rehearsal takes seconds: it asks nothing of the machine's sleep."""

    active = True

    def __enter__(self) -> _Sleepless:
        return self

    def __exit__(self, *_: object) -> None:
        return None
