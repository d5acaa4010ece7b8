"""What happened to labels and to the sheets they are printed on."""

from __future__ import annotations

from typing import ClassVar

from packdesk.session.fact import BookFact, Fact


class LabelsMade(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Labels were made as the PDF `file`; until `LabelsPrinted` is asked how they came out.

    They go on from `first_cell` (counted from 0) of a sheet of `stock`; `next_cell` is the first
    free place of the last sheet after them. `line` is the plan line of labels with numbers
    alone, made before filling; 0 for labels with everything.
    """

    kind: ClassVar[str] = "labels_made"
    pouches: tuple[int, ...]
    stock: str
    first_cell: int
    next_cell: int
    reprint: bool
    line: int = 0
    file: str = ""
    remarks: tuple[str, ...] = ()


class LabelsPrinted(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Labels were made for pouches, from `first_cell` (counted from 0) of a sheet of `stock`."""

    kind: ClassVar[str] = "labels_printed"
    pouches: tuple[int, ...]
    stock: str
    first_cell: int
    reprint: bool


class NumberLabelsPrinted(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Labels with numbers alone were made for pouches of a plan line that are still to be filled.

    They lie from `first_cell` (counted from 0) of a sheet of `stock`; a pouch that bears one is
    not labelled by it: what is in it is said by the later label with everything.
    """

    kind: ClassVar[str] = "number_labels_printed"
    line: int
    pouches: tuple[int, ...]
    stock: str
    first_cell: int
    reprint: bool


class StockSheetUsed(BookFact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Places of the label sheet on top were used: `cells` are gone now, 0 on a fresh sheet."""

    kind: ClassVar[str] = "stock_sheet_used"
    stock: str
    cells: int
