"""The cold dose of insects, and the plain rule beside it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from packdesk.physics.cold_kill import (
    cold_dose,
    kill_time_h,
    load_dose,
    longest_hold_h,
)
from packdesk.physics.heat import (
    Cylinder,
    Filling,
    Surroundings,
    Temperatures,
    ensemble,
)
from tests.physics.cold_verdict import cold_verdict


@dataclass(frozen=True)
class Row:
    name: str
    temps_c: tuple[float, ...]
    kill_hours: tuple[float, ...]
    dosed: bool = True
    grade: str = "published"
    source: str = "invented"


# Collins, Conyers and Cardwell (abstract, read): 100 % kill of the diapausing larva.
LARVA = Row("diapausing larva", (-20.0, -15.0, -10.0), (24.0, 72.0, 528.0))
# Cotton's table (from memory) for the Indian meal moth, each band at its colder end.
MOTH = Row("meal moth", (-18.0, -15.0, -12.0, -9.0), (24.0, 72.0, 120.0, 192.0))
# Gilberg and Brokerhof 1991 (read): bare drugstore beetles of all stages.
BEETLE = Row("drugstore beetle", (-20.0,), (2.0,))


def test_kill_time_is_the_published_one_at_the_published_temperatures() -> None:
    """At its own temperatures a figure is the time to kill, and between two of them their mean."""
    assert kill_time_h(LARVA, np.array([-20.0, -15.0])) == pytest.approx([24.0, 72.0])
    assert kill_time_h(LARVA, np.array([-17.5]))[0] == pytest.approx(np.sqrt(24.0 * 72.0))


def test_colder_than_the_table_counts_as_its_coldest_row() -> None:
    """At −40 °C no more credit is given than the coldest figure gives."""
    assert kill_time_h(LARVA, np.array([-40.0]))[0] == pytest.approx(24.0)


def test_nothing_counts_above_minus_twelve_or_above_the_figures() -> None:
    """At −11.9 °C there is no credit, nor at −19 °C for an insect only tried at −20 °C."""
    assert kill_time_h(LARVA, np.array([-11.9]))[0] == np.inf
    assert np.isfinite(kill_time_h(LARVA, np.array([-12.0]))[0])
    assert kill_time_h(BEETLE, np.array([-19.9]))[0] == np.inf
    assert kill_time_h(BEETLE, np.array([-20.0]))[0] == pytest.approx(2.0)


@pytest.mark.parametrize(("temp_c", "days"), [(-20.0, 1.0), (-15.0, 3.0)])
def test_a_steady_cold_as_long_as_published_is_one_dose(temp_c: float, days: float) -> None:
    """One day at −20 °C and three at −15 °C each give the larva exactly a kill."""
    hours = np.linspace(0.0, days * 24.0, 9)

    dose = cold_dose(LARVA, hours, np.full(9, temp_c))

    assert dose[-1] == pytest.approx(1.0)
    assert dose == pytest.approx(hours / hours[-1])


def test_dose_of_a_slow_cooling_is_the_integral_of_its_rates() -> None:
    """Along a straight fall from −8 to −20 °C the dose is the integral, approached from below."""
    slope = 12.0 / 48.0

    def rate(hour: float) -> float:
        temp_c = -8.0 - slope * hour
        if temp_c > -12.0:
            return 0.0
        # One day at -20 °C, three at -15 °C, twenty-two at -10 °C, geometric between them.
        if temp_c < -15.0:
            return 1.0 / (72.0 * 3.0 ** ((temp_c + 15.0) / 5.0))
        return 1.0 / (72.0 * (22.0 / 3.0) ** ((temp_c + 15.0) / 5.0))

    exact = quad(rate, 16.0, 48.0, points=(28.0,))[0]
    doses = []
    for count in (49, 193, 769):
        hours = np.linspace(0.0, 48.0, count)
        doses.append(cold_dose(LARVA, hours, -8.0 - slope * hours)[-1])

    assert doses[0] < doses[1] < doses[2] < exact
    assert doses[2] == pytest.approx(exact, rel=0.005)


def test_a_warm_gap_takes_all_credit_away() -> None:
    """Two days, a door left open, and two days more do not make the four that a kill would need."""
    hours = np.arange(0.0, 101.0)
    temps = np.full(101, -15.0)
    temps[49:53] = -5.0

    dose = cold_dose(LARVA, hours, temps)

    # 48 whole hours and the part of the way up to -12 °C, of 72.
    assert dose[-1] == pytest.approx((48.0 + 0.3) / 72.0, abs=0.01)
    assert cold_dose(LARVA, hours, np.full(101, -15.0))[-1] == pytest.approx(100.0 / 72.0)


def test_the_lesser_of_core_and_surface_is_the_dose_of_the_load() -> None:
    """A surface that warmed and a core that lagged each hold the load's dose down."""
    hours = np.arange(0.0, 73.0)
    cold, late = np.full(73, -15.0), np.where(hours < 24.0, 0.0, -15.0)

    for core, surface in ((cold, late), (late, cold)):
        found = load_dose(LARVA, hours, Temperatures(core, surface, cold))
        assert found[-1] == pytest.approx(48.0 / 72.0, abs=0.01)
    assert load_dose(LARVA, hours, Temperatures(cold, cold, cold))[-1] == pytest.approx(1.0)


