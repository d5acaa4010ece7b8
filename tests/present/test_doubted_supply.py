"""A doubted packet changes what follows: said before the first absorber, kept until the seam."""

from __future__ import annotations

import pytest

from packdesk.present.cards import PouchCell, WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.tally_board import pouch_cell
from packdesk.present.work import work_card
from packdesk.session.commands import PlaceAbsorbers, ShutRemainder
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
    why = [words for words in said.evidence if "115 cc" in words]
    assert bool(why) == bool(each)
    if each:
        assert has in why[0]
        assert f"{each} make sure. Or shut these up (C) and open another packet." in why[0]
        (plain,) = [control for control in said.seconds if control.key == "N"]
        assert (plain.label, plain.command.each) == ("Only 1 each", None)  # type: ignore[union-attr]


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
        assert [control.label for control in said.seconds] == ["Only 1 each"]


def cells(told: Script) -> tuple[PouchCell, ...]:
    """The pouches as the counter shows them."""
    plan_cells = (
        pouch_cell(told.session, pouch, at=told.desk.now().utc)
        for pouch in told.session.working_pouches()
    )
    return tuple(plan_cells)
