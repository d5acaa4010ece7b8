from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import fields

import pytest

from packdesk.catalog.description import Description
from packdesk.catalog.figures import Figure, Grade
from packdesk.catalog.films import Driving
from packdesk.catalog.foods import (
    DEFAULT_BED_CONDUCTIVITY,
    DEFAULT_HEAT_CAPACITY,
    Food,
    LowOxygen,
    Suitability,
)
from packdesk.catalog.read import Catalog, read_catalog
from packdesk.physics.pouch import liner_capacity_l
from packdesk.resources import shipped
from packdesk.units import convert

ALLERGEN_LAWS = {"fda_faster", "eu_1169"}

COMPOSITION = {
    "white_rice": (11.62, 7.13, 0.66, 0.64, 79.95, 1.3),
    "hard_wheat": (13.1, 12.61, 1.54, 1.57, 71.18, 12.2),
    "brown_rice": (11.8, 7.54, 3.2, 1.21, 76.25, 3.6),
    "pinto_beans": (11.33, 21.42, 1.23, 3.46, 62.55, 15.5),
    "black_beans": (11.02, 21.6, 1.42, 3.6, 62.36, 15.5),
    "lentils": (8.26, 24.63, 1.06, 2.71, 63.35, 10.7),
    "split_peas": (8.62, 23.82, 1.16, 2.66, 63.74, 25.5),
    "white_flour": (11.92, 10.33, 0.98, 0.47, 76.31, 2.7),
    "nonfat_dry_milk": (3.16, 36.16, 0.77, 7.93, 51.98, 0.0),
    "peanuts": (6.5, 25.8, 49.24, 2.33, 16.13, 8.5),
    "rolled_oats": (10.84, 13.15, 6.52, 1.77, 67.7, 10.1),
    "macaroni": (9.9, 13.04, 1.51, 0.88, 74.67, 3.2),
}
"""Water, protein, fat, ash, carbohydrate and fibre in per cent: USDA Standard Reference,
abbreviated file (NDB 20044, 20072, 20036, 16042, 16014, 16069, 16085, 20081, 01091, 16087, 08120);
macaroni from memory of release 28."""

COUNTS = {
    "absorbers.toml": {"packet_counts"},
    "films.toml": {"iron_dots"},
    "label_stock.toml": {"columns", "rows"},
}
"""The fields of each file that hold bare numbers: counts, and nothing else."""


@pytest.fixture(scope="module")
def catalog() -> Catalog:
    """The shipped catalogue, which has no faults."""
    catalog, faults = read_catalog()
    assert faults == ()
    return catalog


def every_thing(catalog: Catalog) -> Iterator[tuple[str, Description]]:
    """Everything on the shelf with where it lies."""
    for kind in fields(catalog):
        shelf: Mapping[str, Description] = getattr(catalog, kind.name)
        yield from ((f"{kind.name}.{key}", thing) for key, thing in shelf.items())


def every_figure(catalog: Catalog) -> Iterator[tuple[str, Figure]]:
    """Every figure on the shelf with where it stands."""
    for where, thing in every_thing(catalog):
        yield from ((f"{where}.{name}", figure) for name, figure in thing.figures())


def test_every_figure_leads_to_a_source_or_admits_there_is_none(catalog: Catalog) -> None:
    """Every shipped figure names a bibliography entry that bears out its grade."""
    walked = 0
    for where, figure in every_figure(catalog):
        source = catalog.sources[figure.source]
        assert (figure.grade is Grade.PRACTICE) == (figure.source == "practice"), where
        assert figure.grade is not Grade.OWN, where
        assert source.seen or figure.grade is not Grade.PUBLISHED, where
        walked += 1
    assert walked > 400


def test_no_number_escapes_the_walk() -> None:
    """A bare number in any file is a known count, and the file tells where that is from."""
    for file in shipped("catalog").glob("*.toml"):
        text = file.read_text(encoding="utf-8")
        bare = set()
        for entry in tomllib.loads(text).values():
            for field, value in entry.items():
                if type(value) in (int, float) or (
                    isinstance(value, list)
                    and not all(isinstance(each, str | dict) for each in value)
                ):
                    bare.add(field)
            if bare and "source" not in entry:
                assert "common practice, no source" in text, file.name
        assert bare == COUNTS.get(file.name, set()), file.name


def test_every_source_is_leaned_on(catalog: Catalog) -> None:
    """The bibliography lists no work that nothing was taken from."""
    used = {figure.source for _, figure in every_figure(catalog)}

    assert set(catalog.sources) == used | ALLERGEN_LAWS


