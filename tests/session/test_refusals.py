"""Every refusal says what stands against a step and what would be allowed instead."""

from __future__ import annotations

import pytest

from packdesk.session import commands as c
from packdesk.session.case import Refusal
from packdesk.session.terms import SealVerdict
from tests.fakes.clock import START
from tests.script import PAIL, SEALED, SHUT, TREATED, Script, tell

WHEAT = "receive wheat 8 kg"
PLANNED = f"{WHEAT}; agree wheat 8 x 1 kg"
FILLED = f"{TREATED}; fill 8"
ROUND = f"{FILLED}; ready; packet 200x10"
STOWED = f"{SEALED}; stow 1-8 in pail 1"

NEVER = (
    "receive nuts 2 kg; bypass nuts: roasted; agree nuts 2 x 1 kg, never because eaten by spring;"
    "fill 2; shut 1-2"
)

REFUSED = [
    # Before
    ("", "receive wheat 0 kg", "a mass above zero"),
    ("receive wheat 8 kg refused", "agree wheat 8 x 1 kg", "Only an accepted lot can be packed"),
    ("receive wheat 8 kg quarantined", "agree wheat 8 x 1 kg", "Only an accepted lot"),
    (WHEAT, "look at wheat again: accepted, sound", "accepted already"),
    (WHEAT, "look at wheat again: refused, ", "Say what you saw"),
    (WHEAT, "look at rice again: refused, damp", "Receive it first"),
    (f"{WHEAT}; +1 h", "2 h ago: look at wheat again: refused, damp", "was received"),
    (f"{TREATED}; look at wheat again: refused, damp", "fill 1", "Look at it again before filling"),
    ("receive nuts 2 kg", "agree nuts 2 x 1 kg, never", "say why it is put up all the same"),
    ("receive nuts 2 kg", "agree nuts 2 x 1 kg, never because x, with 300", "Plan it without"),
    (WHEAT, "agree wheat 0 x 1 kg", "Plan at least one pouch"),
    (WHEAT, "agree wheat 8 x 0 kg", "needs a mass above zero"),
    (WHEAT, "agree wheat 8 x 1 kg, with 0", "needs a rating above zero"),
    (FILLED, "agree wheat 7 x 1 kg", "8 pouches of Wheat are filled; plan at least as many"),
    (f"receive rice 1 kg; {FILLED}", "agree rice 8 x 1 kg", "Keep its plan line"),
    (FILLED, "agree wheat 9 x 2 kg", "Keep the pouch, mass and absorbers they were planned with"),
    (FILLED, "agree wheat 8 x 1 kg, with 300", "the rest of the food is a line of its own"),
    # The cold
    ("receive wheat 8 kg refused", "freeze wheat", "Freeze an accepted or quarantined lot"),
    (TREATED, "freeze wheat", "Void that first, to freeze it after all"),
    (WHEAT, "freeze wheat 0 kg", "needs a mass above zero"),
    (TREATED, "bypass wheat: again", "It can be filled"),
    (WHEAT, "bypass wheat: ", "Say why this lot needs no cold"),
    (PLANNED, "core A -6 C", "Freeze one first"),
    (PLANNED, "freezer -18 C", "Freeze one first"),
    (PLANNED, "out A 21 C", "Freeze one first"),
    (PLANNED, "open A", "Freeze one first"),
    (PLANNED, "room 60 C", "Enter 0 to 45\u00a0°C"),
    (PLANNED, "room 21 C 0.5 %", "between 1 and 100 %"),
    # Filling
    (WHEAT, "fill 1", "Agree a plan with this food first"),
    (PLANNED, "fill 1", "uncover one of its loads first, or note why it needs no cold"),
    (TREATED, "fill 0", "Count at least one"),
    (TREATED, "fill 9", "more than the 8 pouches planned. Plan more first"),
    (TREATED, "fill 1 at 0 g", "a mass above zero"),
    (TREATED, "ready", "Fill some before opening a packet"),
    # Rounds
    (FILLED, "packet 200x0", "at least one absorber"),
    (FILLED, "take R1", "Open a packet"),
    (f"{TREATED}; packet 200x10", "place 1", "Fill one first"),
    (ROUND, "place 9", "Enter 1 to 8"),
    (f"{TREATED}; fill 1; packet 200x10", "place 2", "1 pouch waits for an absorber. Enter 1"),
    (ROUND, "place in 9", "Choose filled ones"),
    (f"{FILLED}; packet 200x5", "place 8", "5 absorbers left, enough for 5. Enter fewer"),
    (f"{FILLED}; packet 100x9", "place 8", "the plan has 200 cc for Wheat. Open a packet of those"),
    (SHUT, "place in 1", "already shut. To open it, re-open it first"),
    (SEALED + "; take R1", "place in 1", "already sealed. To open it, re-open it first"),
    (f"{ROUND}; +5 min", "place in 1, first 9 min ago", "before the absorbers were opened"),
    (f"{FILLED}; set aside 8: torn; packet 200x9", "place in 8", "Bring it back first"),
    (FILLED, "shut 1-8", "no absorber yet. Drop it in first"),
    (FILLED, "jar", "There is nothing to shut up"),
    (SHUT, "jar 8", "2 absorbers left, and at most 7 can be found"),
    # Seams
    (FILLED, "seal 1", "no absorber yet. Drop it in first"),
    (SEALED, "seal 1", "two seams already. Label it and stow it"),
    (f"{SHUT}; seal 1, one seam", "seal 1, gap left", "Seal it without a gap"),
    (f"{SHUT}; seal 1", "draw off 1", "no gap left in its seam. Leave one when sealing"),
    (f"{SHUT}; set aside 1: torn", "seal 1", "Bring it back first"),
    (NEVER, "seal 1", "keep it cool, or say why it is sealed all the same"),
    # After
    (FILLED, "stow 1 in pail 1", "not sealed yet. Seal it first"),
    (f"{SHUT}; seal 1, gap left", "stow 1 in pail 1", "Close its gap first"),
    (STOWED, "stow 1 in pail 2", "in pail 1 already"),
    (f"{STOWED}; set aside 8: slack; lid pail 1", "lid pail 1", "has its lid on already"),
    (f"{SEALED}; stow 1-7 in pail 1; lid pail 1", "stow 8 in pail 1", "Take another pail"),
    (SEALED, "lid pail 1", "Stow pouches in it first"),
    (f"{STOWED}; set aside 1-8: slack", "lid pail 1", "Stow pouches in it first"),
    (SHUT, "check 1 snug", "Seal it first"),
    (f"{SEALED}; set aside 1: torn", "check 1 snug", "Bring it back first"),
    (FILLED, "set aside 1: ", "Say why"),
    (f"{FILLED}; set aside 1: torn", "set aside 1: worse", "Bring it back, or empty it"),
    (f"{FILLED}; empty 1: torn", "empty 1: again", "was emptied"),
    (f"{FILLED}; empty 1: torn", "return 1", "Fill a new one"),
    (f"{FILLED}; empty 1: torn", "label 1", "Leave it out"),
    (FILLED, "return 1", "It is in the work already"),
    (f"{FILLED}; set aside 1-2: torn", "fill 1", "By reckoning no Wheat is left"),
    (f"{TREATED}; lose 2500 g: spilled", "fill 7", "goes into 6 pouches"),
    (f"{STOWED}; lid pail 1", "stow 1 in pail 1", "take its lid off first"),
    (STOWED, "unlid pail 1", "is open already"),
    (STOWED, "unlid pail 2", "Name one that pouches were stowed in"),
    # Closing
    (SHUT, "close", "absorbers lying open. Shut them up first"),
    (f"{ROUND}; place 8, open; jar", "close", "Shut or seal them first"),
    (f"{SEALED}; close", "fill 1", "Undo the closing to go on with it"),
    (f"{SEALED}; close", "label 1", "Undo the closing"),
    (f"{SEALED}; close", "close", "Undo the closing"),
    # At any time
    (FILLED, "count 8 packed", "Count one of: filled, absorbers_in"),
    ("", "note: ", "Write the note first"),
    ("", "silence cold:A", "There is nothing to stop"),
    ("", "undo", "nothing to undo yet"),
]


