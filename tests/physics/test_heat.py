"""Core, surface and mean temperature of a load over a history of surroundings."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import erfcx, j0, j1

from packdesk.physics.heat import (
    Box,
    Cylinder,
    Filling,
    Slab,
    Spreads,
    Surroundings,
    ensemble,
    temperatures_c,
)
from packdesk.physics.heat_field import Field
from packdesk.physics.heat_profiles import Kind, profile
from packdesk.physics.ranges import OutOfRange

RICE = Filling(0.11, 0.11 / 8.5e-8 / 800.0, 800.0)
FREEZE_AND_THAW = [Surroundings(0.0, -18.0, 6.0), Surroundings(48.0, 22.0, 7.0)]


def test_core_of_a_pail_through_freeze_and_thaw_follows_the_exact_series() -> None:
    """The core agrees with a forty-term series worked out outside this program."""
    # R 0.14 m, H 0.36 m, 20 °C at the start; the design's storage study, section 4 ii, exact to
    # four places for both phases with 8, 40 and 80 terms alike.
    hours = np.array([6.0, 12.0, 24.0, 36.0, 48.0, 54.0, 60.0, 72.0, 84.0])
    expected = [17.0743, 5.8976, -9.3351, -15.0084, -16.9730, -14.1147, -2.2093, 13.5417, 19.1841]

    found = temperatures_c(Cylinder(0.14, 0.36), RICE, 20.0, FREEZE_AND_THAW, hours)

    assert found.core_c == pytest.approx(expected, abs=6e-5)


@pytest.mark.parametrize(
    ("shape", "filling", "start_c", "air", "hour", "core_c", "surface_c", "within_k"),
    [
        # Çengel, Heat and Mass Transfer, 3rd ed., from memory; "chart" means read off a chart.
        pytest.param(  # example 4-4: brass plate, surface 282 °C by chart
            Slab(0.04), Filling(110.0, 380.0, 8530.0), 20.0, Surroundings(0.0, 500.0, 120.0),
            7 / 60, None, 282.0, 4.0, id="plate",
        ),
        pytest.param(  # example 4-5: long steel shaft, centre 360 °C by chart
            Cylinder(0.1, 20.0), Filling(14.9, 477.0, 7900.0), 600.0,
            Surroundings(0.0, 200.0, 80.0), 0.75, 360.0, None, 5.0, id="shaft",
        ),
        pytest.param(  # example 4-7: short brass cylinder, centre 63 °C by chart
            Cylinder(0.05, 0.12), Filling(110.0, 380.0, 8530.0), 120.0,
            Surroundings(0.0, 25.0, 60.0), 0.25, 63.0, None, 1.0, id="short cylinder",
        ),
        pytest.param(  # Incropera and DeWitt, pipeline wall, 42.9 °C, from memory; one term
            Slab(0.08), Filling(63.9, 434.0, 7832.0), -20.0, Surroundings(0.0, 60.0, 500.0),
            8 / 60, 42.9, None, 0.2, id="pipe wall",
        ),
    ],
)  # fmt: skip
def test_textbook_examples_come_out_within_the_precision_of_the_book(
    shape: Slab | Cylinder,
    filling: Filling,
    start_c: float,
    air: Surroundings,
    hour: float,
    core_c: float | None,
    surface_c: float | None,
    within_k: float,
) -> None:
    """Plates and cylinders of the textbooks come out as printed, charts within their width."""
    found = temperatures_c(shape, filling, start_c, [air], np.array([hour]))

    if core_c is not None:
        assert found.core_c[0] == pytest.approx(core_c, abs=within_k)
    if surface_c is not None:
        assert found.surface_c[0] == pytest.approx(surface_c, abs=within_k)


def test_impossible_figures_are_refused_with_symbol_and_range() -> None:
    """A pail of no width, an hour before the history and a history gone backwards are refused."""
    with pytest.raises(OutOfRange) as refused:
        Cylinder(0.0, 0.3)
    assert (refused.value.symbol, refused.value.value, refused.value.unit) == ("radius_m", 0.0, "m")

    with pytest.raises(OutOfRange, match="hours is -1 h"):
        temperatures_c(Box(0.3, 0.3, 0.3), RICE, 20.0, FREEZE_AND_THAW, np.array([-1.0]))
    with pytest.raises(ValueError, match="put its steps in order"):
        temperatures_c(Slab(0.1), RICE, 20.0, FREEZE_AND_THAW[::-1], np.array([60.0]))
    with pytest.raises(ValueError, match="at least one step"):
        temperatures_c(Slab(0.1), RICE, 20.0, [], np.array([1.0]))


def test_published_pallet_of_flour_cools_at_the_published_rate() -> None:
    """A solid block of flour cools at the published rate of a pallet, within its runs' scatter."""
    # Flinn and others 2015, J. Stored Prod. Res. 63:42-46: 1.09 x 1.32 x 1.23 m, freezer at
    # -17.8 °C, core after so many days (nine separate runs). The diffusivity, 1.03e-7 m²/s, is
    # that of an isothermal block with the runs' first and last points, so that what is held
    # against the source is how the series over all nine bends; air gaps between the bags and
    # other starting temperatures remain, hence 15 per cent.
    days = np.array([4.2, 5.2, 5.5, 5.8, 6.7, 7.2, 8.9, 9.1, 11.0])
    published_c = np.array([5.6, 3.3, -0.1, -1.6, -3.5, -5.0, -6.9, -9.4, -11.0])
    published_rate = np.polyfit(days, np.log(published_c + 17.8), 1)[0]
    flour = Filling(1.03e-7 * 651.0 * 1800.0, 1800.0, 651.0)
    freezer = [Surroundings(0.0, -17.8, 1e5)]

    found = temperatures_c(Box(1.09, 1.32, 1.23), flour, 24.0, freezer, days * 24.0)

    rate = np.polyfit(days, np.log(found.core_c + 17.8), 1)[0]
    assert rate == pytest.approx(published_rate, rel=0.15)


