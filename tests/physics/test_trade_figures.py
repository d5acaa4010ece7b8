"""Our figures beside those the trade goes by: compared, never fitted.

Every test states the trade's figure, ours with the physics written out again by hand, the
difference, and in its comment why they differ. None of our constants was chosen to meet them.
"""

from __future__ import annotations

import pytest

from packdesk.catalog.read import read_catalog
from packdesk.physics import oxygen, pouch
from packdesk.physics.leakage import LOW_OXYGEN_FRACTION
from packdesk.physics.oxygen import PRESSED_GAS_FRACTION

GALLON_CC, QUART_CC = 3785.41, 946.353
# White rice: poured 185 g a US cup (USDA SR 28), settled 5 % denser; solid 1.46 g/cc (Choi & Okos
# 1986 mixture at 20 °C).
RICE_BULK, RICE_SOLID = 0.82, 1.46

POUCHES = read_catalog()[0].pouches


def holds_l(key: str) -> float:
    """What a pouch of the shipped catalogue holds by its own size, seam and headspace."""
    shipped = POUCHES[key]
    return pouch.flat_capacity_l(
        shipped.width_mm, shipped.height_mm, shipped.seam_mm, shipped.headspace_mm
    )


def need_cc(settled_cc: float, bulk: float, solid: float, gas_fraction: float) -> float:
    """Our need for so much settled food in dry air of 20 °C at sea level."""
    shut_in = oxygen.air_in_pouch_cc(settled_cc * bulk, bulk, solid, gas_fraction * settled_cc)
    return oxygen.oxygen_need_cc(shut_in)


def by_hand(settled_cc: float, bulk: float, solid: float, gas_fraction: float) -> float:
    """The same once more: void and gas, 20.95 % of it, counted at 25 instead of 20 °C."""
    return settled_cc * (1.0 - bulk / solid + gas_fraction) * 0.2095 * 298.15 / 293.15


def test_two_thousand_cc_in_a_five_gallon_liner_of_rice() -> None:
    """The trade's 2,000 cc cover a liner of rice drawn tight and fall 8 % short of one pressed.

    Ours: 1,768 cc needed without gas above the food, 2,171 with a tenth; 2,122 and 2,605
    recommended. The trade's figure is 13 % above the one need and 8 % below the other (2 % of
    oxygen stay): it is for a liner drawn tight and leaves little for absorbers lying open.
    """
    trade_cc, settled_cc = 2000.0, 5 * GALLON_CC

    tight = need_cc(settled_cc, RICE_BULK, RICE_SOLID, 0.0)
    pressed = need_cc(settled_cc, RICE_BULK, RICE_SOLID, PRESSED_GAS_FRACTION)

    assert tight == pytest.approx(by_hand(settled_cc, RICE_BULK, RICE_SOLID, 0.0), rel=1e-6)
    assert pressed == pytest.approx(by_hand(settled_cc, RICE_BULK, RICE_SOLID, 0.10), rel=1e-6)
    assert (tight, pressed) == pytest.approx((1768.0, 2171.0), abs=1.0)
    assert trade_cc / tight - 1.0 == pytest.approx(0.131, abs=0.001)
    assert trade_cc / pressed - 1.0 == pytest.approx(-0.079, abs=0.001)
    left = oxygen.residual_oxygen_fraction(pressed / 0.2095 * 293.15 / 298.15, trade_cc)
    assert left == pytest.approx(0.020, abs=0.001)


def test_two_hundred_cc_in_a_quart_size_pouch_of_rice() -> None:
    """The trade's 200 cc are what we recommend for the 1.46 L of 19 L in 13 pouches.

    Ours: 168 cc needed, 201 recommended for 1.46 L. The tallest of our quart sizes holds 1.34 L:
    154 needed, 185 recommended, 8 % less. For the 0.946 L of the name it would be 109 needed and
    130 recommended, 35 % less: the name is smaller than the pouch.
    """
    trade_cc = 200.0
    real_cc = 19_000.0 / 13.0

    real = need_cc(real_cc, RICE_BULK, RICE_SOLID, PRESSED_GAS_FRACTION)
    tallest = need_cc(1344.0, RICE_BULK, RICE_SOLID, PRESSED_GAS_FRACTION)
    named = need_cc(QUART_CC, RICE_BULK, RICE_SOLID, PRESSED_GAS_FRACTION)

    assert real == pytest.approx(by_hand(real_cc, RICE_BULK, RICE_SOLID, 0.10), rel=1e-6)
    assert (real, tallest, named) == pytest.approx((167.6, 154.2, 108.6), abs=0.1)
    assert oxygen.recommended_cc(real) / trade_cc - 1.0 == pytest.approx(0.006, abs=0.001)
    assert oxygen.recommended_cc(tallest) / trade_cc - 1.0 == pytest.approx(-0.075, abs=0.001)
    assert oxygen.recommended_cc(named) / trade_cc - 1.0 == pytest.approx(-0.349, abs=0.001)


