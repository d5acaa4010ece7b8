"""Forecasts of a load, held against textbook solutions, one plain load and a reference library."""

from __future__ import annotations

import dataclasses
import math
from datetime import datetime, timedelta

import numpy as np
import psychrolib
import pytest
from msgspec.structs import replace
from scipy.optimize import brentq
from scipy.special import j0, j1

from packdesk.physics import heat
from packdesk.session.case import Refusal
from packdesk.session.commands import NoteCoreReading
from packdesk.session.figures import ColdForecast, LoadFigures, Span, ThawForecast
from packdesk.session.forecast import (
    cold_forecast,
    cold_if_out,
    coldest_c,
    core_band,
    thaw_forecast,
)
from packdesk.session.load import ProbeReading
from packdesk.session.load_heat import load_heat
from packdesk.session.load_story import LoadStory, Step, begin, story
from packdesk.session.terms import LidRule, Probe
from tests.fakes.clock import START
from tests.script import PAIL, tell

TREAT_C, HOLD_H = -15.0, 72.0


def at(hour: float) -> datetime:
    """So many hours after the freezing."""
    return START + timedelta(hours=hour)


def hour(instant: datetime) -> float:
    """Hours after the freezing."""
    return (instant - START).total_seconds() / 3600.0


def frozen(figures: LoadFigures = PAIL) -> LoadStory:
    """A pail that went into the freezer at the start."""
    return begin(figures, START)


def read(hours: float, temp_c: float, probe: Probe = Probe.CORE) -> ProbeReading:
    """A probe read so many hours after the freezing."""
    return ProbeReading(at(hours), temp_c, probe)


def with_reading(story: LoadStory, reading: ProbeReading) -> LoadStory:
    """The same load with one more reading taken on it."""
    return dataclasses.replace(story, readings=(*story.readings, reading))


def with_air(story: LoadStory, since: datetime, temp_c: float) -> LoadStory:
    """The same load with the air of the freezer read anew."""
    return dataclasses.replace(story, steps=(*story.steps, Step(since, temp_c, in_freezer=True)))


def cold(story: LoadStory, now_h: float = 0.0) -> ColdForecast:
    """The forecast as seen so many hours after the freezing."""
    return cold_forecast(story, at(now_h), TREAT_C, HOLD_H)


def sure(span: Span | None) -> Span:
    """The span that must be there."""
    assert span is not None
    assert span.early <= span.likely <= span.late
    return span


def width(span: Span | None) -> float:
    """How wide a span is, in hours."""
    return hour(sure(span).late) - hour(sure(span).early)


@pytest.fixture(scope="module")
def forecast() -> ColdForecast:
    """A pail of wheat at 21 °C in a freezer at −18 °C, with nothing read."""
    return cold(frozen())


# The cold -----------------------------------------------------------------------------------------


def one_term_hours(figures: LoadFigures, to_c: float) -> float:
    """When the centre of a short cylinder reaches a temperature, by the one-term solution.

    Çengel, Heat and Mass Transfer, section 4-2: theta = A1 exp(-lambda1² Fo), of the infinite
    cylinder times that of the plane wall; lambda1 and A1 by their equations.
    """
    radius, half = figures.radius_mm / 1000.0, figures.fill_height_mm / 2000.0
    conductivity, surface = figures.conductivity_w_m_k, figures.freezer_coefficient_w_m2_k
    diffusivity = conductivity / (figures.heat_capacity_j_kg_k * figures.bulk_density_kg_m3)
    biot = surface * radius / conductivity
    round_root = brentq(lambda x: x * j1(x) - biot * j0(x), 1e-6, 2.4048)
    round_a = 2.0 / round_root * j1(round_root) / (j0(round_root) ** 2 + j1(round_root) ** 2)
    biot = surface * half / conductivity
    flat_root = brentq(lambda x: x * math.tan(x) - biot, 1e-6, math.pi / 2 - 1e-9)
    flat_a = 4.0 * math.sin(flat_root) / (2.0 * flat_root + math.sin(2.0 * flat_root))
    rate = diffusivity * ((round_root / radius) ** 2 + (flat_root / half) ** 2)
    theta = (to_c - figures.freezer_temp_c) / (figures.start_temp_c - figures.freezer_temp_c)
    return math.log(round_a * flat_a / theta) / rate / 3600.0


