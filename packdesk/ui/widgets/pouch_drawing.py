"""Paints one pouch: a foot while planned, a mark more at each step, solid once it is sealed."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPainterPath, QPen

from packdesk.present.cards import CellState, PouchCell
from packdesk.ui.theme.tokens import Tokens
from packdesk.ui.widgets.pouch_absorbers import draw_absorber_number, draw_absorbers
from packdesk.ui.widgets.pouch_ink import PouchInk
from packdesk.ui.widgets.pouch_shapes import (
    HEIGHT_PER_WIDTH,
    contents_shape,
    foot,
    open_wall,
    pail_body,
    tick_in,
    torn_body,
)

SMALLEST_PX = 16
KERNELS_FROM_PX = 22
PAIL_NUMBER_FROM_PX = 26

_PAIL_STATES = (CellState.STOWED, CellState.SEAL_CHECKED)
_SOLID_STATES = (CellState.SEALED, CellState.LABELLED, *_PAIL_STATES)
_ABSORBER_STATES = (CellState.ABSORBERS_IN, CellState.PRESSED_SHUT)


def pouch_box(rect: QRectF) -> QRectF:
    """The largest box of a pouch's proportions in `rect`, standing on its foot."""
    width = min(rect.width(), rect.height() / HEIGHT_PER_WIDTH)
    height = width * HEIGHT_PER_WIDTH
    return QRectF(rect.center().x() - width / 2, rect.bottom() - height, width, height)


def draw_pouch(
    painter: QPainter,
    rect: QRectF,
    cell: PouchCell,
    tokens: Tokens,
    ink: PouchInk | None = None,
) -> None:
    """Draw a pouch in its state into `rect`, with what is marginal or to be added.

    The painter's font is used for a pail number. Sizes below 16 px lose their marks.
    """
    box = pouch_box(rect)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _PouchPainter(
        painter, box, cell, tokens, ink or PouchInk.on_ground(tokens, tokens.sheet)
    ).draw()
    painter.restore()


def line_width(width: float, tokens: Tokens) -> float:
    """The outline of a pouch `width` px wide: 5 % of it, thicker in high contrast."""
    return max(0.06 * width, 2.0) if tokens.outlined else max(0.05 * width, 1.5)


