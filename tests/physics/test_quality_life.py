"""How long a food keeps its good quality."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.physics import quality_life
from packdesk.physics.quality_life import USUAL_Q10
from packdesk.physics.ranges import OutOfRange

temps = st.floats(0.0, 40.0)


@pytest.mark.parametrize(
    ("life", "temp_f", "other", "other_f", "q10"),
    # Months at °F as published; Q10 by hand, such as 2^(18/20).
    [
        (12.0, 60.0, 6.0, 80.0, 1.87),  # dried fruit: Nat. Center for Home Food Preservation
        (24.0, 40.0, 3.0, 70.0, 3.48),  # dried apricots: Utah State University Extension
        (3.0, 70.0, 1.0, 90.0, 2.69),
        (48.0, 40.0, 24.0, 70.0, 1.52),  # canned fruit: the same
        (24.0, 70.0, 12.0, 90.0, 1.87),
    ],
)
def test_published_pairs_of_lives(
    life: float, temp_f: float, other: float, other_f: float, q10: float
) -> None:
    """Two published lives of a food are apart by the factor of the Q10 worked by hand from them."""
    temp_c, other_c = ((fahrenheit - 32.0) / 1.8 for fahrenheit in (temp_f, other_f))

    ratio = quality_life.life_factor(temp_c, q10) / quality_life.life_factor(other_c, q10)

    assert ratio == pytest.approx(life / other, rel=0.006)


def test_a_factor_for_seeds_is_not_taken_for_food() -> None:
    """Halving every 5.6 K, the rule for seeds, is the very end of the band for food."""
    # 2^(10/5.6) = 3.45 (rule of Harrington for seeds, from memory; often applied to food).
    halved = quality_life.life_factor(25.6, 3.45) / quality_life.life_factor(20.0, 3.45)
    assert halved == pytest.approx(0.5, abs=0.001)
    assert USUAL_Q10.likely < 3.45 <= USUAL_Q10.high


@pytest.mark.parametrize(
    ("q10", "factors"),
    # At 10, 15, 21, 27 and 32 °C, worked apart from this project to two decimals.
    [
        (2.0, (2.14, 1.52, 1.00, 0.66, 0.47)),
        (2.5, (2.74, 1.73, 1.00, 0.58, 0.36)),
        (3.0, (3.35, 1.93, 1.00, 0.52, 0.30)),
        (4.0, (4.59, 2.30, 1.00, 0.44, 0.22)),
    ],
)
def test_factors_of_the_table(q10: float, factors: tuple[float, ...]) -> None:
    """The factors over the range of stores meet the table to its last digit."""
    found = [quality_life.life_factor(t, q10) for t in (10.0, 15.0, 21.0, 27.0, 32.0)]

    assert found == pytest.approx(factors, abs=0.0051)


def test_no_life_longer_than_anyone_studied_is_claimed() -> None:
    """A staple of thirty years in a cool cellar is shown as thirty and more."""
    cellar = quality_life.quality_life_years(25.0, 30.0, 12.0)

    assert (cellar.low, cellar.likely, cellar.high) == (30.0, 30.0, 30.0)
    assert cellar.beyond_studied


def test_a_garage_shortens_a_life_with_a_wide_band() -> None:
    """Ten years at 21 °C are between three and five in a store of 31 °C."""
    # 10 / 3.5 = 2.86, 10 / 2.5 = 4, 10 / 2 = 5.
    garage = quality_life.quality_life_years(10.0, 10.0, 31.0)

    assert (garage.low, garage.likely, garage.high) == pytest.approx((2.857, 4.0, 5.0), abs=0.001)
    assert not garage.beyond_studied


@given(st.floats(0.1, 30.0), st.floats(1.0, 3.0), temps, st.floats(0.0, 40.0))
def test_warmer_is_never_longer(low: float, wider: float, one_c: float, other_c: float) -> None:
    """At every end of the band the warmer store keeps no longer, and the band is in order."""
    cool, warm = (
        quality_life.quality_life_years(low, low * wider, t) for t in sorted((one_c, other_c))
    )

    assert warm.low <= cool.low
    assert warm.likely <= cool.likely
    assert warm.high <= cool.high
    assert 0.0 < warm.low <= warm.likely <= warm.high <= 30.0


@pytest.mark.parametrize(
    ("call", "symbol"),
    [
        (lambda: quality_life.life_factor(-18.0), "temp_c"),
        (lambda: quality_life.life_factor(70.0), "temp_c"),
        (lambda: quality_life.life_factor(20.0, 1.0), "q10"),
        (lambda: quality_life.quality_life_years(10.0, 5.0, 20.0), "years_high"),
        (lambda: quality_life.quality_life_years(0.0, 5.0, 20.0), "years_low"),
    ],
)
def test_inputs_outside_their_range_are_refused(call: Callable[[], object], symbol: str) -> None:
    """Each impossible figure is refused by its own name."""
    with pytest.raises(OutOfRange) as caught:
        call()

    assert caught.value.symbol == symbol