def test_loads_that_barely_lose_heat_cool_as_one_body() -> None:
    """With a very small surface coefficient every place follows the lumped exponential."""
    # Newton's law of cooling: excess falls by exp(-h A t / (rho c V)), A/V of a cylinder 2/R + 2/H.
    pail = Cylinder(0.14, 0.36)
    hours = np.array([100.0, 1000.0, 10000.0])
    store = RICE.heat_capacity_j_kg_k * RICE.bulk_density_kg_m3
    decay = np.exp(-0.0001 * (2 / 0.14 + 2 / 0.36) * hours * 3600.0 / store)

    found = temperatures_c(pail, RICE, 20.0, [Surroundings(0.0, -18.0, 0.0001)], hours)

    for place in (found.core_c, found.surface_c, found.mean_c):
        assert place == pytest.approx(-18.0 + 38.0 * decay, abs=0.01)


def test_loads_in_a_torrent_have_the_surface_of_the_air() -> None:
    """With a very large surface coefficient the surface is at the air's temperature at once."""
    found = temperatures_c(
        Cylinder(0.14, 0.36), RICE, 20.0, [Surroundings(0.0, -18.0, 1e6)], np.array([0.5, 5.0])
    )

    assert found.surface_c == pytest.approx([-18.0, -18.0], abs=0.01)
    # Incropera's and Çengel's table for Bi = 100 gives roots 1.5552 and 2.3809; for an isothermal
    # wall they are pi/2 and 2.4048, and the late core follows their two factors.
    late = temperatures_c(
        Cylinder(0.14, 0.36), RICE, 20.0, [Surroundings(0.0, -18.0, 1e6)], np.array([40.0, 50.0])
    )
    rate = 8.5e-8 * 3600.0 * ((np.pi / 2 / 0.18) ** 2 + (2.404826 / 0.14) ** 2)
    fallen = (late.core_c[1] + 18.0) / (late.core_c[0] + 18.0)
    assert fallen == pytest.approx(np.exp(-10.0 * rate), rel=1e-3)


@pytest.mark.parametrize(
    ("biot", "slab", "cylinder"),
    [
        (0.01, (0.0998, 1.0017), (0.1412, 1.0025)),
        (0.1, (0.3111, 1.0161), (0.4417, 1.0246)),
        (0.5, (0.6533, 1.0701), (0.9408, 1.1143)),
        (1.0, (0.8603, 1.1191), (1.2558, 1.2071)),
        (2.0, (1.0769, 1.1785), (1.5994, 1.3384)),
        (5.0, (1.3138, 1.2402), (1.9898, 1.5029)),
        (10.0, (1.4289, 1.2620), (2.1795, 1.5677)),
        (100.0, (1.5552, 1.2731), (2.3809, 1.6015)),
    ],
)
def test_first_roots_are_those_of_the_handbooks(
    biot: float, slab: tuple[float, float], cylinder: tuple[float, float]
) -> None:
    """The first root and its share at the core are the ones tabulated for each Biot number."""
    # The table of one-term coefficients that Incropera and Çengel print, to its last place.
    for kind, expected in ((Kind.SLAB, slab), (Kind.CYLINDER, cylinder)):
        found = profile(kind, np.array([biot]), 1)
        share = found.of_uniform() * found.at_centre
        assert (found.roots[0, 0], share[0, 0]) == pytest.approx(expected, abs=6e-5)