@pytest.mark.parametrize(
    ("key", "litres", "count", "less"),
    # Robin's formula by hand on 183 mm (203 less two seams of 10 mm) by the height less two seams
    # and 50 mm, times the practical fraction of 0.8.
    [
        ("flat-203x203", 0.568, 33, 0.61),
        ("flat-203x254", 0.942, 20, 0.35),
        ("flat-203x305", 1.344, 14, 0.08),
    ],
)
def test_thirteen_quart_size_pouches_from_a_pail_of_rice(
    key: str, litres: float, count: int, less: float
) -> None:
    """The trade's 13 pouches hold more than any pouch that is sold as a quart does by our figures.

    Thirteen from just under 19 L are 1.45 L each. "Quart" is sold in three heights (common
    practice, no source); ours hold 61, 35 and 8 % less and make 33, 20 and 14 full pouches. The
    name does not say which size the 13 were; Robin's formula is 7 to 12 % low for a square bag, and
    we leave a fifth and 50 mm unfilled where a practised hand leaves less.
    """
    assert holds_l(key) == pytest.approx(litres, abs=0.001)
    assert int(18.9 / holds_l(key)) == count
    assert 1.0 - holds_l(key) / (18.9 / 13.0) == pytest.approx(less, abs=0.005)


@pytest.mark.parametrize(
    ("container_cc", "published_cc", "food", "bulk", "solid", "ours_cc", "left"),
    # Published: Utah State University Extension (pages "Oxygen removal" and on insects); the
    # No. 10 can from memory. Ours by hand at the reference conditions, brimful, nothing pressed
    # above; densities poured and solid as in the catalogue's sources.
    [
        (QUART_CC / 2, 100.0, "rice", 0.80, 1.46, 45, 0.0),
        (QUART_CC, 100.0, "rice", 0.80, 1.46, 90, 0.0),
        (QUART_CC, 100.0, "rolled oats", 0.37, 1.38, 145, 0.076),
        (QUART_CC, 100.0, "flour", 0.58, 1.44, 118, 0.039),
        (GALLON_CC, 300.0, "rice", 0.80, 1.46, 358, 0.042),
        (GALLON_CC, 300.0, "flour", 0.58, 1.44, 474, 0.088),
        (3100.0, 300.0, "wheat", 0.80, 1.40, 278, 0.0),
        (3100.0, 300.0, "rolled oats", 0.37, 1.38, 475, 0.089),
        (5 * GALLON_CC, 500.0, "rice", 0.80, 1.46, 1792, 0.160),
    ],
)
def test_published_household_table(
    container_cc: float,
    published_cc: float,
    food: str,
    bulk: float,
    solid: float,
    ours_cc: float,
    left: float,
) -> None:
    """The published figures cover small jars of dense food and fall far short of large containers.

    The table goes by container alone. A balance of air shows that light food holds up to twice the
    air of dense food, and that five gallons hold twenty quarts' worth: 500 cc in them leave 16 % of
    oxygen, where insects live. The published figure is shown as such, and why it falls short.
    """
    shut_in = oxygen.air_in_pouch_cc(container_cc * bulk, bulk, solid, 0.0)

    need = oxygen.oxygen_need_cc(shut_in, temp_c=25.0)
    residual = oxygen.residual_oxygen_fraction(shut_in, published_cc, temp_c=25.0)

    assert need == pytest.approx(ours_cc, abs=1.0), food
    assert residual == pytest.approx(left, abs=0.001), food
    assert (residual > LOW_OXYGEN_FRACTION) == (published_cc < 0.95 * need), food


def test_rice_in_a_five_gallon_pail_weighs_what_lists_of_the_trade_say() -> None:
    """A pail of rice by cup weight is 14.8 kg, 7 % lighter than lists of the trade have it.

    Lists have 15.9 kg (35 lb; community lists, no authority). They weigh shaken pails; our figure
    here is poured. Settled 5 % denser it is 15.5 kg, 2 % off: that density is the one to use.
    """
    poured_g, settled_g = (5 * GALLON_CC * density for density in (0.782, RICE_BULK))

    assert poured_g / 15_900.0 - 1.0 == pytest.approx(-0.069, abs=0.001)
    assert settled_g / 15_900.0 - 1.0 == pytest.approx(-0.024, abs=0.001)


@pytest.mark.parametrize(
    ("key", "litres", "count"),
    # By hand as above on 234 mm (254 less two seams); the pail below its lid is a frustum of 262 to
    # 283 mm by 315 mm, 18.38 L; × 0.75.
    [("flat-254x356", 2.620, 5), ("flat-254x406", 3.283, 4)],
)
def test_four_or_five_gallon_size_pouches_go_into_a_five_gallon_pail(
    key: str, litres: float, count: int
) -> None:
    """Ours is five of the shorter and four of the taller gallon size, as the trade packs them.

    The trade says four loosely, five pressed, without saying which size (common practice, no
    source). Were they to hold the gallon of their name, ours would be three.
    """
    pail_l = 18.38

    assert holds_l(key) == pytest.approx(litres, abs=0.001)
    assert pouch.pouches_in_pail(holds_l(key), pail_l) == count
    assert pouch.pouches_in_pail(GALLON_CC / 1000.0, pail_l) == 3
