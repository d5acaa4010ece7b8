"""The pouches of a group as a page draws them: numbered, wider where the window is."""

from __future__ import annotations

from collections.abc import Sequence

from packdesk.present.cards import PouchCell
from packdesk.ui.pages.words import let_grow
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.pouch_cell import HEIGHT_PER_WIDTH
from packdesk.ui.widgets.pouch_cells import PouchCells

CELL, CELL_ON_RAIL = 50, 36
"""How wide a pouch is drawn, in design px, with the path in full and as a rail."""
GAP = 20


class GroupCells(PouchCells):
    """Cells that take no room on the page while there are no pouches to show.

    Where room is scarce they are drawn as with the path as a rail.
    """

    def __init__(self, theme: Theme) -> None:
        self._small = False
        super().__init__(theme, cell_px=theme.px(CELL), gap_px=theme.px(GAP), numbered=True)
        self.restyle()
        let_grow(self)

    def show_cells(self, cells: Sequence[PouchCell]) -> None:
        """Show these pouches."""
        self.setVisible(bool(cells))
        super().show_cells(cells)

    def restyle(self) -> None:
        """The step of the window's width decides how wide a pouch is."""
        super().restyle()
        small = self._small or self.theme.layout.rail
        self.set_cell_px(self.theme.px(CELL_ON_RAIL if small else CELL))

    @property
    def gives_way(self) -> bool:
        """Whether room is made for what stands below."""
        return self._small

    def give_way(self, small: bool) -> None:
        """Take less room, or as much as is usual."""
        if small != self._small:
            self._small = small
            self.restyle()

    def room_given(self) -> int:
        """How many px lower they are, or would be, where they give way."""
        if self.isHidden() or self.theme.layout.rail:
            return 0
        rows = -(-len(self.views) // self._per_row(self.width()))
        return round(rows * self.theme.px(CELL - CELL_ON_RAIL) * HEIGHT_PER_WIDTH)
