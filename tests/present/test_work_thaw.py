"""The thaw page's words: until when, why, what then; warming, ready, opened early."""

from __future__ import annotations

from packdesk.present.cards import WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.load_view import load_tabs
from packdesk.present.work import work_card
from packdesk.present.work_thaw import thaw_card
from packdesk.session.terms import Stage
from tests.script import Script, tell

COLD = "receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +120 h"


def card(told: Script) -> WorkCard:
    """The card as it stands."""
    return thaw_card(told.session, Chosen(), told.desk.now())


def said(told: Script) -> str:
    """All its sentences, plain."""
    shown = card(told)
    return " ".join((shown.sentence, *shown.evidence, shown.caution)).replace("\u00a0", " ")


def tab(told: Script) -> str:
    """What the load chooser says of load A."""
    loads = told.session.loads.values()
    return load_tabs(told.session, loads, told.desk.now())[0].note


def test_a_warming_load_says_until_when_why_and_what_then() -> None:
    """Time with its band, dew point and limit, never to be opened for a reading, wipe then."""
    told = tell(f"{COLD}; out A 21 C 50 %; +2 h")

    assert card(told).sentence.startswith("Keep the lid on load A until about ")
    words = said(told)
    # 21 °C at 50 % has its dew point at 10.2 °C (PsychroLib 2.5.0); 2 K more is the margin.
    assert "Above 12 °C no dew settles on it (dew point 10 °C): between " in words
    assert "Never open a warming load for a reading" in words
    assert "wipe the outside and the rim" in words
    assert "brittle" in words
    assert tab(told).startswith("warming, ")


def test_a_ready_load_says_what_to_do_now() -> None:
    """Once warm: wipe, open; why it is safe; the chooser says since when."""
    told = tell(f"{COLD}; out A 21 C 50 %; +60 h")

    assert card(told).sentence == "Wipe load A and its rim dry, then open it."
    assert "All of its food is above 12 °C: no dew settles on it." in said(told)
    assert [each.form for each in card(told).seconds] == ["reading"]
    assert tab(told).startswith("ready since ")


def test_without_humidity_the_room_itself_is_the_limit() -> None:
    """No humidity read: within 3 K of the room."""
    assert "No humidity was read" in said(tell(f"{COLD}; out A 21 C; +2 h"))


def test_a_damp_room_is_named_and_cured() -> None:
    """With the dew point close to the room the card says so and what helps."""
    words = said(tell(f"{COLD}; out A 21 C 95 %; +2 h"))
    assert "The room is damp" in words
    assert "drier" in words
    assert "No humidity was read" not in words


def test_an_early_opening_asks_to_look_for_dew() -> None:
    """Opened before its time: look for dew; the chooser says so."""
    told = tell(f"{COLD}; out A 21 C 50 %; +2 h; open A: needed the pail")
    assert "Opened early, load A: look for dew" in said(told)
    assert tab(told) == "opened early"
    assert card(told).sentence == "Look for dew in load A before you fill."


def test_what_is_still_in_the_cold_is_named_when_all_that_is_out_is_open() -> None:
    """Not every load is open while one still cools."""
    told = tell(f"{COLD}; out A 21 C 50 %; +60 h; open A")
    assert card(told).sentence == "Every load is open and ready to fill."
    told = tell(
        "receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; freeze wheat; +120 h; "
        "out A 21 C 50 %; +60 h; open A"
    )
    assert "load B is still in the cold" in card(told).sentence


def test_a_load_opened_in_time_has_no_such_warning() -> None:
    """Opened when ready it is open, and nothing is said of dew."""
    told = tell(f"{COLD}; out A 21 C 50 %; +60 h; open A")
    assert "dew" not in said(told)
    assert tab(told) == "open"


def test_where_no_lot_goes_through_the_cold_both_its_pages_lead_to_the_scale() -> None:
    """Freezer and thaw never send a person to and fro between them: filling comes next."""
    told = tell("receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg")

    for stage in (Stage.COLD_TREATMENT, Stage.THAW_EQUILIBRATION):
        found = work_card(stage, told.desk.state, Chosen(), told.desk.now())
        assert found.main.goto is Stage.FILLING
