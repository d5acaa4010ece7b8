from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packdesk.catalog.pouches import Pouch
from packdesk.catalog.read import read_catalog
from packdesk.physics.ranges import OutOfRange
from packdesk.planning.plan import (
    LineRequest,
    PlannedLine,
    Site,
    Unfit,
    freezer_pails,
    plan,
    plan_line,
    usual_pail,
)
from packdesk.units import System

CATALOG, _ = read_catalog()
RICE = CATALOG.foods["white_rice"]
QUART = CATALOG.pouches["flat-203x254"]
LINER = CATALOG.pouches["liner-457x711"]

masses_g = st.floats(50.0, 200_000.0)
systems = st.sampled_from(list(System))
foods = st.sampled_from(sorted(CATALOG.foods.keys() - {"brown_rice", "peanuts"}))
pouches = st.sampled_from(sorted(CATALOG.pouches))


def request(food: str, pouch: str, mass_g: float) -> LineRequest:
    """A line of the shipped catalogue, first of its plan."""
    return LineRequest(1, CATALOG.foods[food], "lot 1", mass_g, CATALOG.pouches[pouch])


def planned(
    asked: LineRequest, site: Site | None = None, units: System = System.METRIC
) -> PlannedLine:
    """A line that can be planned."""
    found = plan_line(asked, CATALOG, site or Site(), units=units)
    assert isinstance(found, PlannedLine)
    return found


def unfit(asked: LineRequest) -> Unfit:
    """A line that cannot."""
    found = plan_line(asked, CATALOG, Site())
    assert isinstance(found, Unfit)
    return found


@settings(max_examples=80, deadline=None)
@given(foods, pouches, masses_g, systems)
def test_what_the_pouches_hold_adds_up_to_what_was_bought(
    food: str, pouch: str, mass_g: float, system: System
) -> None:
    """No food is left over and no pouch holds more than its geometry allows."""
    line = planned(request(food, pouch, mass_g), units=system)
    total = (line.count - 1) * line.fill_mass_g + line.last_fill_mass_g
    assert total == pytest.approx(mass_g, rel=1e-9)
    most_g = line.capacity_l * 1000.0 * line.bulk_density_g_per_cc
    assert 0.0 < line.last_fill_mass_g <= line.fill_mass_g * (1.0 + 1e-9)
    assert line.fill_mass_g <= most_g * (1.0 + 1e-9)


@settings(max_examples=80, deadline=None)
@given(foods, pouches, masses_g, st.floats(-400.0, 4500.0), st.floats(5.0, 35.0))
def test_absorbers_never_fall_short(
    food: str, pouch: str, mass_g: float, elevation_m: float, temp_c: float
) -> None:
    """Every pouch gets at least what is recommended, and that is above the need."""
    line = planned(request(food, pouch, mass_g), Site(elevation_m, temp_c))
    assert sum(line.absorbers_cc) >= line.recommended_cc
    assert line.recommended_cc >= line.oxygen_need_cc
    if line.absorbers_cc:
        assert line.margin_ratio is not None
        assert line.margin_ratio >= 1.2 - 1e-9
    else:
        assert line.low_oxygen == "not_needed"


@settings(max_examples=60, deadline=None)
@given(foods, pouches, masses_g, st.floats(1.0, 3.0))
def test_more_food_never_makes_fewer_pouches(
    food: str, pouch: str, mass_g: float, times: float
) -> None:
    """The count grows with the lot."""
    more = planned(request(food, pouch, mass_g * times))
    assert more.count >= planned(request(food, pouch, mass_g)).count


def test_one_200_cc_absorber_for_a_quart_size_pouch_of_rice() -> None:
    """As practice has it (no source): we recommend 125 cc, and no smaller single one covers it.

    The 100 cc published for a quart fall 4 cc short of the oxygen in it, and the line says so.
    """
    line = planned(request("white_rice", "flat-203x254", 25_000.0))
    assert line.absorbers_cc == (200,)
    assert 100.0 < line.oxygen_need_cc < 109.0
    assert line.published_cc == 100.0
    assert any("Published for a household container" in each for each in line.warnings)


