"""What is put right afterwards: packets that are doubtful, miscounts, re-opening, mixed numbers."""

from __future__ import annotations

import pytest

from packdesk.session.facts import PacketOpened, RemainderShut, RoundStarted
from packdesk.session.terms import OpenLimit, PouchStage, Vessel
from packdesk.session.verdicts import Enough, verdict
from tests.script import SEALED, SHUT, TREATED, Script, tell

NUMBERED = (
    "receive wheat 8 kg; bypass wheat: treated by the miller; agree wheat 8 x 1 kg, numbered;"
    "fill 1 at 990 g; fill 1 at 1010 g; fill 6; packet 200x10"
)


def found_on(told: Script, number: int) -> Enough:
    """The verdict on a pouch now."""
    plan = told.session.plan
    assert plan is not None
    found = verdict(plan.lines[0], told.session.pouches[number], plan, told.desk.now().utc)
    assert found is not None
    return found.verdict


# The packet's condition ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("look", "low_cc", "likely_cc"),
    [
        ("", 200.0, 200.0),
        (" slack", 100.0, 200.0),
        (" slack no oxygen", 200.0, 200.0),
        (" oxygen", 100.0, 200.0),
        (" slack oxygen soft", 50.0, 100.0),
    ],
)
def test_a_doubtful_packet_is_believed_less(look: str, low_cc: float, likely_cc: float) -> None:
    """A slack bag and an indicator that shows oxygen take away from what is counted on."""
    round_ = tell(f"{TREATED}; fill 8; packet 200x10{look}").session.rounds[1]

    assert (round_.capacity_low_cc, round_.capacity_likely_cc) == (low_cc, likely_cc)


def test_a_doubtful_packet_changes_the_verdict() -> None:
    """The same work with absorbers from a slack packet is marginal, with both signs too little."""
    for look, expected in (("", "enough"), (" slack", "marginal"), (" slack oxygen", "add_one")):
        told = tell(f"{TREATED}; fill 8; packet 200x10{look}; place 8; seal 1-8")
        assert found_on(told, 1) == expected


def test_hard_absorbers_are_on_record_and_start_no_round() -> None:
    """Iron that is one hard cake is spent: the packet is noted, nothing of it is placed."""
    told = tell(f"{TREATED}; fill 8; packet 200x10 slack oxygen hard")

    assert isinstance(told.facts[-1], PacketOpened)
    assert told.session.rounds == {}
    assert "Open one first" in told.refused("place 1")
    assert told.do("packet 200x10").session.rounds[1].source == "P2"


def test_both_limits_of_a_round_are_on_record() -> None:
    """The margin's own limit stands beside the practice cap, whichever comes first."""
    started = tell(f"{TREATED}; fill 8; packet 200x10").last(RoundStarted).fact

    assert isinstance(started, RoundStarted)
    assert started.limit_min == 20.0
    assert started.margin_min is not None
    assert started.margin_min > 20.0


# The remainder ------------------------------------------------------------------------------------


def test_the_remainder_says_where_it_is() -> None:
    """The vessel, the air in it and the place in words are kept with what is left."""
    jar = tell(f"{SHUT}; jar in a quart_jar, pantry shelf").book.remainders["R1"]

    assert (jar.count, jar.vessel, jar.place) == (2, Vessel.QUART_JAR, "pantry shelf")
    assert jar.gas_cc == 950.0


def test_a_jar_takes_its_toll_of_few_absorbers() -> None:
    """Two absorbers share the oxygen of a pint: 0.2095 x 450 x 298.15/294.15 x 0.965 = 92 cc."""
    told = tell(f"{SHUT}; jar; +7 d; take R1")

    jar, round_ = told.book.remainders["R1"], told.session.rounds[2]
    lost = jar.capacity_likely_cc - round_.capacity_likely_cc
    assert lost == pytest.approx(46.1, abs=0.3)


def test_a_pouch_pressed_shut_keeps_them_worse_than_one_sealed() -> None:
    """A zip lets air in for as long as it stands; a seam does not."""
    lows = {}
    for vessel in ("pressed_pouch", "sealed_pouch"):
        told = tell(f"{SHUT}; jar in a {vessel}; +7 d; take R1")
        lows[vessel] = told.session.rounds[2].capacity_low_cc

    assert lows["pressed_pouch"] < lows["sealed_pouch"]


def test_one_absorber_too_many_is_on_record() -> None:
    """All were reckoned used up, one is in the hand: it is shut up, both figures are kept."""
    told = tell(f"{TREATED}; fill 8; packet 200x8; place 8; jar 1 of round 1")

    shut = told.last(RemainderShut).fact
    assert isinstance(shut, RemainderShut)
    assert (shut.count, shut.reckoned) == (1, 0)
    assert told.book.remainders["R1"].count == 1


