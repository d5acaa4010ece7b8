"""The core plot draws what the curve holds and says the same in words."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import combinations
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QImage, QPainter, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from packdesk.present.curves import AirStep, CoreCurve, CurvePoint
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.core_graph import STROKES, stairs
from packdesk.ui.widgets.core_plot import NO_CURVE, CorePlot, curve_in_words
from packdesk.ui.widgets.plot_marks import PlotMarks
from packdesk.ui.widgets.plot_scale import (
    axis,
    figure_words,
    likely_at,
    lines_c,
    scale_for,
    time_ticks,
)
from packdesk.ui.widgets.plot_words import PlotWords

START = datetime(2026, 10, 12, 19, 0, tzinfo=UTC)


def hours(count: float) -> datetime:
    """An instant so many hours after the start."""
    return START + timedelta(hours=count)


def curve(now_h: float = 45) -> CoreCurve:
    """A straight invented cooling from 21 to -19 °C in 100 h, then warming."""
    points = [
        CurvePoint(hours(h), 20 - 0.4 * h, 21 - 0.4 * h, 22 - 0.4 * h, -19 + 16 * 0.95**h)
        for h in range(101)
    ]
    points += [CurvePoint(hours(100 + h), h - 21, h - 19, h - 17, h - 12) for h in range(1, 31)]
    return CoreCurve(
        points=tuple(points),
        now=hours(now_h),
        now_words="Now 3 °C at the core",
        now_range="between 2 and 4",
        threshold_c=-15.0,
        threshold_words="Cold enough below −15 °C: 0 h of 72 h",
        offset=120,
        hold=(hours(90), hours(110)),
        dew_point_c=9.5,
        dew_words="dew point 9.5 °C",
        hold_words="hold complete Sat 05:00",
        air=(AirStep(START, -19.0, in_freezer=True), AirStep(hours(100), 21.0, in_freezer=False)),
        freezer_words="freezer −19 °C",
        room_words="room 21 °C",
        lid_off=(hours(126), hours(129)),
        lid_words="lid off 14:30 to 18:10",
        readings=((hours(5), 19.0), (hours(20), 13.0)),
    )


@pytest.fixture
def plot(theme: Theme, qtbot: QtBot) -> CorePlot:
    """A plot of the work area's size."""
    plot = CorePlot(theme)
    qtbot.addWidget(plot)
    plot.resize(742, 290)
    plot.show()
    return plot


def test_the_words_hold_all_that_is_drawn(plot: CorePlot) -> None:
    """The accessible description has now, range, threshold, dew point, lid and readings."""
    shown = curve()
    plot.show_curve(shown)

    said = plot.accessibleDescription()

    for part in (
        shown.now_words, shown.now_range, shown.threshold_words, shown.dew_words, shown.lid_words,
        "2 readings",
    ):  # fmt: skip
        assert part in said


def test_without_a_curve_it_says_what_brings_one(plot: CorePlot) -> None:
    """No curve and a curve of one point are both told as missing."""
    assert plot.accessibleDescription() == NO_CURVE
    assert curve_in_words(None) == NO_CURVE


@pytest.mark.parametrize("now_h", [1, 45, 128])
@pytest.mark.parametrize("height", [150, 230, 290])
def test_words_never_lie_on_words(theme: Theme, now_h: float, height: int) -> None:
    """Whatever the hour and the height, no words cover others, and all lie in the plot."""
    picture = QImage(742, height, QImage.Format.Format_RGB32)
    area = QRectF(64, 12, 678, height - 42)
    painter = QPainter(picture)
    words = PlotWords(painter, theme=theme, ground="sheet", scale=scale_for(curve(now_h), area))
    unwritten = words.write(curve(now_h))
    painter.end()

    assert len(words.boxes) + len(unwritten) == 8
    for one, other in combinations(words.boxes, 2):
        assert not one.intersects(other)
    for box in words.boxes:
        assert area.adjusted(-1, -13, 1, 1).contains(box)


