"""The table of insects and the cold that kills them."""

from __future__ import annotations

from pathlib import Path

import pytest

from packdesk.catalog.figures import Grade
from packdesk.catalog.pests import LifeStage, read_pests


def shipped_stages() -> dict[str, LifeStage]:
    """The shipped table by its keys."""
    return {each.key: each for each in read_pests()[0]}


def read_text(folder: Path, text: str) -> tuple[tuple[LifeStage, ...], list[str]]:
    """What a table of this text gives, its faults as the person reads them."""
    file = folder / "pests.toml"
    file.write_text(text, encoding="utf-8")
    stages, faults = read_pests(file)
    return stages, [str(fault) for fault in faults]


GOOD = """
[moth_egg]
insect = "moth"
stage = "egg"
figures = [[-20.0, 60.0], [-15.0, 90.0]]
unit = "min"
grade = "published"
source = "invented for this test"
"""


def test_shipped_table_has_no_fault() -> None:
    """Every entry of the shipped table is read, and nothing is wrong with any of them."""
    stages, faults = read_pests()

    assert faults == ()
    assert len(stages) == 16


def test_every_row_says_how_it_is_known() -> None:
    """What was read is graded published, what is remembered of Cotton's table is not."""
    stages = shipped_stages()

    assert {each.grade for each in stages.values()} == {Grade.PUBLISHED, Grade.MEMORY}
    from_memory = {key for key, each in stages.items() if each.grade is Grade.MEMORY}
    assert from_memory == {
        "rice_weevil", "granary_weevil", "sawtoothed_grain_beetle", "confused_flour_beetle",
        "red_flour_beetle", "indian_meal_moth", "mediterranean_flour_moth", "cowpea_weevil_egg",
    }  # fmt: skip
    assert all(each.source for each in stages.values())


def test_rows_that_measure_no_kill_say_why() -> None:
    """Half kills, schedules and insects of wool are shown, not dosed, and the note says why."""
    undosed = {key: each for key, each in shipped_stages().items() if not each.dosed}

    assert set(undosed) == {"cowpea_weevil_egg", "mediterranean_flour_moth_pupa", "dermestid_larva"}
    assert all(each.note for each in undosed.values())


def test_times_are_hours_whatever_unit_the_source_used() -> None:
    """Minutes, hours and days of the sources all come out as hours, coldest first."""
    stages = shipped_stages()

    # Figures of the sources named in the table.
    assert stages["adzuki_bean_weevil"].kill_hours == pytest.approx((20 / 60, 0.5, 0.75))
    assert stages["warehouse_moth_egg"].kill_hours == (1.0, 7.0)
    assert stages["warehouse_moth_diapausing_larva"].kill_hours == (24.0, 72.0, 528.0)
    assert stages["warehouse_moth_diapausing_larva"].temps_c == (-20.0, -15.0, -10.0)
    assert stages["drugstore_beetle"].name == "drugstore beetle, all stages"


def test_all_faults_of_a_file_are_told_at_once(tmp_path: Path) -> None:
    """A good entry is kept, and each fault of the others is named with its key and its cure."""
    bad = """
[beetle]
insect = "beetle"
stage = ""
figures = [[-15.0, 60.0], [-20.0, 90.0]]
unit = "minutes"
grade = "publishd"
sauce = "?"
dosed = "yes"
note = 3
attacks = "grain"
[weevil]
insect = "weevil"
stage = "adult"
figures = [[-20.0, 90.0], [-15.0, 60.0]]
unit = "h"
grade = "published"
source = "invented"
"""
    stages, faults = read_text(tmp_path, GOOD + bad)

    assert [each.key for each in stages] == ["moth_egg"]
    assert faults == [
        'pests.toml, beetle.sauce: is not a field of a life stage; did you mean "source"?',
        "pests.toml, beetle.stage: is missing or empty; write it as text.",
        "pests.toml, beetle.source: is missing or empty; write it as text.",
        'pests.toml, beetle.unit: says "minutes"; did you mean "min"?',
        'pests.toml, beetle.grade: says "publishd"; did you mean "published"?',
        "pests.toml, beetle.dosed: must be true or false.",
        "pests.toml, beetle.note: must be text.",
        'pests.toml, beetle.attacks: must be a list of words, such as ["grain"].',
        "pests.toml, beetle.figures: has -20 degC after -15 degC; write the coldest first.",
        "pests.toml, weevil.figures: kills sooner at -15 degC than at -20 degC; one is wrong.",
    ]


@pytest.mark.parametrize(
    ("figures", "sentence"),
    [
        ("[]", "must be pairs"),
        ("[[-20.0]]", "must be pairs"),
        ('[["cold", 1.0]]', "must be pairs"),
        ("[[20.0, 1.0]]", "has 20 degC; allowed is from -90 to 5 degC."),
        ("[[-20.0, 0.0]]", "has 0 as a time; it must be above 0."),
        ("[[nan, 1.0]]", "has nan degC"),
    ],
)
def test_figures_that_cannot_be_are_refused(tmp_path: Path, figures: str, sentence: str) -> None:
    """Pairs that are none, temperatures no freezer has and times of nothing are told in words."""
    stages, faults = read_text(tmp_path, GOOD.replace("[[-20.0, 60.0], [-15.0, 90.0]]", figures))

    assert stages == ()
    assert len(faults) == 1
    assert sentence in faults[0]
