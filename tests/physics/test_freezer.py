"""What warm loads do to a freezer and to what is frozen in it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from packdesk.physics.freezer import (
    Arrival,
    CabinetStory,
    Freezer,
    FrozenFood,
    cabinet_story,
    spare_power_w,
)
from packdesk.physics.heat import (
    Box,
    Cylinder,
    Filling,
    Slab,
    Surroundings,
    ensemble,
    temperatures_c,
)
from packdesk.physics.ranges import OutOfRange

RICE = Filling(0.11, 1800.0, 800.0)
PAIL = Cylinder(0.14, 0.325)
"""Five gallons, 16 kg of rice."""
PEAS = FrozenFood(20.0, 4.0)


def warm_h(story: CabinetStory) -> float:
    """For how many hours the freezer could not hold its set point."""
    spans_h = np.diff(story.ends_h, prepend=0.0)
    return float(spans_h[story.air_temp_c > story.freezer.set_temp_c].sum())


def test_rated_freezing_capacity_of_a_hundred_litres_takes_twenty_kilograms_of_dry_food() -> None:
    """The least that four stars ask, 4.5 kg for 100 L, is about 20 kg of dry food by energy."""
    # EU definition of four stars, IEC 62552; the equivalent is the science's own, rounded: a
    # kilogram of dry food gives up 70 kJ between 21 °C and −18 °C.
    day_j = spare_power_w(4.5) * 24.0 * 3600.0

    assert day_j / 70e3 == pytest.approx(20.0, abs=1.0)


def test_one_small_load_hardly_stirs_a_strong_freezer() -> None:
    """Where the power suffices throughout, the air stays at the set point to the last digit."""
    strong = Freezer(spare_power_w=2000.0)

    story = cabinet_story(strong, [Arrival(0.0, 1, PAIL, RICE, 21.0)], PEAS, 48.0)

    assert story.warmest_air_c == -18.0
    assert story.warmest_frozen_c == -18.0
    assert story.surroundings(0)[0].temp_c == -18.0
    assert len(story.surroundings(0)) == 1


def test_four_pails_at_once_endanger_what_was_frozen_and_one_a_day_does_not() -> None:
    """All four together bring frozen food well above −15 °C; one a day leaves it below −17 °C."""
    # Common practice, no source: one or two pails a day.
    at_once = cabinet_story(Freezer(), [Arrival(0.0, 4, PAIL, RICE, 21.0)], PEAS, 120.0)
    daily = cabinet_story(
        Freezer(), [Arrival(24.0 * day, 1, PAIL, RICE, 21.0) for day in range(4)], PEAS, 168.0
    )
    two = cabinet_story(Freezer(), [Arrival(0.0, 2, PAIL, RICE, 21.0)], PEAS, 120.0)

    assert at_once.warmest_frozen_c > -12.0
    assert daily.warmest_frozen_c < -17.0
    assert daily.warmest_frozen_c < two.warmest_frozen_c < at_once.warmest_frozen_c
    assert warm_h(at_once) > warm_h(two) > warm_h(daily) / 4.0


def test_overload_delays_the_load_itself() -> None:
    """The core of four pails put in together is hours later at −15 °C than in a steady freezer."""
    story = cabinet_story(Freezer(), [Arrival(0.0, 4, PAIL, RICE, 21.0)], PEAS, 120.0)
    members, hours = ensemble(PAIL, RICE), np.arange(0.0, 121.0)

    late, steady = (
        members.first_time_h(
            hours, members.temperatures_c(21.0, history, hours).core_c, at_or_below=-15.0
        )
        for history in (story.surroundings(0), [Surroundings(0.0, -18.0, 8.0)])
    )

    assert 1.0 < late.likely_h - steady.likely_h < 24.0


def test_joined_steps_tell_the_load_the_same_as_every_interval() -> None:
    """Joining intervals of nearly the same air moves the core by less than a tenth of a kelvin."""
    story = cabinet_story(Freezer(), [Arrival(0.0, 4, PAIL, RICE, 21.0)], PEAS, 120.0)
    hours = np.arange(0.0, 121.0, 3.0)

    joined = temperatures_c(PAIL, RICE, 21.0, story.surroundings(0), hours)
    every = temperatures_c(PAIL, RICE, 21.0, story.surroundings(0, within_k=0.0), hours)

    assert len(story.surroundings(0)) < 0.7 * len(story.surroundings(0, within_k=0.0))
    assert joined.core_c == pytest.approx(every.core_c, abs=0.1)


def test_mean_of_a_load_is_the_one_of_its_own_history() -> None:
    """What the cabinet's own reckoning says of a load is what its surroundings make of it."""
    arrivals = [Arrival(0.0, 2, PAIL, RICE, 21.0), Arrival(10.3, 3, Slab(0.1), RICE, 18.0)]
    story = cabinet_story(Freezer(), arrivals, PEAS, 60.0)

    for at, arrival in enumerate(arrivals):
        since = story.ends_h > arrival.hour
        found = temperatures_c(
            arrival.shape,
            RICE,
            arrival.start_temp_c,
            story.surroundings(at, within_k=0.0),
            story.ends_h[since],
        )
        assert story.load_temps_c[at][since] == pytest.approx(found.mean_c, abs=1e-4)
        assert np.all(story.load_temps_c[at][~since] == arrival.start_temp_c)


