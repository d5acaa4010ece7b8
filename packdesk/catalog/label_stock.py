"""Sheets of labels, described by their geometry alone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from packdesk.catalog.description import Description
from packdesk.catalog.figures import Figure, length_mm

_ROUNDING_MM = 0.25
"""Published geometries are rounded; a sheet may miss its page by this much."""


@dataclass(frozen=True, kw_only=True)
class LabelStock(Description):
    """One sheet: equal labels in columns and rows, measured from the page's top left corner."""

    columns: int
    rows: int
    page_width: Annotated[Figure, length_mm(50.0, 500.0)]
    page_height: Annotated[Figure, length_mm(50.0, 500.0)]
    label_width: Annotated[Figure, length_mm(10.0, 500.0)]
    label_height: Annotated[Figure, length_mm(5.0, 500.0)]
    left_margin: Annotated[Figure, length_mm(0.0, 100.0)]
    top_margin: Annotated[Figure, length_mm(0.0, 100.0)]
    column_pitch: Annotated[Figure, length_mm(10.0, 500.0)]
    row_pitch: Annotated[Figure, length_mm(5.0, 500.0)]
    corner_radius: Annotated[Figure, length_mm(0.0, 50.0)]

    def contradictions(self) -> tuple[str, ...]:
        """What in this entry cannot be true together: overlaps, labels beyond the page."""
        if self.columns < 1 or self.rows < 1:
            return ("must have at least 1 column and 1 row",)
        found = []
        across = (
            ("width", self.columns, self.column_pitch, self.label_width, self.left_margin,
             self.page_width),
            ("height", self.rows, self.row_pitch, self.label_height, self.top_margin,
             self.page_height),
        )  # fmt: skip
        for side, count, pitch, label, margin, page in across:
            if count > 1 and pitch.value < label.value - 1e-9:
                found.append(
                    f"repeats its labels every {pitch.value:g} mm although each has a {side} "
                    f"of {label.value:g} mm"
                )
            end = margin.value + (count - 1) * pitch.value + label.value
            if end > page.value + _ROUNDING_MM:
                found.append(
                    f"needs a page {side} of {end:.1f} mm but the page has {page.value:g} mm"
                )
        if self.corner_radius.value > min(self.label_width_mm, self.label_height_mm) / 2:
            found.append("has a corner radius larger than half a label")
        return tuple(found)

    @property
    def cells(self) -> int:
        """How many labels one sheet has."""
        return self.columns * self.rows

    def cell_origin_mm(self, index: int) -> tuple[float, float]:
        """The top left corner of label `index`, from the page's top left corner, right and down.

        Labels count from 0, row by row. Raises `IndexError` outside the sheet.
        """
        if not 0 <= index < self.cells:
            raise IndexError(f"label {index}: this sheet has labels 0 to {self.cells - 1}")
        row, column = divmod(index, self.columns)
        return (
            self.left_margin.value + column * self.column_pitch.value,
            self.top_margin.value + row * self.row_pitch.value,
        )

    @property
    def page_size_mm(self) -> tuple[float, float]:
        """Width and height of the whole sheet."""
        return self.page_width.value, self.page_height.value

    @property
    def label_width_mm(self) -> float:
        """Across one label."""
        return self.label_width.value

    @property
    def label_height_mm(self) -> float:
        """Down one label."""
        return self.label_height.value

    @property
    def corner_radius_mm(self) -> float:
        """How round a label's corners are; 0 when square."""
        return self.corner_radius.value
