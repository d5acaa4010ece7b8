"""What the desk needs from the outer world, and the one way in which that world may fail."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Protocol
from uuid import UUID

from packdesk.catalog.label_stock import LabelStock
from packdesk.catalog.read import Catalog
from packdesk.instants import Reading
from packdesk.present.cards import LabelText, RecordOutline
from packdesk.session.envelope import Draft, Entry


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


class Papers(Protocol):
    """Makes the PDFs; raises `Trouble` when a file cannot be written."""

    def labels(
        self, texts: Sequence[LabelText], stock: LabelStock, first_cell: int, out: Path
    ) -> LabelsMade:
        """Write one label for each of `texts`, beginning at a place of the first sheet."""

    def record(self, outline: RecordOutline, page: str, out: Path) -> None:
        """Write the session record on pages called `A4` or `Letter`."""


class Awake(Protocol):
    """Keeps the computer from sleeping while a clock runs."""

    def hold(self, *, screen_on: bool) -> str:
        """Ask for it; a sentence when the system would not."""

    def release(self) -> None:
        """Let the computer sleep again."""


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