def test_lumped_load_and_frozen_food_follow_the_differential_equations() -> None:
    """Thin bags, frozen food and air agree with an independent solution of their heat balance."""
    # Bags of one centimetre and a film of 0.5 W/m²K make a load of one temperature; the balance
    # of the air is then two ordinary differential equations, solved by SciPy.
    bag, film, area = Slab(0.01), 0.5, 40.0
    load = Arrival(0.0, int(area / 2.0), bag, RICE, 21.0, coefficient_w_m2_k=film)
    freezer, frozen = Freezer(spare_power_w=100.0, wall_loss_w_k=2.0), FrozenFood(30.0, 5.0)
    stores = np.array([load.heat_capacity_j_k, 30.0 * 2000.0])
    exchange = np.array([film * area, 5.0])

    def air_c(temps: np.ndarray) -> float:
        balance = (exchange @ temps + 2.0 * -18.0 - 100.0) / (exchange.sum() + 2.0)
        return max(-18.0, float(balance))

    solved = solve_ivp(
        lambda _, temps: exchange * (air_c(temps) - temps) / stores,
        (0.0, 48.0 * 3600.0), [21.0, -18.0], t_eval=[6 * 3600.0, 12 * 3600.0, 48 * 3600.0],
        rtol=1e-8, atol=1e-8, max_step=600.0,
    )  # fmt: skip

    story = cabinet_story(freezer, [load], frozen, 48.0, step_h=0.1)

    at = np.searchsorted(story.ends_h, [5.99, 11.99, 47.99])
    assert story.load_temps_c[0][at] == pytest.approx(solved.y[0], abs=0.1)
    assert story.frozen_temp_c[at] == pytest.approx(solved.y[1], abs=0.1)


shapes = st.one_of(
    st.builds(Cylinder, st.floats(0.1, 0.2), st.floats(0.15, 0.5)),
    st.builds(Slab, st.floats(0.03, 0.2)),
    st.builds(Box, st.floats(0.2, 0.5), st.floats(0.2, 0.5), st.floats(0.1, 0.3)),
)
arrivals_of_one_session = st.lists(
    st.builds(
        Arrival,
        st.floats(0.0, 30.0),
        st.integers(1, 4),
        shapes,
        st.just(RICE),
        st.floats(0.0, 30.0),
        st.floats(3.0, 15.0),
    ),
    max_size=3,
)


@settings(max_examples=25, deadline=None)
@given(arrivals=arrivals_of_one_session, power_w=st.floats(20.0, 400.0))
def test_heat_drawn_out_is_the_heat_that_loads_and_frozen_food_gave_up(
    arrivals: list[Arrival], power_w: float
) -> None:
    """The books close: removed heat, leakage spared and stored heat sum to nothing."""
    freezer = Freezer(spare_power_w=power_w)

    story = cabinet_story(freezer, arrivals, PEAS, 40.0)

    spans_s = np.diff(story.ends_h, prepend=0.0) * 3600.0
    removed = (story.removed_w * spans_s).sum()
    spared = (freezer.wall_loss_w_k * (story.air_temp_c - freezer.set_temp_c) * spans_s).sum()
    stored = PEAS.mass_kg * PEAS.heat_capacity_j_kg_k * (story.frozen_temp_c[-1] + 18.0)
    for arrival, temps in zip(arrivals, story.load_temps_c, strict=True):
        stored += arrival.heat_capacity_j_k * (temps[-1] - arrival.start_temp_c)
    scale = 1.0 + sum(each.heat_capacity_j_k for each in arrivals)
    assert removed + spared + stored == pytest.approx(0.0, abs=1e-6 * scale)
    assert np.all(story.removed_w <= power_w * (1.0 + 1e-9))
    assert np.all(story.air_temp_c >= freezer.set_temp_c)


@settings(max_examples=20, deadline=None)
@given(power_w=st.floats(20.0, 300.0), more_w=st.floats(1.0, 200.0))
def test_a_stronger_freezer_never_lets_anything_get_warmer(power_w: float, more_w: float) -> None:
    """With more power to spare neither the air nor the frozen food ends up warmer at any hour."""

    def story(power: float) -> CabinetStory:
        arrivals = [Arrival(0.0, 2, PAIL, RICE, 21.0), Arrival(12.0, 1, PAIL, RICE, 21.0)]
        return cabinet_story(Freezer(spare_power_w=power), arrivals, PEAS, 36.0)

    weak, strong = story(power_w), story(power_w + more_w)

    assert np.all(strong.air_temp_c <= weak.air_temp_c + 1e-9)
    assert np.all(strong.frozen_temp_c <= weak.frozen_temp_c + 1e-9)


def test_figures_no_freezer_has_are_refused() -> None:
    """A freezer above nought, a load of no pails and a day without end are refused by name."""
    with pytest.raises(OutOfRange, match="set_temp_c is 4 °C"):
        Freezer(set_temp_c=4.0)
    with pytest.raises(OutOfRange, match="count"):
        Arrival(0.0, 0, PAIL, RICE, 21.0)
    with pytest.raises(OutOfRange, match="until_h"):
        cabinet_story(Freezer(), [], PEAS, 1e6)
