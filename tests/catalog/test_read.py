from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from packdesk.catalog import read
from packdesk.catalog.figures import Grade
from packdesk.catalog.read import Catalog, Fault, read_catalog
from packdesk.resources import ShippedFileMissing, shipped

SHIPPED, _ = read_catalog()

NEW_FOOD = """
[farro]
name = "farro, whole"
suitability = "suits"
suitability_reason = "dry and low in fat"
low_oxygen = "advised"
allergens = ["wheat"]
bulk_density = "6.8 lb/gal"
solid_density = "1.4 g/cc"
settling = "1.05"
moisture = "11 %"
fat = "2.5 %"
energy = "1420 kJ/100g"
quality_life = { value = 10, low = 5, high = 15, unit = "years" }
"""


def read_own(
    folder: Path, text: str | bytes, name: str = "foods.toml"
) -> tuple[Catalog, dict[str, str]]:
    """The catalogue with an own file of this text, and its faults by key."""
    raw = text if isinstance(text, bytes) else text.encode()
    (folder / name).write_bytes(raw)
    catalog, faults = read_catalog(folder)
    assert {fault.file for fault in faults} <= {folder / name}
    assert len({fault.key for fault in faults}) == len(faults)
    return catalog, {fault.key: fault.sentence for fault in faults}


def test_no_own_folder_is_no_fault(tmp_path: Path) -> None:
    """Somebody without files of their own gets the shipped catalogue."""
    assert read_catalog(tmp_path / "nowhere") == (SHIPPED, ())


def test_an_own_figure_replaces_the_shipped_one_and_says_so(tmp_path: Path) -> None:
    """An own entry with a known key changes only what it says, graded as the person's own."""
    catalog, faults = read_own(tmp_path, '[white_rice]\nbulk_density = "0.81 g/cc"\n')

    rice, shipped_rice = catalog.foods["white_rice"], SHIPPED.foods["white_rice"]
    assert faults == {}
    assert rice.bulk_density_g_per_cc == 0.81
    assert rice.bulk_density.grade is Grade.OWN
    assert rice.moisture == shipped_rice.moisture
    assert rice.name == shipped_rice.name


def test_a_new_own_food_is_added_in_the_units_of_its_owner(tmp_path: Path) -> None:
    """US units are turned into the units the program reckons in."""
    catalog, faults = read_own(tmp_path, NEW_FOOD)

    farro = catalog.foods["farro"]
    assert faults == {}
    assert farro.bulk_density_g_per_cc == pytest.approx(6.8 * 453.59237 / 3785.411784)
    assert farro.energy.value == pytest.approx(1420 / 4.184)
    assert farro.quality_years == (5, 15)
    assert (farro.bed_conductivity.low, farro.bed_conductivity.high) == (0.10, 0.16)
    assert [*catalog.foods][-1] == "farro"


def test_an_own_freezer_may_be_told_in_fahrenheit(tmp_path: Path) -> None:
    """A temperature is taken with its sign of degrees too."""
    catalog, faults = read_own(tmp_path, '[chest]\ntemperature = "0 °F"\n', "freezers.toml")

    assert faults == {}
    assert catalog.freezers["chest"].temperature_c == pytest.approx(-160 / 9)


def test_a_new_own_food_may_begin_like_a_known_one(tmp_path: Path) -> None:
    """With `like` a new entry takes from another what it does not say itself."""
    text = '[basmati]\nlike = "white_rice"\nname = "basmati rice"\nmoisture = "10 %"\n'
    catalog, faults = read_own(tmp_path, text)

    assert faults == {}
    assert catalog.foods["basmati"].moisture_percent == 10
    assert catalog.foods["basmati"].fat == catalog.foods["white_rice"].fat


