"""From which open load the food of a pouch came, and from which the next one will."""

from __future__ import annotations

import pytest

from packdesk.session import facts as f
from packdesk.session.case import Refusal
from packdesk.session.commands import VoidFact
from packdesk.session.load_left import left_g, next_loads
from packdesk.session.still_to_come import by_load, still_to_come
from tests.script import Script, tell

TWO_LOADS = """
receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat 3.5 kg; freeze wheat 4.5 kg
+120 h; out A 21 C 50 %; out B 21 C 50 %; +60 h; open A
"""


@pytest.fixture
def one_open() -> Script:
    """Two loads of one lot are warm, the first of them open."""
    return tell(TWO_LOADS)


def filled_from(told: Script) -> list[tuple[str, ...]]:
    """The loads of every filling, in order."""
    return [fact.loads for fact in told.facts if isinstance(fact, f.PouchesFilled)]


def next_of(told: Script, mass_g: float = 1000.0) -> tuple[str, ...]:
    """Where the next food of the first plan line comes from."""
    assert told.session.plan is not None
    return next_loads(told.session, told.session.plan.lines[0], mass_g)


def test_the_only_open_load_is_named_without_asking(one_open: Script) -> None:
    """While one load of a lot is open, its pouches are from that load."""
    one_open.do("fill 3")

    assert filled_from(one_open) == [("A",)]
    assert {pouch.loads for pouch in one_open.session.pouches.values()} == {("A",)}


def test_of_several_open_loads_none_is_guessed(one_open: Script) -> None:
    """Where nobody says which of two open loads it was, the record says that it is not known."""
    one_open.do("open B; fill 1")

    assert filled_from(one_open) == [()]


def test_a_pouch_may_straddle_two_loads(one_open: Script) -> None:
    """The last of one load and the first of the next may fill one pouch, which names both."""
    one_open.do("fill 3; open B; fill 1 from A, B; fill 1 from B")

    assert filled_from(one_open) == [("A",), ("A", "B"), ("B",)]
    assert one_open.session.pouches[4].loads == ("A", "B")


def test_what_is_left_follows_the_pouches(one_open: Script) -> None:
    """The rest of a load is its mass less what went into pouches, each load emptied in turn."""
    lot = one_open.lot_of("wheat")
    one_open.do("fill 3; open B; fill 1 from A, B")
    assert left_g(one_open.session, lot) == {"A": 0.0, "B": 4000.0}

    one_open.do("empty 2: spilt")
    assert left_g(one_open.session, lot) == {"A": 500.0, "B": 4500.0}


def test_reckons_when_the_next_pouch_straddles(one_open: Script) -> None:
    """A load that still fills the pouch is kept to; what does not fill it is eked out."""
    assert next_of(one_open) == ("A",)
    one_open.do("fill 3; open B")
    assert next_of(one_open) == ("A", "B")
    one_open.do("fill 1 from A, B")
    assert next_of(one_open) == ("B",)


def test_what_the_person_said_goes_before_the_reckoning(one_open: Script) -> None:
    """Once the next load is taken from, the one before is not gone back to."""
    one_open.do("open B; fill 1 from B")

    assert next_of(one_open) == ("B",)


def test_a_lot_that_needed_no_cold_names_no_load() -> None:
    """Food that never was in a load comes from none."""
    told = tell("receive salt 2 kg; bypass salt: no insect; agree salt 2 x 1 kg; fill 1")

    assert filled_from(told) == [()]
    assert next_of(told) == ()


def test_a_load_still_shut_is_not_filled_from(one_open: Script) -> None:
    """Food cannot come out of a load whose lid is on."""
    assert "Load B is still shut" in one_open.refused("fill 1 from A, B")


def test_a_filling_rests_on_each_uncovering_it_names(one_open: Script) -> None:
    """Voiding the uncovering of either load lists the pouch that straddles both."""
    one_open.do("fill 3; open B; fill 1 from A, B")
    opened = one_open.last(f.LoadUncovered).id
    straddling = one_open.last(f.PouchesFilled).id

    answer = one_open.desk.submit(VoidFact(opened, "it was not that one"))

    assert isinstance(answer, Refusal)
    assert answer.rests == (straddling,)


def test_a_pouch_brought_back_keeps_its_loads(one_open: Script) -> None:
    """Setting a pouch aside and bringing it back changes nothing about its food."""
    one_open.do("fill 3; set aside 2: dust; return 2")

    assert one_open.session.pouches[2].loads == ("A",)


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ("", (("A", 3), ("B", 5))),  # 3.5 kg end 3 pouches of 1 kg; the rest of 8 end in B
        ("fill 2", (("A", 1), ("B", 5))),
        ("fill 3; open B", (("B", 5),)),
        ("fill 3; open B; fill 1 from A, B", (("B", 4),)),
        ("lose 1000 g of wheat: spilled", (("A", 3), ("B", 4))),
    ],
)
def test_the_pouches_to_come_are_told_by_load(
    one_open: Script, steps: str, expected: tuple[tuple[str, int], ...]
) -> None:
    """What each load will still fill is reckoned in turn, and together it is what is to come."""
    if steps:
        one_open.do(steps)
    session = one_open.session
    assert session.plan is not None
    line = session.plan.lines[0]

    assert by_load(session, line) == expected
    assert sum(count for _, count in expected) == still_to_come(session, line).more
