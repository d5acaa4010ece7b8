"""What pouches, liners and pails hold."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from packdesk.physics import pouch
from packdesk.physics.ranges import OutOfRange

INCH = 25.4
FIVE_GALLON = {
    "pail_top_diameter_mm": 285.0,
    "pail_bottom_diameter_mm": 262.0,
    "pail_height_mm": 345.0,
}  # inside, assumed typical (common practice, no source)

BELOW_LID_L = 18.38
"""Of that pail, below a lid gap of 30 mm: a frustum of 262 to 283 mm by 315 mm, by hand."""

widths = st.floats(120.0, 600.0)
heights = st.floats(200.0, 900.0)
seams = st.floats(0.0, 15.0)
headspaces = st.floats(0.0, 100.0)


@pytest.mark.parametrize(("height", "volume"), [(1.0, 0.1905), (2.0, 0.4960)])
def test_paper_bag_of_unit_width(height: float, volume: float) -> None:
    """The unit square and the one-by-two bag have the volumes worked by hand from the formula."""
    # 1/π − 0.142 × 0.9 and 2/π − 0.142 × 0.99.
    litres = pouch.paper_bag_volume_l(100.0, 100.0 * height)

    assert litres == pytest.approx(volume, abs=0.00005)


@given(st.floats(50.0, 500.0), st.floats(50.0, 2000.0))
def test_a_closed_bag_has_no_height_or_width(one_mm: float, other_mm: float) -> None:
    """Which side is called the width makes no difference to a bag closed all round."""
    assert pouch.paper_bag_volume_l(one_mm, other_mm) == pouch.paper_bag_volume_l(other_mm, one_mm)


def test_square_bag_stays_below_the_proven_greatest_volume() -> None:
    """The formula promises no more than a square bag can hold."""
    # Kepert's bounds for the unit square, en.wikipedia.org/wiki/Paper_bag_problem.
    assert pouch.paper_bag_volume_l(100.0, 100.0) < 0.217


@pytest.mark.parametrize(
    ("width_in", "height_in", "litres"),
    # Robin's formula worked apart from this project for common flat sizes with 2 in taken off the
    # height for seam and headspace, to two decimals.
    [
        (5, 7, 0.39),
        (6, 8, 0.67),
        (6, 9, 0.85),
        (8, 8, 1.02),
        (8, 10, 1.60),
        (8, 12, 2.21),
        (10, 12, 3.12),
        (10, 14, 4.08),
        (10, 16, 5.07),
        (12, 16, 6.77),
        (14, 18, 10.43),
        (14, 20, 12.35),
        (18, 28, 30.9),
        (20, 30, 40.6),
    ],
)
def test_common_flat_sizes(width_in: float, height_in: float, litres: float) -> None:
    """Common flat sizes have the geometric volumes of the table within its rounding."""
    ours = pouch.flat_capacity_l(width_in * INCH, height_in * INCH, 0.0, 2.0 * INCH, 1.0)

    assert ours == pytest.approx(litres, abs=0.006 if litres < 20 else 0.06)


def liner_in(top: float, bottom: float, height: float, *, lid_gap_mm: float = 30.0) -> float:
    """What a liner with room to spare takes in a pail of this size."""
    return pouch.liner_capacity_l(
        900.0,
        1500.0,
        10.0,
        50.0,
        pail_top_diameter_mm=top,
        pail_bottom_diameter_mm=bottom,
        pail_height_mm=height,
        lid_gap_mm=lid_gap_mm,
    )


@pytest.mark.parametrize(
    ("top", "bottom", "height", "litres"),
    # Frusta worked apart from this project, to 0.05 L.
    [(235, 215, 220, 8.75), (285, 265, 235, 13.96), (285, 262, 345, 20.3), (285, 260, 420, 24.5)],
)
def test_brimful_pails(top: float, bottom: float, height: float, litres: float) -> None:
    """A liner with room to spare takes, in a pail without a lid, what the pail's frustum holds."""
    assert liner_in(top, bottom, height, lid_gap_mm=0.0) == pytest.approx(litres, abs=0.05)


