"""The run on paper, in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import msgspec
import pytest

from packdesk.catalog.read import read_catalog
from packdesk.present.freezer_plan import FREEZER_HEADER
from packdesk.present.papers import RunPart, RunSheet
from packdesk.present.run_sheet import run_sheet
from tests.script import Script, tell

CATALOG = read_catalog()[0]
PLANNED = "receive wheat 8 kg; agree wheat 8 x 1 kg, last 0.9 kg"


def _sheet(told: Script) -> RunSheet:
    return run_sheet(told.session, told.desk.now(), CATALOG)


def _part(sheet: RunSheet, title: str) -> RunPart:
    return next(part for part in sheet.parts if part.title == title)


def test_the_stages_stand_in_the_order_of_the_work() -> None:
    """From the freezer to the last look at the seams, and room for notes."""
    assert [part.title for part in _sheet(tell(PLANNED)).parts] == [
        "Cold treatment", "Thaw equilibration", "Filling", "Absorbers", "Sealing", "Labels",
        "Pails", "Seal checks", "Notes",
    ]  # fmt: skip


def test_with_a_packing_day_the_sheet_says_by_when_each_load_goes_in() -> None:
    """The latest times stand over the rows to write in; a load that is in has none any more."""
    told = tell(PLANNED)
    plan = told.session.plan
    assert plan is not None
    lines = tuple(msgspec.structs.replace(line, food="hard_wheat") for line in plan.lines)
    pack_at = told.desk.now().utc + timedelta(days=10)
    session = replace(told.session, plan=replace(plan, lines=lines, pack_at=pack_at))
    part = _part(run_sheet(session, told.desk.now(), CATALOG), "Cold treatment")

    assert any(said.startswith("To pack on ") for said in part.sentences)
    assert part.tables[0].header == FREEZER_HEADER
    assert len(part.tables[0].rows) == 1

    told.do("freeze wheat")
    frozen = replace(session, loads=told.session.loads)
    part = _part(run_sheet(frozen, told.desk.now(), CATALOG), "Cold treatment")
    assert part.tables[0].header != FREEZER_HEADER


def test_a_lot_not_yet_frozen_has_a_row_to_write_in() -> None:
    """A planned load shows food and mass; times and temperatures are left to be written."""
    loads, readings = _part(_sheet(tell(PLANNED)), "Cold treatment").tables

    (row,) = loads.rows
    assert row[1].startswith("Wheat, ")
    assert row[2].replace("\u00a0", " ") == "7.90 kg"
    assert (row[0], *row[3:]) == ("", "", "", "")
    assert all(cell == "" for row in readings.rows for cell in row)


def test_what_the_record_knows_is_printed() -> None:
    """A load already in the freezer is there with its letter, its time and what was read."""
    told = tell(f"{PLANNED}; freeze wheat")

    (row,) = _part(_sheet(told), "Cold treatment").tables[0].rows

    assert row[0] == "A"
    assert row[3]
    assert row[4].replace("\u00a0", " ") == "−18 °C"
    assert row[5] == ""


def test_what_the_packer_has_to_mind_stands_at_the_filling() -> None:
    """A food's caution for the packer is read where its pouches are filled."""
    told = tell(PLANNED)
    plan = told.session.plan
    assert plan is not None
    minded = msgspec.structs.replace(plan.lines[0], caution="Pack it last.", label_caution="")
    session = replace(told.session, plan=replace(plan, lines=(minded,)))

    (step,) = _part(run_sheet(session, told.desk.now(), CATALOG), "Filling").steps

    assert step.words.endswith("Pack it last.")


def test_a_lot_that_needs_no_cold_has_no_row() -> None:
    """A lot that went around the freezer takes no part in cold treatment and thaw."""
    told = tell("receive wheat 8 kg; bypass wheat; agree wheat 8 x 1 kg")

    assert [part.title for part in _sheet(told).parts][:2] == ["Filling", "Absorbers"]


def test_every_load_still_shut_has_a_line_to_write_when_it_was_opened() -> None:
    """A load in the freezer by its letter, a planned one with room for it, an open one no more."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat 4 kg; freeze wheat 4 kg")

    def lines() -> list[tuple[str, list[str]]]:
        steps = _part(_sheet(told), "Thaw equilibration").steps[1:]
        return [(step.words.split(":")[0], [blank.label for blank in step.blanks])
                for step in steps]  # fmt: skip

    assert lines() == [("Load A", ["opened at"]), ("Load B", ["opened at"])]
    told.do("+120 h; out A 21 C 50 %; +60 h; open A")
    assert lines() == [("Load B", ["opened at"])]
    planned = _part(_sheet(tell(PLANNED)), "Thaw equilibration").steps[1:]
    assert [[blank.label for blank in step.blanks] for step in planned] == [["load", "opened at"]]


def test_filling_says_pouch_mass_and_lot_and_leaves_room_for_times() -> None:
    """Each plan line is a box to check with its masses, and lines for begun, done and filled."""
    (step,) = _part(_sheet(tell(PLANNED)), "Filling").steps

    words = step.words.replace("\u00a0", " ")
    assert "8 × wheat into quart pouch: 1.00 kg each, the last to 900 g.".lower() in words.lower()
    assert [blank.label for blank in step.blanks] == ["begun", "done", "filled"]


def test_numbered_pouches_have_a_place_for_each_mass() -> None:
    """In numbered working every number still to be filled stands beside an empty cell, once."""
    told = tell("receive wheat 8 kg; bypass wheat; agree wheat 8 x 1 kg, numbered; fill 3 at 999 g")

    (table,) = _part(_sheet(told), "Filling").tables

    names = [cell for row in table.rows for cell in row if cell]
    assert sorted(names) == [f"K7M2-{number:03d}" for number in range(4, 9)]
    assert all(len(row) == len(table.header) for row in table.rows)


def test_counted_working_has_no_list_of_numbers() -> None:
    """Pouches that are alike are not told apart on paper either."""
    assert _part(_sheet(tell(PLANNED)), "Filling").tables == ()


def test_the_limit_on_open_absorbers_stands_above_their_table() -> None:
    """How long a packet may lie open is read before it is opened."""
    part = _part(_sheet(tell(PLANNED)), "Absorbers")

    assert "200 cc: at most 20 min" in part.sentences[0]
    assert part.tables[0].header[1:7] == (
        "Bag", "Indicator", "Absorbers", "Opened", "First in", "Last in",
    )  # fmt: skip


def test_a_plan_without_absorbers_has_no_such_part() -> None:
    """Salt and sugar need none, and none is asked for."""
    told = tell("receive salt 8 kg; agree salt 8 x 1 kg, no absorber")

    assert "Absorbers" not in [part.title for part in _sheet(told).parts]


def test_dangers_are_told_before_the_work() -> None:
    """Botulism, burns, absorbers, children and lifting stand at the top."""
    said = " ".join(_sheet(tell(PLANNED)).cautions)

    for words in ("botulism", "iron burns", "Absorbers are not food", "children", "with two"):
        assert words in said


def test_without_a_plan_there_is_no_sheet() -> None:
    """The sheet follows the plan, and says so where there is none."""
    with pytest.raises(ValueError, match="no plan yet"):
        _sheet(tell())