@pytest.mark.parametrize(("width", "height"), [(742, 150), (742, 290), (1200, 290)])
def test_an_end_of_the_hold_close_to_now_is_named(theme: Theme, width: int, height: int) -> None:
    """With little room between now and its seam the words stand beside, smaller if need be."""
    shown = replace(curve(94), hold=(hours(60), hours(106)))
    picture = QImage(width, height, QImage.Format.Format_RGB32)
    area = QRectF(64, 12, width - 64, height - 42)
    painter = QPainter(picture)
    words = PlotWords(painter, theme=theme, ground="sheet", scale=scale_for(shown, area))
    unwritten = words.write(shown)
    painter.end()

    assert shown.hold_words not in unwritten


@pytest.mark.parametrize("height", [150, 290])
def test_the_moment_the_lid_came_off_is_marked_and_named(theme: Theme, height: int) -> None:
    """A line stands there, its words beside it, clear of it and of those of now."""
    shown = replace(
        curve(118), hold=None, lid_off=None, lid_words="", opened=hours(112),
        opened_words="opened early Sat 13:00",
    )  # fmt: skip
    picture = QImage(742, height, QImage.Format.Format_RGB32)
    picture.fill(Qt.GlobalColor.white)
    area = QRectF(64, 12, 678, height - 42)
    scale = scale_for(shown, area)
    painter = QPainter(picture)
    PlotMarks(painter, theme=theme, ground="sheet", scale=scale).draw_opened(shown)
    words = PlotWords(painter, theme=theme, ground="sheet", scale=scale)
    unwritten = words.write(shown)
    painter.end()
    x = scale.x(hours(112))

    assert shown.opened_words not in unwritten
    assert shown.opened_words in curve_in_words(shown)
    column = range(round(area.top()) + 1, round(area.bottom()))
    marked = [picture.pixelColor(round(x), y) != Qt.GlobalColor.white for y in column]
    assert sum(marked) > 0.5 * len(column)
    assert all(not box.contains(QPointF(x, box.center().y())) for box in words.boxes[1:])


@pytest.mark.parametrize("now_h", [6, 20, 45])
def test_the_freezer_is_named_under_its_line_also_in_a_low_plot(
    plot: CorePlot, now_h: float
) -> None:
    """Whatever stands over the coldest line, there is room for its name below."""
    points = [
        CurvePoint(hours(h), t - 0.5, t, t + 0.5, -19 + 16 * 0.7**h)
        for h, t in ((h, -19.0 + 40.0 * 0.85**h) for h in range(101))
    ]
    shown = replace(
        curve(now_h),
        points=tuple(points),
        air=(AirStep(START, -19.0, in_freezer=True),),
        room_words="", dew_point_c=None, dew_words="", lid_off=None, lid_words="",
        readings=(), hold=(hours(14), hours(86)),
    )  # fmt: skip
    plot.resize(742, 160)
    plot.show_curve(shown)
    plot.grab()

    assert shown.freezer_words not in plot.toolTip()
    assert shown.hold_words not in plot.toolTip()


def test_a_dose_complete_without_a_hold_is_marked_on_the_core_line(
    plot: CorePlot, theme: Theme
) -> None:
    """Two bars stand there, with the words beside them on the plot and in its description."""
    shown = replace(curve(), hold=None, cold_done=hours(80), hold_words="dose complete Thu 03:00")
    plot.show_curve(shown)
    picture = plot.grab().toImage()
    scale = scale_for(shown, plot._area())
    x, y = round(scale.x(hours(80))), round(scale.y(-11.0))
    indigo = theme.color("indigo")
    bars = [step for step in range(-6, 7) if picture.pixelColor(x + step, y - 5) == indigo]

    assert bars
    assert min(bars) < 0 < max(bars)
    assert 0 not in bars
    assert "dose complete Thu 03:00" in plot.accessibleDescription()
    assert "dose complete Thu 03:00" not in plot.toolTip()


def test_words_without_room_are_in_the_tooltip(plot: CorePlot) -> None:
    """In a plot too low for all its words the others can still be read."""
    plot.resize(330, 150)
    plot.show_curve(curve())
    plot.grab()

    assert plot.toolTip()
    assert all(line in plot.accessibleDescription() for line in plot.toolTip().split("\n"))