@pytest.mark.parametrize("width_mm", [300.0, 380.0, 425.0, 440.0, 457.2, 508.0])
def test_liner_is_held_by_the_pail_or_by_its_own_width(width_mm: float) -> None:
    """At every height the liner is as wide as the pail or as its own tube, whichever is less."""
    # Independent: numerical integration over the height.
    tube = 2.0 * (width_mm - 20.0) / math.pi
    ends = min(tube, 262.0) / 2 + min(tube, 285.0) / 2
    filled = min(315.0, 711.2 - 20.0 - 50.0 - ends)
    area = [lambda z: math.pi / 4 * min(tube, 262 + 23 * z / 345) ** 2]
    kink = min(max((tube - 262.0) * 345 / 23, 1.0), filled - 1.0)
    expected = quad(area[0], 0.0, filled, points=[kink])[0] / 1e6

    ours = pouch.liner_capacity_l(width_mm, 711.2, 10.0, 50.0, **FIVE_GALLON)

    assert ours == pytest.approx(expected, rel=1e-6)


def test_liner_of_twenty_by_thirty_inches_fills_a_five_gallon_pail() -> None:
    """The usual large liner is wide and tall enough: the pail, not the liner, sets the limit."""
    liner = pouch.liner_capacity_l(508.0, 762.0, 10.0, 50.0, **FIVE_GALLON)

    assert liner == pytest.approx(BELOW_LID_L, abs=0.005)


def test_liner_too_short_to_close_is_refused_with_the_height_it_would_need() -> None:
    """A liner that cannot even close over the pail's bottom is refused."""
    with pytest.raises(OutOfRange) as caught:
        pouch.liner_capacity_l(508.0, 300.0, 10.0, 50.0, **FIVE_GALLON)

    # Half a bottom and half a rim across (131 + 142.5), two seams and the headspace.
    assert caught.value.symbol == "height_mm"
    assert caught.value.low == pytest.approx(273.5 + 70.0)


def test_gusseted_pouch_is_a_box_less_what_its_bottom_takes() -> None:
    """A gusseted pouch is a box whose bottom costs half the gusset's depth in height."""
    # By hand: 200 × 100 mm, 400 − 20 − 50 − 50 = 280 mm tall: 5.6 L.
    assert pouch.gusseted_capacity_l(200.0, 400.0, 100.0, 10.0, 50.0, 1.0) == pytest.approx(5.6)


@given(widths, heights, seams, headspaces, st.floats(0.1, 30.0))
def test_seam_and_headspace_never_add_room(
    width: float, height: float, seam: float, headspace: float, more_mm: float
) -> None:
    """More headspace or a wider seam never lets a pouch take more, flat or gusseted."""
    flat = pouch.flat_capacity_l(width, height, seam, headspace)
    box = pouch.gusseted_capacity_l(width, height, 40.0, seam, headspace)

    assert pouch.flat_capacity_l(width, height, seam, headspace + more_mm) < flat
    assert pouch.flat_capacity_l(width, height, seam + more_mm, headspace) < flat
    assert pouch.gusseted_capacity_l(width, height, 40.0, seam, headspace + more_mm) < box


@given(st.floats(350.0, 600.0), st.floats(500.0, 900.0), headspaces)
def test_liner_never_takes_more_than_its_pail(
    width: float, height: float, headspace: float
) -> None:
    """However large the liner, the pail below its lid is the most it takes."""
    liner = pouch.liner_capacity_l(width, height, 10.0, headspace, **FIVE_GALLON)

    assert 0.0 < liner <= BELOW_LID_L + 0.005


def test_no_weighing_leaves_the_geometry_as_it_is() -> None:
    """Without a weighing the computed capacity stands."""
    assert pouch.corrected_capacity_l(1.6, [], 0.8) == 1.6


