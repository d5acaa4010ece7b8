"""Draws the icons: our own strokes on a 24 grid, tinted by the caller, always beside a word."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QPainter,
    QPainterPath,
    QPainterPathStroker,
    QPen,
    QTransform,
)

GRID = 24.0
STROKE = 2.2


class Icon(StrEnum):
    """What there is a drawing for."""

    UNDO = "undo"
    RING = "ring"
    SILENT = "silent"
    ASIDE = "aside"
    PACKET = "packet"
    PROBE = "probe"
    EDIT = "edit"
    WEIGH = "weigh"
    LABELS = "labels"
    AFAR = "afar"
    ADD = "add"
    DONE = "done"
    LID = "lid"
    COLD = "cold"
    PLOT = "plot"
    REFUSE = "refuse"
    RULE = "rule"
    AGAIN = "again"
    MORE = "more"


@dataclass(frozen=True, slots=True)
class IconDrawing:
    """The parts of an icon: what is stroked, what is filled, and what is cut out of the fill."""

    strokes: QPainterPath
    body: QPainterPath


def draw_icon(painter: QPainter, icon: Icon, rect: QRectF, color: QColor) -> None:
    """Draw an icon as large as fits into `rect`, in one colour; holes show the ground."""
    drawing = icon_drawing(icon)
    side = min(rect.width(), rect.height())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.center().x() - side / 2, rect.center().y() - side / 2)
    painter.scale(side / GRID, side / GRID)
    painter.fillPath(drawing.body, color)
    painter.strokePath(drawing.strokes, _pen(color))
    painter.restore()


def draw_pail_tag(
    painter: QPainter, rect: QRectF, letter: str, color: QColor, font: QFont, width: float = 0.0
) -> None:
    """Draw a little pail with a load's letter; its line is `width` px, or 2.2 of 24 by default."""
    line = width or rect.height() * STROKE / GRID
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    rim = rect.height() * 0.17
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(color)
    painter.drawRoundedRect(QRectF(rect.x(), rect.y(), rect.width(), rim), rim / 4, rim / 4)
    side, foot = rect.width() * 0.10, rect.width() * 0.19
    body = QPainterPath(QPointF(rect.left() + side, rect.top() + rim / 2))
    body.lineTo(rect.left() + foot, rect.bottom() - line / 2)
    body.lineTo(rect.right() - foot, rect.bottom() - line / 2)
    body.lineTo(rect.right() - side, rect.top() + rim / 2)
    painter.strokePath(body, _pen(color, line))
    lettering = QFont(font)
    lettering.setPixelSize(max(round(rect.height() * 0.56), 1))
    painter.setFont(lettering)
    painter.setPen(color)
    inside = rect.adjusted(0, rim, 0, -line / 2)
    painter.drawText(inside, Qt.AlignmentFlag.AlignCenter, letter)
    painter.restore()


@cache
def icon_drawing(icon: Icon) -> IconDrawing:
    """The paths of an icon on the 24 grid."""
    return _DRAWINGS[icon]()


def _pen(color: QColor, width: float = STROKE) -> QPen:
    return QPen(
        color,
        width,
        Qt.PenStyle.SolidLine,
        Qt.PenCapStyle.RoundCap,
        Qt.PenJoinStyle.RoundJoin,
    )


def _lines(*runs: tuple[tuple[float, float], ...]) -> QPainterPath:
    path = QPainterPath()
    for run in runs:
        path.moveTo(*run[0])
        for point in run[1:]:
            path.lineTo(*point)
        if run[0] == run[-1]:
            path.closeSubpath()
    return path


def _boxes(*boxes: tuple[float, float, float, float]) -> QPainterPath:
    path = QPainterPath()
    for box in boxes:
        path.addRect(QRectF(*box))
    return path


def _stroked(strokes: QPainterPath) -> IconDrawing:
    return IconDrawing(strokes, QPainterPath())


def _undo() -> IconDrawing:
    path = _lines(((8.5, 4.5), (4, 9), (8.5, 13.5)), ((4, 9), (14.5, 9)))
    path.arcTo(QRectF(9.5, 9, 10, 10), 90, -180)
    path.lineTo(10, 19)
    return _stroked(path)


def _bell() -> tuple[QPainterPath, QPainterPath]:
    body = QPainterPath(QPointF(2.8, 17.2))
    body.cubicTo(5.4, 15.4, 5.7, 12.6, 5.9, 9.6)
    body.cubicTo(6.2, 5.6, 8.6, 2.6, 12, 2.6)
    body.cubicTo(15.4, 2.6, 17.8, 5.6, 18.1, 9.6)
    body.cubicTo(18.3, 12.6, 18.6, 15.4, 21.2, 17.2)
    body.closeSubpath()
    clapper = QPainterPath()
    clapper.arcMoveTo(QRectF(8.9, 16.6, 6.2, 5.0), 200)
    clapper.arcTo(QRectF(8.9, 16.6, 6.2, 5.0), 200, 140)
    return body, clapper


def _ring() -> IconDrawing:
    body, clapper = _bell()
    return IconDrawing(clapper, body)


def _silent() -> IconDrawing:
    body, clapper = _bell()
    stroke = _lines(((3.2, 21.2), (20.8, 3.2)))
    gap = QPainterPathStroker()
    gap.setWidth(STROKE * 2.6)
    clear = gap.createStroke(stroke)
    strokes = QPainterPath(stroke)
    pen = QPainterPathStroker()
    pen.setWidth(STROKE)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    solid = body.united(pen.createStroke(clapper)).subtracted(clear)
    return IconDrawing(strokes, solid)


