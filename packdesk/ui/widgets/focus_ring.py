"""The twin ring round whatever has the focus: one overlay for the whole window."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QWidget
from shiboken6 import isValid

from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.strokes import CARD_RADIUS
from packdesk.ui.widgets.themed import ground_of

GROUND_PX = 3
LINE_PX = 3
_MOVES = (
    QEvent.Type.Move,
    QEvent.Type.Resize,
    QEvent.Type.Show,
    QEvent.Type.Hide,
    QEvent.Type.Paint,
    QEvent.Type.ParentChange,
)


class FocusRing(QWidget):
    """Draws 3 px of ground and 3 px of ink outside the focused widget of a window.

    It shows once a key was used and follows the focus, also inside a widget that has a
    `focus_rect()` of its own. It takes no clicks and no focus. At the window's edge and in a
    scrolled area the ring is drawn inward as far as there is room.
    """

    def __init__(self, theme: Theme, window: QWidget) -> None:
        super().__init__(window)
        self._theme = theme
        self._window = window
        self._followed: list[QWidget] = []
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setAttribute(Qt.WidgetAttribute.WA_NoSystemBackground)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.hide()
        QApplication.instance().focusChanged.connect(self._follow)
        theme.ring_changed.connect(self._place)
        theme.changed.connect(self._place)
        self.stand_round(QApplication.focusWidget())

    @property
    def target(self) -> QWidget | None:
        """The focused widget of the window, if it has one."""
        return self._followed[0] if self._followed and isValid(self._followed[0]) else None

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Move along when the focused widget or one it lies in moves."""
        if event.type() in _MOVES:
            self._place()
        return super().eventFilter(watched, event)

    def paintEvent(self, event: QPaintEvent) -> None:
        if self.target is None:
            return
        theme = self._theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ground = ground_of(self.target)
        ink = {"brick": "onbrick", "indigo": "onindigo"}.get(ground, "ink")
        gap, line = theme.px(GROUND_PX), theme.px(LINE_PX)
        radius = theme.px(CARD_RADIUS)
        outer = QRectF(self.rect())
        for inset, width, role in ((line + gap / 2, gap, ground), (line / 2, line, ink)):
            painter.setPen(QPen(theme.color(role), width))
            corner = radius + line + gap - inset
            painter.drawRoundedRect(outer.adjusted(inset, inset, -inset, -inset), corner, corner)

    def stand_round(self, widget: QWidget | None) -> None:
        """Stand round a widget of the window, or nowhere; the ring does so by itself on focus."""
        for followed in self._followed:
            if isValid(followed):
                followed.removeEventFilter(self)
        self._followed = []
        if widget is not None and self._window.isAncestorOf(widget):
            while widget is not None and widget is not self._window:
                widget.installEventFilter(self)
                self._followed.append(widget)
                widget = widget.parentWidget()
        self._place()

    def _follow(self, _old: QWidget | None, new: QWidget | None) -> None:
        self.stand_round(new)

    def _place(self) -> None:
        target = self.target
        if target is None or not self._theme.keys_used or not target.isVisible():
            self.hide()
            return
        ask = getattr(target, "focus_rect", None)
        rect = ask().toAlignedRect() if ask is not None else target.rect()
        reach = self._theme.whole(GROUND_PX + LINE_PX)
        box = QRect(target.mapTo(self._window, rect.topLeft()), rect.size())
        box = box.adjusted(-reach, -reach, reach, reach).intersected(self._room(target))
        if box != self.geometry():
            self.setGeometry(box)
        if self.isHidden():
            self.show()
        siblings = self._window.children()
        if siblings and siblings[-1] is not self:
            self.raise_()

    def _room(self, target: QWidget) -> QRect:
        """What the ring may cover: the window, and no more than a scrolled area shows."""
        room = self._window.rect()
        parent = target.parentWidget()
        while parent is not None and parent is not self._window:
            if isinstance(parent.parentWidget(), QAbstractScrollArea):
                room = room.intersected(
                    QRect(parent.mapTo(self._window, QPoint(0, 0)), parent.size())
                )
            parent = parent.parentWidget()
        return room
