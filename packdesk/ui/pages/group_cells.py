"""The pouches of a group as a page draws them: numbered, wider where the window is."""

from __future__ import annotations

from collections.abc import Sequence

from packdesk.present.cards import PouchCell
from packdesk.ui.pages.words import let_grow
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.pouch_cells import PouchCells

CELL, CELL_ON_RAIL = 50, 36
"""How wide a pouch is drawn, in design px, with the path in full and as a rail."""
GAP = 20


class GroupCells(PouchCells):
    """Cells that take no room on the page while there are no pouches to show."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, cell_px=_cell_px(theme), gap_px=theme.px(GAP), numbered=True)
        let_grow(self)

    def show_cells(self, cells: Sequence[PouchCell]) -> None:
        """Show these pouches."""
        self.setVisible(bool(cells))
        super().show_cells(cells)

    def restyle(self) -> None:
        """The step of the window's width decides how wide a pouch is."""
        super().restyle()
        self.set_cell_px(_cell_px(self.theme))


def _cell_px(theme: Theme) -> float:
    return theme.px(CELL_ON_RAIL if theme.layout.rail else CELL)