def test_every_fault_of_a_file_is_told_at_once_and_the_shipped_entries_stand(
    tmp_path: Path,
) -> None:
    """Wrong unit, unknown food, missing field, duplicate and not UTF-8 are told together."""
    text = b"""
[white_rice]
bulk_density = "0.8 g/ccm"
mosture = "11 %"

[red_rice]
like = "white_rise"

[hard_weat]
fat = "2 %"

[lentils]
name = "lentils of the house"

[lentils]
fat = "1 %"

[salt]
name = "sel \xe9"

[macaroni]
fat = 2 %
"""
    catalog, faults = read_own(tmp_path, text)

    assert faults["white_rice.bulk_density"].startswith('has the unit "g/ccm"')
    assert 'did you mean "g/cc"?' in faults["white_rice.bulk_density"]
    assert 'did you mean "moisture"?' in faults["white_rice.mosture"]
    assert 'did you mean "white_rice"?' in faults["red_rice.like"]
    assert 'did you mean "hard_wheat"?' in faults["hard_weat"]
    assert faults["hard_weat.moisture"] == "is missing."
    assert "line 15" in faults["lentils"]
    assert faults["salt"] == "line 19 is not UTF-8 text; save the file again as UTF-8."
    assert faults["macaroni"].startswith("line 22, column 9 cannot be read")
    assert catalog.foods["lentils"].name == "lentils of the house"
    unhurt = [food for key, food in SHIPPED.foods.items() if key != "lentils"]
    assert [food for key, food in catalog.foods.items() if key != "lentils"] == unhurt


