"""Sentences on a page: set in one of the theme's voices, wrapped, read out as text."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, wrapped
from packdesk.ui.widgets.strokes import draw_diamond
from packdesk.ui.widgets.themed import Themed

MOST_WIDTH = 10_000


def let_grow(widget: QWidget) -> None:
    """Let a layout give a widget the height it asks for at its width, not the one it hints at."""
    widget.setSizePolicy(widget.sizePolicy().horizontalPolicy(), QSizePolicy.Policy.Minimum)


class Words(Themed):
    """One or more sentences, each on a line of its own, wrapped at the widget's width."""

    def __init__(
        self,
        theme: Theme,
        role: Role,
        parent: QWidget | None = None,
        *,
        weight: Weight | None = None,
        color: str = "ink",
        ground: str = "sheet",
    ) -> None:
        super().__init__(theme, parent, ground=ground)
        self._role = role
        self._weight = weight
        self._color = color
        self._text = ""
        self._wrapped: dict[int, list[str]] = {}
        """The lines at each width a layout asked for, until text or theme change."""
        self._hint: QSize | None = None
        """What `sizeHint` came to, until text or theme change."""
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)

    @property
    def text(self) -> str:
        """What is said."""
        return self._text

    def say(self, *sentences: str) -> None:
        """Say these sentences; with none the widget takes no room."""
        text = "\n".join(sentence for sentence in sentences if sentence)
        self.setVisible(bool(text))
        if text == self._text:
            return
        hugged = self.width() == self.sizeHint().width()
        height = self.heightForWidth(self.width())
        self._text = text
        self._wrapped.clear()
        self._hint = None
        self.setAccessibleName(text)
        if hugged or self.heightForWidth(self.width()) != height:
            self.updateGeometry()
        self.update()

    def restyle(self) -> None:
        self._wrapped.clear()
        self._hint = None
        super().restyle()

    def sizeHint(self) -> QSize:
        if self._hint is None:
            lines = self._lines(MOST_WIDTH)
            metrics = self.theme.metrics(self._role, self._weight)
            width = max((metrics.horizontalAdvance(line) for line in lines), default=0)
            self._hint = QSize(round(width) + 1, len(lines) * self.theme.line(self._role))
        return self._hint

    def minimumSizeHint(self) -> QSize:
        return QSize(1, self.theme.line(self._role))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return len(self._lines(width)) * self.theme.line(self._role)

    def draw(self, painter: QPainter) -> None:
        font = self.theme.font(self._role, self._weight)
        step, color = self.theme.line(self._role), self.theme.color(self._color)
        draw_lines(painter, self._lines(self.width()), QPointF(0, 0), step, font, color)

    def _lines(self, width: int) -> list[str]:
        if not self._text:
            return []
        if width not in self._wrapped:
            metrics = self.theme.metrics(self._role, self._weight)
            self._wrapped[width] = wrapped(self._text, metrics, max(float(width), 1.0))
        return self._wrapped[width]


class Caution(Words):
    """What may hurt somebody here: the wheat diamond before words in the note voice."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, Role.NOTE, parent, weight=Weight.REGULAR)

    def heightForWidth(self, width: int) -> int:
        return super().heightForWidth(width - self._indent())

    def draw(self, painter: QPainter) -> None:
        theme = self.theme
        step, side = theme.line(Role.NOTE), theme.px(18)
        mark = QRectF(theme.px(2), (step - side) / 2, side, side)
        draw_diamond(painter, mark.adjusted(-1.5, -1.5, 1.5, 1.5), theme.color("ink"))
        draw_diamond(painter, mark, theme.color("wheat"))
        lines = self._lines(self.width() - self._indent())
        font = theme.font(Role.NOTE, Weight.REGULAR)
        draw_lines(painter, lines, QPointF(self._indent(), 0), step, font, theme.color("ink"))

    def _indent(self) -> int:
        return self.theme.whole(30)
