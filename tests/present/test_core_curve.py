"""The plot of a load as points and words."""

from __future__ import annotations

from datetime import timedelta

import pytest

from packdesk.present.cards import CoreCurve
from packdesk.present.core_curve import core_curve, curve_table
from packdesk.present.measures import Measures
from tests.script import Script, tell

FROZEN = "receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat"


def curve(told: Script, units: str = "metric") -> CoreCurve:
    """The plot of load A."""
    return core_curve(told.session, told.session.loads["A"], told.desk.now(), Measures(units))


@pytest.fixture(scope="module")
def warming() -> Script:
    """A load read once in the freezer, five days later out in a room whose humidity is known."""
    return tell(f"{FROZEN}; +20 h; core A -6 C; wall A -15 C; +100 h; out A 21 C 50 %; +6 h")


def test_runs_from_the_freezing_beyond_the_last_due_time(warming: Script) -> None:
    """The first point is the freezing; the last lies some hours after the lid may come off."""
    load = warming.session.loads["A"]
    found = curve(warming)

    assert load.thaw is not None
    assert load.thaw.lid_off is not None
    assert found.points[0].at == load.frozen.utc
    assert found.points[-1].at > load.thaw.lid_off.late
    assert [point.at for point in found.points] == sorted(point.at for point in found.points)


def test_the_band_holds_the_likely_value(warming: Script) -> None:
    """At every point low, likely and high stand in that order."""
    for point in curve(warming).points:
        assert point.low_c <= point.likely_c <= point.high_c


def test_goes_through_its_readings(warming: Script) -> None:
    """A core that was read lies in the band there; a wall reading is no point of the plot."""
    found = curve(warming)
    ((at, temp_c),) = found.readings
    near = min(found.points, key=lambda point: abs(point.at - at))

    assert temp_c == -6.0
    assert near.low_c - 0.5 <= temp_c <= near.high_c + 0.5


def test_says_where_it_stands_now(warming: Script) -> None:
    """The point at now is one of the points, said in whole degrees with its range."""
    found = curve(warming)
    here = next(point for point in found.points if point.at == warming.desk.now().utc)

    assert found.now == here.at
    assert str(abs(round(here.likely_c))) in found.now_words
    assert found.now_range.startswith("between ")


def test_shows_the_hold_the_dew_point_and_the_lid(warming: Script) -> None:
    """The stretch held is as long as was recorded; dew point and lid time have their words."""
    found = curve(warming)
    load = warming.session.loads["A"]

    assert found.hold is not None
    assert found.hold[1] - found.hold[0] == timedelta(hours=load.held_h)
    assert found.dew_point_c == 10.2
    assert found.dew_words.replace("\u00a0", " ") == "dew point 10 °C"
    assert found.lid_off is not None
    assert found.lid_words.startswith("lid off ")


def test_a_load_in_the_freezer_has_no_lid_time() -> None:
    """Before the load is out nothing is said of room and lid, and the hold is the one reckoned."""
    told = tell(FROZEN)
    found = curve(told)
    forecast = told.session.loads["A"].forecast

    assert (found.lid_off, found.lid_words, found.dew_words) == (None, "", "")
    assert forecast.cold_from is not None
    assert forecast.hold_done is not None
    assert found.hold == (forecast.cold_from.likely, forecast.hold_done.likely)
    assert found.threshold_words.replace("\u00a0", " ") == "cold enough below −15 °C, hold 72 h"


def test_a_freezer_too_warm_has_a_plot_without_a_hold() -> None:
    """Four days ahead are shown, and no time is made up."""
    told = tell(f"{FROZEN}; freezer -14 C")
    found = curve(told)

    assert found.hold is None
    assert found.points[-1].at == told.desk.now().utc + timedelta(hours=96)


def test_an_open_load_ends_with_its_opening() -> None:
    """After the opening the plot goes on for a few hours and no further."""
    told = tell(f"{FROZEN}; +110 h; out A 21 C; +60 h; open A; +200 h")
    opened = told.session.loads["A"].uncovered

    assert opened is not None
    assert curve(told).points[-1].at == opened.utc + timedelta(hours=6)


def test_can_be_read_out_as_a_table(warming: Script) -> None:
    """Every six hours a row with the day and time, the likely value and its range."""
    found = curve(warming, "us")
    rows = curve_table(found, Measures("us"))

    assert len(rows) == len(found.points[::6])
    assert rows[0][0] == "Fri 19:00"
    assert rows[0][1].replace("\u00a0", " ") == "70 °F"