@pytest.mark.parametrize(("told", "step", "allowed"), REFUSED, ids=[step for _, step, _ in REFUSED])
def test_says_what_would_be_allowed(told: str, step: str, allowed: str) -> None:
    """A step that does not fit is refused in words, and nothing is recorded."""
    script = tell(told)
    before = script.entries, script.desk.state

    assert allowed in script.refused(step)
    assert (script.entries, script.desk.state) == before


@pytest.fixture(scope="module")
def frozen() -> Script:
    """A load half an hour in the freezer; steps that are refused leave it as it is."""
    return tell(f"{PLANNED}; freeze wheat; +30 min")


@pytest.mark.parametrize(
    ("step", "allowed"),
    [
        ("core B -6 C", "Choose one of: A"),
        ("core A 900 C", "Enter −60 to 45\u00a0°C"),
        ("2 h ago: core A -6 C", "before load A was frozen"),
        ("freezer 900 C", "Enter"),
        ("out A 21 C", "Say why it ends early, or leave the load in"),
        ("out A 60 C", "was the thermometer in Fahrenheit?"),
        ("2 h ago: out A 21 C: no room", "before load A was frozen"),
        ("open A", "Take it out first, lid on"),
        ("bypass wheat: treated", "Take that out instead"),
        ("fill 1", "uncover one of its loads first"),
    ],
)
def test_says_what_would_be_allowed_of_a_load_in_the_cold(
    frozen: Script, step: str, allowed: str
) -> None:
    """What is asked of a load in the freezer is refused with the way to go instead."""
    assert allowed in frozen.refused(step)


