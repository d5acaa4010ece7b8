"""Orders about labels and the sheets they are printed on."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.session.commands.command import Command


@dataclass(frozen=True, slots=True)
class NoteLabelsMade(Command):
    """Labels were made as the PDF `file`; nobody has said yet how they came out.

    `line` is the plan line of labels with numbers alone, 0 for labels with everything.
    """

    pouches: tuple[int, ...]
    stock: str
    first_cell: int
    next_cell: int
    reprint: bool = False
    line: int = 0
    file: str = ""
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NoteLabelsPrinted(Command):
    """Labels were made, and `cells_used` places of the top sheet are gone after it."""

    pouches: tuple[int, ...]
    stock: str
    first_cell: int
    cells_used: int
    reprint: bool = False


@dataclass(frozen=True, slots=True)
class NoteNumberLabels(Command):
    """Labels with numbers alone were made for pouches of a plan line, before filling.

    `cells_used` places of the top sheet are gone after it; `reprint`: some had one already.
    """

    line: int
    pouches: tuple[int, ...]
    stock: str
    first_cell: int
    cells_used: int
    reprint: bool = False