def test_hold_is_the_longest_unbroken_one() -> None:
    """Of a hold of thirty hours and one of fifty the fifty count, to the crossing."""
    hours = np.arange(0.0, 101.0)
    temps = np.full(101, -16.0)
    temps[31] = -14.0

    assert longest_hold_h(hours, temps)[-1] == pytest.approx(68.5)
    assert longest_hold_h(hours, temps)[40] == pytest.approx(30.5)


tracks = st.lists(st.floats(-30.0, 5.0), min_size=3, max_size=40)
rows = st.sampled_from([LARVA, MOTH, BEETLE])


@settings(max_examples=200, deadline=None)
@given(row=rows, track=tracks, colder=st.lists(st.floats(0.0, 8.0), min_size=40, max_size=40))
def test_colder_never_lowers_a_dose(row: Row, track: list[float], colder: list[float]) -> None:
    """Whatever is colder, wherever in the history, the dose is no less."""
    temps = np.array(track)
    hours = 3.0 * np.arange(len(temps))

    before = cold_dose(row, hours, temps)
    after = cold_dose(row, hours, temps - np.array(colder[: len(temps)]))

    assert np.all(after >= before - 1e-12)


@settings(max_examples=200, deadline=None)
@given(row=rows, track=tracks, more=tracks, at=st.integers(0, 40), longer_h=st.floats(0.1, 50.0))
def test_longer_never_lowers_a_dose(
    row: Row, track: list[float], more: list[float], at: int, longer_h: float
) -> None:
    """Neither hours added at the end nor a longer stay at any temperature lowers the dose."""
    temps = np.array(track)
    hours = 3.0 * np.arange(len(temps))
    dose = cold_dose(row, hours, temps)

    longer = cold_dose(row, 3.0 * np.arange(len(temps) + len(more)), np.array(track + more))
    assert longer[len(temps) - 1 :].min() >= dose[-1] - 1e-12
    assert np.all(np.diff(longer) >= 0.0)

    at = min(at, len(temps) - 1)
    stayed = cold_dose(
        row,
        np.concatenate([hours[: at + 1], hours[at:] + longer_h]),
        np.concatenate([temps[: at + 1], temps[at:]]),
    )
    assert stayed[-1] >= dose[-1] - 1e-12


