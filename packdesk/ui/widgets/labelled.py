"""A label over a box, and what is wrong with it beside or under: the frame of every field."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, QSize, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, wrapped
from packdesk.ui.widgets.placed import Placed
from packdesk.ui.widgets.refusal import Objection, Refusal

BOX_HEIGHT = 50
LEAST_BESIDE = 260
"""An objection stands to the right of the box where at least this much (design px) is left."""


class Labelled(Placed):
    """The label, the box handed over by the subclass, and its refusal.

    `box_width` fixes the box in design px, 0 lets it take the whole width. With
    `objection_apart` the page shows the objection elsewhere in a `Refusal` of its own.

    Signals:
        cure_asked: the button that cures a refusal was pressed.
    """

    cure_asked = Signal()

    def __init__(
        self,
        theme: Theme,
        label: str,
        parent: QWidget | None,
        *,
        ground: str,
        box_width: int,
        objection_apart: bool,
    ) -> None:
        super().__init__(theme, parent, ground=ground)
        self._label = label
        self._box_width = box_width
        self._apart = objection_apart
        self._objection: Objection | None = None
        self._box: QWidget | None = None
        self.refusal = Refusal(theme, self, ground=ground)
        self.refusal.cure_asked.connect(self.cure_asked)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    @property
    def label(self) -> str:
        """What is asked for."""
        return self._label

    def set_label(self, label: str) -> None:
        """Ask for something else; the same words again cost nothing."""
        if label != self._label:
            self._label = label
            self._place()
            self.updateGeometry()
            self.update()

    def show_objection(self, objection: Objection | None) -> None:
        """Refuse or warn, or say that all is well."""
        if objection == self._objection:
            return
        self._objection = objection
        self._box.set_refused(objection is not None and not objection.warning)
        self._box.setAccessibleDescription(
            "" if objection is None else f"{objection.what} {objection.figure}".strip()
        )
        self.refusal.show_objection(None if self._apart else objection)
        self.updateGeometry()
        self._place()

    def sizeHint(self) -> QSize:
        width = self.theme.whole(self._box_width or 190)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        width = self.theme.whole(min(self._box_width or 90, 90))
        return QSize(width, self._box_bottom(self.theme.whole(self._box_width or 190)))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        bottom = self._box_bottom(width)
        if self.refusal.objection is None:
            return bottom
        return max(bottom, self._objection_rect(width).bottom() + 1)

    def draw(self, painter: QPainter) -> None:
        theme = self.theme
        lines = self._label_lines(self.width())
        font = theme.font(Role.NOTE, Weight.REGULAR)
        draw_lines(painter, lines, QPointF(0, 0), theme.line(Role.NOTE), font, theme.color("ink2"))

    def _take_box(self, box: QWidget) -> None:
        """Adopt the box; it answers `set_refused` and takes the focus for the whole field."""
        self._box = box
        self.setFocusProxy(box)
        self._place()

    def _label_lines(self, width: int) -> list[str]:
        metrics = self.theme.metrics(Role.NOTE, Weight.REGULAR)
        return wrapped(self._label, metrics, float(max(width, 1))) if self._label else []

    def _box_top(self, width: int) -> int:
        lines = len(self._label_lines(width))
        return lines * self.theme.line(Role.NOTE) + (self.theme.whole(4) if lines else 0)

    def _box_bottom(self, width: int) -> int:
        return self._box_top(width) + self.theme.whole(BOX_HEIGHT)

    def _objection_rect(self, width: int) -> QRect:
        """Where the objection stands: beside the box if there is room, otherwise under it."""
        theme = self.theme
        box = theme.whole(self._box_width)
        gap = theme.whole(20)
        room = width - box - gap
        if box and room >= theme.whole(LEAST_BESIDE):
            height = self.refusal.heightForWidth(room)
            return QRect(box + gap, self._box_top(width), room, height)
        below = self._box_bottom(width) + theme.whole(8)
        return QRect(0, below, width, self.refusal.heightForWidth(width))

    def _place(self) -> None:
        if self._box is None:
            return
        width = self.width()
        box_width = min(self.theme.whole(self._box_width) or width, width)
        height = self.theme.whole(BOX_HEIGHT)
        self._box.setGeometry(QRect(0, self._box_top(width), box_width, height))
        if self.refusal.objection is not None:
            self.refusal.setGeometry(self._objection_rect(width))
        self.update()