def test_one_absorber_too_few_is_on_record() -> None:
    """Two were reckoned left and none is there: the round is over, both figures are kept."""
    told = tell(f"{SHUT}; jar 0")

    shut = told.last(RemainderShut).fact
    assert isinstance(shut, RemainderShut)
    assert (shut.count, shut.reckoned) == (0, 2)
    assert told.book.remainders == {}


def test_a_count_that_fits_is_no_contradiction() -> None:
    """Counted by hand and as reckoned: nothing else is noted."""
    shut = tell(f"{SHUT}; jar 2").last(RemainderShut).fact

    assert isinstance(shut, RemainderShut)
    assert shut.reckoned is None


# Packets and sets that do not come out even ------------------------------------------------------


@pytest.mark.parametrize("size", [5, 10, 50, 100])
def test_packets_of_any_size_serve_their_pouches(size: int) -> None:
    """What is not placed lies open, and goes into the jar."""
    told = tell(f"{TREATED}; fill 8; packet 200x{size}; place {min(size, 8)}")

    assert told.session.rounds[1].left == size - min(size, 8)
    if told.session.rounds[1].left:
        assert told.do("jar").book.remainders["R1"].count == size - 8


def test_an_odd_one_of_an_old_jar_is_not_wasted() -> None:
    """Where each pouch gets two and one is left, it goes in; the next packet gives the other."""
    told = tell(
        "receive wheat 8 kg; bypass wheat: treated; agree wheat 2 x 4 kg, with 1000+1000;"
        "fill 2; packet 1000x3; place 1; place 1"
    )
    assert told.session.rounds[1].left == 0
    assert told.session.pouches[2].stage is PouchStage.ABSORBERS_IN

    told.do("packet 1000x5; place 1")

    assert [(p.each, p.round) for p in told.session.pouches[2].placed] == [(1, 1), (1, 2)]
    assert told.session.pouches[2].stage is PouchStage.PRESSED_SHUT
    assert told.session.rounds[2].left == 4


def test_a_combination_takes_from_two_packets() -> None:
    """500 and 300 cc lie open at once; a pouch is shut with the second of them."""
    told = tell(
        "receive wheat 8 kg; bypass wheat: treated; agree wheat 2 x 4 kg, with 500+300;"
        "fill 2; packet 500x5; packet 300x5; place 2; place 2"
    )

    assert {p.stage for p in told.session.pouches.values()} == {PouchStage.PRESSED_SHUT}
    assert [round_.left for round_ in told.session.rounds.values()] == [3, 3]


def test_an_old_jar_and_a_new_packet_follow_each_other() -> None:
    """What the jar still has is used first; the packet's round goes on with what is missing."""
    told = tell(f"{SHUT}; jar; seal 1-8; agree wheat 12 x 1 kg; fill 4; take R1; place 2")
    told.do("packet 200x10; place 2")

    rounds = [told.session.pouches[number].placed[0].round for number in (9, 10, 11, 12)]
    assert rounds == [2, 2, 3, 3]


# Opened again -------------------------------------------------------------------------------------


def test_a_tired_pouch_is_opened_again_for_one_more() -> None:
    """Pressed shut and short of absorber: open, drop one in, shut; it is enough again."""
    told = tell(f"{TREATED}; fill 8; packet 200x10; +75 min; place 8")
    assert found_on(told, 3) is Enough.MARGINAL

    told.do("reopen 3: one more; place in 3")

    assert found_on(told, 3) is Enough.ENOUGH
    assert found_on(told, 4) is Enough.MARGINAL
    assert told.session.pouches[3].stage is PouchStage.PRESSED_SHUT


def test_a_sealed_pouch_is_cut_open_and_sealed_anew() -> None:
    """Cut open, a pouch has no seam, and what is in it stays in it."""
    told = tell(f"{SEALED}; reopen 3: a fold in the seam")
    pouch = told.session.pouches[3]
    assert (pouch.stage, pouch.seams) == (PouchStage.ABSORBERS_IN, 0)
    assert len(pouch.placed) == 1

    assert told.do("shut 3; seal 3").session.pouches[3].gas_tight


