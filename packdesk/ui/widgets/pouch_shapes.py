"""The outlines a pouch is drawn from, as paths: foot, wall and mouth, contents, pail, tear."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath, QTransform

HEIGHT_PER_WIDTH = 1.36


def foot(rim: QRectF, height: float) -> QPainterPath:
    """The U that a planned pouch is: the lowest part of its outline."""
    top = rim.bottom() - height
    path = QPainterPath(QPointF(rim.left(), top))
    path.lineTo(rim.bottomLeft())
    path.lineTo(rim.bottomRight())
    path.lineTo(rim.right(), top)
    return path


def open_wall(rim: QRectF) -> tuple[QPainterPath, QPainterPath]:
    """The wall of an open pouch and its lens-shaped mouth."""
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


def pail_body(rim: QRectF, width: float, top: float) -> QPainterPath:
    """A pail from `top` to the foot, open above, narrower below."""
    side, base = 0.045 * width, 0.13 * width
    body = QPainterPath(QPointF(rim.left() + side, top))
    body.lineTo(rim.left() + base, rim.bottom())
    body.lineTo(rim.right() - base, rim.bottom())
    body.lineTo(rim.right() - side, top)
    return body


def tick_in(inside: QRectF, reach: float) -> QPainterPath:
    """A tick in the middle of a rectangle, `reach` px to either side."""
    centre = inside.center()
    tick = QPainterPath(QPointF(centre.x() - reach, centre.y() + reach * 0.1))
    tick.lineTo(centre.x() - reach * 0.3, centre.y() + reach * 0.72)
    tick.lineTo(centre.x() + reach, centre.y() - reach * 0.8)
    return tick


def torn_body(width: float, height: float) -> QPainterPath:
    """A pouch with a torn zigzag top, centred on the origin."""
    left, top = -width / 2, -height / 2
    torn = QPainterPath(QPointF(left, top + 0.13 * height))
    for x, y in ((0.22, 0.01), (0.36, 0.11), (0.52, 0.02), (0.74, 0.13), (1.0, 0.03)):
        torn.lineTo(left + x * width, top + y * height)
    torn.lineTo(-left, -top)
    torn.lineTo(left, -top)
    torn.closeSubpath()
    return torn


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
