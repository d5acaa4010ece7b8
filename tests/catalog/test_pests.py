"""The table of insects and the cold that kills them."""

from __future__ import annotations

from pathlib import Path

import pytest

from packdesk.catalog.figures import Grade
from packdesk.catalog.pests import LifeStage
from packdesk.catalog.read import read_catalog
from packdesk.physics.cold_kill import KillTimes

SHIPPED = read_catalog()[0].life_stages

MOTH_EGG = """
[moth_egg]
name = "moth, egg"
attacks = ["grain"]
temperatures = ["-20 degC", "5 degF"]
kill_times = ["60 min", "1.5 h"]
"""


def read_own(folder: Path, text: str) -> tuple[LifeStage | None, list[str]]:
    """The moth's egg of a person's own table of this text, and the faults as they are told."""
    (folder / "pests.toml").write_text(text, encoding="utf-8")
    catalog, faults = read_catalog(folder)
    return catalog.life_stages.get("moth_egg"), [str(fault) for fault in faults]


def test_every_row_says_how_it_is_known() -> None:
    """What was read is graded published, what is remembered of Cotton's table is not."""
    from_memory = {key for key, each in SHIPPED.items() if each.grade is Grade.MEMORY}

    assert {each.grade for each in SHIPPED.values()} == {Grade.PUBLISHED, Grade.MEMORY}
    assert from_memory == {
        "rice_weevil", "granary_weevil", "sawtoothed_grain_beetle", "confused_flour_beetle",
        "red_flour_beetle", "indian_meal_moth", "mediterranean_flour_moth", "cowpea_weevil_egg",
    }  # fmt: skip
    assert len(SHIPPED) == 17


def test_grade_and_source_reach_the_physics_of_the_cold_dose() -> None:
    """A row of the catalogue is what the cold dose asks for, its grade and source among it."""
    row: KillTimes = SHIPPED["warehouse_moth_diapausing_larva"]

    assert (row.grade, row.source) == ("published", "collins_conyers_cardwell")
    assert (row.temps_c, row.kill_hours) == ((-20.0, -15.0, -10.0), (24.0, 72.0, 528.0))


def test_rows_that_measure_no_kill_say_why() -> None:
    """Half kills, advice for bins and insects of wool are shown, not dosed; the note says why."""
    undosed = {key: each for key, each in SHIPPED.items() if not each.dosed}

    assert set(undosed) == {
        "cowpea_weevil_egg", "mediterranean_flour_moth_pupa", "dermestid_larva",
        "rusty_grain_beetle",
    }  # fmt: skip
    assert all(each.note for each in undosed.values())


def test_times_are_those_of_the_sources() -> None:
    """Minutes, days and weeks of the sources all come out as hours, coldest first."""
    # Aker and Tuncer; Collins, Conyers and Cardwell; the Canadian Grain Commission; Cotton.
    assert SHIPPED["adzuki_bean_weevil"].kill_hours == pytest.approx((20 / 60, 0.5, 0.75), rel=1e-3)
    assert SHIPPED["warehouse_moth_egg"].kill_hours == (1.0, 7.0)
    weeks = [hours / 168.0 for hours in SHIPPED["rusty_grain_beetle"].kill_hours]
    assert weeks == [1.0, 4.0, 8.0, 12.0]
    days = [hours / 24.0 for hours in SHIPPED["indian_meal_moth"].kill_hours]
    assert days == [1.0, 3.0, 5.0, 8.0]


def test_own_rows_may_use_other_units(tmp_path: Path) -> None:
    """Minutes and degrees Fahrenheit of a person's own table are understood."""
    egg, faults = read_own(tmp_path, MOTH_EGG)

    assert faults == []
    assert egg is not None
    assert egg.kill_hours == pytest.approx((1.0, 1.5))
    assert egg.temps_c == pytest.approx((-20.0, -15.0))
    assert egg.grade is Grade.OWN


@pytest.mark.parametrize(
    ("good", "bad", "sentence"),
    [
        ('"-20 degC"', '"20 degC"', "temperatures: is 20 degC, outside what can be"),
        ('"-20 degC"', '"-10 degC"', "has -15 degC after -10 degC; write the coldest first."),
        ('"60 min"', '"0 min"', "kill_times: is 0 h, outside what can be"),
        ('"60 min"', '"2 h"', "kills sooner, in 1.5 h, where it is warmer than in 2 h"),
        ('"60 min", ', "", "must give one of kill_times for each of temperatures"),
        ('["60 min", "1.5 h"]', '"1 h"', "kill_times: must be a list in square brackets."),
        ('"60 min"', "60", "kill_times: must have a unit"),
        ("attacks", "dosed = false\nattacks", "is not dosed; its note must say why."),
    ],
)
def test_rows_that_cannot_be_are_refused_in_words(
    tmp_path: Path, good: str, bad: str, sentence: str
) -> None:
    """Temperatures out of order, times of nothing, lists of unlike length are told, not taken."""
    egg, faults = read_own(tmp_path, MOTH_EGG.replace(good, bad))

    assert egg is None
    assert any(sentence in fault for fault in faults)