@pytest.mark.parametrize(
    ("told", "step", "words"),
    [
        (f"{TREATED}; fill 8", "reopen 1", "stands open already"),
        (f"{SEALED}; stow 1 in pail 1", "reopen 1", "is in pail 1"),
        (f"{SEALED}; +1 d; check 1 swollen", "reopen 1", "Do not open it"),
        (f"{SEALED}", "swap 1 and 2", "its pouches are alike"),
        (f"{NUMBERED}", "swap 1 and 1", "which two"),
        (f"{NUMBERED}", "swap 1 and 9", "not filled yet"),
        (
            f"{NUMBERED}; place in 1; seal 1; stow 1 in pail 1",
            "swap 1 and 2",
            "Pouch 2 is not sealed yet",
        ),
    ],
)
def test_says_what_stands_against_it(told: str, step: str, words: str) -> None:
    """What cannot be opened or exchanged is refused in words, and nothing is recorded."""
    script = tell(told)
    before = script.entries

    assert words in script.refused(step)
    assert script.entries == before


def test_the_clock_of_a_pouch_opened_again_runs_anew() -> None:
    """Its absorbers lie open once more: a time without alarm, then one."""
    told = tell(f"{SHUT}; jar; +40 min; reopen 3")
    assert told.desk.ring_due() == () or "packet:1" not in told.session.alarms

    told.do("+21 min")
    told.desk.ring_due()

    assert "packet:1" in told.session.alarms


# Mixed up -----------------------------------------------------------------------------------------


def test_what_was_noted_of_two_mixed_up_pouches_is_exchanged() -> None:
    """Mass, absorbers, shutting go to the other number; Undo brings them back."""
    told = tell(f"{NUMBERED}; place in 1")
    before = told.desk.state
    told.do("swap 1 and 2")

    first, second = told.session.pouches[1], told.session.pouches[2]
    assert (first.number, first.net_mass_g, first.stage) == (1, 1010.0, PouchStage.FILLED)
    assert (second.number, second.net_mass_g, second.stage) == (2, 990.0, PouchStage.PRESSED_SHUT)

    assert told.do("undo").desk.state == before


def test_exchanged_twice_is_as_before() -> None:
    """A swap of a swap leaves no trace but the two entries."""
    told = tell(f"{NUMBERED}; place in 1")
    before = told.session.pouches

    assert told.do("swap 1 and 2; swap 2 and 1").session.pouches == before


def test_a_label_that_says_another_mass_is_to_be_made_anew() -> None:
    """The label stays on its pouch, but what it says is the other one's."""
    told = tell(f"{NUMBERED}; label 1-4; swap 1 and 2; swap 3 and 4")

    assert [told.session.pouches[n].labelled for n in (1, 2, 3, 4)] == [False, False, True, True]


# A doubtful packet --------------------------------------------------------------------------------


def test_a_doubtful_packet_has_the_margin_of_what_is_trusted() -> None:
    """As little as 100 of 200 cc are trusted for a need of 115: two of them have a margin.

    It is 60 ln(200/115) / 0.506 = 65.6 min; κ as below; worked by hand.
    """
    sound, doubtful = (
        tell(f"{TREATED}; fill 8; packet 200x10{look}").session.rounds[1] for look in ("", " slack")
    )

    assert sound.margin_min is not None
    assert sound.margin_min > 60.0
    assert doubtful.margin_min == pytest.approx(65.6, abs=0.3)
    assert doubtful.more_each
    assert not sound.more_each
    assert (doubtful.limit, doubtful.limit_min) == (OpenLimit.PRACTICE_CAP, 20.0)


def test_a_doubtful_packet_with_margin_left_has_less_of_it() -> None:
    """Half of 300 cc is doubted: the margin ends 60 ln 2 / κ earlier than that of all 300.

    κ is 0.69/h at 25 °C, by Arrhenius' law with 50 kJ/mol 0.760 of that at 21 °C, and follows the
    pressure, 0.965 of sea level's at 300 m: 0.506/h, so 82.2 min; worked by hand.
    """
    line = "receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg, with 300; fill 8"
    sound, doubtful = (
        tell(f"{line}; packet 300x10{look}").session.rounds[1].margin_min for look in ("", " slack")
    )

    assert sound is not None
    assert doubtful is not None
    assert sound - doubtful == pytest.approx(82.2, abs=0.3)


def test_doubt_is_one_in_the_packet_and_in_its_jar() -> None:
    """Shut up at once and taken again, the absorbers have the same limit, or a little less."""
    line = "receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg, with 300; fill 8"
    rounds = tell(f"{line}; packet 300x10 slack; jar in a sealed_pouch; take R1").session.rounds

    assert rounds[1].margin_min is not None
    assert rounds[1].margin_min > 20.0
    assert rounds[2].margin_min == pytest.approx(rounds[1].margin_min, abs=1.0)


def test_what_was_never_enough_is_taken_from_last() -> None:
    """Opened first and due first, a packet without margin lets the sound one go before."""
    told = tell(f"{TREATED}; fill 8; packet 200x4 slack; +1 min; packet 200x4; place 2")

    assert {placed.round for p in told.session.pouches.values() for placed in p.placed} == {2}
