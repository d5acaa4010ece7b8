"""A lot is looked at again: the newest verdict rules, and a voiding restores the one before."""

from __future__ import annotations

from packdesk.session import facts as f
from packdesk.session.case import Refusal
from packdesk.session.commands import VoidFact
from packdesk.session.terms import LotVerdict
from tests.script import tell

APART = "receive wheat 8 kg quarantined"
ACCEPTED = f"{APART}; look at wheat again: accepted, dry now"
PLANNED = f"{ACCEPTED}; bypass wheat: treated; agree wheat 8 x 1 kg"


def test_a_lot_accepted_later_can_be_planned() -> None:
    """What stood in quarantine is packed once it was looked at again and accepted."""
    told = tell(PLANNED)
    lot = told.book.lots[told.lot_of("wheat")]

    assert (lot.verdict, lot.seen) == (LotVerdict.ACCEPTED, "dry now")
    assert told.session.plan is not None


def test_a_lot_refused_later_cannot_be_frozen() -> None:
    """What turned out bad in quarantine goes no further."""
    told = tell(f"{APART}; look at wheat again: refused, mouldy")

    assert "Freeze an accepted or quarantined lot" in told.refused("freeze wheat")
    assert "Look at it again, or take it off" in told.refused("agree wheat 8 x 1 kg")


def test_a_voided_look_restores_the_earlier_verdict_and_lists_the_plan() -> None:
    """The plan and what was filled by it rest on the look that accepted the lot."""
    told = tell(f"{PLANNED}; fill 2")
    look = told.last(f.LotLookedAt).id
    wanted = (told.last(f.PlanAgreed).id, told.last(f.PouchesFilled).id)

    refused = told.desk.submit(VoidFact(look, "it was another sack"))
    assert isinstance(refused, Refusal)
    assert refused.rests == wanted

    told.desk.submit(VoidFact(look, "it was another sack", wanted))
    assert told.book.lots[told.lot_of("wheat")].verdict is LotVerdict.QUARANTINED
    assert told.session.plan is None


def test_a_lot_refused_between_two_pouches_is_filled_no_further() -> None:
    """Filling stops with a lot that is refused, and goes on when it is accepted after all."""
    told = tell(f"{PLANNED}; fill 2")

    assert "Look at it again before filling" in told.refused(
        "look at wheat again: quarantined, beetles; fill 1"
    )
    told.do("look at wheat again: accepted, none alive; fill 1")
    assert len(told.session.pouches) == 3


def test_a_look_without_a_session_stays_in_the_book() -> None:
    """The lot of one session may be looked at in the next one, which then notes it."""
    told = tell(APART)
    told.desk.leave()
    told.do("session Winter; look at wheat again: accepted, dry now")

    assert told.last(f.LotLookedAt).fact.session == told.desk.session_id  # type: ignore[union-attr]
