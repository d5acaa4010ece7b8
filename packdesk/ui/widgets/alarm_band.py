"""The band across the top when something is late: what, how late, what ends it, Stop sound."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.present.cards import AlarmBand
from packdesk.ui.icons import Icon, draw_icon
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, wrapped
from packdesk.ui.widgets.placed import Placed
from packdesk.ui.widgets.press import Press
from packdesk.ui.widgets.strokes import CARD_RADIUS, draw_hatch, draw_outline, rounded

HATCHED_END = 28
BELL = 42
_SMALLER = {Role.SAY: Role.HEAD, Role.HEAD: Role.BODY}


class BandButton(Press):
    """A button of the band."""

    def __init__(self, theme: Theme, words: str, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent, ground="brick")
        self.setAccessibleName(words)

    def sizeHint(self) -> QSize:
        theme = self.theme
        words = theme.metrics(self._role).horizontalAdvance(self.accessibleName())
        width = theme.px(150 if theme.layout.rail else 200)
        height = theme.px(57 if theme.layout.rail else 62)
        return QSize(round(max(width, words + theme.px(32))), round(height))

    def draw(self, painter: QPainter) -> None:
        theme, rect = self.theme, QRectF(self.rect())
        color, radius = theme.color("onbrick"), theme.px(CARD_RADIUS)
        if self.shown_pressed:
            painter.fillPath(rounded(rect, radius), color)
            color = theme.color("brick")
        else:
            draw_outline(painter, rect, radius, theme.px(3), color)
        step = theme.line(self._role)
        words = self.accessibleName()
        width = theme.metrics(self._role).horizontalAdvance(words)
        at = QPointF(rect.center().x() - width / 2, rect.center().y() - step / 2)
        draw_lines(painter, [words], at, step, theme.font(self._role), color)

    @property
    def _role(self) -> Role:
        return Role.BODY if self.theme.layout.rail else Role.HEAD


class AlarmBandView(Placed):
    """The band; it stands until the act that ends it, and stopping the sound only silences.

    Give it the window's top row: hidden it takes no height, shown it pushes everything down.
    A new headline is told to assistive technology at once.

    Signals:
        stop_asked: the sound is to stop.
        go_asked: the session that it tells of is to be taken up.
    """

    stop_asked = Signal()
    go_asked = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent, ground="brick")
        self._band: AlarmBand | None = None
        self.go = BandButton(theme, "Go there", self)
        self.go.acted.connect(self.go_asked)
        self.stop = BandButton(theme, "Stop sound", self)
        self.stop.acted.connect(self.stop_asked)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.hide()

    @property
    def band(self) -> AlarmBand | None:
        """What is shown."""
        return self._band

    def show_band(self, band: AlarmBand | None) -> None:
        """Show what is late, or nothing."""
        fresh = band is not None and (self._band is None or band.clocks != self._band.clocks)
        self._band = band
        if band is None:
            self.hide()
            return
        self.setAccessibleName(f"{band.headline}. {self._second_line()}")
        self.stop.setVisible(not band.sound_stopped)
        self.go.setVisible(band.session is not None)
        self.show()
        self._place()
        if fresh:
            self._announce(band)

    def sizeHint(self) -> QSize:
        width = max(self.width(), self.theme.whole(480))
        return QSize(self.theme.whole(900), self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(480), self.theme.whole(self.theme.layout.band_height))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        role, first, second = self._lines(width)
        needed = self.theme.line(role) * len(first)
        needed += self.theme.line(self.theme.layout.band_second) * len(second)
        least = self.theme.whole(self.theme.layout.band_height)
        return max(least, round(needed + self.theme.px(14)))

    def draw(self, painter: QPainter) -> None:
        if self._band is None:
            return
        theme, rect = self.theme, QRectF(self.rect())
        color = theme.color("onbrick")
        painter.fillRect(rect, theme.color("brick"))
        end = theme.px(HATCHED_END)
        for x in (0.0, rect.width() - end):
            strip = QRectF(x, 0, end, rect.height())
            draw_hatch(painter, strip, color, theme.px(7), theme.px(17))
        side = theme.px(BELL)
        bell = QRectF(end + theme.px(24), (rect.height() - side) / 2, side, side)
        icon = Icon.SILENT if self._band.sound_stopped else Icon.RING
        draw_icon(painter, icon, bell, color)
        role, first, second = self._lines(self.width())
        second_role = theme.layout.band_second
        step, second_step = theme.line(role), theme.line(second_role)
        height = step * len(first) + second_step * len(second)
        at = QPointF(self._text_left(), (rect.height() - height) / 2)
        below = draw_lines(painter, first, at, step, theme.font(role), color)
        plain = theme.font(second_role, Weight.REGULAR)
        draw_lines(painter, second, QPointF(at.x(), below), second_step, plain, color)

    def _lines(self, width: int) -> tuple[Role, list[str], list[str]]:
        """The largest voice in which the headline keeps to one line, and both texts wrapped."""
        if self._band is None:
            return self.theme.layout.band_first, [], []
        room = max(width - self._text_left() - self._right_room(), 1.0)
        role = self.theme.layout.band_first
        while True:
            first = wrapped(self._band.headline, self.theme.metrics(role), room)
            if len(first) == 1 or role not in _SMALLER:
                break
            role = _SMALLER[role]
        metrics = self.theme.metrics(self.theme.layout.band_second, Weight.REGULAR)
        return role, first, wrapped(self._second_line(), metrics, room)

    def _second_line(self) -> str:
        band = self._band
        return "\N{EM SPACE}".join(part for part in (band.cure, band.sound_stopped) if part)

    def _text_left(self) -> float:
        return self.theme.px(HATCHED_END + 24 + BELL + 24)

    def _buttons(self) -> list[BandButton]:
        """Those that are wanted, from the right."""
        band = self._band
        if band is None:
            return []
        wanted = ((self.stop, not band.sound_stopped), (self.go, band.session is not None))
        return [button for button, needed in wanted if needed]

    def _right_room(self) -> float:
        room = self.theme.px(HATCHED_END + 24)
        for button in self._buttons():
            room += button.sizeHint().width() + self.theme.px(20)
        return room

    def _place(self) -> None:
        self.setFixedHeight(self.heightForWidth(self.width()))
        right = self.width() - self.theme.whole(HATCHED_END + 24)
        for button in self._buttons():
            size = button.sizeHint()
            y = (self.height() - size.height()) // 2
            button.setGeometry(QRect(right - size.width(), y, size.width(), size.height()))
            right -= size.width() + self.theme.whole(20)
        self.update()

    def _announce(self, band: AlarmBand) -> None:
        event = QAccessibleAnnouncementEvent(self, f"{band.headline}. {band.cure}")
        event.setPoliteness(QAccessible.AnnouncementPoliteness.Assertive)
        QAccessible.updateAccessibility(event)
