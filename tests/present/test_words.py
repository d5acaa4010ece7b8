"""Each fact in one line of words, as a person would say it."""

from __future__ import annotations

import pytest

from packdesk.present.measures import Measures
from packdesk.present.story import record_lines
from packdesk.present.tally_board import tally_board
from packdesk.present.words import alarm_said, fact_words
from packdesk.session.commands import VoidFact
from packdesk.session.fact import UnknownFact
from packdesk.session.facts import PouchesFilled
from tests.script import SEALED, SHUT, TREATED, Script, tell

FILLED = f"{TREATED}; fill 8"
NEVER = (
    "receive nuts 2 kg; bypass nuts: roasted; agree nuts 2 x 1 kg, never because eaten by spring;"
    "fill 2; shut 1-2"
)


def said(told: Script, units: str = "metric", back: int = 1) -> str:
    """The last entry in words, with plain spaces."""
    return fact_words(told.entries[-back].fact, Measures(units)).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("steps", "words"),
    [
        ("receive wheat 8 kg", "Lot 2611-1: 8.00 kg of Wheat accepted"),
        ("receive wheat 8 kg quarantined", "Lot 2611-1: 8.00 kg of Wheat put in quarantine"),
        (
            "receive wheat 8 kg quarantined; look at wheat again: accepted, dry now",
            "Lot 2611-1 looked at again: Wheat accepted, dry now",
        ),
        (TREATED, "Plan agreed: 1 food, 8 pouches"),
        (f"{TREATED}, numbered; number 1", "1 place used on the sheet of labels a4-3x7 on top"),
        ("receive wheat 8 kg; bypass wheat: salt", "Lot 2611-1 goes without cold: salt"),
        ("room 21 C 55 %", "Room read 21 °C, 55 % humidity"),
        ("room 21.5 C", "Room read 21.5 °C"),
        (f"{TREATED}; fill 1", "Pouch 1 filled"),
        (f"{TREATED}; fill 1 at 1004 g", "Pouch 1 filled, 1.004 kg"),
        (f"{TREATED}; fill 3 at 990 g", "Pouches 1 to 3 filled, 990 g each"),
        (f"{FILLED}; ready", "Ready for a round: pouches 1 to 8 stand open"),
        (f"{FILLED}; packet 200x10", "Round 1 started from P1, at most 20 min in the air"),
        (f"{FILLED}; packet 200x10; place 3, open", "Pouches 1 to 3: absorber in"),
        (SHUT, "Pouches 1 to 8 pressed shut"),
        (f"{SHUT}; jar", "Jar R1: 2 of 200 cc shut up, in a pint jar"),
        (
            f"{SHUT}; jar in a quart_jar, shelf",
            "Jar R1: 2 of 200 cc shut up, in a quart jar, shelf",
        ),
        (f"{SHUT}; jar 3", "Jar R1: 3 of 200 cc shut up, in a pint jar, 2 reckoned"),
        (f"{SHUT}; jar 0", "Round 1 over, no absorber left, 2 reckoned"),
        (f"{SHUT}; reopen 3: a fold", "Pouch 3 opened again: a fold"),
        (
            f"{TREATED}; packet 200x5 slack oxygen hard",
            (
                "Packet P1 opened: 5 absorbers of 200 cc, bag slack, indicator shows oxygen, "
                "hard: spent, not used"
            ),
        ),
        (f"{SHUT}; seal 1", "Pouch 1 sealed, two seams"),
        (f"{SHUT}; seal 1, one seam", "Pouch 1 sealed, one seam"),
        (f"{SHUT}; seal 1-2, gap left", "Pouches 1 and 2: seam made but for a gap"),
        (f"{SHUT}; seal 1, gap left; draw off 1", "Pouch 1: air drawn off"),
        (f"{SEALED}; stow 1-8 in pail 1", "Pouches 1 to 8 into pail 1"),
        (f"{SEALED}; stow 1-8 in pail 1; lid pail 1", "Lid on pail 1, 8.00 kg of food"),
        (f"{SEALED}; check 1 soft", "Pouch 1 checked: soft"),
        (f"{SEALED}; check 1 swollen", "Pouch 1 checked: swollen: do not open, discard"),
        (f"{SEALED}; set aside 1: dust", "Pouch 1 set aside: dust"),
        (f"{SEALED}; empty 1: torn", "Pouch 1 emptied: torn"),
        (f"{SEALED}; set aside 1: dust; return 1", "Pouch 1 back in work, open"),
        (f"{SEALED}; close: stored", "Session closed: stored"),
        (f"{FILLED}; count 8 filled", "Counted 8 filled of Wheat, as tallied"),
        (f"{FILLED}; count 7 filled", "Counted 7 filled of Wheat, the tally says 8"),
        (
            "receive nuts 2 kg; agree nuts 2 x 1 kg, never because a guest",
            "Plan agreed: 1 food, 2 pouches; Nuts against advice: a guest",
        ),
        (
            f"{NEVER}; seal 1-2 because eaten by spring",
            "Pouches 1 and 2 sealed, two seams, against advice: eaten by spring",
        ),
        ("note: said", "Note: said"),
        ("note: said; undo", "Undone: 1 entry"),
    ],
)
def test_is_said_in_one_line(steps: str, words: str) -> None:
    """What was done stands there in the words of the trade."""
    assert said(tell(steps)) == words