def lumped_hours(figures: LoadFigures, to_c: float) -> float:
    """Newton's law of cooling for a load that conducts without end: no real one is as quick."""
    radius, height = figures.radius_mm / 1000.0, figures.fill_height_mm / 1000.0
    volume = math.pi * radius**2 * height
    surface = 2.0 * math.pi * radius * (radius + height)
    capacity = figures.heat_capacity_j_kg_k * figures.bulk_density_kg_m3 * volume
    constant_h = capacity / (figures.freezer_coefficient_w_m2_k * surface) / 3600.0
    theta = (to_c - figures.freezer_temp_c) / (figures.start_temp_c - figures.freezer_temp_c)
    return constant_h * -math.log(theta)


@pytest.mark.parametrize("freezer_c", [-18.0, -24.0])
def test_the_core_is_cold_when_the_textbook_says(freezer_c: float) -> None:
    """The likely time agrees with the one-term solution of a textbook to some hours of the day."""
    figures = replace(PAIL, freezer_temp_c=freezer_c)

    found = sure(cold(frozen(figures)).cold_from)

    textbook_h = one_term_hours(figures, TREAT_C)
    assert hour(found.likely) == pytest.approx(textbook_h, rel=0.05)
    assert hour(found.early) < textbook_h < hour(found.late)


def test_no_core_is_cold_before_newtons_law(forecast: ColdForecast) -> None:
    """Even the quickest load is slower than one that conducts without end."""
    quickest = replace(
        PAIL,
        freezer_coefficient_w_m2_k=PAIL.freezer_coefficient_w_m2_k * 1.3,
        heat_capacity_j_kg_k=PAIL.heat_capacity_j_kg_k / 1.12,
        bulk_density_kg_m3=PAIL.bulk_density_kg_m3 / 1.05,
    )

    assert hour(sure(forecast.cold_from).early) > lumped_hours(quickest, TREAT_C)


def test_the_hold_begins_with_the_core_cold(forecast: ColdForecast) -> None:
    """The hold is complete seventy-two hours after the core was cold, not after the freezing."""
    cold_from, hold_done = sure(forecast.cold_from), sure(forecast.hold_done)

    for begun, done in zip(_ends(cold_from), _ends(hold_done), strict=True):
        assert hour(done) - hour(begun) == pytest.approx(HOLD_H, abs=0.01)


def _ends(span: Span) -> tuple[datetime, datetime, datetime]:
    return span.early, span.likely, span.late


def test_a_reading_narrows_the_band(forecast: ColdForecast) -> None:
    """A core read after twenty hours says more than the tables do."""
    told = with_reading(frozen(), read(20.0, -6.0))

    found = cold(told, 20.0)

    assert width(found.cold_from) < width(forecast.cold_from) / 2
    assert found.effective_members < forecast.effective_members
    assert found.core_now_c == pytest.approx(-6.0, abs=0.5)


@pytest.mark.parametrize(("temp_c", "later"), [(-3.0, True), (-9.5, False)])
def test_a_reading_moves_the_time(forecast: ColdForecast, temp_c: float, later: bool) -> None:
    """A core warmer than thought is cold later, a colder one sooner."""
    found = cold(with_reading(frozen(), read(20.0, temp_c)), 20.0)

    assert (sure(found.hold_done).likely > sure(forecast.hold_done).likely) == later


def test_a_wall_reading_is_a_weak_one(forecast: ColdForecast) -> None:
    """The outside wall says little of the core."""
    by_wall = cold(with_reading(frozen(), read(20.0, -15.0, Probe.WALL)), 20.0)
    by_core = cold(with_reading(frozen(), read(20.0, -6.0)), 20.0)

    assert width(by_core.cold_from) < width(by_wall.cold_from) <= width(forecast.cold_from)


@pytest.mark.parametrize(("freezer_c", "later"), [(-16.5, True), (-22.0, False)])
def test_the_freezers_own_reading_moves_the_time(
    forecast: ColdForecast, freezer_c: float, later: bool
) -> None:
    """A freezer found warmer than set cools later, a colder one sooner."""
    found = cold(with_air(frozen(), at(4.0), freezer_c), 4.0)

    assert (sure(found.cold_from).likely > sure(forecast.cold_from).likely) == later