@pytest.mark.parametrize(
    ("line", "key", "said"),
    [
        ('fat = "-1 %"', "fat", "outside what can be: 0 to 100 %."),
        ('fat = "49,2 %"', "fat", 'says "49,2 %"; write a figure with its unit, such as "100 %".'),
        ("fat = 2", "fat", 'must have a unit: write it as text, such as "100 %".'),
        ('fat = { value = "2", unit = "%" }', "fat", "must be a number, not '2'."),
        ('fat = { value = nan, unit = "%" }', "fat", "must be a number, not nan."),
        (f"fat = {{ value = 1{'0' * 400}, unit = '%' }}", "fat", "must be a number"),
        ('fat = { unit = "%" }', "fat", "has no value."),
        ('fat = { value = 2, unit = "%", hihg = 3 }', "fat", 'did you mean "high"?'),
        ('fat = { value = 2, unit = "%", low = 3 }', "fat", "outside its own low 3 and high 2."),
        ('fat = { value = 2, unit = "%", low = 3, high = 5 }', "fat", "its own low 3 and high 5."),
        ('fat = { value = 2, unit = "%", high = 1 }', "fat", "outside its own low 2 and high 1."),
        ('fat = { value = 2, unit = "%", low = -1 }', "fat", "is -1 %, outside what can be"),
        ('fat = { value = 2, unit = "%", high = 120 }', "fat", "is 120 %, outside what can be"),
        ('quality_life = "0 years"', "quality_life", "outside what can be: 0.05 to 100 years."),
        ("fat = { value = 2, unit = 3 }", "fat", "must be text in quotes, not 3."),
        ('allergens = "wheat"', "allergens", "must be a list in square brackets."),
        ('allergens = ["weat"]', "allergens", 'did you mean "wheat"?'),
        ('low_oxygen = "advise"', "low_oxygen", 'did you mean "advised"?'),
        ("dusty = 1", "dusty", "must be true or false, not 1."),
        ("name = 5", "name", "must be text in quotes, not 5."),
        ('name = "two\\nlines"', "name", "must be one line of printable text."),
        ('name = " "', "name", "must not be empty."),
        ('like = ["salt"]', "like", "which is not known"),
        ('name = "lentils"', "name", "is already the name of lentils"),
    ],
)
def test_a_value_that_cannot_be_taken_is_named(
    tmp_path: Path, line: str, key: str, said: str
) -> None:
    """A wrong value is told with file and key, and the shipped entry stands."""
    catalog, faults = read_own(tmp_path, f"[white_rice]\n{line}\n")

    assert list(faults) == [f"white_rice.{key}"]
    assert said in faults[f"white_rice.{key}"]
    assert catalog == SHIPPED


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("foods.toml", '[salt]\nbulk_density = "2.1 g/cc"', "not below the density of its solids"),
        ("foods.toml", '[salt]\nmoisture = "60 %"\nfat = "60 %"', "more than 100 %"),
        ("foods.toml", '[peanuts]\nlow_oxygen = "advised"', 'low_oxygen must be "refused"'),
        ("foods.toml", '[peanuts]\nsuitability_reason = ""', "must say why"),
        ("films.toml", "[metallised]\niron_dots = 4", "1, 2 or 3"),
        ("pouches.toml", '[flat-203x254]\nkind = "gusseted"', "must give a gusset"),
        ("pouches.toml", '[flat-203x254]\nheadspace = "5 in"', "less than half its height"),
        ("pouches.toml", '[flat-203x254]\nwidth = "50 mm"\nseam = "25 mm"', "less than 10 mm"),
        (
            "pouches.toml",
            '[flat-203x254]\nkind = "gusseted"\ngusset = "185 mm"',
            "deeper than the height left",
        ),
        ("pails.toml", '[pail-19l]\nbottom_diameter = "290 mm"', "wider at its bottom"),
        ("absorbers.toml", "[self-300]\npacket_counts = []", "at least one packet count"),
        (
            "pails.toml",
            '[pail-19l]\nrim_gap = "11 cm"\ninner_height = "20 cm"\nnominal_volume = "12 L"',
            "rim_gap",
        ),
        ("pails.toml", '[pail-19l]\nnominal_volume = "5 L"', "holds 20.3 L by its measures"),
        ("pails.toml", '[pail-19l]\nnominal_volume = "40 L"', "holds 20.3 L by its measures"),
        ("label_stock.toml", "[a4-3x7-64x38]\ncolumns = 4", "page width of 268.8 mm"),
        ("label_stock.toml", '[a4-3x7-64x38]\nleft_margin = "15 mm"', "page width of 210.5 mm"),
        ("label_stock.toml", "[a4-3x7-64x38]\nrows = 0", "at least 1 column and 1 row"),
        ("label_stock.toml", '[a4-3x7-64x38]\nrow_pitch = "30 mm"', "every 30 mm although"),
        ("label_stock.toml", '[a4-3x7-64x38]\ncorner_radius = "20 mm"', "larger than half"),
        ("bibliography.toml", '[crc]\naddress = "https://example.org"', "it was not seen"),
    ],
)
def test_what_cannot_be_true_together_is_told(
    tmp_path: Path, name: str, text: str, said: str
) -> None:
    """Figures that contradict each other are told at their entry, and the shipped entry stands."""
    catalog, faults = read_own(tmp_path, text, name)

    assert len(faults) == 1
    assert said in next(iter(faults.values()))
    assert catalog == SHIPPED


def test_an_unknown_film_is_told(tmp_path: Path) -> None:
    """A pouch must be of a film that the catalogue knows."""
    text = '[flat-203x254]\nfilm = "foil_medum"\n'
    catalog, faults = read_own(tmp_path, text, "pouches.toml")

    assert 'did you mean "foil_medium"?' in faults["flat-203x254.film"]
    assert catalog == SHIPPED


def test_an_own_film_can_be_used_by_an_own_pouch(tmp_path: Path) -> None:
    """Own files may refer to each other."""
    (tmp_path / "films.toml").write_text('[mine]\nlike = "foil_thin"\nname = "my film"\n')
    catalog, faults = read_own(
        tmp_path,
        '[my-pouch]\nlike = "flat-203x254"\nname = "mine"\nfilm = "mine"\n',
        "pouches.toml",
    )

    assert faults == {}
    assert catalog.films[catalog.pouches["my-pouch"].film].name == "my film"