def _aside() -> IconDrawing:
    torn = _lines(
        ((6, 5.5), (8.2, 3.4), (11, 6.2), (14.2, 4.2), (18, 6.6), (18, 20.5), (6, 20.5), (6, 5.5))
    )
    turn = QTransform().translate(12, 12).rotate(11).translate(-12, -12)
    return _stroked(turn.map(torn))


def _packet() -> IconDrawing:
    strokes = _boxes((4, 4, 16, 16))
    strokes.addPath(_lines(((4, 8.6), (20, 8.6))))
    return IconDrawing(strokes, _boxes((7.8, 11.6, 3.6, 3.6), (12.4, 13.6, 3.6, 3.6)))


def _probe() -> IconDrawing:
    strokes = QPainterPath()
    strokes.addEllipse(QPointF(16.4, 7.6), 4.0, 4.0)
    strokes.addPath(_lines(((13.4, 10.6), (4, 20))))
    strokes.addPath(_lines(((15.2, 8.8), (17.4, 6.6))))
    return _stroked(strokes)


def _edit() -> IconDrawing:
    return _stroked(
        _lines(
            ((4, 20), (5.2, 15.2), (16.4, 4), (20, 7.6), (8.8, 18.8), (4, 20)),
            ((13.4, 7), (17, 10.6)),
        )
    )


def _weigh() -> IconDrawing:
    return _stroked(
        _lines(
            ((3, 6), (21, 6)),
            ((12, 6), (12, 10.5)),
            ((7.4, 10.5), (16.6, 10.5), (20, 19), (4, 19), (7.4, 10.5)),
        )
    )


def _labels() -> IconDrawing:
    strokes = _boxes((4.6, 2.6, 14.8, 18.8))
    hollow = _boxes((7.5, 5.6, 3.4, 2.4), (13.1, 5.6, 3.4, 2.4))
    pen = QPainterPathStroker()
    pen.setWidth(1.1)
    plates = _boxes((7, 10.4, 4.4, 3.4), (12.6, 10.4, 4.4, 3.4))
    plates.addPath(_boxes((7, 15.7, 4.4, 3.4), (12.6, 15.7, 4.4, 3.4)))
    return IconDrawing(strokes, plates.united(pen.createStroke(hollow)))


def _afar() -> IconDrawing:
    strokes = _lines(
        ((3, 7.5), (3, 3), (7.5, 3)),
        ((16.5, 3), (21, 3), (21, 7.5)),
        ((21, 16.5), (21, 21), (16.5, 21)),
        ((7.5, 21), (3, 21), (3, 16.5)),
    )
    return IconDrawing(strokes, _boxes((8, 8.8, 8, 6.4)))


def _add() -> IconDrawing:
    return _stroked(_lines(((12, 4), (12, 20)), ((4, 12), (20, 12))))


def _more() -> IconDrawing:
    return IconDrawing(QPainterPath(), _boxes(*((x, 9.5, 5.0, 5.0) for x in (2.5, 9.5, 16.5))))


def _done() -> IconDrawing:
    return _stroked(_lines(((3.5, 13), (9, 18.5), (20.5, 6))))


def _lid() -> IconDrawing:
    return _stroked(
        _lines(
            ((3.2, 8.6), (20.4, 3.6)),
            ((5.2, 11.2), (18.8, 11.2)),
            ((5.6, 11.2), (7, 20.4), (17, 20.4), (18.4, 11.2)),
        )
    )


def _cold() -> IconDrawing:
    wedge = _lines(((7, 13), (17, 13), (12, 21), (7, 13)))
    return IconDrawing(_lines(((4, 5), (20, 5)), ((12, 5), (12, 13))), wedge)


def _plot() -> IconDrawing:
    strokes = _lines(((4, 3.5), (4, 20.5), (21, 20.5)))
    strokes.moveTo(4.4, 5)
    strokes.cubicTo(8, 13.5, 12, 16, 19.5, 16.4)
    return _stroked(strokes)


def _refuse() -> IconDrawing:
    diamond = _lines(((12, 0.8), (23.2, 12), (12, 23.2), (0.8, 12), (12, 0.8)))
    sign = _boxes((10.8, 6, 2.4, 7.4), (10.8, 15.2, 2.4, 2.6))
    return IconDrawing(QPainterPath(), diamond.subtracted(sign))


def _rule() -> IconDrawing:
    strokes = _boxes((2.4, 7.4, 19.2, 9.2))
    strokes.addPath(
        _lines(
            ((6.3, 8), (6.3, 11)),
            ((10.1, 8), (10.1, 12.4)),
            ((13.9, 8), (13.9, 11)),
            ((17.7, 8), (17.7, 12.4)),
        )
    )
    return _stroked(strokes)


def _again() -> IconDrawing:
    strokes = _lines(((4, 7), (4, 21), (14.5, 21)))
    strokes.addPath(_boxes((8, 3, 12, 14)))
    strokes.addPath(_lines(((11, 7.4), (17, 7.4)), ((11, 11.8), (17, 11.8))))
    return _stroked(strokes)


_DRAWINGS: dict[Icon, Callable[[], IconDrawing]] = {
    Icon.UNDO: _undo,
    Icon.RING: _ring,
    Icon.SILENT: _silent,
    Icon.ASIDE: _aside,
    Icon.PACKET: _packet,
    Icon.PROBE: _probe,
    Icon.EDIT: _edit,
    Icon.WEIGH: _weigh,
    Icon.LABELS: _labels,
    Icon.AFAR: _afar,
    Icon.ADD: _add,
    Icon.DONE: _done,
    Icon.LID: _lid,
    Icon.COLD: _cold,
    Icon.PLOT: _plot,
    Icon.REFUSE: _refuse,
    Icon.RULE: _rule,
    Icon.AGAIN: _again,
    Icon.MORE: _more,
}
