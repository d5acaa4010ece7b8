"""What a voided reading had moved goes back to where it would be without it."""

from __future__ import annotations

from datetime import datetime

import msgspec

from packdesk.session import facts as f
from packdesk.session.clocks import running
from packdesk.session.commands import FreezeLoad, VoidFact
from packdesk.session.departures import Departure, departures
from packdesk.session.fact import Fact
from packdesk.session.fold import fold
from tests.script import PAIL, Script, tell

COLD = "receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +20 h"
WARMING = "receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +130 h; out A 21 C 55 %; +2 h"


TWO_PAILS = "receive wheat 60 kg; agree wheat 8 x 1 kg"


def weak_freezer(told: Script) -> FreezeLoad:
    """A pail goes into a freezer that hardly keeps up with it."""
    figures = msgspec.structs.replace(PAIL, spare_power_w=30.0, frozen_food_kg=10.0)
    lot = told.lot_of("wheat")
    return FreezeLoad(lot, "pail-19l", "pail", 14000.0, figures, confirmed=True)


def due(told: Script) -> datetime:
    """When the one clock of the session is due."""
    (clock,) = running(told.session)
    return clock.due_at


def void_last(told: Script, kind: type[Fact]) -> f.FactVoided:
    """Void the last fact of a kind, which nothing rests on."""
    told.desk.submit(VoidFact(told.last(kind).id, "typed wrong"))
    voiding = told.entries[-1].fact
    assert isinstance(voiding, f.FactVoided)
    return voiding


def test_a_due_time_forgets_a_reading_that_is_voided() -> None:
    """A right reading after a wrong one counts alone once the wrong one is voided."""
    right = due(tell(f"{COLD}; core A -9 C"))
    told = tell(f"{COLD}; core A 5 C, confirmed")
    wrong = told.entries[-1].id
    told.do("core A -9 C")
    assert due(told) > right

    told.desk.submit(VoidFact(wrong, "typed wrong"))

    assert due(told) == right
    assert told.session.loads["A"].forecast_before is None
    assert fold(told.entries) == told.desk.state


def test_a_lid_waits_again_when_a_dry_room_is_voided() -> None:
    """A room read too warm and dry by mistake does not let the lid come off early after all."""
    right = due(tell(f"{WARMING}; core A -14 C"))
    told = tell(f"{WARMING}; room 24 C 20 %; core A -14 C")
    assert due(told) < right

    void_last(told, f.RoomRead)

    assert due(told) == right
    thaw = told.session.loads["A"].thaw
    assert thaw is not None
    assert thaw.room_c == 21.0


def test_a_load_beside_forgets_one_that_never_was() -> None:
    """A load voided after the freezer was read no longer keeps the other one waiting."""
    alone, told = tell(TWO_PAILS), tell(TWO_PAILS)
    for script, pails in ((alone, 1), (told, 2)):
        for _ in range(pails):
            script.desk.submit(weak_freezer(script))
        script.do("+2 h; freezer -15 C")
    assert due_of_a(told) != due_of_a(alone)

    void_last(told, f.LoadFrozen)

    assert due_of_a(told) == due_of_a(alone)
    assert told.session.freezers == alone.session.freezers


def due_of_a(told: Script) -> datetime:
    """When load A is cold enough."""
    return next(clock.due_at for clock in running(told.session) if clock.subject == "A")


def test_undo_of_the_voiding_counts_the_reading_again() -> None:
    """Taken back, a voiding leaves the due time where the reading had moved it."""
    told = tell(f"{COLD}; core A 5 C, confirmed")
    wrong = told.entries[-1].id
    told.do("core A -9 C")
    moved = due(told)
    told.desk.submit(VoidFact(wrong, "typed wrong"))

    told.do("undo")

    assert due(told) == moved


def test_nothing_is_reckoned_where_nothing_went_by_it() -> None:
    """A reading that nothing came after is voided without new outlooks; its own go with it."""
    told = tell(COLD)
    before = told.session.loads
    told.do("core A -9 C")

    voiding = void_last(told, f.CoreRead)

    assert voiding.outlooks == ()
    assert told.session.loads == before


def test_a_load_that_came_out_by_a_wrong_reading_was_short_after_all() -> None:
    """What its cold came to is told without the voided reading, on its load and its pouches."""
    right = tell(f"{COLD}; +76 h; out A 21 C: in time for supper").session.loads["A"]
    told = tell(f"{COLD}; core A -16 C, confirmed")
    wrong = told.entries[-1].id
    told.do("+76 h; out A 21 C; +60 h; open A; fill 1")
    assert told.session.loads["A"].cold_complete
    assert departures_of(told) == ()

    told.desk.submit(VoidFact(wrong, "typed wrong"))

    load = told.session.loads["A"]
    assert load.held_h == right.held_h < 72.0
    assert not load.cold_complete
    assert "voided later" in departures_of(told)[0].words


def departures_of(told: Script) -> tuple[Departure, ...]:
    """What was done otherwise than advised to the food of the first pouch."""
    assert told.session.plan is not None
    return departures(told.session, told.session.plan.lines[0], told.session.pouches[1])


def test_a_room_voided_leaves_the_cold_as_it_was_said() -> None:
    """A mistyped room moves the lid, and nothing of what the cold came to."""
    told = tell(f"{WARMING}; room 24 C 20 %; core A -14 C")
    before = told.session.loads["A"].held_h

    voiding = void_last(told, f.RoomRead)

    assert [each.held_h for each in voiding.outlooks] == [None]
    assert told.session.loads["A"].held_h == before


def test_a_lid_opened_by_a_slip_waits_by_the_room_read_meanwhile() -> None:
    """An opening voided, the lid waits as if it had never been: the room read since counts."""
    right = due(tell(f"{WARMING}; room 15 C 80 %"))
    told = tell(f"{WARMING}; open A: slip; room 15 C 80 %")

    void_last(told, f.LoadUncovered)

    assert due(told) == right > due(tell(WARMING))
    thaw = told.session.loads["A"].thaw
    assert thaw is not None
    assert thaw.room_c == 15.0