@pytest.mark.parametrize(
    ("origin", "said"),
    [
        ('source = "sr82", grade = "published"', 'has the source "sr82"'),
        ('source = "sr28", grade = "publishd"', 'has the grade "publishd"'),
        ('source = "crc", grade = "published"', "was not seen"),
        ('source = "sr28"', "has no grade."),
    ],
)
def test_a_doubtful_origin_is_told_but_the_figure_kept(
    tmp_path: Path, origin: str, said: str
) -> None:
    """A figure whose origin alone is wrong is kept as common practice without a source."""
    text = f'[salt]\nmoisture = {{ value = 0.1, unit = "%", {origin} }}\n'
    catalog, faults = read_own(tmp_path, text)

    moisture = catalog.foods["salt"].moisture
    assert list(faults) == ["salt.moisture"]
    assert said in faults["salt.moisture"]
    assert (moisture.value, moisture.source, moisture.grade) == (0.1, "", Grade.PRACTICE)


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        ("[salt]\nfat = 1\n".encode("utf-16"), "is not UTF-8 text; save it again as UTF-8."),
        (b"x = " + b"[" * 5000, "cannot be read"),
        (b"x = " + b"9" * 5000, "cannot be read"),
        (b'name = "x"\n', "stands outside any entry; put it under a [key]."),
        (b"[[salt]]\nfat = 1\n", "stands outside any entry; put it under a [key]."),
    ],
)
def test_a_file_that_is_no_catalogue_is_told(tmp_path: Path, raw: bytes, said: str) -> None:
    """A file in another encoding or shape is told, and the shipped catalogue stands."""
    catalog, faults = read_own(tmp_path, raw)

    assert said in next(iter(faults.values()))
    assert catalog == SHIPPED


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm(tmp_path: Path) -> None:
    """A file from an editor that marks UTF-8 and ends lines its own way is read."""
    catalog, faults = read_own(tmp_path, b'\xef\xbb\xbf[salt]\r\nname = "sel"\r\n')

    assert faults == {}
    assert catalog.foods["salt"].name == "sel"


def test_text_over_several_lines_may_look_like_an_entry(tmp_path: Path) -> None:
    """A file that is in order is not cut up at what looks like the head of an entry."""
    catalog, faults = read_own(tmp_path, '[salt]\nname = """\\\n[salt]\\\n"""\n')

    assert faults == {}
    assert catalog.foods["salt"].name == "[salt]"


def test_parts_of_an_entry_stay_together_when_another_is_broken(tmp_path: Path) -> None:
    """`[salt.fat]` continues `[salt]`, also in a file that must be read piece by piece."""
    text = '[salt]\nname = "sel"\n[salt.fat]\nvalue = 1\nunit = "%"\n[lentils]\nfat = \n'
    catalog, faults = read_own(tmp_path, text)

    assert list(faults) == ["lentils"]
    assert catalog.foods["salt"].fat_percent == 1


def test_a_folder_in_place_of_a_file_is_told(tmp_path: Path) -> None:
    """What cannot be opened is told, and the shipped catalogue stands."""
    (tmp_path / "foods.toml").mkdir()

    catalog, faults = read_catalog(tmp_path)

    assert [fault.key for fault in faults] == [""]
    assert "could not be read" in faults[0].sentence
    assert catalog == SHIPPED


@pytest.mark.parametrize("refusal", [PermissionError(13, "Permission denied"), OSError()])
def test_a_folder_that_cannot_be_looked_into_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, refusal: OSError
) -> None:
    """A folder the machine will not open is told, and the shipped catalogue stands."""

    def refuse(_: Path) -> None:
        raise refusal

    monkeypatch.setattr(Path, "iterdir", refuse)

    catalog, faults = read_catalog(tmp_path)

    assert [(fault.file, fault.key) for fault in faults] == [(tmp_path, "")]
    assert "could not be read: " in faults[0].sentence
    assert catalog == SHIPPED