def test_a_freezer_too_warm_never_gets_there() -> None:
    """At −14 °C no core reaches −15 °C, and no time is made up."""
    found = cold(frozen(replace(PAIL, freezer_temp_c=-14.0)))

    assert found.cold_from is None
    assert found.hold_done is None


def test_looks_ahead_from_now() -> None:
    """A freezer too warm for three weeks and then set right is cold some days from then."""
    told = with_air(frozen(replace(PAIL, freezer_temp_c=-12.0)), at(500.0), -20.0)

    assert hour(sure(cold(told, 500.0).hold_done).likely) > 500.0 + HOLD_H


def test_an_end_beyond_the_look_ahead_is_put_there() -> None:
    """Where the slowest loads are not done within the time looked at, the band ends with it."""
    barrel = replace(PAIL, radius_mm=400.0, fill_height_mm=900.0)

    found = sure(cold(frozen(barrel)).hold_done)

    assert hour(found.late) == pytest.approx(240.0 + HOLD_H)
    assert found.late > found.likely


def test_a_probe_that_contradicts_the_reckoning_is_believed() -> None:
    """A core at −10 °C after four days, which no reckoning explains, has not been held at all."""
    told = with_reading(frozen(), read(96.0, -10.0))

    found = cold(told, 96.0)

    assert hour(sure(found.cold_from).early) >= 96.0
    assert hour(sure(found.hold_done).early) >= 96.0 + HOLD_H
    assert cold_if_out(told, at(97.0), 21.0, TREAT_C).held_h < 24.0


# The hold after take-out --------------------------------------------------------------------------


def test_the_lag_in_the_closed_pail_counts() -> None:
    """The hours held are those of one plain load over freezer and room, its lag included."""
    out_h = 100.0
    hours = np.arange(0.0, 200.0, 0.05)
    plain = heat.temperatures_c(
        heat.Cylinder(PAIL.radius_mm / 1000.0, PAIL.fill_height_mm / 1000.0),
        heat.Filling(PAIL.conductivity_w_m_k, PAIL.heat_capacity_j_kg_k, PAIL.bulk_density_kg_m3),
        PAIL.start_temp_c,
        [
            heat.Surroundings(0.0, PAIL.freezer_temp_c, PAIL.freezer_coefficient_w_m2_k),
            heat.Surroundings(out_h, 21.0, PAIL.room_coefficient_w_m2_k),
        ],
        hours,
    )
    is_cold = plain.core_c <= TREAT_C
    in_freezer_h = float((is_cold & (hours <= out_h)).sum()) * 0.05
    altogether_h = float(is_cold.sum()) * 0.05

    found = cold_if_out(frozen(), at(out_h), 21.0, TREAT_C).held_h

    assert found == pytest.approx(altogether_h, abs=1.0)
    assert found > in_freezer_h + 2.0


def test_an_hour_earlier_out_is_an_hour_less_held() -> None:
    """Once the core is cold the time held grows with the time in the freezer."""
    held = [cold_if_out(frozen(), at(h), 21.0, TREAT_C).held_h for h in (60.0, 84.0)]

    assert held[1] - held[0] == pytest.approx(24.0, abs=0.5)


def test_a_load_out_before_it_was_cold_has_held_nothing() -> None:
    """After six hours the core is nowhere near, and the lag does not help it."""
    assert cold_if_out(frozen(), at(6.0), 21.0, TREAT_C).held_h == 0.0


# The lid ------------------------------------------------------------------------------------------


def thaw(room_c: float, humidity: float | None, out_h: float = 120.0) -> ThawForecast:
    """The forecast of a load taken out into a room."""
    return thaw_forecast(frozen().taken_out(at(out_h), room_c), at(out_h), room_c, humidity)


