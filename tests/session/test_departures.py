"""What was done against advice stays with the pouch, for its label, its row and the record."""

from __future__ import annotations

from dataclasses import replace

import pytest

from packdesk.session import facts as f
from packdesk.session.departures import departures
from packdesk.session.terms import ColdRule
from tests.script import Script, tell

NEVER = (
    "receive nuts 2 kg; bypass nuts: roasted; agree nuts 2 x 1 kg, never because eaten by spring;"
    "fill 2; shut 1-2"
)


def of(told: Script, number: int) -> list[str]:
    """The departures of one pouch, in words."""
    pouch = told.session.pouches[number]
    assert told.session.plan is not None
    line = told.session.plan.line(pouch.line)
    assert line is not None
    return [each.words for each in departures(told.session, line, pouch)]


def test_sealing_a_food_marked_never_carries_its_own_reason() -> None:
    """The reason typed at the iron goes on record and stays with the pouch."""
    told = tell(f"{NEVER}; seal 1 because a gift")

    fact = told.last(f.PouchesSealed).fact
    assert isinstance(fact, f.PouchesSealed)
    assert fact.against_advice == "a gift"
    assert of(told, 1) == [
        "no cold treatment: roasted",
        "sealed against advice (Too oily to seal.): a gift",
    ]


def test_a_second_seam_needs_no_second_reason() -> None:
    """Once the first seam is made, the pouch is sealed; another seam changes nothing about it."""
    told = tell(f"{NEVER}; seal 1, one seam because a gift; seal 1")

    assert told.session.pouches[1].seams == 2
    assert told.session.pouches[1].against_advice == "a gift"


def test_early_steps_concern_only_pouches_of_that_load() -> None:
    """Of two loads the one that came out early and was opened cold marks its own pouches."""
    told = tell(
        "receive wheat 2 kg; agree wheat 2 x 1 kg; freeze wheat 1 kg; freeze wheat 1 kg; +6 h;"
        "out A 21 C 50 %: no room left; open A: in haste; fill 1; +120 h; out B 21 C 50 %; +60 h;"
        "open B; fill 1 from B"
    )

    early, cold = of(told, 1)
    assert early.startswith("load A: cold ended early, held 0 h of 72 h: no room left")
    assert cold == "load A: opened too cold: in haste"
    assert of(told, 2) == []


def test_where_no_load_is_known_all_of_the_lot_are_meant() -> None:
    """A pouch that may have come from the load that came out early says so."""
    told = tell(
        "receive wheat 2 kg; agree wheat 2 x 1 kg; freeze wheat 1 kg; freeze wheat 1 kg; +6 h;"
        "out A 21 C 50 %: no room left; +114 h; out B 21 C 50 %; +60 h; open A; open B; fill 1"
    )

    assert len(of(told, 1)) == 1


EARLY = (
    "receive wheat 2 kg; agree wheat 2 x 1 kg; freeze wheat 2 kg; +20 h;"
    "out A 21 C 50 %: no room left; +60 h; open A; fill 1"
)


@pytest.mark.parametrize(
    ("dose", "held_h", "words"),
    [
        (0.966, 80.0, ["load A: cold ended early, 96 % of the dose for adult: no room left"]),
        (0.63, 0.0, ["load A: cold ended early, 63 % of the dose for adult: no room left"]),
        (1.0, 40.0, []),
    ],
)
def test_under_the_dose_the_dose_decides_whether_the_cold_was_short(
    dose: float, held_h: float, words: list[str]
) -> None:
    """With the dose chosen, hours held neither make the cold complete nor short."""
    told = tell(EARLY)
    load = replace(
        told.session.loads["A"], rule=ColdRule.DOSE, dose=dose, dose_stage="adult", held_h=held_h
    )
    session = replace(told.session, loads={"A": load})
    assert session.plan is not None

    found = departures(session, session.plan.lines[0], session.pouches[1])

    assert [each.words for each in found] == words
    assert [each.code for each in found] == [f"COLD SHORT {int(dose * 100)} %"] * len(words)


def test_food_without_cold_says_so_in_tables_and_not_in_the_code() -> None:
    """Whoever reads the table learns that a lot was not frozen, and why."""
    told = tell("receive wheat 2 kg; bypass wheat: milled hot; agree wheat 2 x 1 kg; fill 1")

    assert told.session.plan is not None
    (found,) = departures(told.session, told.session.plan.lines[0], told.session.pouches[1])

    assert (found.words, found.code) == ("no cold treatment: milled hot", "")