def test_every_citation_is_a_line_that_names_the_work(catalog: Catalog) -> None:
    """A source is cited on one line, and one that was read says where."""
    for source in catalog.sources.values():
        assert source.name in source.citation
        assert source.citation.endswith(".")
        assert not source.seen or source.address or source.place or source.author


def test_films_published_by_the_mil_are_reckoned_for_their_thickness(catalog: Catalog) -> None:
    """A transmission per mil and 100 square inches is that of the film's own thickness and area."""
    checked = 0
    for key, film in catalog.films.items():
        given = film.oxygen_transmission
        per_mil = re.fullmatch(r"(\d+) to (\d+) cc mil/\(100 in2 day atm\)", given.as_published)
        if per_mil:
            # 100 in² are 0.0645 m², a mil 25.4 µm; an atmosphere of oxygen drives it.
            least, most = (float(each) * 25.4 / 0.064516 for each in per_mil.groups())
            thick = film.thickness
            assert film.driving is Driving.PURE_OXYGEN, key
            assert given.value == pytest.approx((least + most) / 2 / thick.value, rel=0.02), key
            assert given.low == pytest.approx(least / thick.high, rel=0.02), key
            assert given.high == pytest.approx(most / thick.low, rel=0.02), key
            checked += 1
    assert checked == 2


def test_figures_repeat_what_their_source_says(catalog: Catalog) -> None:
    """A weight published per cup gives the density that pint, a reference library, makes of it."""
    checked = 0
    for where, figure in every_figure(catalog):
        published = re.fullmatch(r"([\d.]+) (g/cup|gal|min)", figure.as_published)
        if published:
            exact = convert(float(published[1]), published[2], figure.unit)
            assert figure.value == pytest.approx(exact, rel=1e-3), where
            checked += 1
    assert checked == 14 + 4 + 3


@pytest.mark.parametrize("key", COMPOSITION)
def test_computed_densities_follow_choi_and_okos(catalog: Catalog, key: str) -> None:
    """The density of a food's solids is that of its composition at 20 °C by Choi and Okos 1986."""
    water, protein, fat, ash, carbohydrate, fibre = COMPOSITION[key]
    shares_and_densities = (
        (water, 997.18 + 3.1439e-3 * 20 - 3.7574e-3 * 20**2),
        (protein, 1329.9 - 0.5184 * 20),
        (fat, 925.59 - 0.41757 * 20),
        (ash, 2423.8 - 0.28063 * 20),
        (carbohydrate - fibre, 1599.1 - 0.31046 * 20),
        (fibre, 1311.5 - 0.36589 * 20),
    )
    volume = sum(share / density for share, density in shares_and_densities)
    mass = sum(share for share, _ in shares_and_densities)

    assert catalog.foods[key].solid_density.source == "choi_okos"
    assert catalog.foods[key].solid_density_g_per_cc == pytest.approx(
        mass / volume / 1000, abs=0.001
    )


def test_moisture_and_fat_are_those_of_the_composition_table(catalog: Catalog) -> None:
    """Water and fat agree with Standard Reference for every food that was looked up."""
    for key, (water, _, fat, *_) in COMPOSITION.items():
        assert catalog.foods[key].moisture_percent == pytest.approx(water, abs=0.05)
        assert catalog.foods[key].fat_percent == pytest.approx(fat, abs=0.05)


@pytest.mark.parametrize("key", COMPOSITION)
def test_energy_is_that_of_the_composition(catalog: Catalog, key: str) -> None:
    """Food energy lies near 4, 9 and 4 kcal a gram of protein, fat and carbohydrate."""
    # Atwater's general factors; Standard Reference uses finer ones, up to 8 % apart.
    _, protein, fat, _, carbohydrate, _ = COMPOSITION[key]
    general = 4 * protein + 9 * fat + 4 * carbohydrate

    assert catalog.foods[key].energy.value == pytest.approx(general, rel=0.08)


def test_the_twelve_foods_suit_and_the_two_are_refused(catalog: Catalog) -> None:
    """Twelve foods suit long storage, brown rice is short-lived and peanuts are never stored."""
    suiting = [food.key for food in catalog.foods.values() if food.suitability == "suits"]
    refused = [food for food in catalog.foods.values() if food.low_oxygen is LowOxygen.REFUSED]

    assert len(suiting) == 12
    assert [food.key for food in refused] == ["brown_rice", "peanuts"]
    assert catalog.foods["brown_rice"].suitability is Suitability.SHORT_LIVED
    assert catalog.foods["peanuts"].suitability is Suitability.NEVER
    assert "food safety authority" in catalog.foods["peanuts"].caution


