"""Labels with numbers alone, made before filling."""

from __future__ import annotations

import pytest

from packdesk.session import facts as f
from packdesk.session.numbering import numbers_by_line, numbers_to_print
from packdesk.session.replay import command_of
from tests.script import Script, tell

TWO_FOODS = (
    "receive wheat 8 kg; receive salt 4 kg; bypass wheat: treated; bypass salt: no insects;"
    "agree wheat 8 x 1 kg & salt 4 x 1 kg, no absorber, numbered"
)


@pytest.fixture
def told() -> Script:
    """A numbered plan of eight pouches of wheat and four of salt, nothing filled yet."""
    return tell(TWO_FOODS)


def numbers(told: Script, line: int) -> list[int]:
    """The numbers of the filled pouches of a plan line."""
    return [pouch.number for pouch in told.session.working_pouches(line)]


def test_the_record_says_which_numbers_went_where(told: Script) -> None:
    """Numbers printed before filling are on record with their line, stock and first place."""
    told.do("number 1-8 of wheat")

    fact = told.last(f.NumberLabelsPrinted).fact
    assert fact == f.NumberLabelsPrinted(
        line=1, pouches=(1, 2, 3, 4, 5, 6, 7, 8), stock="a4-3x7", first_cell=0, reprint=False
    )


def test_the_places_of_the_sheet_are_gone(told: Script) -> None:
    """The sheet remembers the places that number labels took, for the next print on it."""
    told.do("number 1-8 of wheat")

    assert told.book.sheets["a4-3x7"] == 8


def test_voiding_them_gives_the_places_back(told: Script) -> None:
    """With the number labels undone the numbers are unprinted and the sheet is as it was."""
    told.do("number 1-3 of wheat; number 4-8 of wheat; undo")

    assert told.book.sheets["a4-3x7"] == 3
    assert set(told.session.numbers_printed) == {1, 2, 3}


def test_a_number_is_not_a_label_of_what_is_in_the_pouch(told: Script) -> None:
    """A pouch that bears a number still wants its label, which is no reprint."""
    told.do("number 1-8 of wheat; fill 8 of wheat; ready; packet 200x8; place 8; seal 1-8")
    assert not any(pouch.labelled for pouch in told.session.pouches.values())

    told.do("label 1-8")

    assert all(pouch.labelled for pouch in told.session.pouches.values())
    printed = told.last(f.LabelsPrinted).fact
    assert isinstance(printed, f.LabelsPrinted)
    assert not printed.reprint


def test_a_pouch_gets_the_number_that_lies_ready_for_its_food(told: Script) -> None:
    """Whichever food is filled first, its pouches bear the numbers printed for it."""
    told.do("number 1-8 of wheat; number 9-10 of salt; fill 3 of salt; fill 2 of wheat")

    assert numbers(told, 2) == [9, 10, 11]
    assert numbers(told, 1) == [1, 2]


def test_numbers_to_come_follow_the_plan_and_the_labels(told: Script) -> None:
    """Numbers still to come are those on labels first, then new ones, line after line."""
    told.do("number 5-6 of salt; fill 1 of wheat")

    assert numbers(told, 1) == [7]
    assert numbers_by_line(told.session) == {1: tuple(range(8, 15)), 2: (5, 6, 15, 16)}


def test_numbers_are_offered_for_printing_once(told: Script) -> None:
    """What lies on a label already is not offered again."""
    told.do("number 1-6 of wheat")

    assert numbers_to_print(told.session, 1) == (7, 8)


def test_numbers_made_and_not_answered_for_lie_ready_too(told: Script) -> None:
    """Who fills before the labels are answered for gets their numbers, and can still say yes."""
    told.do("make numbers 9-12 of salt; fill 2 of salt; fill 1 of wheat")
    assert (numbers(told, 2), numbers(told, 1)) == ([9, 10], [13])
    assert numbers_to_print(told.session, 2) == ()

    told.do("number 9-12 of salt")

    assert told.session.labels_asked is None
    assert set(told.session.numbers_printed) == {9, 10, 11, 12}


def test_a_number_whose_label_tore_keeps_its_turn(told: Script) -> None:
    """What tore is printed next with the same number; a pouch filled meanwhile may bear it."""
    told.do("make numbers 1-4 of wheat; number 1, 3-4 of wheat")
    assert numbers_to_print(told.session, 1)[:2] == (2, 5)

    told.do("make numbers 2 of wheat")
    assert numbers_by_line(told.session)[1] == tuple(range(1, 9))
    told.do("number 2 of wheat; fill 5 of wheat")

    assert numbers(told, 1) == [1, 2, 3, 4, 5]
    assert not told.session.numbers_torn


@pytest.mark.parametrize(
    ("steps", "sentence"),
    [
        (
            "number 1-2 of wheat; number 2-3 of wheat",
            "Pouch 2 is numbered on a label already. Print those again, or leave them out.",
        ),
        (
            "number 1-2 of wheat; number 2-3 of salt",
            "Pouch 2 is numbered for another food. Choose other numbers.",
        ),
        (
            "fill 2 of wheat; number 2 of wheat",
            "Pouch 2 is filled. Print the label with everything.",
        ),
        ("number 1-9 of wheat", "That is more than the 8 pouches planned. Plan more first."),
        ("number 0 of wheat", "Pouches are numbered from 1."),
        (
            "close all the same; number 1 of wheat",
            "This session is closed. Undo the closing to go on with it.",
        ),
    ],
)
def test_numbers_that_cannot_be_are_refused(told: Script, steps: str, sentence: str) -> None:
    """Number labels that no pouch of the line could bear are refused, with what to do."""
    assert told.refused(steps) == sentence


def test_a_torn_number_is_printed_again(told: Script) -> None:
    """A number label that tore is printed once more with the same number."""
    told.do("number 1-2 of wheat; number 2 of wheat again")

    assert set(told.session.numbers_printed) == {1, 2}


def test_counted_pouches_bear_no_numbers() -> None:
    """Where pouches are counted, not numbered, no numbers are printed before filling."""
    told = tell("receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg")

    assert told.refused("number 1 of wheat") == (
        "This plan works with counted pouches. Plan numbered working to print numbers."
    )


def test_the_numbers_lead_back_to_their_command(told: Script) -> None:
    """The recorded act tells the same command again, places of the sheet included."""
    told.do("number 3-5 of wheat")
    act = [entry.fact for entry in told.entries if entry.act == told.entries[-1].act]

    assert command_of(act) == told.order("number 3-5 of wheat")  # type: ignore[arg-type]
