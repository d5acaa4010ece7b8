"""What is said of pouches that stand open again, with a packet open and without one."""

from __future__ import annotations

import pytest

from packdesk.present.cards import WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.in_hand import line_in_hand, lines_offered
from packdesk.present.round_view import RoundView, round_view
from packdesk.present.work_filling import filling_card
from packdesk.present.work_sealing import sealing_card
from packdesk.session.commands import PlaceAbsorbers, ShutPouches
from packdesk.session.terms import PouchStage, Stage
from packdesk.session.verdicts import Enough, verdict
from tests.script import TREATED, Script, tell

SHORT = f"{TREATED}; fill 5; ready; packet 200x5 slack oxygen; +90 min; place 5"
"""Five pouches, each with an absorber that nobody can count on."""
WELL = f"{TREATED}; fill 5; ready; packet 200x5; +2 min; place 5"

LINER = (
    "receive wheat 16 kg; bypass wheat; agree wheat 1 x 16 kg, liner, with 2000, need 1500 cc; "
    "fill 1; ready; packet 2000x1 slack oxygen; place 1, open; seal 1; reopen 1"
)
"""A sealed liner that is short of absorber, opened again."""


def card(told: Script, chosen: Chosen | None = None) -> WorkCard:
    """The work at the counter."""
    return filling_card(told.book, told.session, chosen or Chosen(), told.desk.now())


def view(told: Script) -> RoundView:
    """The group at the counter, the next press meaning one pouch."""
    tally = line_in_hand(told.session, Chosen())
    assert tally is not None
    return round_view(told.session, tally, 1, told.desk.now())


def test_the_packet_comes_before_pouches_that_want_one_more_are_shut() -> None:
    """Nothing lies open: the main press opens a packet, and N shuts all of them without."""
    found = card(tell(f"{SHORT}; reopen 1-5"))

    assert found.sentence == "Open a packet for pouches 1 to 5: one absorber more goes into each."
    assert found.short == "Open a packet for pouches 1\u00a0to\u00a05: 1 more each."
    assert (found.main.label, found.main.form) == ("The packet is open", "packet")
    assert [(each.key, each.label) for each in found.seconds] == [("N", "Shut 5 without")]
    assert found.seconds[0].command == ShutPouches((1, 2, 3, 4, 5))
    assert found.foremost[0].startswith("Pouches 1 to 5 stand open again;")
    assert "Add one more." in found.evidence[0], "they are open already"


def test_one_pouch_is_spoken_of_as_one() -> None:
    """Of a single pouch no each and no them is said."""
    found = card(tell(f"{SHORT}; reopen 3"))

    assert found.sentence == "Open a packet for pouch 3: one absorber more goes in."
    assert [each.label for each in found.seconds] == ["Shut without"]


def test_what_is_well_supplied_is_shut_without_a_packet() -> None:
    """A pouch opened for another reason is shut as it is; one more is beside it."""
    found = card(tell(f"{WELL}; reopen 3"))

    assert found.sentence == "Pouch 3 stands open again: press the air out and shut it."
    assert found.main.command == ShutPouches((3,))
    assert [(each.key, each.form) for each in found.seconds] == [("P", "packet")]


@pytest.mark.parametrize(
    ("jar", "says"),
    [
        ("packet 200x10; jar in a pint_jar, shelf", "Open jar R1 for pouches 1 to 5"),
        ("packet 500x10; jar in a pint_jar", "Open a packet for pouches 1 to 5"),
        ("packet 200x10; +16 h; jar in a pint_jar", "Open a packet for pouches 1 to 5"),
        ("packet 200x2; jar in a pint_jar; packet 200x10; jar in a pint_jar", "Open jar R2 for"),
    ],
)
def test_a_jar_that_suits_goes_before_a_new_packet(jar: str, says: str) -> None:
    """Of its rating, strong enough, and if there are several enough for all of them."""
    found = card(tell(f"{SHORT}; {jar}; reopen 1-5"))

    assert found.sentence.startswith(says)