def test_two_thousand_cc_for_a_five_gallon_liner() -> None:
    """Practice puts 2,000 cc into a 5-gallon liner; filled with rice to the brim ours needs 2,088.

    Practice (no source) gives 1,500 to 2,000 for dense foods. The oxygen of 15 kg is 4 % above
    that, without any margin: a tenth of the food's volume stays as gas above it in our balance,
    and pressed quite flat it would be 1,720 cc. With a fifth for time in the open we recommend
    2,505 cc.
    """
    line = planned(replace(request("white_rice", "liner-457x711", 15_000.0)))
    assert line.count == 1
    assert line.oxygen_need_cc == pytest.approx(2000.0, rel=0.05)
    without_gas = line.oxygen_need_cc * (1.0 - line.residual_gas_cc / line.air_cc)
    assert 1500.0 < without_gas < 2000.0
    assert sum(line.absorbers_cc) >= 2505.0


def test_a_published_worked_example_of_a_quart() -> None:
    """The oxygen of a pouch is 20.95 % of settled volume, gas above and less its solids.

    750 g of rice at 0.821 and 1.461 g/cc: 913.4 + 91.3 − 513.3 = 491.4 cc of air at 21 °C, where
    a cc counts 298.15/294.15: 491.4 × 0.2095 × 1.0136 = 104.3 cc, worked by hand; the foil adds
    0.06.
    """
    line = planned(replace(request("white_rice", "flat-203x254", 25_000.0), fill_mass_g=750.0))
    assert line.air_cc == pytest.approx(491.4, abs=0.2)
    assert line.oxygen_need_cc == pytest.approx(104.4, abs=0.2)


def test_a_fill_that_was_asked_for_is_kept() -> None:
    """Half a kilo is put into a pouch that could take more."""
    line = planned(replace(request("white_rice", "flat-203x254", 5200.0), fill_mass_g=500.0))
    assert (line.count, line.fill_mass_g) == (11, 500.0)
    assert line.last_fill_mass_g == pytest.approx(200.0)


def test_a_fill_above_the_pouch_is_answered_with_what_fits() -> None:
    """What, figure and cure, in the person's own units."""
    asked = replace(request("white_rice", "flat-203x254", 5000.0), fill_mass_g=1200.0)
    found = unfit(asked)
    assert found.what == "More than the pouch holds."
    assert found.figure.replace("\u00a0", " ") == (
        "1.20 kg asked for; 770 g fit with room left to seal."
    )
    assert found.advice.replace("\u00a0", " ") == ("Fill at most 750 g, or choose a larger pouch.")
    us = plan_line(asked, CATALOG, Site(), units=System.US)
    assert isinstance(us, Unfit)
    assert "Fill at most 1 lb 11 oz" in us.advice.replace("\u00a0", " ")


def test_a_food_marked_never_is_planned_only_with_a_reason_and_without_absorbers() -> None:
    """Peanuts are refused, but not beyond appeal; with a reason they are planned without."""
    asked = request("peanuts", "zip-203x254", 2000.0)
    refused = unfit(asked)
    assert refused.by_reason
    line = planned(replace(asked, against_advice=" eaten within a month "))
    assert line.absorbers_cc == ()
    assert line.never == f"{refused.what} {refused.figure}"
    assert line.against_advice == "eaten within a month"
    assert refused.caution in line.warnings


def test_a_reason_does_not_help_food_that_was_measured_too_moist() -> None:
    """What can be dried first is dried first, whatever anybody says."""
    asked = replace(
        request("hard_wheat", "zip-203x254", 2000.0), moisture_percent=17.0, against_advice="haste"
    )
    assert not unfit(asked).by_reason


def test_a_persons_own_weighings_outweigh_the_geometry() -> None:
    """Four pouches weighed at 950 g let more in than the paper-bag formula."""
    asked = request("white_rice", "flat-203x254", 25_000.0)
    weighed = planned(replace(asked, weighed_g=(950.0,) * 4))
    assert weighed.count < planned(asked).count
    assert 900.0 <= weighed.fill_mass_g <= 950.0


def test_a_liner_says_which_pail_it_stands_in_and_that_it_is_heavy() -> None:
    """Fifteen kilos are above what most people lift alone."""
    line = planned(request("white_rice", "liner-457x711", 15_000.0))
    assert (line.liner, line.pail) == (True, "pail-19l")
    assert any("lift alone" in each for each in line.warnings)
    small = planned(
        replace(request("white_rice", "liner-457x711", 9000.0), pail=CATALOG.pails["pail-13l"])
    )
    assert small.pail == "pail-13l"
    assert small.capacity_l < line.capacity_l
    assert not any("lift alone" in each for each in small.warnings)


