"""Paints one pouch: a foot while planned, a mark more at each step, solid once it is sealed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPainterPath, QPen, QTransform

from packdesk.present.cards import CellState, PouchCell
from packdesk.ui.theme.tokens import Tokens

HEIGHT_PER_WIDTH = 1.36
SMALLEST_PX = 16
KERNELS_FROM_PX = 22
PAIL_NUMBER_FROM_PX = 26

_PAIL_STATES = (CellState.STOWED, CellState.SEAL_CHECKED)
_SOLID_STATES = (CellState.SEALED, CellState.LABELLED, *_PAIL_STATES)
_ABSORBER_STATES = (CellState.ABSORBERS_IN, CellState.PRESSED_SHUT)


@dataclass(frozen=True, slots=True)
class PouchInk:
    """The colours of a pouch on its ground: the page's own, or reversed on the main control."""

    outline: QColor
    ground: QColor
    foil: QColor
    solid: QColor
    planned: QColor

    @classmethod
    def on_ground(cls, tokens: Tokens, ground: str) -> PouchInk:
        """A pouch on cloth or sheet, `ground` being that colour."""
        return cls(
            outline=QColor(tokens.ink),
            ground=QColor(ground),
            foil=QColor(tokens.foil),
            solid=QColor(tokens.indigo),
            planned=QColor(tokens.edge),
        )

    @classmethod
    def on_body(cls, line: QColor, body: QColor) -> PouchInk:
        """A pouch in `line` on a solid `body`, as on the main control."""
        return cls(outline=line, ground=body, foil=body, solid=line, planned=line)


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