def test_an_opened_packet_tells_how_it_looked() -> None:
    """A slack bag is worth knowing years later."""
    told = tell(f"{FILLED}; packet 200x10 slack")

    assert said(told, back=2) == "Packet P1 opened: 10 absorbers of 200 cc, bag slack"


def test_a_jar_opened_again_is_told() -> None:
    """Taking a remainder is an entry of its own."""
    assert said(tell(f"{SEALED}; take R1"), back=2) == "Jar R1 opened again"


def test_labels_tell_of_a_second_printing() -> None:
    """A label printed again is told apart from the first."""
    told = tell(f"{SEALED}; label 1-2")
    assert said(told, back=2) == "Labels printed for pouches 1 and 2"
    assert said(told.do("label 1 again"), back=2) == "Labels printed again for pouch 1"


def test_loads_are_told_with_their_hold_and_reasons() -> None:
    """Frozen, taken out early, opened early: each with its figures and its reason."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat")
    assert said(told) == "Load A into the freezer: 8.00 kg of Wheat"
    told.do("+6 h; out A 21 C: no room left")
    assert said(told) == "Load A taken out, held 0 h of 72 h, early: no room left"
    told.do("open A: in haste")
    assert ", still too cold: in haste" in said(told)


def test_units_are_those_of_the_session() -> None:
    """Pounds and degrees Fahrenheit where the session speaks them."""
    assert said(tell("room 20 C"), "us") == "Room read 68 °F"
    assert "lb" in said(tell("receive wheat 8 kg"), "us")


def test_a_voiding_says_how_much_and_why() -> None:
    """A voiding on purpose tells its reason."""
    told = tell(FILLED)
    told.desk.submit(VoidFact(told.last(PouchesFilled).id, "it was the rice"))

    assert said(told) == "Voided 1 entry: it was the rice"


def test_what_is_newer_is_named() -> None:
    """An entry that only a newer PackDesk understands is told by its kind."""
    assert (
        fact_words(UnknownFact("pouches_irradiated", 1, "{}"), Measures())
        == "Entry of a newer PackDesk: pouches_irradiated"
    )


@pytest.mark.parametrize(
    ("clock", "words"),
    [
        ("cold:A", "Alarm: load A cold long enough"),
        ("thaw:B", "Alarm: load B warm enough to open"),
        ("packet:2", "Alarm: absorbers of round 2 open too long"),
        ("packet:2/soon", "Warning: soon absorbers of round 2 open too long"),
        ("pressed_shut", "Alarm: pouches too long without a seam"),
        ("seal_check:1", "Alarm: seams to be looked at"),
        ("kettle", "Alarm: kettle"),
    ],
)
def test_alarms_are_said_by_what_they_stand_for(clock: str, words: str) -> None:
    """Nobody has to read the name of a clock."""
    assert alarm_said(clock) == words


def test_a_late_alarm_says_how_late() -> None:
    """An alarm that came after a sleep tells by how much."""
    told = tell(f"{FILLED}; packet 200x10; +63 min")
    told.desk.ring_due()

    assert said(told) == "Alarm: absorbers of round 1 open too long, 43 min late"


def test_liners_are_called_so_in_the_last_entry_and_the_story() -> None:
    """What Undo takes back, and the story, name the liner as the work does."""
    told = tell("receive wheat 16 kg; bypass wheat; agree wheat 1 x 16 kg, liner, with 2000")
    told.do("fill 1; packet 2000x1; place 1, open; seal 1, gap left")
    metric = Measures("metric")
    board = tally_board(told.session, told.entries, told.session.session, metric)
    assert board.undo == "Liner 1: seam made but for a gap"
    lines = record_lines(told.entries, told.desk.state, metric, told.desk.now())
    assert "Packet P1 opened: 1 absorber of 2000" in " ".join(line.words for line in lines)
    assert "Liner 1: absorber in" in [line.words for line in lines]
