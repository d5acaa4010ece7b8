"""The lines of the core plot in pyqtgraph: set anew at each heartbeat, never built anew.

Importing this loads pyqtgraph and numpy, so `core_plot` does it when the first curve is shown.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

import pyqtgraph as pg
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from packdesk.present.curves import AirStep, CoreCurve
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.plot_scale import PlotScale, likely_at

HOUR = timedelta(hours=1)

_SOLID: tuple[float, ...] = ()
_FUTURE = (1.0, 1.0)
_TREATMENT = (5.0, 3.0)
_DEW_POINT = (7.0, 3.0, 2.0, 3.0)
_SURFACE = (2.0, 2.0)


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a line is drawn: colour role, width (design px), dashes; never colour alone."""

    role: str
    width: float
    dashes: tuple[float, ...] = _SOLID


STROKES = {
    "air": Stroke("edge", 1.6),
    "surface": Stroke("ink2", 1.8, _SURFACE),
    "treatment": Stroke("cold", 2.0, _TREATMENT),
    "dew": Stroke("wheatink", 2.0, _DEW_POINT),
    "past": Stroke("cold", 3.2),
    "future": Stroke("cold", 3.0, _FUTURE),
}
"""Back to front."""


Painting = Callable[[QPainter], None]


class Layer(pg.GraphicsObject):
    """What is painted in px of the widget, under, between or over the lines: marks and words."""

    def __init__(self, paint: Painting, depth: float) -> None:
        super().__init__()
        self._paint = paint
        self._rect = QRectF()
        self.setZValue(depth)

    def cover(self, rect: QRectF) -> None:
        """Lie over all of the widget."""
        self.prepareGeometryChange()
        self._rect = rect

    def boundingRect(self) -> QRectF:
        return self.mapRectFromScene(self._rect)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        to_scene, possible = self.sceneTransform().inverted()
        if possible:
            painter.setTransform(to_scene, combine=True)
            self._paint(painter)


