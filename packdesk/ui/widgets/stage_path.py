"""The path down the left side: a woven stripe, a knot for each stage, progress in words."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from packdesk.present.cards import Mark, StageRow
from packdesk.session.terms import Stage
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.path_row import PathRow
from packdesk.ui.widgets.path_title import PathTitle
from packdesk.ui.widgets.placed import Placed

EXPANDED_WIDTH = 256


class StagePath(Placed):
    """The stages of a session from before to after, with the title block above them.

    In the narrow step it is a rail of knots that widens over the work while one of its rows
    has the focus; then it is raised above its siblings, and its place in the layout stays.

    Signals:
        stage_chosen: the person wants to look at this stage (a `Stage`).
        title_chosen: the title block was pressed: sessions, settings, help.
    """

    stage_chosen = Signal(Stage)
    title_chosen = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent, ground="cloth", fills_ground=True)
        self._rows: tuple[StageRow, ...] = ()
        self._shown: Stage | None = None
        self._buttons: list[PathRow] = []
        self._under_band = False
        self.title = PathTitle(theme, self)
        self.title.clicked.connect(self.title_chosen)
        self.title.installEventFilter(self)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("Stages")

    @property
    def rows(self) -> tuple[PathRow, ...]:
        """The row buttons from top to bottom."""
        return tuple(self._buttons)

    @property
    def expanded(self) -> bool:
        """Whether the rail lies widened over the work."""
        return self.theme.layout.rail and self._holds_focus()

    def show_title(self, name: str, day: str) -> None:
        """Show the session's name and the day above the stripe."""
        self.title.show_words(name, day)
        self._place()

    def show_rows(self, rows: Sequence[StageRow], shown: Stage | None) -> None:
        """Show the stages; `shown` is the one whose page the work area holds."""
        self._rows = tuple(rows)
        self._shown = shown
        while len(self._buttons) > len(self._rows):
            button = self._buttons.pop()
            button.hide()
            button.setParent(None)
            button.deleteLater()
        while len(self._buttons) < len(self._rows):
            self._add_button()
        reached = _reached(self._rows)
        for place, (button, row) in enumerate(zip(self._buttons, self._rows, strict=True)):
            button.show_row(
                row,
                shown=row.stage is shown,
                woven_above=place <= reached,
                woven_below=place < reached,
            )
        self._place()

    def set_under_band(self, under_band: bool) -> None:
        """Draw the rows closer while an alarm band stands above."""
        self._under_band = under_band
        self._place()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.whole(self.theme.layout.path_width), self.theme.whole(480))

    def minimumSizeHint(self) -> QSize:
        pressed = self.theme.layout.path_row_pressed
        height = self.title.height() + self.theme.whole(pressed) * len(self._rows)
        return QSize(self.theme.whole(self.theme.layout.path_width), height)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Widen while a row has the focus, and walk the rows with the arrow keys."""
        if event.type() in (QEvent.Type.FocusIn, QEvent.Type.FocusOut):
            self._place()
        if event.type() == QEvent.Type.KeyPress and self._walk(watched, event):
            return True
        return super().eventFilter(watched, event)

    def _walk(self, watched: QObject, event: QKeyEvent) -> bool:
        step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(event.key())
        stops: list[QAbstractButton] = [self.title, *self._buttons]
        if step is None or watched not in stops:
            return False
        place = min(max(stops.index(watched) + step, 0), len(stops) - 1)
        stops[place].setFocus(Qt.FocusReason.TabFocusReason)
        return True

    def _add_button(self) -> None:
        button = PathRow(self.theme, self)
        button.installEventFilter(self)
        button.clicked.connect(lambda _=False, b=button: self.stage_chosen.emit(b.row.stage))
        button.show()
        self._buttons.append(button)

    def _holds_focus(self) -> bool:
        return self.title.hasFocus() or any(button.hasFocus() for button in self._buttons)

    def _place(self) -> None:
        """Give title and rows their places, for the width the focus asks for."""
        theme = self.theme
        layout = theme.layout
        slot = theme.whole(layout.path_width)
        width = theme.whole(EXPANDED_WIDTH) if self.expanded else slot
        self.setMinimumWidth(slot)
        self.setMaximumWidth(max(width, slot))
        if self.width() != width:
            self.resize(width, self.height())
        if self.expanded:
            self.raise_()
        words = not layout.rail or self.expanded
        self.title.set_words(words)
        title_height = self.title.heightForWidth(width)
        self.title.setGeometry(0, 0, width, title_height)
        pitch = self._pitch(title_height)
        for place, button in enumerate(self._buttons):
            button.set_words(words)
            button.setGeometry(0, title_height + place * pitch, width, pitch)

    def _pitch(self, title_height: int) -> int:
        layout = self.theme.layout
        wanted, least = self.theme.whole(layout.path_row), self.theme.whole(layout.path_row_pressed)
        if not layout.rail:
            width = self.theme.whole(layout.path_width)
            wanted = max([wanted, *(button.heightForWidth(width) for button in self._buttons)])
        if self._under_band:
            return least
        room = (self.height() - title_height) // max(len(self._buttons), 1)
        return min(wanted, max(room, least))


def _reached(rows: Sequence[StageRow]) -> int:
    """How far down the stripe is woven: to the stage of now, or the last one begun."""
    begun = [place for place, row in enumerate(rows) if row.mark is not Mark.NEXT]
    now = [place for place, row in enumerate(rows) if row.mark is Mark.NOW]
    return max(now or begun, default=-1)
