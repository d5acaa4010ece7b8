"""The tally: a cell for each pouch, counts in words, the last entry and what Undo takes back."""

from __future__ import annotations

import pytest

from packdesk.present.cards import CellState, TallyBoard
from packdesk.present.measures import Measures
from packdesk.present.tally_board import tally_board
from tests.script import SEALED, SHUT, TREATED, Script, tell

FILLED = f"{TREATED}; fill 8"


def board(told: Script) -> TallyBoard:
    """The tally as it stands."""
    return tally_board(told.session, told.entries, told.session.session, Measures())


def plain(text: str) -> str:
    """The text with its no-break spaces as plain ones."""
    return text.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("steps", "words"),
    [
        (TREATED, "all planned"),
        (f"{TREATED}; fill 3", "3 filled, 5 to fill"),
        (f"{FILLED}; packet 200x8; place 8, open", "8 with absorbers"),
        (f"{FILLED}; packet 200x8; place 5", "5 shut, 3 filled"),
        (f"{SHUT}; seal 1-2; seal 3, gap left", "2 sealed, 6 shut"),
        (f"{SEALED}; stow 1-5 in pail 1", "5 stowed, 3 sealed"),
        (f"{SEALED}; stow 1-3 in pail 1; check 3-4 snug", "2 checked, 2 stowed, 4 sealed"),
        (f"{SEALED}; set aside 8: slack", "7 sealed, 1 set aside"),
        (f"{SEALED}; empty 8: torn; check 7 swollen", "6 sealed, 1 to fill, 2 set aside"),
    ],
)
def test_counts_every_pouch_once(steps: str, words: str) -> None:
    """Each pouch is counted where it has come to, the furthest first."""
    (line,) = board(tell(steps)).lines

    assert plain(line.words) == f"8 of 1.00 kg: {words}"


def test_food_without_absorbers_is_counted_too() -> None:
    """Salt that is shut without an absorber is shut, and nothing else."""
    told = tell(
        "receive salt 4 kg; bypass salt; agree salt 4 x 1 kg, no absorber; fill 3; shut 1-2"
    )
    (line,) = board(told).lines

    assert line.words.endswith(": 2 shut, 1 filled, 1 to fill")
    assert all(cell.absorbers == 0 for cell in line.cells if cell.number is not None)


def test_a_pouch_with_its_absorber_is_drawn_with_it() -> None:
    """Only what has no absorber in it is drawn bare."""
    (line,) = board(tell(f"{FILLED}; packet 200x8; place 5")).lines

    assert [cell.absorbers for cell in line.cells] == [1] * 5 + [0] * 3


def test_cells_stand_in_the_order_of_their_numbers() -> None:
    """Filled pouches first, by number, then those still to be filled."""
    told = tell(f"{TREATED}; fill 3; set aside 2: torn; fill 2; empty 5: torn")
    (line,) = board(told).lines

    assert [cell.number for cell in line.cells] == [1, 2, 3, 4, *[None] * 4]
    assert [cell.state for cell in line.cells[:5]] == [
        CellState.FILLED,
        CellState.SET_ASIDE,
        CellState.FILLED,
        CellState.FILLED,
        CellState.PLANNED,
    ]


def test_undo_names_the_pouch_that_came_back_not_the_plan_that_made_room() -> None:
    """One press takes both back, and its words are those of what was asked for."""
    told = tell(f"{FILLED}; set aside 2: torn; fill 1 at 50 g; return 2")

    assert board(told).undo.startswith("Pouch 2 back in work")


def test_cells_say_how_far_their_pouch_has_come() -> None:
    """A sealed pouch with its label on is told apart from one without."""
    told = tell(f"{SEALED}; label 1-2; stow 2 in pail 1")
    (line,) = board(told).lines

    assert [cell.state for cell in line.cells[:3]] == [
        CellState.LABELLED,
        CellState.STOWED,
        CellState.SEALED,
    ]
    assert line.cells[1].pail == "1"
    assert line.cells[0].label == "Pouch 1, Wheat, labelled"


def test_cells_carry_the_verdict_on_their_absorbers() -> None:
    """A pouch whose absorber lay open too long is marked, marginal or to be given one more."""
    told = tell("receive wheat 8 kg; bypass wheat; agree wheat 3 x 1 kg, need 150 cc; fill 3")
    told.do("packet 200x3; +5 min; place 1; +35 min; place 1; +90 min; place 1")
    (line,) = board(told).lines

    assert [(cell.marginal, cell.add_one) for cell in line.cells] == [
        (False, False),
        (True, False),
        (False, True),
    ]


def test_each_plan_line_has_its_row() -> None:
    """Two foods are two rows, in the order of the plan."""
    told = tell(
        "receive wheat 4 kg; receive rice 4 kg; bypass wheat; bypass rice;"
        "agree wheat 4 x 1 kg & rice 2 x 2 kg; fill 1 of rice; fill 1 of wheat"
    )

    assert [(line.food, len(line.cells), line.cells[0].number) for line in board(told).lines] == [
        ("Wheat", 4, 2),
        ("Rice", 2, 1),
    ]


def test_says_what_undo_takes_back() -> None:
    """The last entry stands with its time, as Undo would take it back."""
    told = tell(f"{TREATED}; fill 3; +2 min; fill 2")
    assert board(told).last_entry == "Pouches 4 and 5 filled 19:02"
    assert board(told).undo == "Pouches 4 and 5 filled"

    told.do("undo")
    assert board(told).undo == "Pouches 1 to 3 filled"


def test_an_entry_of_another_day_says_which() -> None:
    """Today's entry says its time, one of this week its weekday, an older one its date."""
    told = tell(f"{TREATED}; fill 3")

    def last(passed: str) -> str:
        told.do(passed)
        at = told.desk.now()
        return tally_board(
            told.session, told.entries, told.session.session, Measures(), now=at
        ).last_entry

    assert last("+1 min") == "Pouches 1 to 3 filled 19:00"
    assert last("+1 d") == "Pouches 1 to 3 filled Fri 19:00"
    assert last("+9 d") == "Pouches 1 to 3 filled Fri 20 Nov 19:00"


def test_says_the_whole_act_in_one() -> None:
    """What one press did is named once, down to the zip."""
    assert board(tell(SHUT)).undo == "Pouches 1 to 8: absorber in, shut"


def test_alarms_are_not_the_last_entry() -> None:
    """What the program noted by itself is not what Undo takes back."""
    told = tell(f"{SHUT}; +30 min")
    told.desk.ring_due()

    assert board(told).undo == "Pouches 1 to 8: absorber in, shut"


def test_nothing_to_undo_is_said_by_silence() -> None:
    """In a session just opened there is no last entry, but it is saved."""
    found = board(tell())

    assert (found.last_entry, found.undo) == ("", "")
    assert found.saved == "Saved 19:00:00"


def test_says_when_it_was_saved() -> None:
    """The time saved is that of the last record, alarms and undos included."""
    told = tell("note: one; +65 s; undo")

    assert board(told).saved == "Saved 19:01:05"