@pytest.mark.parametrize(("room_c", "humidity"), [(21.0, 0.50), (25.0, 0.60), (18.0, 0.35)])
def test_with_humidity_read_the_dew_point_decides(room_c: float, humidity: float) -> None:
    """The food must be 2 K above the dew point (PsychroLib's, after ASHRAE)."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    dew_c = psychrolib.GetTDewPointFromRelHum(room_c, humidity)

    found = thaw(room_c, humidity)

    assert found.rule is LidRule.DEW_POINT
    assert found.dew_point_c == pytest.approx(dew_c, abs=0.1)
    assert found.open_above_c == pytest.approx(dew_c + 2.0, abs=0.1)
    assert found.dry


def test_without_humidity_the_room_decides() -> None:
    """The food must be within 3 K of the room, and nobody can say that it stays dry."""
    found = thaw(21.0, None)

    assert (found.rule, found.dew_point_c, found.open_above_c) == (LidRule.ROOM, None, 18.0)
    assert not found.dry


@pytest.mark.parametrize(("humidity", "dry"), [(0.93, True), (0.99, False)])
def test_a_damp_room_is_waited_for_in_vain_no_longer_than_it_helps(
    humidity: float, dry: bool
) -> None:
    """Food half a degree below a damp room is as warm as it will be, and may still sweat."""
    found = thaw(21.0, humidity)

    assert found.rule is LidRule.DAMP_ROOM
    assert found.open_above_c == 20.5
    assert found.lid_off is not None
    assert found.dry == dry


def test_the_lid_waits_the_longer_the_damper_the_room() -> None:
    """At 70 % the lid stays on longer than at 30 %, and longest where humidity is not known."""
    dry, damp, unknown = (sure(thaw(21.0, humidity).lid_off) for humidity in (0.30, 0.70, None))

    assert dry.likely < damp.likely < unknown.likely


def test_the_lid_waits_for_the_coldest_food() -> None:
    """Three hours in the freezer leave the middle warm and the rim cold: the lid waits for it."""
    out = frozen().taken_out(at(3.0), 21.0)
    found = thaw(21.0, 0.70, out_h=3.0)

    assert core_band(out, [at(3.0)]).likely_c[0] > found.open_above_c
    assert coldest_c(out, at(3.0)) < 0.0
    assert hour(sure(found.lid_off).early) > 4.0


def test_at_its_time_the_coldest_food_is_warm_enough() -> None:
    """What the forecast says and what is found at that time are the same."""
    found = thaw(21.0, 0.50)
    out = frozen().taken_out(at(120.0), 21.0)

    assert coldest_c(out, sure(found.lid_off).likely) == pytest.approx(found.open_above_c, abs=0.3)


def test_a_probe_in_the_warming_load_is_believed() -> None:
    """Read at 2 °C when 12 °C was reckoned, the load waits, and is found as cold as it was read."""
    out = frozen().taken_out(at(120.0), 21.0)
    reckoned = sure(thaw(21.0, 0.50).lid_off).likely
    told = with_reading(out, ProbeReading(reckoned, 2.0, Probe.CORE))

    found = thaw_forecast(told, at(120.0), 21.0, 0.50)

    assert sure(found.lid_off).likely >= reckoned
    assert coldest_c(told, reckoned) < 5.0


def test_a_band_has_its_order_at_every_instant() -> None:
    """Low, likely and high lie in that order, between freezer and start."""
    band = core_band(frozen(), [at(float(h)) for h in range(0, 60, 5)])

    for low, likely, high in zip(band.low_c, band.likely_c, band.high_c, strict=True):
        assert PAIL.freezer_temp_c - 0.1 <= low <= likely <= high <= PAIL.start_temp_c + 0.1
    assert list(band.likely_c) == sorted(band.likely_c, reverse=True)


@pytest.mark.parametrize("warm_c", [-14.0, -8.5, 0.0, 10.0])
def test_food_read_too_warm_has_its_way_to_go_before_the_hold_begins(warm_c: float) -> None:
    """Four days in, the core is read far too warm: from there it needs what it needs from there."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat 5 kg; +96 h")
    before = told.session.loads["A"]
    shown = story(told.session, before)
    hours = np.arange(0.0, 96.0, 0.25)
    load = load_heat(shown)
    likely_c = load.members.quantiles(load.temperatures_c(hours).core_c, (0.5,))[0]
    way_h = float(
        hours[np.flatnonzero(likely_c <= -15.0)[0]] - hours[np.flatnonzero(likely_c <= warm_c)[0]]
    )
    read = told.desk.now().utc

    told.desk.submit(NoteCoreReading("A", warm_c, Probe.CORE, confirmed=True))

    begins = told.session.loads["A"].forecast.cold_from
    assert begins is not None
    assert (begins.likely - read).total_seconds() / 3600.0 == pytest.approx(way_h, abs=1.0)
    told.do("+73 h")
    refused = isinstance(told.try_to("out A 21 C 50 %"), Refusal)
    assert refused == (way_h > 6.0), "a closed pail stays cold some hours more"
