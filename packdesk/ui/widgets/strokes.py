"""The few shapes that recur: the twin seam, hatching, a wedge, a dashed or solid outline."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

CARD_RADIUS = 8
FIELD_RADIUS = 6
POUCH_RADIUS = 3


def rounded(rect: QRectF, radius: float) -> QPainterPath:
    """A rectangle with round corners as a path."""
    path = QPainterPath()
    path.addRoundedRect(rect, radius, radius)
    return path


def draw_outline(
    painter: QPainter,
    rect: QRectF,
    radius: float,
    width: float,
    color: QColor,
    *,
    dashed: bool = False,
) -> None:
    """Draw a rounded outline that lies inside `rect`; dashed means "not yet" or "empty"."""
    pen = QPen(color, width)
    if dashed:
        pen.setDashPattern([4.0, 3.0])
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    half = width / 2
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(rect.adjusted(half, half, -half, -half), radius, radius)


def draw_hatch(
    painter: QPainter, shape: QPainterPath | QRectF, color: QColor, width: float, pitch: float
) -> None:
    """Fill a shape with strokes rising to the right at 45°."""
    if isinstance(shape, QRectF):
        path = QPainterPath()
        path.addRect(shape)
    else:
        path = shape
    box = path.boundingRect()
    painter.save()
    painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
    painter.setPen(QPen(color, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    reach = box.height() + width
    # Counted from the origin, so that the hatch runs on between neighbours.
    x = (box.left() - reach) // pitch * pitch
    while x < box.right() + width:
        painter.drawLine(
            QPointF(x - width, box.bottom() + width), QPointF(x + reach, box.bottom() - reach)
        )
        x += pitch
    painter.restore()


def draw_seam(
    painter: QPainter, rect: QRectF, color: QColor, offsets: tuple[float, float], thick: float
) -> None:
    """Draw the twin seam across a body, at two distances below its top edge."""
    for offset in offsets:
        painter.fillRect(QRectF(rect.left(), rect.top() + offset, rect.width(), thick), color)


def draw_gate(
    painter: QPainter, x: float, top: float, bottom: float, color: QColor, scale: float
) -> None:
    """Draw the twin seam upright, as the gate a bar fills toward; `x` is its left edge."""
    for shift in (0.0, 4.0):
        painter.fillRect(QRectF(x + shift * scale, top, 2 * scale, bottom - top), color)


def draw_wedge(painter: QPainter, tip: QPointF, width: float, height: float, color: QColor) -> None:
    """Draw a solid wedge with its tip here; a negative height points down."""
    path = QPainterPath(tip)
    path.lineTo(tip.x() - width / 2, tip.y() + height)
    path.lineTo(tip.x() + width / 2, tip.y() + height)
    path.closeSubpath()
    painter.fillPath(path, color)


def draw_diamond(painter: QPainter, box: QRectF, color: QColor) -> None:
    """Draw a solid diamond that touches the four sides of a box."""
    centre = box.center()
    path = QPainterPath(QPointF(centre.x(), box.top()))
    path.lineTo(box.right(), centre.y())
    path.lineTo(centre.x(), box.bottom())
    path.lineTo(box.left(), centre.y())
    path.closeSubpath()
    painter.fillPath(path, color)