@pytest.mark.parametrize("kind", list(Kind))
def test_higher_roots_satisfy_their_equation_at_any_biot_number(kind: Kind) -> None:
    """Sixty-four roots rise and solve the surface condition from a billionth to a billion."""
    biot = np.logspace(-9.0, 9.0, 37)[:, None]

    roots = profile(kind, biot, 64).roots

    value, slope = (np.cos, np.sin) if kind is Kind.SLAB else (j0, j1)
    size = np.hypot(roots, biot) * np.hypot(value(roots), slope(roots))
    assert np.abs(roots * slope(roots) - biot * value(roots)).max() < 1e-12 * size.max()
    assert np.all(np.abs(roots * slope(roots) - biot * value(roots)) < 1e-11 * size)
    assert np.all(np.diff(roots, axis=1) > 0.0)


shapes = st.one_of(
    st.builds(Cylinder, st.floats(0.05, 0.3), st.floats(0.1, 0.6), st.floats(0.2, 2.0)),
    st.builds(Slab, st.floats(0.02, 0.4)),
    st.builds(Box, st.floats(0.1, 0.6), st.floats(0.1, 0.6), st.floats(0.1, 0.6)),
)
fillings = st.builds(
    Filling, st.floats(0.05, 0.3), st.floats(1200.0, 2200.0), st.floats(300.0, 1000.0)
)
histories = st.lists(
    st.tuples(st.floats(0.5, 30.0), st.floats(-30.0, 30.0), st.floats(1.0, 60.0)),
    min_size=1,
    max_size=9,
).map(
    lambda steps: [
        Surroundings(start, temp_c, film)
        for start, (_, temp_c, film) in zip(
            np.cumsum([0.0, *(length for length, _, _ in steps[:-1])]).tolist(), steps, strict=True
        )
    ]
)


@settings(max_examples=40, deadline=None)
@given(shape=shapes, filling=fillings, start_c=st.floats(-20.0, 30.0), history=histories)
def test_core_stays_between_the_extremes_of_its_history(
    shape: Cylinder | Slab | Box, filling: Filling, start_c: float, history: list[Surroundings]
) -> None:
    """No place is ever colder or warmer than all that the load has been and has been exposed to."""
    hours = history[-1].start_h + np.arange(0.5, 60.0, 2.5)
    known = [start_c, *(step.temp_c for step in history)]

    found = temperatures_c(shape, filling, start_c, history, np.concatenate([[0.0, 0.5], hours]))

    for place in (found.core_c, found.surface_c, found.mean_c):
        assert np.all(place >= min(known) - 0.02)
        assert np.all(place <= max(known) + 0.02)
    assert found.core_c[0] == start_c


@settings(max_examples=25, deadline=None)
@given(shape=shapes, filling=fillings, history=histories)
def test_heat_that_leaves_through_the_surface_is_the_heat_that_is_lost(
    shape: Cylinder | Slab | Box, filling: Filling, history: list[Surroundings]
) -> None:
    """Over every step what the film carries off through all faces is what the load gives up."""
    axes = ensemble(shape, filling, members=1, spreads=Spreads(0, 0, 0, 0, 0)).axes
    store = filling.heat_capacity_j_kg_k * filling.bulk_density_kg_m3
    field = Field(axes, 20.0, history[0].temp_c, history[0].coefficient_w_m2_k, 0.5)
    nodes, weights = np.polynomial.legendre.leggauss(60)
    for step, after in zip(history, [*history[1:], None], strict=True):
        first, last = 0.5, 24.0
        times = np.concatenate([[first], first + (nodes + 1.0) / 2.0 * (last - first), [last]])
        means = [each.on_average for each in field.profiles]
        faces = [
            tuple(
                each.at_surface if at == face else means[at]
                for at, each in enumerate(field.profiles)
            )
            for face in range(len(axes))
        ]
        mean, *outer = field.temperatures_c([tuple(means), *faces], times)[:, 0]
        flow = np.zeros(len(times))
        for axis, face, direction in zip(axes, outer, shape.directions, strict=True):
            film = step.coefficient_w_m2_k * direction.coefficient_factor
            flow += film * (face - step.temp_c) * axis.kind / axis.half_length_m[0]
        carried = (flow[1:-1] * weights).sum() / 2.0 * (last - first) * 3600.0
        assert carried == pytest.approx(store * (mean[0] - mean[-1]), rel=1e-4, abs=20.0)
        if after is not None:
            field.step(after.start_h - step.start_h, after.temp_c, after.coefficient_w_m2_k)