@lru_cache(maxsize=64)
def contents_shape(width: float) -> tuple[QPainterPath, QPainterPath]:
    """The heap of food in a pouch `width` px wide at the origin, and its kernels.

    Kernels are 2:1 ellipses in staggered rows, tilted -28° and -38° by turns.
    """
    height = width * HEIGHT_PER_WIDTH
    inset = 0.115 * width
    left, right, foot = inset, width - inset, height - inset
    shoulder, hump = height * 0.475, height * 0.405
    bend = 0.10 * width
    heap = QPainterPath(QPointF(left, shoulder))
    heap.cubicTo(width * 0.34, hump, width * 0.66, hump, right, shoulder)
    heap.lineTo(right, foot - bend)
    heap.quadTo(right, foot, right - bend, foot)
    heap.lineTo(left + bend, foot)
    heap.quadTo(left, foot, left, foot - bend)
    heap.closeSubpath()
    kernels = QPainterPath()
    long, pitch_x, pitch_y = 0.046 * width, 0.128 * width, 0.086 * width
    rows = int((foot - hump) / pitch_y) + 1
    for row in range(rows):
        y = foot - pitch_y * (row + 0.55)
        shift = pitch_x / 2 if row % 2 else 0.0
        x, column = left + pitch_x * 0.42 + shift, 0
        while x < right - long * 0.6:
            kernel = QPainterPath()
            kernel.addEllipse(QPointF(0, 0), long, long / 2)
            tilt = -28 if (row + column) % 2 else -38
            kernels.addPath(QTransform().translate(x, y).rotate(tilt).map(kernel))
            x += pitch_x
            column += 1
    return heap, kernels.intersected(heap)


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
        if state is CellState.SET_ASIDE:
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
        top = self.rim.bottom() - 0.4 * self.box.height()
        path = QPainterPath(QPointF(self.rim.left(), top))
        path.lineTo(self.rim.bottomLeft())
        path.lineTo(self.rim.bottomRight())
        path.lineTo(self.rim.right(), top)
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
            wall, mouth = self._open_wall(rim)
            painter.fillPath(wall, self.ink.foil)
            painter.fillPath(mouth, self.ink.ground)
        self._contents()
        if self.cell.state in _ABSORBER_STATES:
            self._absorber(
                QPointF(self.box.center().x(), self.box.top() + 0.425 * self.box.height())
            )
        pen = self.pen(self.ink.outline)
        painter.strokePath(wall, pen)
        if shut:
            y = self._snap(rim.top() + 0.15 * self.box.height())
            painter.setPen(pen)
            painter.drawLine(QPointF(rim.left(), y), QPointF(rim.right(), y))
        else:
            painter.strokePath(mouth, pen)

    def _open_wall(self, rim: QRectF) -> tuple[QPainterPath, QPainterPath]:
        bulge = 0.115 * rim.width()
        lip = rim.top() + bulge
        mouth = QPainterPath(QPointF(rim.left(), lip))
        third = rim.width() * 0.3
        over, under = lip - bulge * 4 / 3, lip + bulge * 4 / 3
        mouth.cubicTo(rim.left() + third, over, rim.right() - third, over, rim.right(), lip)
        mouth.cubicTo(rim.right() - third, under, rim.left() + third, under, rim.left(), lip)
        mouth.closeSubpath()
        wall = QPainterPath(QPointF(rim.left(), lip))
        wall.lineTo(rim.bottomLeft())
        wall.lineTo(rim.bottomRight())
        wall.lineTo(rim.right(), lip)
        return wall, mouth

    def _contents(self) -> None:
        heap, kernels = contents_shape(self.width)
        self.painter.save()
        self.painter.translate(self.box.topLeft())
        self.painter.fillPath(heap, QColor(self.tokens.straw))
        if self.width >= KERNELS_FROM_PX:
            self.painter.fillPath(kernels, QColor(self.tokens.grain))
        self.painter.restore()

    def _absorber(self, centre: QPointF) -> None:
        painter = self.painter
        side, ring = 0.27 * self.width, max(0.04 * self.width, 1.0)
        painter.save()
        painter.translate(centre)
        painter.rotate(-12)
        square = QRectF(-side / 2, -side / 2, side, side)
        painter.fillRect(square.adjusted(-ring, -ring, ring, ring), self.ink.ground)
        painter.fillRect(square, self.ink.outline)
        if self.cell.marginal:
            inset = max(0.05 * self.width, 1.0)
            inner = square.adjusted(inset, inset, -inset, -inset)
            half = QPainterPath(inner.topLeft())
            half.lineTo(inner.topRight())
            half.lineTo(inner.bottomLeft())
            half.closeSubpath()
            painter.fillPath(half, self.ink.ground)
        painter.restore()

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
        body = self._pail_body(top)
        painter.fillPath(body, self.ink.ground)
        painter.strokePath(body, self.pen(self.ink.outline))
        rim = max(0.10 * self.width, 2.0)
        bar = QPainterPath()
        bar.addRoundedRect(QRectF(box.left(), top - rim / 2, box.width(), rim), rim / 3, rim / 3)
        painter.fillPath(bar, self.ink.outline)
        self._pail_mark(
            QRectF(box.left(), top + rim / 2, box.width(), box.bottom() - top - rim / 2)
        )

    def _pail_body(self, top: float) -> QPainterPath:
        rim = self.rim
        side, foot = 0.045 * self.width, 0.13 * self.width
        body = QPainterPath(QPointF(rim.left() + side, top))
        body.lineTo(rim.left() + foot, rim.bottom())
        body.lineTo(rim.right() - foot, rim.bottom())
        body.lineTo(rim.right() - side, top)
        return body

    def _pail_mark(self, inside: QRectF) -> None:
        painter = self.painter
        if self.cell.state is CellState.SEAL_CHECKED:
            centre, reach = inside.center(), 0.2 * self.width
            tick = QPainterPath(QPointF(centre.x() - reach, centre.y() + 0.02 * self.width))
            tick.lineTo(centre.x() - reach * 0.3, centre.y() + reach * 0.72)
            tick.lineTo(centre.x() + reach, centre.y() - reach * 0.8)
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
            path = self._pail_body(box.bottom() - 0.4 * box.height())
            painter.strokePath(path, self.pen(self.ink.planned, max(self.line * 0.8, 1.2)))
            return
        pouch = self._top_of(0.9)
        if state in _SOLID_STATES:
            self._solid(pouch)
        else:
            self._liner_top(pouch, shut=state is CellState.PRESSED_SHUT)
        self._pail()
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
            wall, mouth = self._open_wall(rim)
            painter.fillPath(wall, self.ink.foil)
            painter.fillPath(mouth, QColor(self.tokens.straw))
            painter.strokePath(wall, pen)
            painter.strokePath(mouth, pen)
            if self.cell.state is CellState.ABSORBERS_IN:
                self._absorber(QPointF(rim.center().x(), rim.top() + 0.23 * self.box.height()))

    def _torn(self) -> None:
        painter, box = self.painter, self.box
        brick = QColor(self.tokens.brick)
        width, height = box.width() * 0.75, box.height() * 0.84
        painter.save()
        painter.translate(box.center().x(), box.bottom() - height * 0.53)
        painter.rotate(11)
        left, top = -width / 2, -height / 2
        torn = QPainterPath(QPointF(left, top + 0.13 * height))
        for x, y in ((0.22, 0.01), (0.36, 0.11), (0.52, 0.02), (0.74, 0.13), (1.0, 0.03)):
            torn.lineTo(left + x * width, top + y * height)
        torn.lineTo(-left, -top)
        torn.lineTo(left, -top)
        torn.closeSubpath()
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