def test_the_future_is_dotted(plot: CorePlot, theme: Theme) -> None:
    """Along the core line the colour is unbroken before now and broken after it."""
    plot.show_curve(curve(60))
    picture = plot.grab().toImage()
    scale = scale_for(curve(60), plot._area())
    cold = theme.color("cold")

    def share(start: float, end: float) -> float:
        hit = total = 0
        for step in range(200):
            at = hours(start + (end - start) * step / 200)
            x, y = scale.x(at), scale.y(likely_at(curve(60), at))
            hit += picture.pixelColor(round(x), round(y)) == cold
            total += 1
        return hit / total

    assert share(25, 40) > 0.8
    assert share(72, 88) < 0.8


def test_the_plot_library_is_loaded_with_the_first_curve_and_not_before() -> None:
    """An empty plot gets by without pyqtgraph and numpy; a curve brings them."""
    script = """
import sys
from PySide6.QtWidgets import QApplication
from packdesk.ui.theme.faces import load_faces
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.core_plot import CorePlot
app = QApplication([])
plot = CorePlot(Theme(load_faces()))
plot.grab()
before = {"pyqtgraph", "numpy"} & set(sys.modules)
from tests.ui.test_core_plot import curve
plot.show_curve(curve())
print(sorted(before), "pyqtgraph" in sys.modules)
"""
    done = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
        cwd=Path(__file__).parents[2],
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == "[] True"


