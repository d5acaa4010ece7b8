"""How many pouches suit a round: pace, hands, packet, and the time a packet may lie open."""

from __future__ import annotations

from packdesk.session.pace import USUAL_S, pace
from packdesk.session.round_size import round_size, still_in_time
from packdesk.session.terms import ReadyItem
from tests.script import TREATED, Script, tell


def size(told: Script, hands: int = 1):
    """What suits a round of the first plan line."""
    return round_size(told.session, told.session.plan.lines[0], hands)


def test_before_anything_was_shut_the_usual_pace_is_said_to_be_that() -> None:
    """Without a round to measure the usual seconds stand, halved by a second pair of hands."""
    told = tell(TREATED)

    assert pace(told.session) == pace(told.session, 1)
    assert (pace(told.session).each_s, pace(told.session).measured) == (USUAL_S, False)
    assert pace(told.session, 2).each_s == USUAL_S / 2


def test_the_pace_is_measured_in_the_rounds_of_this_session() -> None:
    """Six pouches in two minutes are 20 s a pouch; for twice the hands, 10 s."""
    told = tell(f"{TREATED}; fill 6; ready; packet 200x10; +2 min; place 6")

    assert (pace(told.session).each_s, pace(told.session).measured) == (20.0, True)
    assert pace(told.session, 2).each_s == 10.0


def test_a_round_that_was_left_lying_tells_no_pace() -> None:
    """Six pouches with one press after an hour and a half are no quarter of an hour each."""
    told = tell(f"{TREATED}; fill 8; ready; packet 200x10; +90 min; place 6")

    assert (pace(told.session).each_s, pace(told.session).measured) == (USUAL_S, False)


def test_hands_counted_at_the_ready_check_are_known_to_the_pace() -> None:
    """What two people did in 20 s takes one of them 40 s."""
    told = tell(f"{TREATED}; fill 6; ready, 2 hands; packet 200x10; +2 min; place 6")

    assert pace(told.session, 2).each_s == 20.0
    assert pace(told.session, 1).each_s == 40.0


def test_a_round_holds_what_can_be_shut_in_time_and_no_more_than_the_packet() -> None:
    """At 20 s a pouch three fit into each minute; a small packet ends the round before."""
    told = tell(f"{TREATED}; fill 6; ready; packet 200x10; +2 min; place 6")

    found = size(told)

    assert found.most_in_time == int(found.limit_min * 3)
    assert found.suits(5) == 5
    assert found.suits(1000) == found.most_in_time


def test_several_absorbers_a_pouch_take_a_packet_down_faster() -> None:
    """A packet of ten closes five pouches that want two each."""
    told = tell("receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg, with 100+100")

    assert size(told).suits(10) == 5


def test_the_ready_check_is_recorded_whole() -> None:
    """The fact tells each thing checked, the hands, the pace and what fits into the time."""
    told = tell(f"{TREATED}; fill 3; ready, all checked, 2 hands")

    fact = told.facts[-1]

    assert set(fact.checked) == set(ReadyItem)
    assert (fact.hands, fact.pace_s, fact.measured) == (2, USUAL_S / 2, False)
    assert fact.most_in_time == size(told, 2).most_in_time
    assert told.session.alarm_heard


def test_nobody_at_the_counter_is_refused() -> None:
    """A check needs at least one person."""
    assert "0" in tell(f"{TREATED}; fill 3").refused("ready, 0 hands")


def test_what_still_fits_counts_pouches_not_absorbers() -> None:
    """Four pouches in 2 min, two absorbers each, are 30 s a pouch: 18 min hold 36 more."""
    told = tell(
        "receive wheat 60 kg; bypass wheat: treated; agree wheat 60 x 1 kg, with 100+100; fill 60;"
        "packet 100x200; +2 min; place 4"
    )

    session = told.session
    line, at = session.plan.lines[0], told.desk.now().utc
    assert still_in_time(session, line, session.rounds[1], 56, at) == 36


def test_two_pouches_do_not_tell_the_pace_of_a_round() -> None:
    """One in 12 min was a slow start: at the usual 30 s 16 fit into the 8 min left; three tell, but
    with nothing beside them for no more than twice the usual, and 8 fit."""
    found = []
    for shut in (1, 3):
        told = tell(f"{TREATED}; fill 8; ready; packet 200x10; +12 min; place {shut}")
        session, at = told.session, told.desk.now().utc
        found.append(still_in_time(session, session.plan.lines[0], session.rounds[1], 5, at))

    assert found == [16, 8]


def test_a_group_has_its_time_then_what_passes_is_lost() -> None:
    """Eight at 30 s are worked at for 4 min, in which 40 fit from the start; at 19 min 2 do."""
    told = tell(f"{TREATED}; fill 8; ready; packet 200x10; +4 min")
    session, line = told.session, told.session.plan.lines[0]
    at_work = still_in_time(session, line, session.rounds[1], 8, told.desk.now().utc)
    told.do("+15 min")
    idle = still_in_time(session, line, session.rounds[1], 8, told.desk.now().utc)

    assert (at_work, idle) == (40, 2)
