"""A doubted packet changes what follows: said before the first absorber, kept until the seam."""

from __future__ import annotations

import pytest

from packdesk.present.cards import PouchCell, WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.in_hand import line_in_hand
from packdesk.present.round_view import round_view
from packdesk.present.short_pouches import TO_FILLING
from packdesk.present.tally_board import pouch_cell
from packdesk.present.work import work_card
from packdesk.session.commands import (
    PlaceAbsorbers,
    ReopenPouches,
    SealPouches,
    ShutRemainder,
)
from packdesk.session.terms import Stage
from tests.present.test_work_sealing import FILMS
from tests.script import TREATED, Script, tell

FILLED = f"{TREATED}; fill 8; ready"


def card(told: Script, stage: Stage = Stage.FILLING) -> WorkCard:
    """The card of a stage as it stands."""
    return work_card(stage, told.desk.state, Chosen(), told.desk.now(), FILMS)


@pytest.mark.parametrize(
    ("packet", "each", "has"),
    [
        ("200x20", None, ""),
        ("200x20 slack no oxygen", None, ""),
        ("200x20 slack", 2, "100 to 200 cc"),
        # Half of half of 200 cc: three of 50 cc are the first to reach 115 cc.
        ("200x20 slack oxygen", 3, "50 to 100 cc"),
    ],
)
def test_what_one_absorber_cannot_do_is_said_before_the_first(
    packet: str, each: int | None, has: str
) -> None:
    """The card of a doubted packet says what one counts for, and takes as many as make sure."""
    said = card(tell(f"{FILLED}; packet {packet}"))

    command = said.main.command
    assert isinstance(command, PlaceAbsorbers)
    assert command.each == each
    assert said.sentence.startswith(f"Drop {each or 1} absorber")
    why = [words for words in said.foremost if "115 cc" in words]
    assert bool(why) == bool(each)
    if each:
        assert has in why[0]
        assert f"{each} make sure. Or put these into a jar (C) and open another packet." in why[0]
        (plain,) = [control for control in said.seconds if control.key == "N"]
        assert (plain.label, plain.command.each) == ("Only 1 each", None)  # type: ignore[union-attr]


def test_what_makes_sure_holds_until_the_time_of_the_packet_is_over() -> None:
    """50 cc each at opening are less when their 20 min are over: 3 for 96 cc from the first, and
    what goes in with the last minute is well supplied."""
    told = tell(
        "receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg, need 96 cc; fill 8; "
        "ready; packet 200x50 slack oxygen"
    )
    for wait in ("+1 s", "+19 min"):
        command = card(told.do(wait)).main.command
        assert isinstance(command, PlaceAbsorbers)
        assert command.each == 3
        assert "3 make sure" in card(told).foremost[0]
    told.desk.submit(command)

    assert not any(cell.add_one or cell.marginal for cell in cells(told))


def test_two_of_a_doubted_packet_are_well_supplied() -> None:
    """Two of at least 100 cc each stand against 115 cc: the verdict then is enough."""
    told = tell(f"{FILLED}; packet 200x20 slack")
    command = card(told).main.command
    assert command is not None
    told.desk.submit(command)

    assert [sum(p.each for p in pouch.placed) for pouch in told.session.working_pouches()] == [
        2
    ] * 8
    assert not any(cell.add_one or cell.marginal for cell in cells(told))


def test_a_packet_too_weak_for_its_pouches_is_shut_up() -> None:
    """Where not even three for each would do, or too few are left, another packet is the way."""
    weak = tell(
        "receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg, need 190 cc; fill 8; "
        "ready; packet 200x20 slack oxygen"
    )
    few = tell(f"{FILLED}; packet 200x5 slack; place 2, 2 each")
    for told, left in ((weak, 20), (few, 1)):
        said = card(told)
        assert isinstance(said.main.command, ShutRemainder)
        assert "open another packet" in said.sentence
        assert told.session.rounds[1].left == left
        assert [control.label for control in said.seconds] == [
            "Another count or place",
            "Only 1 each",
        ]


def test_a_packet_that_serves_nobody_has_no_group_of_its_own() -> None:
    """No pouch is told to be shut and none counted in its round; afar, how many are filled."""
    told = tell(f"{FILLED}; packet 200x2 slack oxygen")
    tally = line_in_hand(told.session, Chosen())
    assert tally is not None

    view = round_view(told.session, tally, 0, told.desk.now())

    assert (view.title, view.progress, view.cells) == ("", "8 of 8 filled", ())
    assert not any("shut about" in words for words in view.sentences)


