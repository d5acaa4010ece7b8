"""After the iron: how much goes into a pail, liners on their own, what changed by itself."""

from __future__ import annotations

import re
from datetime import timedelta

from packdesk.instants import day_and_time
from packdesk.present.chosen import Chosen
from packdesk.present.work import work_card
from packdesk.present.work_after import PAIL_HOLDS_L, turned_soft
from packdesk.session.commands import CheckSeals, LidPail, OpenPail, StowPouches
from packdesk.session.terms import SealVerdict, Stage
from tests.script import SEALED, Script, tell


def card(told: Script):
    """The work after the iron as it stands."""
    return work_card(Stage.AFTER, told.desk.state, Chosen(), told.desk.now())


def test_no_more_goes_into_a_pail_than_it_takes() -> None:
    """Every pail offered holds what a pail takes, and all pouches find a place."""
    told = tell(SEALED)
    line = told.session.plan.lines[0]
    each_l = (line.fill_mass_g / line.bulk_density_g_per_cc + line.residual_gas_cc) / 1000.0
    offered = card(told).main.command
    assert isinstance(offered, StowPouches)
    assert 0 < len(offered.pouches) * each_l <= PAIL_HOLDS_L


def test_what_was_firm_and_is_soft_has_let_air_in() -> None:
    """Only a pouch that changed is called a leak, and setting it aside is offered."""
    told = tell(f"{SEALED}; stow 1-8 in pail 1; lid pail 1; +25 h")
    told.desk.submit(CheckSeals((1, 2), SealVerdict.TIGHT))
    told.desk.submit(CheckSeals((3,), SealVerdict.SOFT))
    assert turned_soft(told.session) == ()
    told.do("+7 d")
    told.desk.submit(CheckSeals((2, 3), SealVerdict.SOFT))
    assert [pouch.number for pouch in turned_soft(told.session)] == [2]
    said = card(told)
    assert said.evidence[0].startswith("Air got into pouch 2: firm before, soft now.")
    assert "aside" in {control.form for control in said.seconds}


def test_the_first_look_says_from_when_and_by_when() -> None:
    """A day after the seams it begins, after two it is best over; both stand on the page."""
    told = tell(f"{SEALED}; stow 1-8 in pail 1; lid pail 1")
    from_ = told.desk.now().utc + timedelta(hours=24)

    said = card(told)

    by = from_ + timedelta(hours=24)
    offset_min = told.desk.now().utc_offset_min
    assert day_and_time(from_, offset_min) in said.sentence
    assert f"best over by {day_and_time(by, offset_min)}" in said.sentence


def test_a_closed_session_is_pressed_in_one_press_when_a_look_is_due() -> None:
    """Half a year after the closing all that feel snug are entered at once, and leaks go aside."""
    told = tell(f"{SEALED}; stow 1-8 in pail 1; lid pail 1; +25 h; check 1-8 snug; close; +8 d")
    assert card(told).main.command == CheckSeals((1, 2, 3, 4, 5, 6, 7, 8), SealVerdict.SNUG)

    told.do("check 3 soft; check 1, 2, 4-8 snug")
    said = card(told)

    assert said.main.form == "record"
    assert said.evidence == (
        "Air got into pouch 3: firm before, soft now. Set aside what leaks, and eat it soon.",
    )
    assert "aside" in {control.form for control in said.seconds}
    told.do("set aside 3: soft after a week")
    assert card(told).evidence == ()


def test_a_pouch_closed_anew_may_go_back_into_its_lidded_pail() -> None:
    """The page offers to take the lid off where there is room, and then the pail itself."""
    told = tell(f"{SEALED}; stow 1-8 in pail 1; lid pail 1; +25 h; check 1-8 snug")
    told.do("set aside 2: leaks; return 2; ready; packet 200x5; place in 2; jar; seal 2")
    offered = {control.command for control in card(told).seconds}
    assert OpenPail("1") in offered

    told.do("unlid pail 1")

    assert card(told).main.command == StowPouches("1", (2,))
    told.do("stow 2 in pail 1")
    assert card(told).main.command == LidPail("1")


def test_a_swollen_pouch_is_named_and_said_to_be_discarded_unopened() -> None:
    """After the look that found it, and when no other pouch is left to look at."""
    told = tell(f"{SEALED}; stow 1-8 in pail 1; lid pail 1; +25 h; check 3 swollen")
    assert card(told).evidence[0] == "Pouch 3 swollen: do not open it, discard it."
    assert "do not taste it" in card(told).caution

    told.do("check 1-2 swollen; check 4-8 swollen")
    assert card(told).sentence == "Pouches 1 to 8 swollen: do not open them, discard them."
    assert "do not taste it" in card(told).caution
    assert [control.form for control in card(told).seconds] == ["close"]


def test_a_look_that_is_due_comes_before_the_pail() -> None:
    """Pouches left a day as advised are pressed before they are stowed, and a leak is named."""
    told = tell(f"{SEALED}; +25 h")
    assert card(told).main.command == CheckSeals((1, 2, 3, 4, 5, 6, 7, 8), SealVerdict.SNUG)

    told.do("check 3 swollen; check 1, 2, 4-8 snug")
    said = card(told)

    assert isinstance(said.main.command, StowPouches)
    assert said.evidence[0] == "Pouch 3 swollen: do not open it, discard it."
    assert "check" in {control.form for control in said.seconds}
    told.do("stow 1, 2, 4-8 in pail 1")
    assert card(told).evidence[0] == "Pouch 3 swollen: do not open it, discard it."


def test_what_was_never_filled_is_told_until_the_session_is_closed() -> None:
    """The page after the iron says that a pouch was never filled and its food is left."""
    filled = SEALED.replace("fill 8", "fill 7").replace("place 8", "place 7")
    told = tell(filled.replace("seal 1-8", "seal 1-7"))
    words = "7 of 8 pouches of Wheat filled; food for 1 more is left."
    assert words in card(told).evidence
    told.do("stow 1-7 in pail 1; lid pail 1")
    assert words in card(told).evidence
    told.do("close all the same")
    assert words not in card(told).evidence
    assert not any("filled; food for" in said for said in card(tell(SEALED)).evidence)


def test_a_look_far_off_is_told_by_weekday_and_date() -> None:
    """Half a year ahead the next look is told as all days are, with the year where it is new."""
    told = tell(f"{SEALED}; stow 1-8 in pail 1; lid pail 1; +25 h; check 1-8 snug; +8 d")
    told.do("check 1-8 snug")
    said = card(told).sentence
    assert re.search(r"due (Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d+ [A-Z][a-z]{2} \d{4} \d\d:\d\d", said)