def test_says_what_would_be_allowed_of_a_warming_load() -> None:
    """A load that is out stays shut until it is warm, and is filled once it is open."""
    told = tell(f"{PLANNED}; freeze wheat; +120 h; out A 21 C 50 %; +1 h")

    assert "Keep its lid on until it is warm" in told.refused("out A 21 C")
    assert "Keep the lid on, or say why not" in told.refused("open A")
    assert "before load A was taken out" in told.refused("2 h ago: open A: in haste")
    told.do("open A: in haste; +1 h")
    assert "Fill from it" in told.refused("open A")
    assert "Only a reading from before counts" in told.refused("core A 5 C")
    assert "before a load of lot 2611-1 was uncovered" in told.refused("2 h ago: fill 1")
    told.do("receive wheat 4 kg; freeze wheat 4 kg")
    assert "Choose a load of lot 2611-1" in told.refused("fill 1 from B")
    assert "Choose one of: A, B" in told.refused("fill 1 from C")
    assert "Name each load once" in told.refused("fill 1 from A, A")


@pytest.mark.parametrize(
    "command",
    [
        c.AddNote("x"),
        c.FillPouches(1),
        c.ShutRemainder(1),
        c.FreezeLoad("2611-1", "pail", "pail", 8000.0, PAIL),
        c.CloseSession(),
        c.TakeCount(1, "filled", 3),
        c.CheckSeals((1,), SealVerdict.SNUG),
        c.RingAlarm("cold:A", START, 0.0),
    ],
    ids=lambda command: type(command).__name__,
)
def test_work_needs_a_session(command: c.Command) -> None:
    """With no session open nothing is done but to receive lots."""
    answer = Script().desk.submit(command)

    assert isinstance(answer, Refusal)
    assert answer.sentence == "No session is open. Open or start one first."


def test_a_session_needs_a_name() -> None:
    """A session without a name is refused with an example of one."""
    answer = Script().desk.submit(c.OpenSession("  ", "metric", "K7M2"))

    assert isinstance(answer, Refusal)
    assert "such as" in answer.sentence


