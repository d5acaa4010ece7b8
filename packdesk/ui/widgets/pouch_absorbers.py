"""Paints the absorbers in an open or pressed pouch: as many as went in."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QPainter, QPainterPath

from packdesk.ui.widgets.pouch_ink import PouchInk

MOST_DRAWN = 2
NUMBER_FROM_PX = 22
APART = 0.19
"""Each of two absorbers lies so far beside the middle, as a part of the pouch's width."""


def draw_absorbers(
    painter: QPainter,
    centre: QPointF,
    width: float,
    many: int,
    ink: PouchInk,
    *,
    marginal: bool = False,
) -> None:
    """Draw one, or two side by side for two and more, in a pouch `width` px wide."""
    if many == 1:
        _draw_one(painter, centre, width, ink, marginal=marginal)
    if many < 2:
        return
    for side in (-1, 1):
        beside = centre + QPointF(side * APART * width, 0.0)
        _draw_one(painter, beside, width, ink, marginal=marginal)


def _draw_one(
    painter: QPainter, centre: QPointF, width: float, ink: PouchInk, *, marginal: bool
) -> None:
    side, ring = 0.27 * width, max(0.04 * width, 1.0)
    painter.save()
    painter.translate(centre)
    painter.rotate(-12)
    square = QRectF(-side / 2, -side / 2, side, side)
    painter.fillRect(square.adjusted(-ring, -ring, ring, ring), ink.ground)
    painter.fillRect(square, ink.outline)
    if marginal:
        inset = max(0.05 * width, 1.0)
        inner = square.adjusted(inset, inset, -inset, -inset)
        half = QPainterPath(inner.topLeft())
        half.lineTo(inner.topRight())
        half.lineTo(inner.bottomLeft())
        half.closeSubpath()
        painter.fillPath(half, ink.ground)
    painter.restore()


def draw_absorber_number(
    painter: QPainter, centre: QPointF, width: float, many: int, ink: PouchInk
) -> None:
    """Say how many absorbers are in, where they are more than can be drawn.

    The painter's font is used. Narrower than 22 px there is no room for a number.
    """
    if many <= MOST_DRAWN or width < NUMBER_FROM_PX:
        return
    font = QFont(painter.font())
    font.setPixelSize(max(round(0.34 * width), 8))
    font.setWeight(QFont.Weight.DemiBold)
    plate = QRectF(0, 0, 0.56 * width, 0.38 * width)
    plate.moveCenter(centre)
    path = QPainterPath()
    path.addRoundedRect(plate, 0.06 * width, 0.06 * width)
    painter.fillPath(path, ink.ground)
    painter.setFont(font)
    painter.setPen(ink.outline)
    painter.drawText(plate, Qt.AlignmentFlag.AlignCenter, f"×{many}")
