"""The freezer's calendar in words, and the entries a person's own calendar takes from it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import msgspec
import pytest

from packdesk.catalog.read import read_catalog
from packdesk.instants import Reading
from packdesk.present.calendar_entries import calendar_entries
from packdesk.present.freezer_plan import (
    BY_PLAIN_RULE,
    FreezerPlan,
    Waiting,
    freezer_plan,
    session_freezer_plan,
    waiting_lots,
)
from packdesk.present.known_freezers import KnownFreezer, known_freezers
from packdesk.session.state import FreezerReading
from packdesk.session.terms import ColdRule
from tests.script import tell

CATALOG = read_catalog()[0]
NOW = Reading(datetime(2026, 10, 15, 8, 0, tzinfo=UTC), 120, 0.0, "")
SATURDAY = datetime(2026, 10, 24, 7, 0, tzinfo=UTC)
MONDAY = datetime(2026, 10, 26, 8, 0, tzinfo=UTC)


def berlin(at: datetime) -> int:
    """Central Europe's offset: two hours before 25 October 2026 01:00 UTC, one after."""
    return 120 if at < datetime(2026, 10, 25, 1, 0, tzinfo=UTC) else 60


def plan(pack_at: datetime = SATURDAY, mass_g: float = 10_000.0, **how: object) -> FreezerPlan:
    """Wheat, and sugar that needs no cold."""
    waiting = (Waiting("w", "hard_wheat", mass_g), Waiting("s", "white_sugar", 5000.0))
    return freezer_plan(waiting, pack_at, CATALOG, NOW, **how)


def test_says_when_to_begin_and_what_goes_in_when() -> None:
    """The sentence has the packing time and the latest beginning; each row its three times."""
    found = plan()

    assert found.sentence.startswith("To pack on Saturday 24 October at 09:00, begin the cold by ")
    assert found.cure == ""
    (row,) = found.rows
    assert row.load.startswith("Hard wheat, 10")
    assert row.lid_off == "Sat 24 Oct, 09:00"
    assert found.plan is not None
    assert found.sentence.endswith(f"{row.in_by}.")


def test_says_the_room_it_takes_and_what_becomes_of_frozen_food() -> None:
    """Two notes: how many pails stand in it at once, and how warm the frozen food gets."""
    room, frozen = plan(mass_g=60_000.0).notes

    assert "pails" in room
    assert "high with the lid" in room
    assert "a day apart" in frozen


def test_too_late_is_said_with_the_next_time_that_can_be() -> None:
    """A packing day two days ahead cannot be; the cure names a later day, by the full hour."""
    found = plan(pack_at=NOW.utc + timedelta(days=2))

    assert found.sentence.startswith("Too late to pack on Saturday 17 October at 10:00")
    assert found.cure.startswith("If the first load goes in now, pack on ")
    assert ":00 or later." in found.cure
    assert found.plan is not None
    assert found.plan.feasible(NOW.utc), "the table tells days that are still to come"
    assert min(each.calendar.load_by for each in found.plan.loads) - NOW.utc < timedelta(hours=2)


def test_the_week_in_which_the_clocks_change_is_told_by_each_day() -> None:
    """Packing on Monday at nine winter time; the days before are told in summer time."""
    found = plan(pack_at=MONDAY, offset_min_at=berlin)

    assert "Monday 26 October at 09:00" in found.sentence
    assert found.plan is not None
    first = found.plan.begin_by + timedelta(hours=2)
    assert f"{first:%H:%M}" in found.sentence


def test_speaks_the_units_of_the_session() -> None:
    """In US units masses are pounds and temperatures °F."""
    said = " ".join(plan(units="us").words)
    assert "lb" in said
    assert "°C" not in said


def test_what_needs_no_cold_is_no_load() -> None:
    """Sugar alone has no calendar."""
    assert freezer_plan([Waiting("s", "white_sugar", 5000.0)], SATURDAY, CATALOG, NOW).words == ()


