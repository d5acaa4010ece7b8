"""Says what is wrong beside or under a field: diamond, words, figure, advice and one cure."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Signal
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.ui.icons import Icon, draw_icon
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, wrapped
from packdesk.ui.widgets.placed import Placed
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from packdesk.ui.widgets.strokes import draw_diamond


@dataclass(frozen=True, slots=True)
class Objection:
    """What is wrong, the figure, a sentence of advice, and the word on the button that cures it.

    A `warning` says the same in wheat and does not block.
    """

    what: str
    figure: str = ""
    advice: str = ""
    cure: str = ""
    warning: bool = False


def objection_of(words: str, *, cure: str = "", warning: bool = False) -> Objection:
    """Say `words` as an objection: the first sentence is what is wrong, the rest its figure."""
    what, stop, rest = words.partition(". ")
    return Objection(f"{what}." if stop else what, rest, cure=cure, warning=warning)


class Refusal(Placed):
    """An objection in full: a refusal in brick or a warning in wheat edged with ink.

    Signals:
        cure_asked: the button that cures it was pressed.
    """

    cure_asked = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None, *, ground: str = "sheet"):
        super().__init__(theme, parent, ground=ground)
        self._objection: Objection | None = None
        self.cure = SecondControl(theme, self, ground=ground)
        self.cure.set_height(57)
        self.cure.acted.connect(self.cure_asked)
        self.cure.hide()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.hide()

    @property
    def objection(self) -> Objection | None:
        """What is shown."""
        return self._objection

    def show_objection(self, objection: Objection | None) -> None:
        """Show an objection, or nothing."""
        if objection == self._objection:
            return
        self._objection = objection
        self.setVisible(objection is not None)
        if objection is not None:
            told = (objection.what, objection.figure, objection.advice)
            self.setAccessibleName(" ".join(part for part in told if part))
            self.cure.setVisible(bool(objection.cure))
            self.cure.show_face(SecondFace(objection.cure or "Cure"))
            self.cure.set_tone("" if objection.warning else "brick")
        self.updateGeometry()
        self._place()

    def sizeHint(self) -> QSize:
        width = self.theme.whole(300)
        return QSize(width, self.heightForWidth(width))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        height = self._words_height(width)
        if self._objection is not None and self._objection.cure:
            height += self.theme.px(8) + self.cure.heightForWidth(width)
        return round(height)

    def draw(self, painter: QPainter) -> None:
        if self._objection is None:
            return
        theme = self.theme
        what, figure, advice = self._lines(self.width())
        warning = self._objection.warning
        step = theme.line(Role.BODY)
        side = theme.px(24)
        mark = QRectF(0, (step - side) / 2 if not figure else theme.px(9), side, side)
        if warning:
            edge = theme.px(2)
            under = mark.adjusted(-edge, -edge, edge, edge)
            draw_diamond(painter, under, QColor(theme.tokens.onpaper))
        draw_icon(painter, Icon.REFUSE, mark, theme.color("wheat" if warning else "brick"))
        left = theme.px(36)
        color = theme.color("ink" if warning else "brick")
        top = draw_lines(painter, what, QPointF(left, 0), step, theme.font(Role.BODY), color)
        note, note_step = theme.font(Role.NOTE, Weight.REGULAR), theme.line(Role.NOTE)
        ink = theme.color("ink")
        top = draw_lines(painter, figure, QPointF(left, top), note_step, note, ink)
        if advice:
            plain = theme.font(Role.BODY, Weight.REGULAR)
            at = QPointF(0, top + theme.px(6))
            draw_lines(painter, advice, at, step, plain, ink)

    def _place(self) -> None:
        width = self.width()
        top = round(self._words_height(width) + self.theme.px(8))
        self.cure.setGeometry(
            0, top, min(width, self.theme.whole(300)), self.cure.heightForWidth(width)
        )
        self.update()

    def _words_height(self, width: int) -> float:
        what, figure, advice = self._lines(width)
        body, note = self.theme.line(Role.BODY), self.theme.line(Role.NOTE)
        height = len(what) * body + len(figure) * note + len(advice) * body
        return height + (self.theme.px(8) if advice else self.theme.px(2))

    def _lines(self, width: int) -> tuple[list[str], list[str], list[str]]:
        theme, said = self.theme, self._objection
        if said is None:
            return [], [], []
        room = max(width - theme.px(36), 1.0)
        plain = theme.metrics(Role.BODY, Weight.REGULAR)
        note = theme.metrics(Role.NOTE, Weight.REGULAR)
        return (
            wrapped(said.what, theme.metrics(Role.BODY), room),
            wrapped(said.figure, note, room) if said.figure else [],
            wrapped(said.advice, plain, max(float(width), 1.0)) if said.advice else [],
        )