def test_weighings_that_agree_change_nothing() -> None:
    """Pouches that weigh what the geometry says leave it as it is."""
    assert pouch.corrected_capacity_l(1.6, [1280.0, 1280.0], 0.8) == pytest.approx(1.6)


def test_one_weighing_is_believed_more_than_the_geometry_but_not_alone() -> None:
    """One pouch a quarter heavier moves the figure most of the way."""
    # By hand: precision 1/0.2² = 25 against 1/0.08² = 156.25, so 1.25^(156.25/181.25) = 1.2121.
    assert pouch.corrected_capacity_l(1.0, [1000.0], 0.8) == pytest.approx(1.2121, abs=0.0001)


@given(
    st.floats(0.5, 10.0), st.lists(st.floats(0.5, 2.0), min_size=1, max_size=30), st.floats(0.2, 1)
)
def test_correction_lies_between_geometry_and_weighings(
    computed: float, ratios: list[float], density: float
) -> None:
    """The corrected figure lies between the computed one and the mean of the weighings."""
    masses = [1000.0 * computed * density * ratio for ratio in ratios]
    mean = computed * math.exp(sum(map(math.log, ratios)) / len(ratios))
    low, high = sorted((computed, mean))

    corrected = pouch.corrected_capacity_l(computed, masses, density)

    assert low * (1 - 1e-9) <= corrected <= high * (1 + 1e-9)
    many = pouch.corrected_capacity_l(computed, masses * 100, density)
    assert abs(many - mean) <= abs(corrected - mean) + 1e-9


@given(st.floats(0.3, 20.0), st.floats(5.0, 60.0))
def test_pouches_in_a_pail_fill_their_share_of_it_and_not_one_more_would(
    pouch_l: float, pail_l: float
) -> None:
    """The count is the greatest whose volume stays within the share of the pail."""
    count = pouch.pouches_in_pail(pouch_l, pail_l)

    assert count * pouch_l <= 0.75 * pail_l * (1 + 1e-6)
    assert (count + 1) * pouch_l > 0.75 * pail_l


@pytest.mark.parametrize(
    ("call", "symbol"),
    [
        (lambda: pouch.flat_capacity_l(20.0, 254.0, 8.0, 50.0), "width_mm"),
        (lambda: pouch.flat_capacity_l(203.0, 8.0, 8.0, 50.0), "height_mm"),
        (lambda: pouch.flat_capacity_l(203.0, 254.0, -1.0, 50.0), "seam_mm"),
        (lambda: pouch.flat_capacity_l(60.0, 254.0, 30.0, 50.0), "side_seam_mm"),
        (lambda: pouch.flat_capacity_l(203.0, 254.0, 8.0, 240.0), "headspace_mm"),
        (lambda: pouch.flat_capacity_l(203.0, 254.0, 8.0, 50.0, 1.2), "practical_fraction"),
        (lambda: pouch.gusseted_capacity_l(203.0, 254.0, 200.0, 8.0, 50.0), "gusset_mm"),
        (lambda: liner_in(285.0, 300.0, 345.0), "pail_bottom_diameter_mm"),
        (lambda: liner_in(285.0, 262.0, 345.0, lid_gap_mm=200.0), "lid_gap_mm"),
        (lambda: pouch.paper_bag_volume_l(math.nan, 100.0), "width_mm"),
        (lambda: pouch.corrected_capacity_l(1.0, [5.0], 0.8), "net_mass_g"),
        (lambda: pouch.corrected_capacity_l(1.0, [], 80.0), "bulk_density_g_per_cc"),
        (lambda: pouch.pouches_in_pail(3.8, 18.9, 1.5), "packing_fraction"),
    ],
)
def test_inputs_outside_their_range_are_refused(call: Callable[[], object], symbol: str) -> None:
    """Each impossible measure is refused by its own name."""
    with pytest.raises(OutOfRange) as caught:
        call()

    assert caught.value.symbol == symbol
    value = caught.value.value
    assert math.isnan(value) or not caught.value.low <= value <= caught.value.high
