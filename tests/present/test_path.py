"""The path of a session: where the work is, and how far each stage has come, in words."""

from __future__ import annotations

import pytest

from packdesk.present.cards import Mark
from packdesk.present.path import lots_without_cold, next_clock, stage_rows, where_now
from packdesk.session.book_state import BookState
from packdesk.session.terms import Stage
from tests.script import SEALED, SHUT, TREATED, Script, tell


def words(told: Script, stage: Stage) -> str:
    """What the row of a stage says."""
    rows = stage_rows(told.book, told.desk.state.session, told.desk.now())
    return next(row.progress for row in rows if row.stage is stage)


def marks(told: Script) -> list[Mark]:
    """The knots of the path."""
    rows = stage_rows(told.book, told.desk.state.session, told.desk.now())
    return [row.mark for row in rows]


def test_leads_through_a_whole_session() -> None:
    """Step by step the path says where the work is and what each stage has come to."""
    told = tell()
    here = []

    def then(steps: str, stage: Stage, row: Stage, said: str) -> None:
        told.do(steps)
        here.append(where_now(told.session))
        assert where_now(told.session) is stage, steps
        assert words(told, row) == said, steps

    cold, thaw = Stage.COLD_TREATMENT, Stage.THAW_EQUILIBRATION
    then("note: hello", Stage.BEFORE, Stage.BEFORE, "nothing received yet")
    then("receive wheat 8 kg", Stage.BEFORE, Stage.BEFORE, "1 lot in the book")
    then("agree wheat 8 x 1 kg", cold, cold, "1 lot to freeze")
    assert words(told, Stage.BEFORE) == "agreed 20 November"
    then("freeze wheat", cold, cold, "0 of 1 done")
    assert words(told, thaw) == "after the cold"
    then("+110 h", cold, cold, "1 of 1 done")
    then("out A 21 C 50 %", thaw, thaw, "0 of 1 lids off")
    then("+40 h; open A", Stage.FILLING, thaw, "1 of 1 lids off")
    then("fill 8; ready; packet 200x10", Stage.FILLING, Stage.FILLING, "0 of 8 shut")
    then("place 8", Stage.FILLING, Stage.FILLING, "8 of 8 shut")
    then("jar", Stage.SEALING, Stage.SEALING, "0 of 8 sealed")
    then("seal 1-8", Stage.LABELLING, Stage.SEALING, "8 of 8 sealed")
    then("make labels 1-8", Stage.LABELLING, Stage.LABELLING, "0 of 8 printed")
    then("label 1-8", Stage.AFTER, Stage.LABELLING, "8 of 8 printed")
    then("stow 1-8 in pail 1", Stage.AFTER, Stage.AFTER, "next look Sat 01:00")
    then("+1 d; check 1-8 snug", Stage.AFTER, Stage.AFTER, "next look Sat 5 Dec")
    then("lid pail 1; close", Stage.AFTER, Stage.AFTER, "session closed")
    assert list(dict.fromkeys(here)) == list(Stage)
    assert marks(told)[:-1] == [Mark.DONE] * 6
    assert marks(told)[-1] is Mark.NOW


def test_says_an_untrodden_path_without_a_session() -> None:
    """With no session open every stage is named, and none has begun."""
    rows = stage_rows(BookState(), None, Script().desk.now())

    assert [row.stage for row in rows] == list(Stage)
    assert {row.mark for row in rows} == {Mark.NEXT}
    assert {row.progress for row in rows} == {""}


def test_names_the_loads_where_they_are() -> None:
    """A load stands at the freezer, then in the room, then at the counter."""
    told = tell("receive wheat 16 kg; agree wheat 8 x 1 kg; freeze wheat; freeze wheat")
    told.do("+110 h; out A 21 C 50 %; +40 h; open A; out B 21 C 50 %")

    rows = stage_rows(told.book, told.session, told.desk.now())
    loads = {row.stage: row.loads for row in rows if row.loads}

    assert loads == {Stage.THAW_EQUILIBRATION: ("B",), Stage.FILLING: ("A",)}


def test_work_at_the_counter_comes_before_the_freezer() -> None:
    """While absorbers lie open or pouches stand open nothing else is next."""
    told = tell(
        "receive wheat 8 kg; receive rice 4 kg; bypass wheat;"
        "agree wheat 4 x 1 kg & rice 4 x 1 kg; fill 4 of wheat"
    )
    assert where_now(told.session) is Stage.FILLING

    told.do("packet 200x4; place 4; seal 1-4")

    assert where_now(told.session) is Stage.COLD_TREATMENT


@pytest.mark.parametrize(
    ("steps", "said"),
    [(TREATED, "not needed"), ("receive wheat 8 kg; agree wheat 8 x 1 kg", "1 lot to freeze")],
)
def test_says_whether_the_cold_is_needed(steps: str, said: str) -> None:
    """Food that is excused from the cold is said to need none."""
    assert words(tell(steps), Stage.COLD_TREATMENT) == said


def test_lists_lots_that_are_neither_frozen_nor_excused() -> None:
    """Only lots of the plan are asked about, each once."""
    told = tell(
        "receive wheat 8 kg; receive rice 4 kg; receive beans 4 kg; bypass rice;"
        "agree wheat 4 x 1 kg & rice 4 x 1 kg"
    )

    assert lots_without_cold(told.session) == (told.lot_of("wheat"),)


def test_a_stage_partly_done_is_marked_so() -> None:
    """Half of the pouches shut is neither done nor still to come."""
    told = tell(f"{SHUT}; jar; seal 1-4; label 1-2; stow 1-3 in pail 1")

    assert marks(told) == [
        Mark.DONE,
        Mark.DONE,
        Mark.DONE,
        Mark.DONE,
        Mark.NOW,
        Mark.PARTLY,
        Mark.PARTLY,
    ]


def test_only_food_that_came_back_is_to_be_filled_again() -> None:
    """The food of a swollen pouch is gone with it, that of an emptied one is wanted in another."""
    told = tell(f"{SEALED}; label 1-8; +1 d; check 8 swollen")

    assert where_now(told.session) is Stage.AFTER
    told.do("empty 7: torn")
    assert where_now(told.session) is Stage.FILLING


def test_says_what_starts_the_next_clock_while_none_runs() -> None:
    """Before the cold that is a pail in the freezer, afterwards a packet that is opened."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg")
    assert "freezer" in next_clock(told.session)

    told.do("freeze wheat; +110 h; out A 21 C 50 %; +40 h; open A")

    assert "packet" in next_clock(told.session)
