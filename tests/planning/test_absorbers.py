from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.catalog.read import read_catalog
from packdesk.physics.oxygen import absorber_sets
from packdesk.planning.absorbers import (
    AirShutIn,
    balance,
    leak_cc_per_year,
    published_cc,
    ratings_for_dry_food,
    smallest_set_cc,
)

CATALOG, _ = read_catalog()
SHELF = ratings_for_dry_food(CATALOG.absorbers.values())
SEA_LEVEL = AirShutIn(25.0, 101_325.0)
QUART = CATALOG.pouches["flat-203x254"]
GALLON = CATALOG.pouches["flat-254x356"]
FOIL = CATALOG.films["foil_medium"]

ratings_at_hand = st.lists(st.integers(20, 3000), min_size=1, max_size=5, unique=True)


@given(st.floats(0.1, 8000.0), ratings_at_hand)
def test_a_set_suffices_with_the_fewest_absorbers(wanted: float, ratings: list[int]) -> None:
    """It covers what is recommended and no set has fewer pieces."""
    chosen = smallest_set_cc(wanted, ratings)
    assert sum(chosen) >= wanted - 1e-5
    assert set(chosen) <= set(ratings)
    assert len(chosen) == absorber_sets(wanted, ratings)[0].pieces


def test_one_rating_is_preferred_to_a_little_less_to_spare() -> None:
    """For 2,505 cc two 1,500s go in, not a 2,500 and a 50 from a second packet."""
    assert smallest_set_cc(2505.0, SHELF) == (1500, 1500)


def test_two_ratings_are_better_than_doubling_up() -> None:
    """With 2,000s and 100s alone, 2,050 cc take one of each."""
    assert smallest_set_cc(2050.0, (100, 2000)) == (2000, 100)


def test_what_works_in_dry_food_carries_its_own_water() -> None:
    """The moisture-activated one is passed over although its rating is on the shelf twice."""
    moist_only = [each for each in CATALOG.absorbers.values() if each.key == "moist-300"]
    assert ratings_for_dry_food(moist_only) == ()
    assert 300 in SHELF


def test_a_quart_of_rice_by_hand() -> None:
    """The balance of 757 g of rice in 0.946 L is 523 cc of air and 110 cc of oxygen.

    Worked by hand at 0.80 g/cc and 1.46: 946 − 518 + 95 = 523; 523 × 0.2095 = 109.6, and the
    foil's leak of a year is below a tenth of a cc.
    """
    found = balance(757.0, 0.80, 1.46, SEA_LEVEL, QUART, FOIL)
    assert found.air_cc == pytest.approx(523.0, abs=1.0)
    assert found.need_cc == pytest.approx(109.6, abs=0.3)
    assert found.recommended_cc == pytest.approx(1.2 * found.need_cc)


def test_a_leak_by_hand() -> None:
    """A single metallised film of 1 cc/m² day lets some 14 cc a year into a gallon-size pouch.

    Between the seams 234 by 336 mm, both faces 0.157 m²: 0.157 × 365.25 × 0.2095 = 12.0 cc at
    0 °C, which at 25 °C measure 13.1.
    """
    leak_cc = leak_cc_per_year(GALLON, CATALOG.films["metallised"], 101_325.0)
    assert leak_cc == pytest.approx(13.1, abs=0.1)


def test_a_film_without_a_leak_keeps_for_ever() -> None:
    """The years are infinite here and capped where they are shown."""
    tight = replace(FOIL, oxygen_transmission=replace(FOIL.oxygen_transmission, value=0.0))
    assert balance(757.0, 0.8, 1.46, SEA_LEVEL, QUART, tight).film_years == float("inf")


@given(st.floats(50.0, 20_000.0), st.floats(0.2, 1.2), st.floats(1.25, 2.2))
def test_air_grows_with_food_and_thin_air_needs_less(
    mass: float, bulk: float, solid: float
) -> None:
    """At 2,000 m the need is about 0.785 of that at the sea (ISO 2533), leak included."""
    sea = balance(mass, bulk, solid, SEA_LEVEL, QUART, FOIL)
    high = balance(mass, bulk, solid, replace(SEA_LEVEL, pressure_pa=79_501.0), QUART, FOIL)
    assert high.need_cc / sea.need_cc == pytest.approx(0.7846, abs=0.0005)
    assert balance(2.0 * mass, bulk, solid, SEA_LEVEL, QUART, FOIL).air_cc == pytest.approx(
        2.0 * sea.air_cc
    )


@pytest.mark.parametrize(
    ("litres", "cc"), [(0.473, 100.0), (0.946, 100.0), (3.785, 300.0), (18.93, 500.0), (60.0, None)]
)
def test_what_is_published_for_households(litres: float, cc: float | None) -> None:
    """Pint and quart 100, gallon 300, five gallons 500 (Utah State University Extension)."""
    assert published_cc(litres) == cc