def test_no_hand_moves_the_plot(plot: CorePlot, qtbot: QtBot) -> None:
    """Dragging, wheel and right click on it change no picture and open no menu."""
    plot.show_curve(curve())
    before = plot.grab().toImage()
    middle = plot.rect().center()
    for button in (Qt.MouseButton.LeftButton, Qt.MouseButton.RightButton):
        qtbot.mousePress(plot, button, pos=middle)
        qtbot.mouseMove(plot, middle + QPoint(80, 40))
        qtbot.mouseRelease(plot, button, pos=middle + QPoint(80, 40))
    qtbot.mouseDClick(plot, Qt.MouseButton.LeftButton, pos=middle)
    at = QPointF(middle)
    wheel = QWheelEvent(
        at, plot.mapToGlobal(at), QPoint(), QPoint(0, 240), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(plot.childAt(middle) or plot, wheel)

    assert QApplication.activePopupWidget() is None
    assert plot.grab().toImage() == before


def test_a_reading_moves_the_lines_there_are(plot: CorePlot) -> None:
    """Another curve is shown by the same items: none is made anew, none is left over."""
    plot.show_curve(curve())
    items = plot.graph.scene().items()
    plot.show_curve(replace(curve(50), readings=((hours(5), 19.0),)))
    plot.grab()

    assert plot.graph.scene().items() == items


def test_now_moves_on_with_the_heartbeat(plot: CorePlot, theme: Theme) -> None:
    """Ten hours later the line of now stands further right, on the same points."""
    shown = curve(40)

    def now_at() -> int:
        picture = plot.grab().toImage()
        ink = theme.color("ink")
        row = round(plot.height() * 0.55)
        return next(x for x in range(picture.width()) if picture.pixelColor(x, row) == ink)

    plot.show_curve(shown)
    first = now_at()
    plot.show_curve(replace(shown, now=hours(50)))

    assert 40 < now_at() - first < 70


def test_lines_differ_by_more_than_colour() -> None:
    """Of two lines of one plot no pair has the same dashes and the same width."""
    told = [(stroke.dashes, stroke.width) for stroke in STROKES.values()]
    assert len(set(told)) == len(told)


def test_air_is_drawn_as_steps() -> None:
    """Freezer, then room: a corner at the change, the last up to the end."""
    air = (AirStep(START, -18.0, in_freezer=True), AirStep(hours(10), 21.0, in_freezer=False))
    assert stairs(air, hours(12)) == [
        (START, -18.0), (hours(10), -18.0), (hours(10), 21.0), (hours(12), 21.0),
    ]  # fmt: skip


def test_of_a_warming_load_the_thaw_is_shown(plot: CorePlot) -> None:
    """The plot begins where the curve says it is shown from, its figures fit what is shown."""
    shown = replace(curve(110), shown_from=hours(94))
    scale = scale_for(shown, QRectF(0, 0, 678, 200))

    assert scale.start == hours(94)
    plot.show_curve(shown)
    assert not plot.grab().isNull()


@pytest.mark.parametrize(
    ("low", "high", "lines"),
    [
        (-20.5, 22.5, [-20, -10, 0, 10, 20]),
        (-19, 4, [-15, -10, -5, 0]),
        (-3.2, 2.9, [-2, 0, 2]),
        (-45, 40, [-40, -20, 0, 20, 40]),
    ],
)
def test_hairlines_are_round_and_few(low: float, high: float, lines: list[int]) -> None:
    """At most five hairlines stand at round temperatures."""
    assert lines_c(low, high) == lines


def test_figures_have_a_real_minus() -> None:
    """Axis figures use the minus sign U+2212, and the unit once."""
    assert figure_words(-20, unit=False) == "\u221220"
    assert figure_words(20, unit=True) == "20\u202f°C"


def test_days_are_local() -> None:
    """Ticks stand at the local midnights of the session's place, named by the day."""
    ticks = time_ticks(START, hours(60), 120)

    # 12 October 2026 is a Monday (ISO 8601 calendar); 22:00 UTC is midnight at +02:00.
    assert [tick.words for tick in ticks] == ["Mon", "Tue", "Wed", "Thu"]
    assert ticks[1].at == datetime(2026, 10, 12, 22, 0, tzinfo=UTC)


def test_a_short_plot_is_told_in_hours() -> None:
    """Twelve hours are ticked at round local hours."""
    ticks = time_ticks(START, hours(12), 120)

    assert [tick.words for tick in ticks][:2] == ["22:00", "00:00"]


def test_the_likely_value_is_read_between_points() -> None:
    """Half way between two points the likely value is their mean; outside there is none."""
    assert likely_at(curve(), hours(10.5)) == pytest.approx(21 - 0.4 * 10.5)
    assert likely_at(curve(), hours(-1)) is None


def test_a_session_in_us_units_reads_its_axis_in_fahrenheit() -> None:
    """Hairlines lie at round degrees Fahrenheit, and the top one says so."""
    found = axis(-20.0, 24.0, fahrenheit=True)

    assert [words for _, words in found] == ["0", "20", "40", "60\u202f°F"]
    assert [round(at_c, 1) for at_c, _ in found] == [-17.8, -6.7, 4.4, 15.6]


@pytest.mark.parametrize("height", [150, 230])
@pytest.mark.parametrize("width", [420, 742])
def test_a_time_to_come_stands_at_its_seam_or_nowhere(
    theme: Theme, width: int, height: int
) -> None:
    """However little room there is, the end of the hold is not told of another day."""
    shown = replace(curve(45), hold=(hours(40), hours(112)))
    picture = QImage(width, height, QImage.Format.Format_RGB32)
    scale = scale_for(shown, QRectF(64, 12, width - 64, height - 42))
    painter = QPainter(picture)
    words = PlotWords(painter, theme=theme, ground="sheet", scale=scale)
    unwritten = words.write(shown)
    painter.end()

    assert shown.now_words not in unwritten
    if shown.hold_words not in unwritten:
        near = words.boxes[0].adjusted(-16, 0, 16, 0)
        assert near.left() <= scale.x(hours(112)) <= near.right()


def test_out_of_the_freezer_the_cold_stands_at_its_bar(theme: Theme) -> None:
    """How long it was cold enough is not said of the time after the take-out."""
    shown = replace(
        curve(290),
        hold=(hours(20), hours(92)),
        air=(AirStep(START, -19.0, in_freezer=True), AirStep(hours(100), 21.0, in_freezer=False)),
    )
    written = {}
    for words in (shown.threshold_words, ""):
        picture = QImage(742, 290, QImage.Format.Format_RGB32)
        scale = scale_for(shown, QRectF(64, 12, 678, 248))
        painter = QPainter(picture)
        writer = PlotWords(painter, theme=theme, ground="sheet", scale=scale)
        writer.write(replace(shown, threshold_words=words))
        painter.end()
        written[words] = [box.getRect() for box in writer.boxes]

    out_x = scale.x(hours(100))
    for left, _, width, _ in set(written[shown.threshold_words]) - set(written[""]):
        assert left + width <= out_x + 1