def test_a_file_in_place_of_the_folder_is_told(tmp_path: Path) -> None:
    """What should be a folder and is none is told, and the shipped catalogue stands."""
    place = tmp_path / "catalog"
    place.write_text("[salt]\n")

    catalog, faults = read_catalog(place)

    assert [fault.file for fault in faults] == [place]
    assert catalog == SHIPPED


def test_a_link_that_leads_nowhere_is_told(tmp_path: Path) -> None:
    """An own file whose target is gone is told, not taken for none."""
    (tmp_path / "foods.toml").symlink_to(tmp_path / "gone.toml")

    catalog, faults = read_catalog(tmp_path)

    assert [fault.file.name for fault in faults] == ["foods.toml"]
    assert catalog == SHIPPED


def test_capitals_in_a_file_name_make_no_difference(tmp_path: Path) -> None:
    """Foods.TOML is read like foods.toml, as some systems keep names."""
    (tmp_path / "Foods.TOML").write_text('[salt]\nname = "sel"\n')

    catalog, faults = read_catalog(tmp_path)

    assert faults == ()
    assert catalog.foods["salt"].name == "sel"


def test_a_shipped_figure_cannot_be_somebodys_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The grade of own entries is for own files alone."""
    raw = shipped("catalog", "foods.toml").read_text(encoding="utf-8")
    file = tmp_path / "foods.toml"
    file.write_text(raw.replace('grade = "published"', 'grade = "own entry"', 1), encoding="utf-8")
    monkeypatch.setattr(
        read, "shipped", lambda *parts: file if parts[-1] == file.name else shipped(*parts)
    )

    catalog, faults = read_catalog()

    assert [fault.key for fault in faults] == ["white_rice.bulk_density"]
    assert "for a person's own files" in faults[0].sentence
    assert catalog.foods["white_rice"].bulk_density.grade is Grade.PRACTICE


def test_a_file_with_a_name_nobody_reads_is_told(tmp_path: Path) -> None:
    """A misspelt file name is told, with the nearest name."""
    (tmp_path / "food.toml").write_text("[salt]\n")

    assert str(read_catalog(tmp_path)[1][0]) == (
        'food.toml: is not a file of the catalogue; did you mean "foods.toml"?'
    )


def test_a_fault_says_file_key_and_sentence() -> None:
    """A fault reads as one line."""
    fault = Fault(Path("own") / "foods.toml", "salt.fat", "is missing.")

    assert str(fault) == "foods.toml, salt.fat: is missing."


def test_the_program_opens_without_its_own_files(monkeypatch: pytest.MonkeyPatch) -> None:
    """With every shipped file gone the catalogue is empty and each file is told."""

    def nowhere(*parts: str) -> Path:
        raise ShippedFileMissing("/".join(parts))

    monkeypatch.setattr(read, "shipped", nowhere)

    catalog, faults = read_catalog()

    assert not catalog.foods
    assert len(faults) == 9


def test_a_broken_bibliography_does_not_take_the_foods_along(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without its sources every shipped food is still there, and each figure is told."""
    broken = tmp_path / "bibliography.toml"
    broken.write_text("[")
    monkeypatch.setattr(
        read, "shipped", lambda *parts: broken if parts[-1] == broken.name else shipped(*parts)
    )

    catalog, faults = read_catalog()

    assert list(catalog.foods) == list(SHIPPED.foods)
    assert {figure.grade for _, figure in catalog.foods["lentils"].figures()} >= {Grade.PRACTICE}
    assert len(faults) > 100


@settings(
    max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(cut=st.integers(0, 12000), junk=st.binary(max_size=12))
def test_no_bytes_break_the_reader(tmp_path: Path, cut: int, junk: bytes) -> None:
    """Whatever becomes of an own file, every shipped food stays readable."""
    raw = shipped("catalog", "foods.toml").read_bytes()
    (tmp_path / "foods.toml").write_bytes(raw[:cut] + junk + raw[cut + 3 :])

    catalog, _ = read_catalog(tmp_path)

    assert set(catalog.foods) >= set(SHIPPED.foods)
