"""Voiding: an entry that does not count, together with all that rests on it."""

from __future__ import annotations

from uuid import UUID, uuid4

import pytest

from packdesk.session import facts as f
from packdesk.session.case import Refusal
from packdesk.session.commands import VoidFact
from packdesk.session.fact import Fact
from packdesk.session.fold import fold, uncounted, voided
from tests.script import SEALED, SHUT, TREATED, Script, tell

FILLED = f"{TREATED}; fill 8"


def void(
    told: Script, target: UUID, reason: str = "wrong", along: tuple[UUID, ...] = ()
) -> Refusal:
    """Ask for a voiding; the refusal, if it was refused."""
    answer = told.desk.submit(VoidFact(target, reason, along))
    return answer if isinstance(answer, Refusal) else Refusal("")


def void_along(told: Script, kind: type[Fact], reason: str = "wrong") -> tuple[UUID, ...]:
    """Void the last fact of a kind with all that rests on it; what rested on it."""
    target = told.last(kind).id
    rests = void(told, target, reason).rests
    if rests:
        assert void(told, target, reason, rests).sentence == ""
    return rests


def kinds_of(told: Script, ids: tuple[UUID, ...]) -> list[str]:
    """The kinds of some entries, in recorded order."""
    return [e.fact.kind for e in told.entries if e.id in ids and isinstance(e.fact, Fact)]


def test_lists_what_rests_on_it() -> None:
    """Voiding a filling names all that was done with its pouches since, and nothing else."""
    told = tell(f"{SEALED}; note: unrelated; label 1-8; stow 1-8 in pail 1; lid pail 1")

    refusal = void(told, told.last(f.PouchesFilled).id)

    assert "7 later entries rest on this one" in refusal.sentence
    assert kinds_of(told, refusal.rests) == [
        "ready_checked",
        "absorbers_placed",
        "pouches_shut",
        "pouches_sealed",
        "labels_printed",
        "pouches_stowed",
        "pail_lidded",
    ]


def test_is_all_or_nothing() -> None:
    """Naming a part of what rests on an entry is refused, and nothing is voided."""
    told = tell(SEALED)
    target = told.last(f.PouchesFilled).id
    rests = void(told, target).rests
    before = told.desk.state

    for some in ((), rests[:1], (*rests, told.last(f.PlanAgreed).id)):
        assert void(told, target, "wrong", some).sentence

    assert told.desk.state == before


def test_voids_all_of_it_together() -> None:
    """With everything named the entry and what rests on it count no longer."""
    told = tell(SEALED)

    void_along(told, f.AbsorbersPlaced, "it was the other packet")

    assert {pouch.stage for pouch in told.session.pouches.values()} == {"filled"}
    assert told.session.rounds[1].placed == 0


def test_an_entry_nothing_rests_on_is_voided_alone() -> None:
    """A note is voided by itself; naming others beside it is refused."""
    told = tell("note: one; note: two")
    one, two = (entry.id for entry in told.entries[-2:])

    assert "Void it alone" in void(told, one, "wrong", (two,)).sentence
    assert void(told, one).sentence == ""
    assert told.session.notes == ("two",)


def test_takes_the_whole_act() -> None:
    """The facts of one press count together or not at all."""
    told = tell(f"{FILLED}; packet 200x10")

    assert void(told, told.last(f.RoundStarted).id).sentence == ""

    assert told.book.packets == {}
    assert told.session.rounds == {}


def test_what_happened_in_both_streams_is_voided_in_both() -> None:
    """A lot that never was takes the plan and all the work along, book and session alike."""
    told = tell(SHUT)

    void_along(told, f.LotReceived, "delivered next door")

    assert told.book.lots == {}
    assert told.session.plan is None
    assert told.session.pouches == {}
    assert told.desk.state.disputed == ()


def test_says_why() -> None:
    """Every voided entry leads to the voiding that says why."""
    told = tell(FILLED)
    fill = told.last(f.PouchesFilled)

    void(told, fill.id, "it was the rice")

    because = voided(told.entries)[fill.id].fact
    assert isinstance(because, f.FactVoided)
    assert (because.reason, because.mistap) == ("it was the rice", False)


