"""What the look around before a packet says of how many, and of the packet to open."""

from __future__ import annotations

import pytest

from packdesk.present.chosen import Chosen, ReadyCheck
from packdesk.present.work_filling import filling_card
from tests.script import tell

PACKETS = (10, 50, 100)


def evidence(absorbers: str, filled: int) -> tuple[str, ...]:
    """What the check says with so many pouches open that take these absorbers each."""
    told = tell(
        f"receive wheat 60 kg; bypass wheat: treated; agree wheat 60 x 1 kg, with {absorbers};"
        f"fill {filled}"
    )
    chosen = Chosen(ready=ReadyCheck(packets=PACKETS))
    return filling_card(told.book, told.session, chosen, told.desk.now()).evidence


@pytest.mark.parametrize(
    ("absorbers", "filled", "words"),
    [
        ("200", 6, "6 stand open: a packet of 10 leaves 4 for the jar."),
        ("100+100", 4, "4 stand open: a packet of 10 leaves 2 for the jar."),
        ("100+100", 5, "5 stand open: a packet of 10 is used up."),
        ("100+100", 6, "6 stand open: a packet of 10 does for 5."),
    ],
)
def test_the_packet_is_said_with_what_it_leaves(absorbers: str, filled: int, words: str) -> None:
    """It is of ten, as for 60 pouches and 6 spare ones is to be bought with nothing left over but
    4; two absorbers a pouch take twice as many from it."""
    assert words in evidence(absorbers, filled)


def test_a_packet_too_small_for_all_is_said_with_how_many_it_does_for() -> None:
    """Thirty-five pouches of four want 140: one of the packets of 10 to be bought does for 2."""
    found = evidence("50+50+50+50", 35)

    assert "35 stand open: a packet of 10 does for 2." in found


def test_the_next_packet_is_taken_to_hold_what_the_last_one_held() -> None:
    """Twelve were in it, whatever is sold: of the next such packet six pouches leave six."""
    told = tell(
        "receive wheat 60 kg; bypass wheat: treated; agree wheat 60 x 1 kg, with 200; fill 12;"
        "ready; packet 200x12; place 12; fill 6"
    )
    chosen = Chosen(ready=ReadyCheck(packets=PACKETS))
    found = filling_card(told.book, told.session, chosen, told.desk.now()).evidence

    assert "6 stand open: a packet of 12 leaves 6 for the jar." in found