def test_pouches_of_two_foods_are_entered_apart() -> None:
    """Foods differ in what they take, so absorbers are entered for one food at a time."""
    told = tell(
        "receive wheat 4 kg; receive rice 4 kg; bypass wheat; bypass rice;"
        "agree wheat 2 x 1 kg & rice 2 x 1 kg; fill 2 of wheat; fill 2 of rice; packet 200x8"
    )

    assert "Enter one food at a time" in told.refused("place in 2-3")


def test_pouches_that_lack_differently_are_entered_apart() -> None:
    """Pouches that do not lack the same are not given the same."""
    told = tell("receive wheat 8 kg; bypass wheat; agree wheat 2 x 4 kg, with 300+300")
    told.do("fill 1; packet 300x6; place in 1, open; fill 1")

    assert "Enter those that do together" in told.refused("place in 1-2")


def test_powder_is_never_drawn_off() -> None:
    """Over a powder no gap is left and no air drawn off; what is allowed is said."""
    told = tell("receive flour 4 kg; bypass flour; agree flour 1 x 4 kg, dusty, no zip")
    told.do("fill 1; packet 200x1; place 1, open")

    assert "Press it out by hand and seal all along, two seams" in told.refused("seal 1, gap left")
    assert "Never draw air off over a powder such as Flour. Close the gap" in told.refused(
        "draw off 1"
    )


def test_a_packet_too_small_for_all_is_told_so() -> None:
    """Where not every pouch named gets an absorber, nothing is guessed about which did."""
    told = tell("receive wheat 8 kg; bypass wheat; agree wheat 2 x 4 kg, with 300+300")

    assert "enough for 1. Enter fewer" in told.refused("fill 2; packet 300x1; place 2")


def test_after_the_closing_only_checks_and_notes_go_on() -> None:
    """A closed session takes seal checks and what they bring, notes and a label once more."""
    told = tell(f"{SEALED}; label 1-8; close")

    told.do("note: moved to the cellar; +1 d; check 1-8 snug; label 3 again; receive rice 2 kg")
    told.do("+8 d; check 3 soft; set aside 3: leaks")

    assert "Undo the closing" in told.refused("reopen 4: to look in")


@pytest.mark.parametrize(
    ("steps", "waiting"),
    [
        (f"{PLANNED}; freeze wheat; +30 min", "Load A is in the freezer."),
        (
            f"{PLANNED}; freeze wheat 4 kg; freeze wheat 4 kg; +120 h; out A 21 C; out B 21 C",
            "Loads A and B are taken out and not opened yet.",
        ),
        (f"{SHUT}; jar; seal 1-6", "Pouches 7 and 8 are without a seam all along."),
        (STOWED, "Pail 1 is without a lid."),
        (f"{TREATED}; fill 7", "7 of 8 pouches of Wheat filled; food for 1 more is left."),
    ],
)
def test_a_closing_that_leaves_something_waiting_is_asked_about(steps: str, waiting: str) -> None:
    """What would wait with no clock is named; the session closes only if that is meant."""
    told = tell(steps)

    asked = told.try_to("close")

    assert isinstance(asked, Refusal)
    assert asked.question
    assert waiting in asked.sentence
    told.do("close all the same")
    assert told.session.closed_at is not None


def test_a_swollen_pouch_is_never_called_back_to_be_opened() -> None:
    """Whatever is done to it, the answer is to discard it unopened."""
    told = tell(f"{SEALED}; +25 h; check 3 swollen")

    for step in ("set aside 3: swollen", "empty 3: swollen", "return 3", "reopen 3: to look in"):
        assert "Do not open it; discard it" in told.refused(step)


def test_a_fault_of_the_program_is_no_refusal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only a figure outside the physics is answered in words; any other ValueError is a bug."""
    from packdesk.session import exposure

    def broken(*_: object) -> None:
        raise ValueError("a bug")

    monkeypatch.setattr(exposure, "open_time", broken)

    with pytest.raises(ValueError, match="a bug"):
        tell(FILLED).try_to("packet 200x10")
