"""The plot of a load as points and words."""

from __future__ import annotations

from datetime import timedelta
from itertools import pairwise

import pytest

from packdesk.instants import day_and_time
from packdesk.present.core_curve import core_curve, curve_at
from packdesk.present.curves import CoreCurve
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
    assert found.threshold_words.replace("\u00a0", " ") == "cold enough below −15 °C: 0 h of 72 h"


def test_a_freezer_too_warm_has_a_plot_without_a_hold() -> None:
    """Four days ahead are shown, and no time is made up."""
    told = tell(f"{FROZEN}; freezer -14 C, confirmed")
    found = curve(told)

    assert found.hold is None
    assert found.points[-1].at == told.desk.now().utc + timedelta(hours=96)


def test_the_opening_is_named_with_its_time() -> None:
    """Before it nothing is said of it; an early opening is told from one that was due."""
    told = tell(f"{FROZEN}; +110 h; out A 21 C; +2 h")
    assert (curve(told).opened, curve(told).opened_words) == (None, "")

    told.do("open A: needed the pail")
    found = curve(told)
    assert found.opened == told.desk.now().utc
    when = day_and_time(found.opened, found.offset)
    assert found.opened_words == f"opened early {when}"


def test_the_surface_is_drawn_round_where_it_follows_fast(warming: Script) -> None:
    """After a load came among other air no stroke of the surface is longer than 15 K."""
    surface = [point.surface_c for point in curve(warming).points if point.surface_c is not None]

    assert max(abs(a - b) for a, b in pairwise(surface)) < 15.0


def test_an_open_load_ends_with_its_opening() -> None:
    """After the opening the plot goes on for a few hours and no further."""
    told = tell(f"{FROZEN}; +110 h; out A 21 C; +60 h; open A; +200 h")
    opened = told.session.loads["A"].uncovered

    assert opened is not None
    assert curve(told).points[-1].at == opened.utc + timedelta(hours=6)


def test_moves_on_without_being_reckoned_anew() -> None:
    """An hour later the same points say a later now, an hour more held, and nothing else."""
    told = tell(f"{FROZEN}; +70 h")
    found = curve(told)
    told.do("+1 h")
    later = curve_at(found, told.desk.now(), Measures())

    assert later.points is found.points
    assert later.now - found.now == timedelta(hours=1)
    assert found.hold is not None
    begun = found.hold[0]
    for each in (found, later):
        held = int((each.now - begun) / timedelta(hours=1))
        words = each.threshold_words.replace("\u00a0", " ")
        assert words == f"cold enough below −15 °C: {held} h of 72 h"


def test_the_surface_is_nearer_to_the_air_than_the_core(warming: Script) -> None:
    """Cooling, the food at the wall is colder than the core; warming, warmer."""
    found = curve(warming)
    cooling, thawing = found.points[10], found.points[-5]

    assert cooling.surface_c is not None
    assert thawing.surface_c is not None
    assert -18.0 < cooling.surface_c < cooling.likely_c
    assert thawing.likely_c < thawing.surface_c < 21.0


def test_names_the_air_around_it(warming: Script) -> None:
    """Freezer, then room, each from when the load came into it."""
    found = curve(warming)

    assert [(step.temp_c, step.in_freezer) for step in found.air] == [(-18.0, True), (21.0, False)]
    assert found.freezer_words.replace("\u00a0", " ") == "freezer −18 °C"
    assert found.room_words.replace("\u00a0", " ") == "room 21 °C"


def test_the_end_of_the_hold_is_named_on_it() -> None:
    """While the load is in the freezer the end of the hold has its day and time."""
    told = tell(FROZEN)
    done = told.session.loads["A"].forecast.hold_done

    assert done is not None
    assert (
        curve(told).hold_words
        == f"hold complete {day_and_time(done.likely, told.desk.now().utc_offset_min)}"
    )
