"""The things of a check side by side: what is done, what is next, what is still to come."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.present.ready_check import Tick
from packdesk.ui.icons import Icon, draw_icon
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines
from packdesk.ui.widgets.strokes import draw_outline
from packdesk.ui.widgets.themed import Themed

MARK, GAP, APART = 24, 8, 26


class TickRow(Themed):
    """Each thing with its mark: a tick where done, a thick ring where next, a dashed one later.

    What does not fit beside goes on a line below.
    """

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent, ground="sheet")
        self._ticks: tuple[Tick, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.hide()

    @property
    def ticks(self) -> tuple[Tick, ...]:
        """What is shown."""
        return self._ticks

    def show_ticks(self, ticks: Sequence[Tick]) -> None:
        """Show these; with none the row takes no room."""
        self.setVisible(bool(ticks))
        if tuple(ticks) == self._ticks:
            return
        self._ticks = tuple(ticks)
        self.setAccessibleName(", ".join(f"{each.word}: {_state(each)}" for each in ticks))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.whole(400), self.heightForWidth(self.theme.whole(400)))

    def minimumSizeHint(self) -> QSize:
        return QSize(1, self.theme.line(Role.BODY))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        places = self._places(width)
        return round((places[-1].y() if places else 0.0) + self._step())

    def draw(self, painter: QPainter) -> None:
        theme, side = self.theme, self.theme.px(MARK)
        for tick, at in zip(self._ticks, self._places(self.width()), strict=True):
            mark = QRectF(at.x(), at.y() + (self._step() - side) / 2, side, side)
            if tick.done:
                draw_icon(painter, Icon.DONE, mark, theme.color("ink"))
            else:
                width = theme.px(3.0 if tick.next else 1.5)
                color = theme.color("ink" if tick.next else "ink2")
                draw_outline(painter, mark, side / 2, width, color, dashed=not tick.next)
            weight = Weight.SEMIBOLD if tick.next else Weight.REGULAR
            font = theme.font(Role.BODY, weight)
            words = QPointF(mark.right() + theme.px(GAP), at.y())
            color = theme.color("ink" if tick.done or tick.next else "ink2")
            draw_lines(painter, [tick.word], words, self._step(), font, color)

    def _places(self, width: int) -> list[QPointF]:
        theme, at, found = self.theme, QPointF(0.0, 0.0), []
        metrics = theme.metrics(Role.BODY, Weight.SEMIBOLD)
        for tick in self._ticks:
            wide = theme.px(MARK + GAP) + metrics.horizontalAdvance(tick.word)
            if found and at.x() + wide > width:
                at = QPointF(0.0, at.y() + self._step() + theme.px(4))
            found.append(QPointF(at))
            at = QPointF(at.x() + wide + theme.px(APART), at.y())
        return found

    def _step(self) -> int:
        return self.theme.line(Role.BODY)


def _state(tick: Tick) -> str:
    return "done" if tick.done else "next" if tick.next else "to come"