def test_open_pouches_come_before_those_that_wait_for_their_first() -> None:
    """Their absorbers work on the air; fresh pouches lose nothing by waiting."""
    told = tell(f"{SHORT}; reopen 2-3; fill 2; packet 200x10")
    found = card(told)

    assert found.sentence.startswith("Drop 1 absorber more into pouch 2,")
    assert found.main.command == PlaceAbsorbers(1, 1, pouches=(2,), round=2, each=1)
    assert [each.key for each in found.seconds] == ["N", "C"]
    assert view(told).progress == "0 of 4 shut"
    assert [cell.number for cell in view(told).cells if cell.in_hand] == [2]

    told.do("place in 2; place in 3")
    assert card(told).sentence.startswith("Drop 1 absorber into each of pouches 6 and 7,")
    assert view(told).progress == "2 of 4 shut"


def test_absorbers_of_another_food_are_not_taken_for_one_more() -> None:
    """A packet of a rating that the plan line does not use is left alone."""
    told = tell(f"{SHORT}; reopen 1; packet 500x5")
    found = card(told)

    assert found.sentence.startswith("Open a packet for pouch 1:")
    assert [each.key for each in found.seconds] == ["N", "C"]


def test_of_two_packets_the_one_taken_from_is_named_and_can_be_changed() -> None:
    """Where two lie open the card says which, and T takes from the other."""
    told = tell(f"{SHORT}; reopen 1; packet 200x5; +1 min; packet 200x5")

    first = card(told)
    assert first.sentence.startswith("Drop 1 absorber more from P2 into pouch 1,")
    assert [each.key for each in first.seconds] == ["N", "T", "C"]
    other = card(told, Chosen(round=3))
    assert isinstance(other.main.command, PlaceAbsorbers)
    assert other.main.command.round == 3


def test_an_open_pouch_is_judged_once() -> None:
    """Beside what is to be done with it, and not with its group as well."""
    told = tell(f"{WELL}; reopen 2; +3 min; packet 200x5")
    shown = view(told)
    said = [*shown.foremost, *shown.sentences, *card(told).evidence]

    assert sum("Pouch 2 is well" in each for each in said) == 1
    assert not any("Pouches 1 to 5" in each for each in said)


def test_the_count_of_pouches_open_again_is_said_before_a_packet_is_open() -> None:
    """From afar it is how many stand open that counts, not how many are filled."""
    told = tell(f"{SHORT}; reopen 2-3")

    assert view(told).progress == "2 open again"
    told.do("shut 2-3")
    assert view(told).progress == "5 of 8 filled"
    assert told.session.pouches[2].stage is PouchStage.PRESSED_SHUT


def test_a_short_liner_gets_one_more_before_its_seam() -> None:
    """The iron sends it to filling, filling to a packet, and then back with one more in it."""
    told = tell(LINER)
    iron = sealing_card(told.session, Chosen(), told.desk.now())
    assert iron.sentence == "Not yet the iron: one absorber more into liner 1 first."
    assert iron.main.goto is Stage.FILLING
    assert [each.label for each in iron.seconds][:1] == ["Seal all the same"]
    assert not any("O opens" in each for each in iron.foremost), "it is open already"

    found = card(told)
    assert found.sentence == "Open a packet for liner 1: one absorber more goes in."
    assert [(each.key, each.goto) for each in found.seconds] == [("N", Stage.SEALING)]

    drop = card(told.do("packet 2000x1"))
    assert drop.sentence.startswith("Drop 1 absorber more into liner 1, fold over,")
    assert drop.main.command == PlaceAbsorbers(1, 1, pouches=(1,), shut=False, round=2, each=1)
    assert view(told).title == "Round 2: liner 1, packet P2"
    told.do("place in 1, open")
    assert card(told).sentence.startswith("Go to the iron with liner 1 now; its absorbers")
    iron = sealing_card(told.session, Chosen(), told.desk.now())
    assert iron.sentence.startswith("Seal liner 1 all along but for a gap")


def test_a_liner_open_at_the_iron_is_not_said_to_be_shut() -> None:
    """With no packet open and nothing to fill the counter leads to the iron."""
    liner = LINER.replace(" slack oxygen", "")

    assert card(tell(liner)).sentence.startswith("Go to the iron with liner 1 now;")


