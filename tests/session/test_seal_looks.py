"""Which seams are looked at next, and when: nobody's seam waits for the last one sealed."""

from __future__ import annotations

from datetime import timedelta

from packdesk.session.clocks import ClockKind, to_ring
from packdesk.session.seal_looks import Look, looks_taken, next_looks
from tests.script import SHUT, Script, tell

EIGHT_SHUT = f"{SHUT}; jar"


def first_look(told: Script) -> Look:
    """The look that comes next after sealing."""
    (look,) = (look for look in next_looks(told.session) if look.step == 1)
    return look


def numbers(look: Look) -> list[int]:
    """Its pouches by number."""
    return [pouch.number for pouch in look.pouches]


def test_sealing_on_later_days_puts_no_look_off() -> None:
    """Pouches sealed on Friday are called on Saturday though more are sealed every day."""
    told = tell(f"{EIGHT_SHUT}; seal 1-4")
    friday = told.clock.reading().utc
    told.do("+23 h; seal 5; +3 h; seal 6")

    look = first_look(told)

    assert (numbers(look), look.due_at) == ([1, 2, 3, 4], friday + timedelta(hours=24))
    told.do("check 1-4 snug")
    assert numbers(first_look(told)) == [5, 6]


def test_an_evening_is_looked_at_in_one_go() -> None:
    """What was sealed within a day is looked at together, 24 to 36 h after every seam."""
    told = tell(f"{EIGHT_SHUT}; seal 1-4")
    first = told.clock.reading().utc
    told.do("+5 h; seal 5-8")

    look = first_look(told)

    assert numbers(look) == [1, 2, 3, 4, 5, 6, 7, 8]
    for pouch in look.pouches:
        assert pouch.sealed is not None
        assert timedelta(hours=24) <= look.due_at - pouch.sealed.utc <= timedelta(hours=36)
    assert look.due_at == first + timedelta(hours=29)


def test_a_look_at_once_is_not_the_first_look() -> None:
    """Pressed ten minutes after the iron it is on record, and the look after a day still comes."""
    told = tell(f"{EIGHT_SHUT}; seal 1-8")
    sealed = told.clock.reading().utc
    told.do("+10 min; check 1-8 snug")

    assert len(told.session.pouches[1].checks) == 1
    assert looks_taken(told.session.pouches[1]) == 0
    assert first_look(told).due_at == sealed + timedelta(hours=24)


def test_the_next_group_rings_of_its_own() -> None:
    """Once the first were looked at, those sealed a day later ring when their day is over."""
    told = tell(f"{EIGHT_SHUT}; seal 1-4; +25 h; seal 5-8")
    assert rung(told) == ["1"]
    told.do("check 1-4 snug")
    assert rung(told) == []
    told.do("+25 h")
    assert rung(told) == ["1"]
    assert rung(told) == []


def rung(told: Script) -> list[str]:
    """Let ring what is due, on record, and say which looks those are."""
    clocks = [
        clock
        for clock, _ in to_ring(told.session, told.clock.reading())
        if clock.kind is ClockKind.SEAL_CHECK
    ]
    told.desk.ring_due()
    return [clock.subject for clock in clocks]


def test_a_pouch_opened_again_leaves_the_look_of_the_others() -> None:
    """One cut open and one set aside are not pressed, and the others' week goes on."""
    told = tell(f"{EIGHT_SHUT}; seal 1-8; +25 h; check 1-8 snug")
    looked = told.clock.reading().utc
    told.do("reopen 2: a thread in the seam; set aside 3: torn")

    (look,) = next_looks(told.session)

    assert (look.step, look.due_at) == (2, looked + timedelta(days=7))
    assert numbers(look) == [1, 4, 5, 6, 7, 8]