def test_a_voiding_voided_counts_again() -> None:
    """What was voided by mistake counts again once the voiding is voided, and exactly so."""
    told = tell(SEALED)
    before = told.desk.state
    void_along(told, f.PouchesFilled)

    assert void(told, told.last(f.FactVoided).id, "they were right after all").sentence == ""

    assert told.desk.state == before


def test_what_would_collide_with_what_counts_again_is_named() -> None:
    """Pouches filled anew stand in the way of those voided before: they are listed, not lost."""
    told = tell(f"{TREATED}; fill 8")
    void_along(told, f.PouchesFilled)
    voiding = told.last(f.FactVoided).id
    told.do("fill 8")
    again = told.last(f.PouchesFilled).id

    refusal = void(told, voiding, "they were right after all")

    assert refusal.rests == (again,)
    assert void(told, voiding, "they were right", (again,)).sentence == ""
    assert len(told.session.pouches) == 8
    assert told.desk.state.disputed == ()


def test_numbers_go_on_after_a_hole() -> None:
    """Of two packets the first is voided; the third is still the third."""
    told = tell(f"{FILLED}; packet 200x4; place 4; packet 200x4; place 2; jar")
    first = next(e for e in told.entries if isinstance(e.fact, f.PacketOpened))
    rests = void(told, first.id).rests
    void(told, first.id, "it was the second", rests)

    told.do("packet 200x4")

    assert list(told.book.packets) == ["P2", "P3"]
    assert list(told.session.rounds) == [2, 3]


@pytest.mark.parametrize("voided_round", [1, 2])
def test_jars_go_on_after_a_hole(voided_round: int) -> None:
    """A remainder voided leaves its number or not; the next one never takes another's."""
    told = tell(f"{FILLED}; packet 200x4; jar; packet 200x4; jar; packet 200x4")
    jars = [e.id for e in told.entries if isinstance(e.fact, f.RemainderShut)]
    rests = void(told, jars[voided_round - 1]).rests
    void(told, jars[voided_round - 1], "miscounted", rests)

    while any(round_.left for round_ in told.session.rounds.values()):
        told.do("jar")

    assert len(told.book.remainders) == len(set(told.book.remainders))
    assert told.desk.state.disputed == ()


def test_refuses_what_it_cannot_void() -> None:
    """The opening, an unknown entry, one that is voided already, and a voiding without a reason."""
    told = tell("note: one; note: two")
    one, two = (entry.id for entry in told.entries[-2:])
    void(told, one)

    assert "Close it instead" in void(told, told.last(f.SessionOpened).id).sentence
    assert "Open the session it was noted in" in void(told, uuid4()).sentence
    assert "There is nothing to void" in void(told, one).sentence
    assert "Say why" in void(told, two, "  ").sentence


def test_what_would_be_voided_is_known_beforehand() -> None:
    """Asking which entries would not count changes nothing."""
    told = tell("note: one")
    note = told.last(f.NoteAdded).id

    assert uncounted(told.entries, {note}) == {note}
    assert uncounted(told.entries) == set()
    assert fold(told.entries) == told.desk.state


def test_what_no_longer_fits_does_not_come_back() -> None:
    """Of two fillings of the same pouches, both voided, only one can count again."""
    told = tell(f"{TREATED}; fill 8; undo; fill 8; undo")
    first, second = (e.id for e in told.entries if isinstance(e.fact, f.FactVoided))
    assert void(told, first, "they were right").sentence == ""

    refusal = void(told, second, "these too")

    assert "no longer fits what came since. Enter it anew" in refusal.sentence
    assert len(told.session.pouches) == 8


def test_the_entry_that_was_meant_comes_first() -> None:
    """The record tells which entry was meant, and which were only voided along."""
    told = tell(SEALED)
    plan = told.last(f.PlanAgreed).id

    void_along(told, f.PlanAgreed)

    voiding = told.last(f.FactVoided).fact
    assert isinstance(voiding, f.FactVoided)
    assert voiding.targets[0] == plan