def test_what_is_open_again_from_an_earlier_round_is_counted_too() -> None:
    """Well supplied pouches that stand open beside another packet are drawn, the next one in hand,
    and not done with."""
    told = tell(f"{WELL}; reopen 2-3; packet 200x5")

    assert view(told).title == "Round 2: pouches 2 and 3, packet P2"
    assert view(told).progress == "0 of 2 shut"
    assert [cell.number for cell in view(told).cells if cell.in_hand] == [2]


def test_no_more_are_opened_while_some_stand_open() -> None:
    """At the iron only short ones wait, two others stand open: those come first."""
    told = tell(f"{SHORT}; reopen 2-3")
    iron = sealing_card(told.session, Chosen(), told.desk.now())

    assert iron.sentence == (
        "One absorber more into each of pouches 2 and 3 first, then shut and seal them."
    )
    assert iron.main.goto is Stage.FILLING
    told.do("packet 200x2; place in 2-3; seal 2-3")
    iron = sealing_card(told.session, Chosen(), told.desk.now())
    assert iron.sentence.startswith("Not yet the iron: open pouches 1, 4 and 5 again")


def test_the_food_of_an_open_pouch_comes_before_the_one_picked() -> None:
    """Whoever picked another food is led to the pouch that stands open again all the same."""
    told = tell(
        "receive wheat 8 kg; bypass wheat: treated; receive beans 8 kg; bypass beans: treated; "
        "agree wheat 8 x 1 kg & beans 8 x 1 kg; fill 2 of wheat; fill 1 of beans; ready; "
        "packet 200x2; place 2 of wheat"
    )
    assert "Beans" in card(told, Chosen(line=2)).sentence
    told.do("reopen 1")
    assert card(told, Chosen(line=2)).sentence.startswith("Pouch 1 stands open again")
    assert [line.line for line in lines_offered(told.session)] == [1]


WEAK = f"{TREATED}; fill 4; ready; packet 200x30 slack oxygen; place 4"


@pytest.mark.parametrize("steps", [f"{WEAK}; reopen 1", f"{WEAK}; jar; reopen 1; take R1"])
def test_as_many_more_go_in_as_make_sure(steps: str) -> None:
    """50 cc are in and 115 cc are needed: of absorbers as weak it takes two more, packet or jar,
    and once they are in nothing is asked for again."""
    told = tell(steps)
    found = card(told)
    assert found.sentence.startswith("Drop 2 absorbers more into pouch 1,")
    assert (found.main.label, found.short) == ("2 more are in, shut", "Pouch 1: 2 more in, shut.")
    assert found.foremost[0].endswith("1 more is not enough.")

    assert found.main.command is not None
    told.desk.submit(found.main.command)
    judged = verdict(told.session.plan.lines[0], told.session.pouches[1], told.session.plan)
    assert judged is not None
    assert judged.verdict is Enough.ENOUGH


def test_too_few_weak_ones_are_no_help_and_a_sound_packet_comes_before_them() -> None:
    """One is left where two are wanted: another packet is asked for, why is said; once it lies
    open it is taken from, and whoever goes back to the weak one finds the way to it."""
    told = tell(f"{TREATED}; fill 4; ready; packet 200x5 slack oxygen; place 4; reopen 1")
    found = card(told)
    assert found.sentence.startswith("Open a packet for pouch 1:")
    assert "1 absorber of packet P1" in found.foremost[0]

    told.do("+1 min; packet 200x10")
    assert card(told).sentence.startswith("Drop 1 absorber more from P2 into pouch 1,")
    back = card(told, Chosen(round=1))
    assert "Take from P2" in [control.label for control in back.seconds]


def test_a_pouch_opened_again_keeps_its_place_among_the_cells() -> None:
    """The cells stand by number, and a large group is drawn around the one that is open."""
    shown = view(tell(f"{WEAK}; reopen 2"))
    assert [cell.number for cell in shown.cells] == [1, 2, 3, 4]
    assert [cell.number for cell in shown.cells if cell.in_hand] == [2]

    many = tell(
        "receive wheat 50 kg; bypass wheat: treated; agree wheat 50 x 1 kg; fill 50; ready; "
        "packet 200x51 slack oxygen; +90 min; place 50; reopen 3"
    )
    cells = view(many).cells
    assert (cells[0].number, cells[-2].number, cells[-1].more) == (1, 19, 31)
