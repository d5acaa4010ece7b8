"""More absorbers left than reckoned: pouches of the round may have none until they were felt."""

from __future__ import annotations

from packdesk.session.in_doubt import in_doubt
from packdesk.session.lacking import lacking
from tests.script import TREATED, Script, tell

MORE_LEFT = f"{TREATED}; fill 8; packet 200x10; +2 min; place 7; jar 5"


def doubted(told: Script) -> list[tuple[int, tuple[int, ...]]]:
    """How many of which pouches may have none."""
    return [(each.round_.over, each.numbers) for each in in_doubt(told.session)]


def test_more_left_than_reckoned_stays_in_doubt() -> None:
    """Two absorbers too many are two of the round's pouches without, also once they are sealed."""
    told = tell(MORE_LEFT)
    assert doubted(told) == [(2, (1, 2, 3, 4, 5, 6, 7))]
    told.do("seal 1-7; set aside 7: torn")
    assert doubted(told) == [(2, (1, 2, 3, 4, 5, 6))]


def test_as_many_or_fewer_left_leave_no_doubt() -> None:
    """A pouch that may have two is a matter of waste."""
    for count in (0, 2, 3):
        assert doubted(tell(MORE_LEFT.replace("jar 5", f"jar {count}"))) == []


def test_those_felt_without_lack_theirs_again() -> None:
    """A pouch found without an absorber is open, and takes one of the jar as if it never had one;
    the record then says one."""
    told = tell(f"{MORE_LEFT}; seal 3; felt round 1, none in 3, 5")
    plan = told.session.plan
    assert plan is not None
    line = plan.lines[0]
    for number in (3, 5):
        pouch = told.session.pouches[number]
        assert not pouch.closed
        assert not pouch.placed
        assert lacking(line, pouch)[200] == 1
    assert told.session.pouches[4].closed
    assert doubted(told) == []
    told.do("take R1; place in 3, 5; jar")
    assert [placed.each for placed in told.session.pouches[3].placed] == [1]
    assert told.session.pouches[3].closed


def test_one_press_tells_that_all_have_theirs() -> None:
    """A packet may hold more than it says: then nothing changes but the doubt, and undo brings it
    back."""
    told = tell(f"{MORE_LEFT}; felt round 1")
    assert doubted(told) == []
    assert all(told.session.pouches[number].closed for number in range(1, 8))
    told.do("undo")
    assert doubted(told) == [(2, (1, 2, 3, 4, 5, 6, 7))]


def test_a_pouch_keeps_what_another_packet_gave() -> None:
    """Of a set of two ratings only what the round gave is taken off."""
    told = tell(
        "receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg, with 300+100; fill 8;"
        "packet 300x8; packet 100x10; +1 min; place 8; +1 min; place 8; jar 4 of round 2;"
        "felt round 2, none in 2"
    )
    pouch = told.session.pouches[2]
    assert [placed.rating_cc for placed in pouch.placed] == [300]
    assert pouch.reopened is not None
    assert all(turn.placings <= 1 for turn in pouch.turns)


def test_what_is_not_in_doubt_is_not_felt() -> None:
    """A round that came out even, and a pouch that had nothing of it, are refused in words."""
    assert "nothing to feel" in tell(MORE_LEFT.replace("jar 5", "jar")).refused("felt round 1")
    assert "Enter some of pouches 1 to 7" in tell(MORE_LEFT).refused("felt round 1, none in 8")


def test_naming_fewer_than_were_over_leaves_the_rest_in_doubt() -> None:
    """Two were over and one pouch is found without: one of the others may have none still. More
    than were over cannot be named."""
    told = tell(f"{MORE_LEFT}; felt round 1, none in 3")
    assert doubted(told) == [(1, (1, 2, 4, 5, 6, 7))]
    assert "at most 1 pouch can have none" in told.refused("felt round 1, none in 4, 5")
    told.do("felt round 1, none in 4")
    assert doubted(told) == []
    assert "at most 2 pouches" in tell(MORE_LEFT).refused("felt round 1, none in 1-5")
