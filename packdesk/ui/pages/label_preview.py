"""The words of one label on a piece of paper, to be read before thirty of them are printed."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.present.cards import LabelText
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, wrapped
from packdesk.ui.widgets.strokes import CARD_RADIUS, draw_outline, rounded
from packdesk.ui.widgets.themed import Themed

PADDING, PAPER_EDGE = 18, 4


class LabelPreview(Themed):
    """What a label says; the print sets the same words to the size of the stock."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent, ground="sheet")
        self._text: LabelText | None = None
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)

    def show_text(self, text: LabelText | None) -> None:
        """Show a label, or nothing."""
        self._text = text
        self.setVisible(text is not None)
        if text is not None:
            told = [words for words, _, _ in self._parts()]
            self.setAccessibleName(f"Label: {'; '.join(told)}")
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        width = self.theme.whole(360)
        return QSize(width, self.heightForWidth(width))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        height = sum(len(lines) * self.theme.line(role) for lines, role, _ in self._set(width))
        return round(height + self.theme.px(2 * PADDING + PAPER_EDGE))

    def draw(self, painter: QPainter) -> None:
        theme = self.theme
        edge = theme.px(PAPER_EDGE)
        rect = QRectF(self.rect()).adjusted(0, 0, -edge, -edge)
        radius = theme.px(CARD_RADIUS)
        painter.fillPath(rounded(rect.translated(edge, edge), radius), theme.color("rule"))
        painter.fillPath(rounded(rect, radius), theme.color("paper"))
        draw_outline(painter, rect, radius, theme.px(1.2), theme.color("edge"))
        at = QPointF(theme.px(PADDING), theme.px(PADDING) - theme.px(4))
        for lines, role, weight in self._set(self.width()):
            below = draw_lines(
                painter,
                lines,
                at,
                theme.line(role),
                theme.font(role, weight),
                theme.color("onpaper"),
            )
            at = QPointF(at.x(), below)

    def _parts(self) -> list[tuple[str, Role, Weight]]:
        text = self._text
        if text is None:
            return []
        food = text.food[:1].upper() + text.food[1:]
        small, plain, strong = Role.NOTE, Weight.REGULAR, Weight.SEMIBOLD
        parts = [
            (food, Role.HEAD, Weight.BOLD),
            (text.mass, Role.BODY, strong),
            (text.packed, small, plain),
            (text.best_quality, small, strong),
            (f"{text.identity}, {text.lot.lower()}", small, plain),
            (text.absorbers, small, plain),
            (text.allergens, small, strong),
        ]
        return [part for part in parts if part[0]]

    def _set(self, width: int) -> list[tuple[list[str], Role, Weight]]:
        room = max(width - self.theme.px(2 * PADDING + PAPER_EDGE), 1.0)
        return [
            (wrapped(words, self.theme.metrics(role, weight), room), role, weight)
            for words, role, weight in self._parts()
        ]