def test_without_a_packing_day_nothing_is_said() -> None:
    """A plan with its day open has no calendar."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg")
    found = session_freezer_plan(told.session, told.book, CATALOG, told.desk.now())

    assert found == FreezerPlan()
    assert [each.mass_g for each in waiting_lots(told.session, told.book)] == [8000.0]


def test_the_plan_rests_on_the_freezers_on_record() -> None:
    """A freezer said to be colder and stronger than a usual one lets the rest go in later."""
    known = KnownFreezer(1, -27.0, 300.0, 0.0, 400.0)
    usual, found = plan(), plan(known=(known,))
    assert usual.plan is not None
    assert found.plan is not None
    assert found.plan.begin_by > usual.plan.begin_by + timedelta(hours=6)
    assert "400\N{NO-BREAK SPACE}mm" not in found.notes[0]
    low = plan(known=(replace(known, height_mm=300.0),))
    assert "clear height of 300\N{NO-BREAK SPACE}mm" in low.notes[0]

    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat")
    letter, load = next(iter(told.session.loads.items()))
    figures = msgspec.structs.replace(load.figures, freezer=2, spare_power_w=150.0)
    session = replace(told.session, loads={letter: replace(load, figures=figures)})
    (on_record,) = known_freezers(session)
    assert (on_record.number, on_record.spare_power_w) == (2, 150.0)
    assert on_record.rest_temp_c == figures.freezer_temp_c
    read = FreezerReading(told.desk.now().utc, -22.5, 2)
    (later,) = known_freezers(replace(session, freezer_readings=(read,)))
    assert later.rest_temp_c == -22.5


def test_of_two_freezers_the_plan_says_which() -> None:
    """Where one of those known does not get cold enough, each row names the other one."""
    warm, cold = KnownFreezer(1, -14.0, 60.0, 5.0, None), KnownFreezer(2, -20.0, 60.0, 5.0, None)

    (row,) = plan(known=(warm, cold)).rows
    assert row.load.endswith(", freezer 2")
    (alone,) = plan(known=(replace(cold, number=1),)).rows
    assert "freezer" not in alone.load


def test_where_the_dose_governs_the_plan_says_that_it_goes_by_the_plain_rule() -> None:
    """What is still outside is planned by 72 h at the core whichever rule was chosen."""
    told = tell("receive hard_wheat 8 kg; agree hard_wheat 8 x 1 kg")
    agreed = told.session.plan
    assert agreed is not None
    later = told.desk.now().utc + timedelta(days=12)
    session = replace(told.session, plan=replace(agreed, pack_at=later))
    now = told.desk.now()
    plain = session_freezer_plan(session, told.book, CATALOG, now)
    dose = session_freezer_plan(replace(session, cold_rule=ColdRule.DOSE), told.book, CATALOG, now)

    assert "plain rule" not in plain.sentence
    assert dose.sentence == f"{plain.sentence} {BY_PLAIN_RULE}"
    assert dose.rows == plain.rows


def test_no_plan_under_the_dose_is_a_plan_missed_by_the_plain_rule() -> None:
    """A freezer too warm for the plain rule alone is not told as if the dose went by it."""
    told = tell("receive hard_wheat 40 kg; agree hard_wheat 30 x 1 kg; cold rule dose")
    told.do("freeze hard_wheat; freezer -14 C, confirmed")
    agreed = told.session.plan
    assert agreed is not None
    now = told.desk.now()
    session = replace(told.session, plan=replace(agreed, pack_at=now.utc + timedelta(days=12)))

    found = session_freezer_plan(session, told.book, CATALOG, now)

    assert found.plan is None
    assert "is not reached in a freezer at" in found.sentence
    assert found.sentence.endswith(BY_PLAIN_RULE)


def test_what_went_in_does_not_wait() -> None:
    """A lot in the freezer, or one that needs no cold, is not outside any more."""
    for act in ("freeze wheat", "bypass wheat"):
        told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg")
        assert len(waiting_lots(told.session, told.book)) == 1
        told.do(act)
        assert waiting_lots(told.session, told.book) == ()


def test_a_load_keeps_its_entry_from_the_plan_into_the_freezer() -> None:
    """Out of the freezer is the same entry, first as planned, then by the load's own clock."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg")
    waiting = tuple(
        Waiting(each.lot, "hard_wheat", each.mass_g)
        for each in waiting_lots(told.session, told.book)
    )
    now = told.desk.now()
    before = calendar_entries(
        told.session, now, freezer_plan(waiting, now.utc + timedelta(days=9), CATALOG, now)
    )
    assert [entry.summary.partition(":")[0] for entry in before] == [
        "Into the freezer by now", "Out of the freezer, lid on", "Lid off",
    ]  # fmt: skip
    told.do("freeze wheat")
    (after,) = calendar_entries(told.session, told.desk.now(), FreezerPlan())

    assert after.uid == before[1].uid
    done = told.session.loads["A"].forecast.hold_done
    assert done is not None
    assert after.start == pytest.approx(done.likely, abs=timedelta(minutes=1))


def test_seal_checks_and_lids_are_entries_too() -> None:
    """A warming load has its lid time; sealed pouches their next look."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +120 h; out A 21 C 50 %")
    (lid,) = calendar_entries(told.session, told.desk.now(), FreezerPlan())
    assert lid.summary.startswith("Lid off: load A")
    assert "Wipe lid and rim dry" in lid.description


def test_entries_have_each_their_own_identity() -> None:
    """No two entries of a session share a uid, and the same ones come again."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat")
    first, again = (calendar_entries(told.session, told.desk.now(), plan()) for _ in range(2))
    assert first == again
    assert len({entry.uid for entry in first}) == len(first)
