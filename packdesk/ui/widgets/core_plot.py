"""The core-temperature plot: past solid, future dotted, its band, and words on the thing itself."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QPainter, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.present.curves import CoreCurve
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import draw_lines, wrapped
from packdesk.ui.widgets.plot_marks import PlotMarks
from packdesk.ui.widgets.plot_scale import PlotScale, scale_for
from packdesk.ui.widgets.plot_words import PlotWords
from packdesk.ui.widgets.themed import Themed

if TYPE_CHECKING:
    from packdesk.ui.widgets.core_graph import CoreGraph

LEAST_HEIGHT = 150
NO_CURVE = "Type two core readings and the curve follows them."
EMPTY_LOW_C, EMPTY_HIGH_C = -22, 24


class CorePlot(Themed):
    """Draws a `CoreCurve`; the same in words is its accessible description.

    The plot has no frame and no legend: words stand beside what they name, on a patch of the
    ground, and move aside for each other and for the curve. Words that find no free place, in a
    very low plot, are left to the tooltip. pyqtgraph draws the lines and is loaded with the first
    curve; a curve that only moved on in time moves its lines, no more.
    """

    def __init__(
        self, theme: Theme, parent: QWidget | None = None, *, ground: str = "sheet"
    ) -> None:
        super().__init__(theme, parent, ground=ground)
        self._curve: CoreCurve | None = None
        self._graph: CoreGraph | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.show_curve(None)

    @property
    def curve(self) -> CoreCurve | None:
        """What is shown."""
        return self._curve

    @property
    def graph(self) -> CoreGraph | None:
        """The lines, once there was a curve."""
        return self._graph

    def show_curve(self, curve: CoreCurve | None) -> None:
        """Show a curve; without one the axis stands and says what brings a curve."""
        before, self._curve = self._curve, curve
        self.setAccessibleName("Core temperature")
        self.setAccessibleDescription(curve_in_words(curve))
        if curve is None or len(curve.points) < 2:
            if self._graph is not None:
                self._graph.hide()
            self.update()
            return
        if self._graph is None:
            from packdesk.ui.widgets.core_graph import CoreGraph  # loads pyqtgraph and numpy

            self._graph = CoreGraph(
                self.theme,
                self.ground_role,
                under=self._paint_under,
                between=self._paint_between,
                over=self._paint_over,
                parent=self,
            )
            self._graph.setGeometry(self.rect())
        moved_on = before is not None and before.points is curve.points
        if moved_on and curve.now <= curve.points[-1].at:
            self._graph.show_now(curve, self._scale())
        else:
            self._graph.show_curve(curve, self._scale())
        self._graph.show()

    def restyle(self) -> None:
        super().restyle()
        if self._graph is not None:
            self._graph.restyle()
            self._lay_out()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.whole(742), self.theme.whole(290))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(320), self.theme.whole(LEAST_HEIGHT))

    def draw(self, painter: QPainter) -> None:
        if self._graph is None or self._graph.isHidden():
            self._draw_empty(painter)

    def _lay_out(self) -> None:
        if self._graph is not None and self._curve is not None:
            self._graph.setGeometry(self.rect())
            self._graph.show_curve(self._curve, self._scale())

    def _area(self) -> QRectF:
        theme = self.theme
        left = theme.metrics(Role.NOTE, Weight.REGULAR).horizontalAdvance("−20 °C") + theme.px(8)
        foot = theme.line(Role.NOTE) + theme.px(10)
        top = theme.px(12)
        return QRectF(left, top, self.width() - left, self.height() - foot - top)

    def _scale(self) -> PlotScale:
        assert self._curve is not None, "asked only of a plot with a curve"
        foot = self.theme.line(Role.NOTE) + self.theme.px(5)
        in_freezer = all(step.in_freezer for step in self._curve.air)
        return scale_for(self._curve, self._area(), foot if in_freezer else 0.0)

    def _paint_under(self, painter: QPainter) -> None:
        """Hairlines and days, behind the lines."""
        curve = self._curve
        if curve is not None:
            marks = self._marks(painter, self._scale())
            marks.draw_grid(fahrenheit=curve.fahrenheit)
            marks.draw_days(curve.offset)

    def _paint_between(self, painter: QPainter) -> None:
        """The hold, on the band and behind the lines."""
        if self._curve is not None:
            self._marks(painter, self._scale()).draw_hold(self._curve)

    def _paint_over(self, painter: QPainter) -> None:
        """The gates, now, and all words."""
        curve = self._curve
        if curve is None:
            return
        scale = self._scale()
        marks = self._marks(painter, scale)
        marks.draw_gates(curve)
        marks.draw_opened(curve)
        marks.draw_now(curve)
        words = PlotWords(painter, theme=self.theme, ground=self.ground_role, scale=scale)
        tip = "\n".join(words.write(curve))
        if tip != self.toolTip():
            self.setToolTip(tip)

    def _marks(self, painter: QPainter, scale: PlotScale) -> PlotMarks:
        return PlotMarks(painter, theme=self.theme, ground=self.ground_role, scale=scale)

    def _draw_empty(self, painter: QPainter) -> None:
        theme, area = self.theme, self._area()
        scale = PlotScale(area, datetime.min, datetime.max, EMPTY_LOW_C, EMPTY_HIGH_C)
        self._marks(painter, scale).draw_grid(fahrenheit=False)
        lines = wrapped(NO_CURVE, theme.metrics(Role.BODY), area.width() * 0.8)
        step = theme.line(Role.BODY)
        top = scale.y(5) - step * len(lines) / 2
        for line in lines:
            width = theme.metrics(Role.BODY).horizontalAdvance(line)
            at = QPointF(area.center().x() - width / 2, top)
            patch = QRectF(at.x(), at.y(), width, step)
            painter.fillRect(patch, theme.color(self.ground_role))
            top = draw_lines(painter, [line], at, step, theme.font(Role.BODY), theme.color("ink"))


def curve_in_words(curve: CoreCurve | None) -> str:
    """All that the plot says, as sentences for whoever cannot see it."""
    if curve is None or len(curve.points) < 2:
        return NO_CURVE
    readings = len(curve.readings)
    counted = f"{readings} reading{'' if readings == 1 else 's'}" if readings else "no reading yet"
    parts = (
        curve.now_words,
        curve.now_range,
        curve.threshold_words,
        curve.hold_words,
        curve.dew_words,
        curve.lid_words,
        curve.opened_words,
        curve.freezer_words,
        curve.room_words,
        counted,
    )
    return ". ".join(part for part in parts if part) + "."
