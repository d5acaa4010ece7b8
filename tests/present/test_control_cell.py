"""The pouch on a control, with an absorber or without."""

from __future__ import annotations

from dataclasses import replace

import pytest

from packdesk.present.cards import WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.control_cell import control_cell
from packdesk.present.work import work_card
from packdesk.session.terms import Stage
from tests.present.test_tally_board import board
from tests.script import SEALED, SHUT, TREATED, Script, tell

SALT = "receive salt 4 kg; bypass salt; agree salt 4 x 1 kg, no absorber; fill 4"


def card(told: Script, stage: Stage) -> WorkCard:
    """The work of a stage as it stands."""
    return work_card(stage, told.desk.state, Chosen(), told.desk.now())


@pytest.mark.parametrize(
    ("steps", "stage"),
    [
        (SALT, Stage.FILLING),
        (f"{SALT}; shut 1-4", Stage.SEALING),
        (f"{SALT}; shut 1-4; seal 1-4", Stage.AFTER),
    ],
)
def test_salt_is_drawn_without_an_absorber(steps: str, stage: Stage) -> None:
    """The main control of food shut up without absorbers draws none, at every stage."""
    told = tell(steps)
    cell = control_cell(told.session, card(told, stage).main)

    assert cell is not None
    assert cell.absorbers == 0


@pytest.mark.parametrize(
    ("steps", "stage"),
    [
        (f"{TREATED}; fill 8; ready; packet 200x10", Stage.FILLING),
        (SHUT, Stage.SEALING),
        (SEALED, Stage.AFTER),
    ],
)
def test_wheat_is_drawn_with_its_absorber(steps: str, stage: Stage) -> None:
    """Where an absorber goes in, or is in, it is drawn."""
    told = tell(steps)
    cell = control_cell(told.session, card(told, stage).main)

    assert cell is not None
    assert cell.absorbers == 1


def test_two_absorbers_are_drawn_as_two() -> None:
    """Where a slack packet asks for two in each, the control shows two, and so does the pouch."""
    told = tell(f"{TREATED}; fill 8; packet 200x20 slack")
    control = card(told, Stage.FILLING).main
    assert control_cell(told.session, control).absorbers == 2

    told.desk.submit(replace(control.command, count=3))
    (line,) = board(told).lines

    assert [cell.absorbers for cell in line.cells[:4]] == [2, 2, 2, 0]
    assert line.cells[0].label.endswith("pressed shut, 2 absorbers in")


def test_a_liner_is_drawn_as_one() -> None:
    """What is done with a liner shows it in its pail, from filling it until it is stowed."""
    told = tell("receive wheat 10 kg; bypass wheat: treated; agree wheat 1 x 10 kg, liner")
    for step, stage in (
        ("", Stage.FILLING),
        ("fill 1; ready; packet 200x10", Stage.FILLING),
        ("place 1, open; seal 1", Stage.AFTER),
    ):
        told.do(step)

        assert control_cell(told.session, card(told, stage).main).liner
