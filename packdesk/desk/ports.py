"""What the desk needs from the outer world, and the one way in which that world may fail."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Protocol
from uuid import UUID

from packdesk.catalog.label_stock import LabelStock
from packdesk.catalog.read import Catalog
from packdesk.instants import Reading
from packdesk.present.calendar_entries import CalendarEntry
from packdesk.present.label_design import STANDARD, LabelDesign
from packdesk.present.outlines import RecordOutline
from packdesk.present.papers import LabelText, PailCard, RunSheet
from packdesk.session.envelope import Draft, Entry
from packdesk.settings.chosen import Settings


class Trouble(Exception):
    """The machine failed: disk full, file locked, no permission. Nothing recorded was lost.

    `sentence` says what happened, `cure` what to do about it; both are shown as they stand.
    """

    def __init__(self, sentence: str, cure: str) -> None:
        super().__init__(f"{sentence} {cure}")
        self.sentence = sentence
        self.cure = cure


class Clock(Protocol):
    """Answers what every clock of the machine says now."""

    def reading(self) -> Reading:
        """Read all clocks at one instant."""


@dataclass(frozen=True, slots=True)
class SessionHead:
    """A session as the list of sessions shows it."""

    session: UUID
    name: str
    opened_at: datetime
    last_at: datetime
    closed: bool
    entries: int


class RecordBook(Protocol):
    """Keeps entries durably; a fact is on the disk when `append` returns."""

    @property
    def station(self) -> UUID:
        """This installation's identity."""

    def append(self, drafts: Sequence[Draft]) -> tuple[Entry, ...]:
        """Record all of `drafts` or none, in one transaction; raise `Trouble` when it failed."""

    def entries(self, streams: Collection[UUID]) -> tuple[Entry, ...]:
        """Read the entries of some streams in the order of the fold."""

    def sessions(self) -> tuple[SessionHead, ...]:
        """List the sessions of the book, the one used last first."""


@dataclass(frozen=True, slots=True)
class LabelsMade:
    """What a label sheet came to; with `refused` words nothing was written.

    `next_cell` is the first free place of the last sheet, `remarks` what the person should know.
    """

    labels: int
    sheets: int
    next_cell: int
    refused: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PaperMade:
    """What any other paper came to: its pages, and what the person should know."""

    pages: int
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PagePicture:
    """One page as pixels of four bytes, blue, green, red and one unused, row after row.

    `stride` is how many bytes a row takes; `page` counts from 0, `pages` is how many there are.
    """

    width_px: int
    height_px: int
    stride: int
    pixels: bytes
    page: int
    pages: int


class Stopped(Exception):
    """A person stopped a long job; raised by whoever listens to its progress. No file is left."""


Progress = Callable[[int, int], None]
"""Is told how much of how much is done (of 0 while it is not yet known how much there is)."""


class Papers(Protocol):
    """Makes the papers; raises `Trouble` when a file cannot be written or shown.

    Long ones tell `progress`; what that raises, such as `Stopped`, stops them. All may be called
    from another thread, one at a time.
    """

    def labels(
        self,
        texts: Sequence[LabelText],
        stock: LabelStock,
        first_cell: int,
        out: Path,
        *,
        design: LabelDesign = STANDARD,
        offset_mm: tuple[float, float] = (0.0, 0.0),
        progress: Progress | None = None,
    ) -> LabelsMade:
        """Write one label for each of `texts`, beginning at a place of the first sheet.

        `offset_mm` is the printer's trim, right and down.
        """

    def label_picture(
        self, text: LabelText, stock: LabelStock, width_px: int, *, design: LabelDesign = STANDARD
    ) -> PagePicture | str:
        """One label as it will be printed, for the live preview; why not, in words."""

    def alignment(
        self, stock: LabelStock, out: Path, *, offset_mm: tuple[float, float] = (0.0, 0.0)
    ) -> None:
        """Write the alignment page of `stock`, with an offset to be tried out."""

    def pail_cards(self, cards: Sequence[PailCard], page: str, out: Path) -> PaperMade:
        """Write a card for each pail, two to a page."""

    def run_sheet(self, sheet: RunSheet, page: str, out: Path) -> PaperMade:
        """Write the run sheet for the counter."""

    def record(
        self, outline: RecordOutline, page: str, out: Path, *, progress: Progress | None = None
    ) -> PaperMade:
        """Write the session record on pages called `A4` or `Letter`."""

    def table(self, text: str, out: Path) -> None:
        """Write comma-separated values so that any spreadsheet reads their letters rightly."""

    def calendar(
        self, entries: Sequence[CalendarEntry], name: str, stamp: datetime, out: Path
    ) -> None:
        """Write a calendar file (iCalendar) of `entries`; `stamp` (UTC) is now."""

    def copy(self, paper: Path, out: Path) -> None:
        """Put a finished paper into another place as well, whole or not at all."""

    def page_picture(self, pdf: Path, page: int, width_px: int) -> PagePicture:
        """A page of a finished PDF, counted from 0, for the preview."""

    def print_out(self, pdf: Path, page: str, printer: str = "") -> str:
        """Print a finished PDF through the system at actual size; a sentence about it."""

    def printers(self) -> tuple[str, ...]:
        """The printers the system names; empty where it cannot be asked."""

    def keep_stock(self, stock: LabelStock) -> None:
        """Add a measured stock to the person's own catalogue."""

    def kept_stocks(self) -> tuple[LabelStock, ...]:
        """The stocks measured since the catalogue was read."""


class Awake(Protocol):
    """Keeps the computer from sleeping while a clock runs."""

    def hold(self, *, screen_on: bool) -> str:
        """Ask for it; a sentence when the system would not."""

    def release(self) -> None:
        """Let the computer sleep again."""


class Choices(Protocol):
    """Keeps what a person chose and what was measured of printers."""

    @property
    def settings(self) -> Settings:
        """What is chosen now."""

    def keep(self, settings: Settings) -> None:
        """Choose these from now on; raise `Trouble` when they cannot be kept."""


class PassingChoices:
    """Choices that last as long as the program runs."""

    def __init__(self) -> None:
        self._settings = Settings()

    @property
    def settings(self) -> Settings:
        """What is chosen now."""
        return self._settings

    def keep(self, settings: Settings) -> None:
        """Choose these from now on."""
        self._settings = settings


@dataclass(frozen=True, slots=True)
class Tools:
    """What the window is given beside the desk: the shelf, the papers, the machine.

    `offset_min_at` tells the local offset from UTC at an instant; `notices` are sentences to
    show once at the start (faults of the catalogue, a book in a synced folder).
    """

    catalog: Catalog
    papers: Papers
    paper_folder: Path
    awake: Awake
    offset_min_at: Callable[[datetime], int]
    notices: tuple[str, ...] = ()
    choices: Choices = field(default_factory=PassingChoices)
