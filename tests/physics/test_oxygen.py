"""Oxygen in a packed pouch, what takes it up, what is left."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.physics import air, oxygen
from packdesk.physics.ranges import OutOfRange

GALLON_CC, QUART_CC = 3785.41, 946.353
AT_RATING = {"temp_c": 25.0, "relative_humidity": 0.0}

masses = st.floats(50.0, 20_000.0)
solids = st.floats(1.0, 1.6)
voids = st.floats(0.3, 0.85)
gases = st.floats(1.0, 50_000.0)
temps = st.floats(-18.0, 45.0)
humidities = st.floats(0.0, 1.0)
elevations = st.floats(0.0, 4000.0)


@pytest.mark.parametrize(
    ("bulk", "solid", "pouch_cc", "need_cc"),
    # Mass balance worked apart from this project: pouch filled to its nominal volume, a tenth of
    # headspace, 209.5 cc of oxygen per litre of air, no margin; to the full cc. Densities: poured
    # bulk from cup weights of USDA SR 28, solid from Choi & Okos (1986) mixtures.
    [
        (0.80, 1.46, QUART_CC, 109),  # white rice
        (0.80, 1.40, QUART_CC, 105),  # wheat
        (0.80, 1.39, GALLON_CC, 416),  # beans
        (0.67, 1.42, QUART_CC, 124),  # cornmeal
        (0.58, 1.44, QUART_CC, 138),  # flour
        (0.45, 1.45, GALLON_CC, 626),  # macaroni
        (0.37, 1.38, QUART_CC, 165),  # rolled oats
        (0.27, 1.48, GALLON_CC, 728),  # potato flakes
        (0.80, 1.46, 5 * GALLON_CC, 2189),  # white rice, pail
    ],
)
def test_need_of_common_foods(bulk: float, solid: float, pouch_cc: float, need_cc: float) -> None:
    """The need of common foods meets the table of the mass balance within its rounding."""
    shut_in = oxygen.air_in_pouch_cc(pouch_cc * bulk, bulk, solid, 0.10 * pouch_cc)

    # The table's void is rounded to three figures: 0.1 %.
    assert oxygen.oxygen_need_cc(shut_in, **AT_RATING) == pytest.approx(need_cc, rel=0.001, abs=0.6)


def test_rice_brimful_in_a_gallon() -> None:
    """A gallon brimful of rice needs 355 cc; 300 cc leave 4.0 %, 500 cc leave none."""
    # Worked apart from this project: 44.8 % of 3.785 L is air.
    shut_in = 0.448 * GALLON_CC

    assert oxygen.oxygen_need_cc(shut_in, **AT_RATING) == pytest.approx(355.0, abs=0.5)
    residual = oxygen.residual_oxygen_fraction(shut_in, np.array([300.0, 500.0]), **AT_RATING)
    assert residual == pytest.approx([0.040, 0.0], abs=0.0005)


def test_rice_brimful_in_five_gallons() -> None:
    """Five gallons of rice keep 16.0 % with 500 cc, 4.0 % with 1,500 cc, none with 2,000 cc."""
    # Worked apart from this project, as above.
    residual = oxygen.residual_oxygen_fraction(
        5 * 0.448 * GALLON_CC, np.array([500.0, 1500.0, 2000.0]), **AT_RATING
    )

    assert residual == pytest.approx([0.160, 0.040, 0.0], abs=0.001)


def test_a_cc_is_counted_warm_and_at_sea_level() -> None:
    """The need is the moles of oxygen shut in, counted at 25 °C and 101,325 Pa."""
    # Independent: n = x p V / (R T); saturation pressure at 18 °C is 2,064 Pa (steam tables).
    moles = 0.2095 * (84_560.0 - 0.55 * 2064.0) * 1200e-6 / (8.314462618 * 291.15)

    need = oxygen.oxygen_need_cc(1200.0, temp_c=18.0, pressure_pa=84_560.0, relative_humidity=0.55)

    assert need == pytest.approx(moles * 8.314462618 * 298.15 / 101_325.0 * 1e6, rel=2e-4)


def test_one_years_leakage_is_part_of_the_need_and_the_margin_is_not() -> None:
    """Need counts a year of leakage; only the recommendation adds the margin."""
    need = oxygen.oxygen_need_cc(1000.0, 12.0, **AT_RATING)

    assert need == pytest.approx(209.5 + 12.0)
    assert oxygen.recommended_cc(need) == pytest.approx(1.2 * 221.5)
    assert oxygen.recommended_cc(need, 1.0) == pytest.approx(221.5)


@given(masses, solids, voids, gases)
def test_volumes_add_up(mass: float, solid: float, void: float, residual: float) -> None:
    """Air and solids together are the settled food and the gas above it."""
    bulk = solid * (1.0 - void)

    shut_in = oxygen.air_in_pouch_cc(mass, bulk, solid, residual)

    assert shut_in + mass / solid == pytest.approx(mass / bulk + residual)


@given(masses, solids, voids, gases, st.floats(0.0, 5000.0))
def test_more_headspace_never_needs_fewer_absorbers(
    mass: float, solid: float, void: float, residual: float, more_cc: float
) -> None:
    """Gas left above the food adds to the need, never takes from it."""
    bulk = solid * (1.0 - void)

    def recommended(gas_cc: float) -> float:
        shut_in = oxygen.air_in_pouch_cc(mass, bulk, solid, gas_cc)
        return oxygen.recommended_cc(oxygen.oxygen_need_cc(shut_in))

    assert recommended(residual + more_cc) >= recommended(residual)
    fewest, fewest_with_more = (
        oxygen.absorber_sets(recommended(gas), (100.0, 300.0, 500.0), extra_pieces=0)[0].pieces
        for gas in (residual, residual + more_cc)
    )
    assert fewest_with_more >= fewest


@given(st.floats(200.0, 20_000.0), solids, voids, st.floats(0.5, 1.0))
def test_lighter_food_never_needs_fewer_absorbers(
    pouch_cc: float, solid: float, void: float, lighter: float
) -> None:
    """In the same pouch a food of lower bulk density shuts in at least as much air."""
    bulk = solid * (1.0 - void)

    def shut_in(density: float) -> float:
        return oxygen.air_in_pouch_cc(pouch_cc * density, density, solid, 0.1 * pouch_cc)

    assert shut_in(bulk * lighter) >= shut_in(bulk) - 1e-9 * pouch_cc


@given(gases, elevations, elevations, temps, humidities)
def test_lower_altitude_never_needs_fewer_absorbers(
    gas: float, one_m: float, other_m: float, temp_c: float, humidity: float
) -> None:
    """The same pouch filled at the lower of two places needs at least as much."""
    lower, higher = (
        oxygen.oxygen_need_cc(
            gas,
            temp_c=temp_c,
            pressure_pa=air.pressure_at_elevation_pa(elevation_m),
            relative_humidity=humidity,
        )
        for elevation_m in sorted((one_m, other_m))
    )

    assert lower >= higher


@given(gases, st.floats(0.0, 20_000.0), st.floats(0.0, 20_000.0), temps)
def test_gas_is_conserved_when_oxygen_is_absorbed(
    gas: float, absorbed: float, solid: float, temp_c: float
) -> None:
    """Nitrogen left after shrinking is the nitrogen that was shut in."""
    at = {"temp_c": temp_c}

    residual = oxygen.residual_oxygen_fraction(gas, absorbed, **at)
    left = gas - (gas + solid) * oxygen.shrinkage_fraction(gas, absorbed, solids_cc=solid, **at)

    assert left * (1.0 - residual) == pytest.approx(gas * (1.0 - 0.2095), rel=1e-9)


def test_a_sound_pouch_shrinks_by_a_fifth_of_its_gas_at_most() -> None:
    """However great the absorbers, no more than the oxygen leaves."""
    assert oxygen.shrinkage_fraction(500.0, 1e6) == pytest.approx(0.2095)


def test_rice_in_a_quart_pouch_shrinks_by_a_tenth() -> None:
    """A quart of rice, a tenth of headspace, ends up a tenth smaller: snug, not rock-hard."""
    # By hand: 946 cc of rice, 757 g, solids 518 cc, air 523 cc; 0.2095 × 523 / 1041.
    shrunk = oxygen.shrinkage_fraction(523.0, 300.0, solids_cc=518.0)

    assert shrunk == pytest.approx(0.1052, abs=0.0001)


@pytest.mark.parametrize(
    ("wanted", "ratings", "expected"),
    # Counted by hand.
    [
        (426.0, (100.0, 300.0), [{300.0: 2}, {300.0: 1, 100.0: 2}]),
        (300.0, (100.0, 300.0), [{300.0: 1}]),
        (50.0, (2000.0, 100.0), [{100.0: 1}]),
        (2200.0, (2000.0, 500.0, 300.0), [{2000.0: 1, 300.0: 1}]),
        (1050.0, (500.0,), [{500.0: 3}]),
        (0.0, (100.0,), []),
    ],
)
def test_sets_of_absorbers_counted_by_hand(
    wanted: float, ratings: tuple[float, ...], expected: list[dict[float, int]]
) -> None:
    """The fewest absorbers come first, then sets that waste less."""
    assert [dict(s.counts) for s in oxygen.absorber_sets(wanted, ratings)] == expected


def test_a_margin_that_multiplies_unevenly_costs_no_absorber() -> None:
    """A need that is a billionth above a rating by rounding alone is still covered by it."""
    assert oxygen.absorber_sets(300.00000000000006, (300.0,))[0].pieces == 1


def total_cc(one: oxygen.AbsorberSet) -> float:
    """What a whole set is rated for."""
    return math.fsum(rating * count for rating, count in one.counts)


@given(
    st.floats(5.0, 3000.0),
    st.lists(st.sampled_from([20.0, 50.0, 100.0, 200.0, 300.0, 500.0, 2000.0]), min_size=1),
)
def test_sets_agree_with_trying_every_combination(wanted: float, ratings: list[float]) -> None:
    """Fewest pieces, least waste and no needless absorber, as found by trying them all."""
    sets = oxygen.absorber_sets(wanted, ratings, extra_pieces=1)

    fewest = math.ceil(round(wanted, 6) / max(ratings))
    assert sets[0].pieces == fewest
    if fewest <= 4:
        tried = itertools.combinations_with_replacement(sorted(set(ratings)), fewest)
        assert total_cc(sets[0]) == min(t for t in map(sum, tried) if t >= round(wanted, 6))
    for one in sets:
        assert total_cc(one) >= wanted - 1e-6
        assert total_cc(one) - min(rating for rating, _ in one.counts) < wanted
    totals, pieces = [total_cc(s) for s in sets], [s.pieces for s in sets]
    assert totals == sorted(totals, reverse=True)
    assert pieces == sorted(set(pieces))


def test_no_rating_at_hand_is_said_in_words() -> None:
    """Without any absorber to choose from the answer is a message, not an empty list."""
    with pytest.raises(ValueError, match="name at least one"):
        oxygen.absorber_sets(300.0, ())


@pytest.mark.parametrize(
    ("call", "symbol"),
    [
        (lambda: oxygen.air_in_pouch_cc(757.0, 1.5, 1.46, 0.0), "bulk_density_g_per_cc"),
        (lambda: oxygen.air_in_pouch_cc(757.0, 800.0, 1460.0, 0.0), "solid_density_g_per_cc"),
        (lambda: oxygen.air_in_pouch_cc(-1.0, 0.8, 1.46, 0.0), "net_mass_g"),
        (lambda: oxygen.air_in_pouch_cc(757.0, 0.8, 1.46, -5.0), "residual_gas_cc"),
        (lambda: oxygen.oxygen_need_cc(math.nan), "air_cc"),
        (lambda: oxygen.oxygen_need_cc(500.0, -1.0), "leak_cc_per_year"),
        (lambda: oxygen.oxygen_need_cc(500.0, relative_humidity=50.0), "relative_humidity"),
        (lambda: oxygen.recommended_cc(100.0, 0.9), "margin"),
        (lambda: oxygen.residual_oxygen_fraction(0.0, 10.0), "air_cc"),
        (lambda: oxygen.shrinkage_fraction(500.0, 10.0, solids_cc=-1.0), "solids_cc"),
        (lambda: oxygen.absorber_sets(100.0, (1.0,)), "rating_cc"),
        (lambda: oxygen.absorber_sets(100_000.0, (50.0,)), "rating_cc"),
        (lambda: oxygen.absorber_sets(100.0, (100.0,), extra_pieces=-1), "extra_pieces"),
    ],
)
def test_inputs_outside_their_range_are_refused(call: Callable[[], object], symbol: str) -> None:
    """Each impossible figure is refused by its own name."""
    with pytest.raises(OutOfRange) as caught:
        call()

    assert caught.value.symbol == symbol


def test_a_bulk_density_above_the_solids_is_refused_member_by_member() -> None:
    """In an ensemble the refusal carries the member's own limit."""
    with pytest.raises(OutOfRange) as caught:
        oxygen.air_in_pouch_cc(757.0, np.array([0.8, 1.45]), np.array([1.46, 1.40]), 0.0)

    assert (caught.value.value, caught.value.high) == (1.45, 1.40)


def test_ensembles_are_answered_member_by_member() -> None:
    """An ensemble of densities gives what each gives alone; one figure gives a plain float."""
    bulks = np.array([0.75, 0.80, 0.85])

    together = oxygen.oxygen_need_cc(oxygen.air_in_pouch_cc(757.0, bulks, 1.46, 90.0))

    alone = [
        oxygen.oxygen_need_cc(oxygen.air_in_pouch_cc(757.0, b, 1.46, 90.0)) for b in bulks.tolist()
    ]
    assert together.tolist() == pytest.approx(alone, rel=1e-12)
    assert type(alone[0]) is float