@pytest.mark.parametrize(
    "shape", [Cylinder(0.14, 0.34), Slab(0.1), Box(0.3, 0.25, 0.2)], ids=["pail", "bag", "box"]
)
def test_a_freezer_that_creeps_is_the_sum_of_its_small_steps(
    shape: Cylinder | Slab | Box,
) -> None:
    """A history of thirty air temperatures is the sum of thirty answers to one step each."""
    # The problem is linear: Duhamel's principle, with one coefficient throughout.
    air = -18.0 + 14.0 * np.exp(-np.arange(30) / 6.0) + np.sin(np.arange(30))
    history = [Surroundings(2.0 * at, temp_c, 8.0) for at, temp_c in enumerate(air.tolist())]
    hours = np.arange(1.0, 90.0, 3.0)

    found = temperatures_c(shape, RICE, 20.0, history, hours)

    core, surface, mean = (np.full(len(hours), 20.0) for _ in range(3))
    for at, change in enumerate(np.diff(air, prepend=20.0)):
        begun = hours > 2.0 * at
        one = temperatures_c(
            shape, RICE, 0.0, [Surroundings(0.0, 1.0, 8.0)], hours[begun] - 2.0 * at
        )
        core[begun] += change * one.core_c
        surface[begun] += change * one.surface_c
        mean[begun] += change * one.mean_c
    assert found.core_c == pytest.approx(core, abs=1e-5)
    assert found.surface_c == pytest.approx(surface, abs=1e-3)
    assert found.mean_c == pytest.approx(mean, abs=1e-5)


@pytest.mark.parametrize("film", [8.0, 60.0])
def test_surface_minutes_after_a_step_is_that_of_a_body_without_end(film: float) -> None:
    """Half a minute to ten minutes after a step the surface knows nothing of the other side."""
    # Carslaw and Jaeger, section 2.7, from memory: into a half space the surface's excess over the
    # air falls as exp(x²) erfc(x), x = h sqrt(alpha t) / k.
    seconds = np.array([30.0, 60.0, 180.0, 600.0])

    found = temperatures_c(
        Slab(0.3), RICE, 20.0, [Surroundings(0.0, -18.0, film)], seconds / 3600.0
    )

    assert found.surface_c == pytest.approx(
        -18.0 + 38.0 * erfcx(film * np.sqrt(8.5e-8 * seconds) / 0.11), abs=0.02
    )
    assert found.core_c == pytest.approx(np.full(4, 20.0), abs=0.02)


def test_coefficients_that_waver_by_the_minute_count_as_their_mean() -> None:
    """A draught that comes and goes every minute for three hours is a steady one half as strong."""
    hours = np.array([1.0, 2.0, 3.0, 8.0])
    wavering = [Surroundings(at / 60.0, -18.0, 8.0 + (-1.0) ** at) for at in range(180)]

    found, steady = (
        temperatures_c(
            Cylinder(0.14, 0.36), RICE, 20.0, [*history, Surroundings(3.0, 21.0, 9.0)], hours
        )
        for history in (wavering, [Surroundings(0.0, -18.0, 8.0)])
    )

    assert found.core_c == pytest.approx(steady.core_c, abs=0.02)
    assert found.mean_c == pytest.approx(steady.mean_c, abs=0.02)


def test_a_step_that_lasts_no_time_leaves_no_trace() -> None:
    """Two entries of one hour count as the later one, whatever the first said."""
    hours = np.array([1.0, 5.0, 5.01, 6.0, 20.0])
    doubled = [Surroundings(0.0, 40.0, 50.0), *FREEZE_AND_THAW[:1], Surroundings(5.0, 3.0, 80.0)]
    doubled += [Surroundings(5.0, -18.0, 6.0), *FREEZE_AND_THAW[1:]]

    once, twice = (
        temperatures_c(Cylinder(0.14, 0.36), RICE, 20.0, history, hours)
        for history in (FREEZE_AND_THAW, doubled)
    )

    assert twice.surface_c == pytest.approx(once.surface_c, abs=1e-9)
    assert twice.mean_c == pytest.approx(once.mean_c, abs=1e-9)


def test_hours_may_come_in_any_order_and_twice() -> None:
    """Each hour is answered where it stands, whatever stands before it."""
    hours = np.array([60.0, 0.0, 48.0, 6.0, 48.0])

    found = temperatures_c(Cylinder(0.14, 0.36), RICE, 20.0, FREEZE_AND_THAW, hours)

    assert found.core_c == pytest.approx([-2.2093, 20.0, -16.9730, 17.0743, -16.9730], abs=6e-5)