def test_lag_after_take_out_in_the_closed_pail_is_credited() -> None:
    """A pail taken out goes on being treated: its hours in the room count while it stays cold."""
    rice = Filling(0.11, 1700.0, 800.0)
    members = ensemble(Cylinder(0.14, 0.34), rice)
    hours = np.arange(0.0, 121.0, 0.5)
    history = [Surroundings(0.0, -18.0, 8.0), Surroundings(96.0, 21.0, 9.0)]
    found = members.temperatures_c(21.0, history, hours)
    inside = hours <= 96.0
    in_freezer = Temperatures(
        found.core_c[:, inside], found.surface_c[:, inside], found.mean_c[:, inside]
    )

    whole = cold_verdict([MOTH], members, hours, found)
    cut = cold_verdict([MOTH], members, hours[inside], in_freezer)

    lag_h = whole.rule_held_h[1] - cut.rule_held_h[1]
    assert 3.0 < lag_h < 12.0
    assert cut.rule_held_h[1] < 72.0
    # The surface has no such lag, and the dose is the lesser of the two.
    assert whole.doses[0].likely == pytest.approx(cut.doses[0].likely, rel=0.2)
    assert whole.doses[0].likely >= cut.doses[0].likely


def test_verdict_puts_the_worst_stage_first_and_the_plain_rule_beside_it() -> None:
    """After four and a half days the toughest larva leads, and both verdicts carry a band."""
    members = ensemble(Cylinder(0.14, 0.34), Filling(0.11, 1700.0, 800.0))
    hours = np.arange(0.0, 108.5, 0.5)
    found = members.temperatures_c(21.0, [Surroundings(0.0, -18.0, 8.0)], hours)

    verdict = cold_verdict([MOTH, BEETLE, LARVA], members, hours, found)

    assert verdict.worst is not None
    assert verdict.worst.row is LARVA
    assert [each.row for each in verdict.doses] == [LARVA, MOTH]
    assert verdict.without_figures == (BEETLE,)
    assert verdict.worst.low < verdict.worst.likely < verdict.worst.high
    assert verdict.worst.killed_h.early_h < verdict.worst.killed_h.late_h
    low, likely, high = verdict.rule_held_h
    assert low < 72.0 < high
    assert low < likely < high
    # What is held at the end was begun when what is asked, taken from its own end, was begun.
    assert verdict.rule_done_h.early_h - 72.0 == pytest.approx(108.0 - high, abs=0.6)


def test_figures_that_measure_no_kill_are_left_out_of_the_verdict() -> None:
    """Half a kill in two hours is no dose, however the load was treated."""
    half = Row("moth pupa", (-7.5,), (2.4,), dosed=False)
    members = ensemble(Cylinder(0.14, 0.34), Filling(0.11, 1700.0, 800.0))
    hours = np.arange(0.0, 101.0)
    found = members.temperatures_c(21.0, [Surroundings(0.0, -18.0, 8.0)], hours)

    verdict = cold_verdict([half, MOTH], members, hours, found)

    assert [each.row for each in verdict.doses] == [MOTH]
    assert verdict.without_figures == ()


def test_an_hour_nobody_knows_ends_the_spell() -> None:
    """What is not a number is no cold, and hours that go back are refused."""
    hours = np.arange(0.0, 73.0)
    temps = np.full(73, -15.0)
    temps[24] = np.nan

    assert cold_dose(LARVA, hours, temps)[-1] == pytest.approx(47.0 / 72.0)
    assert longest_hold_h(hours, temps)[-1] == pytest.approx(47.0)
    with pytest.raises(ValueError, match="go back in time"):
        cold_dose(LARVA, hours[::-1], temps)


def test_verdict_of_a_cold_that_never_came_is_no_dose() -> None:
    """At −10 °C no stage has had any dose and the plain rule is never done."""
    members = ensemble(Cylinder(0.14, 0.34), Filling(0.11, 1700.0, 800.0))
    hours = np.arange(0.0, 121.0)
    found = members.temperatures_c(21.0, [Surroundings(0.0, -10.0, 8.0)], hours)

    verdict = cold_verdict([LARVA, BEETLE], members, hours, found)

    assert verdict.worst is not None
    assert (verdict.worst.likely, verdict.worst.killed_h.likely_h) == (0.0, np.inf)
    assert verdict.rule_held_h == (0.0, 0.0, 0.0)
    assert verdict.rule_done_h.likely_h == np.inf
    assert cold_verdict([BEETLE], members, hours, found).worst is None