def test_a_liner_that_closes_over_no_pail_is_unfit() -> None:
    """With its size and the cure."""
    short = replace(LINER, height=replace(LINER.height, value=300.0))
    found = unfit(LineRequest(1, RICE, "", 5000.0, short))
    assert found.what == "No pail for this liner."
    pail = CATALOG.pails["pail-19l"]
    found = unfit(LineRequest(1, RICE, "", 5000.0, short, pail=pail))
    assert found.what == "This pouch leaves no room for food."


def in_film(pouch: Pouch, film: str) -> Pouch:
    """The same pouch of another film."""
    return replace(pouch, film=film)


def test_a_single_metallised_film_is_warned_of() -> None:
    """Absorbers cannot carry thirty years of a leaky film."""
    line = planned(LineRequest(1, RICE, "", 5000.0, in_film(QUART, "metallised")))
    assert line.years_to_one_percent is not None
    assert line.years_to_one_percent < 3.0
    assert any("foil laminate" in each for each in line.warnings)


def test_a_film_that_is_no_barrier_is_unfit() -> None:
    """More leaks into a polyethylene bag in a year than the pouch ever held."""
    found = unfit(LineRequest(1, RICE, "", 5000.0, in_film(QUART, "polyethylene")))
    assert found.what == "This film does not keep oxygen out."
    sugar = CATALOG.foods["granulated_sugar"]
    assert planned(LineRequest(1, sugar, "", 5000.0, in_film(QUART, "polyethylene")))


def test_only_the_absorbers_at_hand_are_planned_with() -> None:
    """A person who has 100s and 300s is given those."""
    found = plan_line(
        request("rolled_oats", "flat-254x356", 10_000.0), CATALOG, Site(), ratings_cc=(100, 300)
    )
    assert isinstance(found, PlannedLine)
    assert set(found.absorbers_cc) <= {100, 300}
    assert sum(found.absorbers_cc) >= found.recommended_cc


def test_a_shelf_without_dry_food_absorbers_is_said_so() -> None:
    """Moisture-activated ones lie idle in rice."""
    moist = {key: each for key, each in CATALOG.absorbers.items() if key == "moist-300"}
    bare = replace(CATALOG, absorbers=moist)
    found = plan_line(request("white_rice", "flat-203x254", 5000.0), bare, Site())
    assert isinstance(found, Unfit)
    assert found.what == "No absorber at hand works in dry food."


def test_life_is_capped_at_what_was_studied() -> None:
    """Wheat is listed at 32 years and shown as thirty."""
    line = planned(request("hard_wheat", "flat-203x254", 5000.0))
    assert (line.quality_years_low, line.quality_years_high) == (30.0, 30.0)
    assert line.years_to_one_percent is not None
    assert line.years_to_one_percent <= 100.0


def test_what_a_label_and_a_record_need_is_carried() -> None:
    """Allergens, dust and both cautions of the food come from the catalogue."""
    line = planned(request("nonfat_dry_milk", "zip-203x254", 5000.0))
    assert line.allergens == ("milk",)
    assert line.dusty
    assert line.zip
    assert "pack it last" in line.caution
    assert "Once open" in line.label_caution


def test_a_plan_keeps_the_good_lines_and_names_the_others() -> None:
    """Peanuts do not stop the rice."""
    peanuts = replace(request("peanuts", "flat-203x254", 2000.0), line=2)
    found = plan([request("white_rice", "flat-203x254", 25_000.0), peanuts], CATALOG, Site())
    assert [each.line for each in found.lines] == [1]
    assert [(each.line, each.food_name) for each in found.unfit] == [(2, "peanuts, shelled")]
    assert found.supplies.pouches[0].note == "34 and 4 spare"


def test_lots_are_frozen_apart_and_lines_of_one_lot_together() -> None:
    """Two lines of one lot of 7 kg fill one 5-gallon pail; two lots take one each."""
    pail = usual_pail(CATALOG)
    assert pail.key == "pail-19l"
    small = request("white_rice", "flat-203x254", 7000.0)
    assert freezer_pails([small, small], pail) == 1
    assert freezer_pails([small, replace(small, lot="lot 2")], pail) == 2
    assert freezer_pails([request("salt", "flat-203x254", 7000.0)], pail) == 0


def test_a_mass_that_makes_no_sense_is_refused() -> None:
    """With its symbol and its range."""
    with pytest.raises(OutOfRange, match="mass_g"):
        plan_line(request("white_rice", "flat-203x254", -1.0), CATALOG, Site())