def test_beside_a_sound_packet_a_weak_one_is_not_called_the_later() -> None:
    """Both lie open: the sound one is taken from because the other never was enough; of the weak
    one, chosen all the same, too little is left, and the way is back to the sound one."""
    told = tell(f"{FILLED}; packet 200x2 slack oxygen; +1 min; packet 200x20")
    tally = line_in_hand(told.session, Chosen())
    assert tally is not None
    (turn,) = round_view(told.session, tally, 8, told.desk.now()).foremost
    assert "packet P2, 20 left: one of the other is not enough." in turn

    weak = work_card(Stage.FILLING, told.desk.state, Chosen(round=1), told.desk.now(), FILMS)
    assert weak.sentence.endswith("put the 2 of packet P1 into the jar, then take from packet P2.")
    assert "Take from P2" in [control.label for control in weak.seconds]


def cells(told: Script) -> tuple[PouchCell, ...]:
    """The pouches as the counter shows them."""
    plan_cells = (
        pouch_cell(told.session, pouch, at=told.desk.now().utc)
        for pouch in told.session.working_pouches()
    )
    return tuple(plan_cells)


ONE_EACH = f"{FILLED}; packet 200x20 slack"


@pytest.mark.parametrize(
    ("look", "word"), [(" slack", "marginal"), (" slack oxygen", "short of absorber")]
)
def test_a_verdict_that_asks_for_something_stays_until_the_seam(look: str, word: str) -> None:
    """The jar is shut and the round gone: the end of filling and the iron still say who is short,
    why, and how one more goes in."""
    told = tell(f"{FILLED}; packet 200x20{look}; +4 min; place 8; jar")
    for stage in (Stage.FILLING, Stage.SEALING):
        evidence = card(told, stage).foremost
        assert any(words.startswith(f"Pouches 1 to 8 are {word}") for words in evidence), stage
        assert any(words.startswith("O opens a pouch again.") for words in evidence)
        assert any("packet P1 is doubted" in words for words in evidence)

    told.do("seal 1-8")
    assert not any("absorber" in words for words in card(told, Stage.FILLING).foremost)


def test_short_pouches_are_not_sealed_by_the_space_bar() -> None:
    """Those well supplied come first; then the press that is offered opens the short ones again,
    and sealing them all the same is a press by another key."""
    told = tell(f"{FILLED}; packet 200x50 slack oxygen; place 4; place 4, 4 each; jar")
    first = card(told, Stage.SEALING)
    assert first.sentence == "Seal pouches 5 to 8, two seams each."
    assert first.foremost[0].startswith("Pouches 1 to 4 are short of absorber")
    assert "short of absorber" in card(told).sentence

    told.do("seal 5-8")
    short = card(told, Stage.SEALING)
    assert short.main.command == ReopenPouches((1, 2, 3, 4), "one absorber more")
    assert [control.command for control in short.seconds if control.key == "N"] == [
        SealPouches((1, 2, 3, 4), seams=2)
    ]


def test_a_short_liner_that_stands_open_is_not_to_be_opened() -> None:
    """Its verdict is said, and one more comes before its seam: nothing opens what is open."""
    told = tell(
        "receive wheat 16 kg; bypass wheat; agree wheat 1 x 16 kg, liner, with 2000, need 1500 cc; "
        "fill 1; packet 2000x1 slack oxygen; place 1, open"
    )

    said = card(told, Stage.SEALING)

    assert "short of absorber" in said.foremost[0]
    assert said.main.goto is Stage.FILLING
    assert told.refused("reopen 1")


def test_a_verdict_says_the_time_in_the_open_packet() -> None:
    """Absorbers that lay in the open packet for two hours are marginal, and that is why."""
    told = tell(f"{FILLED}; packet 200x10; +130 min; place 8; +3 min; jar; +2 min")

    said = card(told, Stage.SEALING).foremost[0]

    assert said.startswith("Pouches 1 to 8 are marginal")
    assert "after 130 min in the open packet and 5 min behind a zip" in said
    assert "doubted" not in said


def test_the_iron_names_a_pouch_that_was_opened_again() -> None:
    """It stands open with its absorber: said first, with the way to it; alone, it is the work."""
    told = tell(f"{FILLED}; packet 200x10; +4 min; place 8; jar; reopen 3; +6 min")
    said = card(told, Stage.SEALING)
    assert said.sentence == "Seal pouches 1, 2 and 4 to 8, two seams each."
    assert said.foremost[0].startswith(
        "Pouch 3 stands open again, for 6 min; its absorber works on the open air."
    )
    assert said.seconds[0] == TO_FILLING

    alone = card(told.do("seal 1, 2, 4-8"), Stage.SEALING)
    assert alone.main.goto is Stage.FILLING
    assert any(words.startswith("Pouch 3 stands open again") for words in alone.foremost)