class _PouchPainter:
    """One drawing in progress: the box, the line and the colours that every part uses."""

    def __init__(
        self, painter: QPainter, box: QRectF, cell: PouchCell, tokens: Tokens, ink: PouchInk
    ) -> None:
        self.painter = painter
        self.cell = cell
        self.tokens = tokens
        self.ink = ink
        self.width = box.width()
        self.line = line_width(box.width(), tokens)
        self.box = box
        half = self.line / 2
        self.rim = box.adjusted(half, half, -half, -half)

    def draw(self) -> None:
        """Draw the state, then what lies over it."""
        state = self.cell.state
        if self.cell.more:
            self._dots()
        elif state is CellState.SET_ASIDE:
            self._torn()
        elif self.cell.liner:
            self._liner()
        elif state is CellState.PLANNED:
            self._foot()
        elif state in _PAIL_STATES:
            self._solid(self._top_of(0.62))
            self._pail()
        elif state in _SOLID_STATES:
            self._solid(self.box)
            if state is CellState.LABELLED:
                self._plate(self.box.center().x(), self.box.top() + self.box.height() * 0.57)
        else:
            self._body(shut=state is CellState.PRESSED_SHUT)
        if self.cell.add_one:
            self._plus()

    def pen(self, color: QColor, width: float | None = None) -> QPen:
        return QPen(
            color,
            self.line if width is None else width,
            Qt.PenStyle.SolidLine,
            Qt.PenCapStyle.RoundCap,
            Qt.PenJoinStyle.RoundJoin,
        )

    def _foot(self) -> None:
        path = foot(self.rim, 0.4 * self.box.height())
        pen = self.pen(self.ink.planned, max(self.line * 0.8, 1.2))
        self.painter.strokePath(path, pen)

    def _body(self, *, shut: bool) -> None:
        painter, rim = self.painter, self.rim
        corner = 0.035 * self.width
        if shut:
            wall = QPainterPath()
            wall.addRoundedRect(rim, corner, corner)
            painter.fillPath(wall, self.ink.foil)
        else:
            wall, mouth = open_wall(rim)
            painter.fillPath(wall, self.ink.foil)
            painter.fillPath(mouth, self.ink.ground)
        self._contents()
        if self.cell.state in _ABSORBER_STATES:
            centre = QPointF(self.box.center().x(), self.box.top() + 0.425 * self.box.height())
            self._absorbers(centre)
            aside = -0.2 * self.width if self.cell.add_one else 0.0
            self._absorber_number(centre + QPointF(aside, 0.42 * self.width))
        pen = self.pen(self.ink.outline)
        painter.strokePath(wall, pen)
        if shut:
            y = self._snap(rim.top() + 0.15 * self.box.height())
            painter.setPen(pen)
            painter.drawLine(QPointF(rim.left(), y), QPointF(rim.right(), y))
        else:
            painter.strokePath(mouth, pen)

    def _contents(self) -> None:
        heap, kernels = contents_shape(self.width)
        self.painter.save()
        self.painter.translate(self.box.topLeft())
        self.painter.fillPath(heap, QColor(self.tokens.straw))
        if self.width >= KERNELS_FROM_PX:
            self.painter.fillPath(kernels, QColor(self.tokens.grain))
        self.painter.restore()

    def _absorbers(self, centre: QPointF) -> None:
        cell = self.cell
        draw_absorbers(
            self.painter, centre, self.width, cell.absorbers, self.ink, marginal=cell.marginal
        )

    def _absorber_number(self, centre: QPointF) -> None:
        draw_absorber_number(self.painter, centre, self.width, self.cell.absorbers, self.ink)

    def _dots(self) -> None:
        """Three dots: here stand others that are not drawn."""
        painter, radius = self.painter, max(0.07 * self.width, 1.5)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.ink.outline)
        for place in (-1, 0, 1):
            at = self.box.center() + QPointF(place * 0.27 * self.width, 0.0)
            painter.drawEllipse(at, radius, radius)

    def _solid(self, box: QRectF) -> None:
        corner = 0.035 * self.width
        body = QPainterPath()
        body.addRoundedRect(box, corner, corner)
        self.painter.fillPath(body, self.ink.solid)
        self._seams(box)

    def _seams(self, box: QRectF) -> None:
        thick = max(0.045 * self.width, 1.0)
        if self.width < 40:
            thick = max(round(thick), 1.0)
        for part in (0.085, 0.165):
            y = self.box.top() + part * self.box.height()
            if self.width < 40:
                y = round(y - thick / 2) + thick / 2
            self.painter.fillRect(
                QRectF(box.left(), y - thick / 2, box.width(), thick), self.ink.ground
            )

    def _plate(self, x: float, y: float) -> None:
        width, height = 0.68 * self.width, 0.42 * self.box.height()
        plate = QRectF(x - width / 2, y - height / 2, width, height)
        path = QPainterPath()
        path.addRoundedRect(plate, 0.03 * self.width, 0.03 * self.width)
        self.painter.fillPath(path, QColor(self.tokens.paper))
        thick = max(0.045 * self.width, 1.0)
        for part, length in ((0.26, 0.72), (0.5, 0.72), (0.74, 0.46)):
            line = plate.top() + part * height - thick / 2
            if self.width < 40:
                line = round(line)
            self.painter.fillRect(
                QRectF(plate.left() + 0.14 * width, line, length * width, thick),
                QColor(self.tokens.onpaper),
            )

    def _top_of(self, share: float) -> QRectF:
        width = share * self.width
        return QRectF(
            self.box.center().x() - width / 2, self.box.top(), width, 0.42 * self.box.height()
        )

    def _pail(self) -> None:
        painter, box = self.painter, self.box
        top = box.top() + 0.40 * box.height()
        body = pail_body(self.rim, self.width, top)
        painter.fillPath(body, self.ink.ground)
        painter.strokePath(body, self.pen(self.ink.outline))
        rim = max(0.10 * self.width, 2.0)
        bar = QPainterPath()
        bar.addRoundedRect(QRectF(box.left(), top - rim / 2, box.width(), rim), rim / 3, rim / 3)
        painter.fillPath(bar, self.ink.outline)
        self._pail_mark(
            QRectF(box.left(), top + rim / 2, box.width(), box.bottom() - top - rim / 2)
        )

    def _pail_mark(self, inside: QRectF) -> None:
        painter = self.painter
        if self.cell.state is CellState.SEAL_CHECKED:
            tick = tick_in(inside, 0.2 * self.width)
            painter.strokePath(tick, self.pen(self.ink.outline, self.line * 1.35))
        elif self.cell.pail and self.width >= PAIL_NUMBER_FROM_PX:
            font = QFont(painter.font())
            font.setPixelSize(max(round(0.36 * self.width), 8))
            font.setWeight(QFont.Weight.DemiBold)
            painter.setFont(font)
            painter.setPen(self.ink.outline)
            painter.drawText(inside, Qt.AlignmentFlag.AlignCenter, self.cell.pail)

    def _liner(self) -> None:
        """The stowed drawing with the pouch as wide as the pail; the pouch part shows the state."""
        painter, box, state = self.painter, self.box, self.cell.state
        top = box.top() + 0.40 * box.height()
        if state is CellState.PLANNED:
            path = pail_body(self.rim, self.width, box.bottom() - 0.4 * box.height())
            painter.strokePath(path, self.pen(self.ink.planned, max(self.line * 0.8, 1.2)))
            return
        pouch = self._top_of(0.9)
        if state in _SOLID_STATES:
            self._solid(pouch)
        else:
            self._liner_top(pouch, shut=state is CellState.PRESSED_SHUT)
        self._pail()
        if state in _ABSORBER_STATES:
            self._absorber_number(QPointF(box.center().x(), (top + box.bottom()) / 2))
        if state is CellState.LABELLED:
            self._plate(box.center().x(), (top + box.bottom()) / 2 + 0.04 * box.height())

    def _liner_top(self, pouch: QRectF, *, shut: bool) -> None:
        painter = self.painter
        half = self.line / 2
        rim = pouch.adjusted(half, half, -half, self.line)
        pen = self.pen(self.ink.outline)
        if shut:
            painter.fillRect(rim, self.ink.foil)
            painter.setPen(pen)
            painter.drawRect(rim)
            y = rim.top() + 0.15 * self.box.height()
            painter.drawLine(QPointF(rim.left(), y), QPointF(rim.right(), y))
        else:
            wall, mouth = open_wall(rim)
            painter.fillPath(wall, self.ink.foil)
            painter.fillPath(mouth, QColor(self.tokens.straw))
            painter.strokePath(wall, pen)
            painter.strokePath(mouth, pen)
            if self.cell.state is CellState.ABSORBERS_IN:
                self._absorbers(QPointF(rim.center().x(), rim.top() + 0.23 * self.box.height()))

    def _torn(self) -> None:
        painter, box = self.painter, self.box
        brick = QColor(self.tokens.brick)
        width, height = box.width() * 0.75, box.height() * 0.84
        painter.save()
        painter.translate(box.center().x(), box.bottom() - height * 0.53)
        painter.rotate(11)
        torn = torn_body(width, height)
        painter.fillPath(torn, QColor(self.tokens.brickhaze))
        painter.save()
        painter.setClipPath(torn)
        painter.rotate(-11)
        pitch, reach = max(0.115 * self.width, 3.0), width + height
        painter.setPen(self.pen(brick, max(self.line * 0.6, 1.0)))
        x = -reach
        while x < reach:
            painter.drawLine(QPointF(x, reach / 2), QPointF(x + reach, -reach / 2))
            x += pitch * 1.414
        painter.restore()
        painter.strokePath(torn, self.pen(brick))
        painter.restore()

    def _plus(self) -> None:
        painter = self.painter
        radius = max(0.24 * self.width, 5.0)
        centre = QPointF(self.box.right() - radius * 0.95, self.box.bottom() - radius * 0.95)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.ink.ground)
        painter.drawEllipse(centre, radius + 1.5, radius + 1.5)
        painter.setBrush(QColor(self.tokens.wheat))
        painter.drawEllipse(centre, radius, radius)
        painter.setPen(self.pen(_ink_on_wheat(self.tokens), max(radius * 0.24, 1.5)))
        arm = radius * 0.52
        painter.drawLine(centre - QPointF(arm, 0), centre + QPointF(arm, 0))
        painter.drawLine(centre - QPointF(0, arm), centre + QPointF(0, arm))

    def _snap(self, y: float) -> float:
        return round(y) if self.width < 40 else y


def _ink_on_wheat(tokens: Tokens) -> QColor:
    """Wheat is light in every palette, so what stands on it is the paper's dark ink."""
    return QColor(tokens.onpaper)