def test_a_label_caution_speaks_to_whoever_opens_the_pouch(catalog: Catalog) -> None:
    """What is printed for later readers is no order to the packer, and what they need is there."""
    said = {food.key: food.label_caution for food in catalog.foods.values() if food.label_caution}

    assert set(said) == {"rolled_oats", "white_flour", "nonfat_dry_milk"}
    for words in said.values():
        assert not re.search(r"\b(label|absorber|pack|lid)", words)
    assert "traces of wheat" in said["rolled_oats"]
    assert "cook or bake it" in said["white_flour"]


def test_sugar_and_salt_need_no_absorber(catalog: Catalog) -> None:
    """Absorbers are not asked for where they only cake the food."""
    without = [food.key for food in catalog.foods.values() if food.low_oxygen == "not_needed"]

    assert without == ["granulated_sugar", "salt"]


def test_powders_are_marked(catalog: Catalog) -> None:
    """Flour and dry milk are powders, over which no air is drawn off."""
    assert [f.key for f in catalog.foods.values() if f.dusty] == ["white_flour", "nonfat_dry_milk"]


def test_allergens_of_both_laws_are_told(catalog: Catalog) -> None:
    """Wheat is named by both laws, oats by European law alone."""
    oats, flour = catalog.foods["rolled_oats"], catalog.foods["white_flour"]

    assert (oats.allergens, flour.allergens) == (("oats",), ("wheat",))


def test_no_figure_of_an_unmeasured_food_is_invented(catalog: Catalog) -> None:
    """Where a food's bed was not measured the band of grain beds in general stands in."""
    beans: Food = catalog.foods["pinto_beans"]

    assert beans.bed_conductivity is DEFAULT_BED_CONDUCTIVITY
    assert beans.heat_capacity is DEFAULT_HEAT_CAPACITY
    assert (beans.heat_capacity.low, beans.heat_capacity.high) == (1550, 1950)


def test_pouches_are_named_by_their_geometry(catalog: Catalog) -> None:
    """The millimetres in a pouch's name and key are its width and height."""
    for key, pouch in catalog.pouches.items():
        size = f"{pouch.width_mm:.0f} × {pouch.height_mm:.0f} mm"
        assert pouch.name.endswith(size)
        assert key.endswith(f"-{pouch.width_mm:.0f}x{pouch.height_mm:.0f}")
        assert catalog.films[pouch.film].lasting_barrier


def test_both_rooms_agree_on_what_a_pail_holds(catalog: Catalog) -> None:
    """The catalogue's volume of a pail is what the physics lets a liner with room to spare take."""
    for pail in catalog.pails.values():
        below_lid = liner_capacity_l(
            900.0, 1500.0, 10.0, 50.0,
            pail_top_diameter_mm=pail.top_diameter_mm,
            pail_bottom_diameter_mm=pail.bottom_diameter_mm,
            pail_height_mm=pail.inner_height_mm,
            lid_gap_mm=pail.rim_gap.value,
        )  # fmt: skip
        assert pail.usable_volume_l == pytest.approx(below_lid, rel=1e-9)


def test_label_stock_is_named_by_its_geometry(catalog: Catalog) -> None:
    """Page, columns, rows and label size in a sheet's name are those of its geometry."""
    pages = {"A4": (210.0, 297.0), "US Letter": (215.9, 279.4)}
    for stock in catalog.label_stocks.values():
        page, grid, size = stock.name.split(", ")
        assert stock.page_size_mm == pages[page]
        assert grid == f"{stock.columns} × {stock.rows}"
        width, height = size.removesuffix(" mm").split(" × ")
        assert stock.label_width_mm == pytest.approx(float(width), abs=0.05)
        assert stock.label_height_mm == pytest.approx(float(height), abs=0.05)


def test_absorbers_are_named_by_their_rating(catalog: Catalog) -> None:
    """The cc in an absorber's name are its rating, and each warns that it is not food."""
    for absorber in catalog.absorbers.values():
        assert absorber.name.startswith(f"{absorber.rating_cc:.0f} cc absorber")
        assert "Not food" in absorber.caution


def test_names_on_one_shelf_differ(catalog: Catalog) -> None:
    """No two things of one kind have the same name."""
    for kind in fields(catalog):
        names = [thing.name for thing in getattr(catalog, kind.name).values()]
        assert len(names) == len(set(names))


def test_reading_the_shipped_catalogue_leaves_pint_alone() -> None:
    """Shipped files are in base units, so that reading them at the start stays quick."""
    program = (
        "import sys; from packdesk.catalog.read import read_catalog;"
        "read_catalog(); sys.exit('pint' in sys.modules)"
    )

    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