class CoreGraph(pg.PlotWidget):
    """Draws the lines of a `CoreCurve` in `area`; the mouse goes through it.

    There is nothing to drag, to zoom or to call up: a floury knuckle must not move a plot.
    """

    def __init__(
        self,
        theme: Theme,
        ground: str,
        *,
        under: Painting,
        between: Painting,
        over: Painting,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent, background=theme.color(ground), enableMenu=False)
        self._theme = theme
        self._ground = ground
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        for part in (self, self.viewport()):
            part.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFrameShape(self.Shape.NoFrame)
        self.setAntialiasing(True)
        self.hideButtons()
        self.hideAxis("left")
        self.hideAxis("bottom")
        view = self.getViewBox()
        view.setMouseEnabled(x=False, y=False)
        view.setDefaultPadding(0.0)
        view.disableAutoRange()
        self._low, self._high = pg.PlotCurveItem(), pg.PlotCurveItem()
        self._band = pg.FillBetweenItem(self._low, self._high)
        self._lines = {name: pg.PlotCurveItem(antialias=True) for name in STROKES}
        self._cores = pg.ScatterPlotItem(symbol="o", antialias=True)
        self._walls = pg.ScatterPlotItem(symbol="s", antialias=True)
        for depth, item in enumerate((self._band, *self._lines.values(), self._walls, self._cores)):
            item.setZValue(depth + 1)
            self.addItem(item)
        self._layers = (Layer(under, -1.0), Layer(between, 1.5), Layer(over, 100.0))
        view.addItem(self._layers[1], ignoreBounds=True)
        for layer in (self._layers[0], self._layers[2]):
            self.scene().addItem(layer)
        self.restyle()

    def restyle(self) -> None:
        """Take up colours and sizes of the theme."""
        theme = self._theme
        self.setBackground(theme.color(self._ground))
        self._band.setBrush(theme.color("coldhaze"))
        for name, stroke in STROKES.items():
            pen = pg.mkPen(theme.color(stroke.role), width=theme.px(stroke.width))
            pen.setCapStyle(Qt.PenCapStyle.FlatCap)
            pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            if stroke.dashes:
                pen.setDashPattern(list(stroke.dashes))
            self._lines[name].setPen(pen)
        for readings in (self._cores, self._walls):
            readings.setPen(pg.mkPen(theme.color("ink"), width=theme.px(3.0)))
            readings.setBrush(theme.color(self._ground))
            readings.setSize(theme.px(9.0))

    def show_curve(self, curve: CoreCurve, scale: PlotScale) -> None:
        """Show a curve as `scale` has it."""
        start, area, whole = scale.start, scale.area, QRectF(self.rect())
        self.getViewBox().setRange(
            xRange=(0.0, (scale.end - start) / HOUR), yRange=(scale.low_c, scale.high_c), padding=0
        )
        self.getPlotItem().layout.setContentsMargins(
            area.left(), area.top(), whole.right() - area.right(), whole.bottom() - area.bottom()
        )

        def hours(instants: Sequence[datetime]) -> list[float]:
            return [(at - start) / HOUR for at in instants]

        points = curve.points
        whens = hours([point.at for point in points])
        self._low.setData(whens, [point.low_c for point in points])
        self._high.setData(whens, [point.high_c for point in points])
        self._show_core(curve, hours)
        surface = [(h, p.surface_c) for h, p in zip(whens, points, strict=True)]
        known = [(h, temp_c) for h, temp_c in surface if temp_c is not None]
        self._lines["surface"].setData([h for h, _ in known], [temp_c for _, temp_c in known])
        air = stairs(curve.air, scale.end)
        self._lines["air"].setData(hours([at for at, _ in air]), [temp_c for _, temp_c in air])
        until, since = scale.room_from or scale.end, scale.room_from or start
        treatment = hours([start, until])
        self._lines["treatment"].setData(treatment, [curve.threshold_c] * 2)
        dew_point_c = curve.dew_point_c
        dew = hours([since, scale.end]) if dew_point_c is not None else []
        self._lines["dew"].setData(dew, [dew_point_c] * len(dew))
        for item, readings in ((self._cores, curve.readings), (self._walls, curve.wall_readings)):
            item.setData(hours([at for at, _ in readings]), [temp_c for _, temp_c in readings])
        self.repaint_layers()

    def show_now(self, curve: CoreCurve, scale: PlotScale) -> None:
        """The same curve a little later: the solid line has grown, the words are new."""
        self._show_core(curve, lambda instants: [(at - scale.start) / HOUR for at in instants])
        self.repaint_layers()

    def repaint_layers(self) -> None:
        """Paint what is not a line anew, over all of the widget."""
        for layer in self._layers:
            layer.cover(QRectF(self.rect()))
            layer.update()

    def _show_core(
        self, curve: CoreCurve, hours: Callable[[Sequence[datetime]], list[float]]
    ) -> None:
        """Solid as far as it is past, dotted beyond."""
        past = [(point.at, point.likely_c) for point in curve.points if point.at <= curve.now]
        future = [(point.at, point.likely_c) for point in curve.points if point.at > curve.now]
        here_c = likely_at(curve, curve.now)
        if here_c is not None:
            here = (curve.now, here_c)
            past, future = [*past, here], [here, *future]
        for name, found in (("past", past), ("future", future)):
            self._lines[name].setData(hours([at for at, _ in found]), [each for _, each in found])


def stairs(air: Sequence[AirStep], end: datetime) -> list[tuple[datetime, float]]:
    """Air that changes at once, as the corners of its line up to `end`."""
    corners: list[tuple[datetime, float]] = []
    for place, step in enumerate(air):
        until = air[place + 1].at if place + 1 < len(air) else max(end, step.at)
        corners += [(step.at, step.temp_c), (until, step.temp_c)]
    return corners
