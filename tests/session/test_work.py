"""The work of a session as it is decided, from the first lot to the closing."""

from __future__ import annotations

from datetime import timedelta

import pytest

from packdesk.session import facts as f
from packdesk.session.tally import tally
from packdesk.session.terms import PouchStage
from tests.script import SEALED, SHUT, TREATED, Script, tell


def stages(told: Script) -> list[PouchStage]:
    """How far each pouch has come."""
    return [pouch.stage for pouch in told.session.pouches.values()]


def kinds(told: Script, act_of: type[f.Fact]) -> list[str]:
    """The kinds of the last act that holds a fact of a kind."""
    act = told.last(act_of).act
    return [entry.fact.kind for entry in told.entries if entry.act == act]


# A whole session ----------------------------------------------------------------------------------


def test_a_whole_session_ends_with_everything_checked(story: Script) -> None:
    """From the freezer to the closing every pouch ends sealed, stowed, labelled and checked."""
    pouches = story.session.pouches.values()

    assert story.session.closed_at is not None
    assert {pouch.stage for pouch in pouches} == {PouchStage.SEAL_CHECKED}
    assert all(pouch.gas_tight and pouch.labelled and pouch.pail == "1" for pouch in pouches)
    assert story.session.pails["1"].pouches == tuple(range(1, 11))
    assert story.desk.state.disputed == ()


def test_lots_are_numbered_within_the_month_received() -> None:
    """A lot is named by year and month received, and a number that runs within them."""
    told = tell("receive wheat 8 kg; receive rice 5 kg; +12 d; receive beans 4 kg")

    assert list(told.book.lots) == ["2611-1", "2611-2", "2612-1"]


def test_the_month_of_a_lot_is_that_of_the_kitchen() -> None:
    """Half past midnight on the first is the new month, though it is still the old one in UTC."""
    told = tell()
    told.do("+10 d; +300 min; receive wheat 8 kg")  # 30 November 23:00 UTC, 1 December here

    assert list(told.book.lots) == ["2612-1"]


def test_pouches_go_through_their_life() -> None:
    """Filled, absorbers in and pressed shut, sealed, stowed, checked: each act is one step."""
    told = tell(TREATED).do("fill 8; ready; packet 200x10; place 8, open")
    assert set(stages(told)) == {PouchStage.ABSORBERS_IN}
    told.do("shut 1-8")
    assert set(stages(told)) == {PouchStage.PRESSED_SHUT}
    told.do("seal 1-8")
    assert set(stages(told)) == {PouchStage.SEALED}
    told.do("stow 1-8 in pail 1")
    assert set(stages(told)) == {PouchStage.STOWED}
    told.do("+1 d; check 1-8 tight")
    assert set(stages(told)) == {PouchStage.SEAL_CHECKED}


def test_with_a_zip_absorbers_and_pressing_shut_are_one_act() -> None:
    """One press says that absorbers are in and the pouches shut."""
    told = tell(SHUT)

    assert kinds(told, f.AbsorbersPlaced) == ["absorbers_placed", "pouches_shut"]


def test_a_round_goes_on_where_it_stopped() -> None:
    """Without pouches named the next open ones are meant; each part begins where the last ended."""
    told = tell(TREATED).do("fill 8; ready; packet 200x10; +3 min; place 5; +2 min; place 3")
    first, second = (fact for fact in told.facts if isinstance(fact, f.AbsorbersPlaced))

    assert (first.pouches, second.pouches) == ((1, 2, 3, 4, 5), (6, 7, 8))
    assert first.first_at == told.session.rounds[1].started.utc
    assert second.first_at == first.last_at
    assert told.session.rounds[1].left == 2


def test_a_round_does_not_go_on_from_what_was_undone() -> None:
    """A placing taken back leaves no trace in when the next one began."""
    told = tell(TREATED).do("fill 8; ready; packet 200x10; +3 min; place 5; undo; +2 min; place 8")

    assert told.last(f.AbsorbersPlaced).fact.first_at == told.session.rounds[1].started.utc


def test_what_an_absorber_lost_is_in_the_fact() -> None:
    """The later an absorber goes in the less it has left, at the fast end less than likely."""
    told = tell(TREATED).do("fill 8; ready; packet 200x10; +3 min; place 5; +6 min; place 3")
    first, second = (fact for fact in told.facts if isinstance(fact, f.AbsorbersPlaced))

    assert 200.0 > first.capacity_likely_cc > second.capacity_likely_cc > second.capacity_low_cc
    assert first.capacity_likely_cc > first.capacity_low_cc


def test_readiness_ends_with_the_packet_opened() -> None:
    """What was looked over is looked over again before the next packet."""
    told = tell(TREATED).do("fill 8; ready")
    assert told.session.ready_for == (1, 2, 3, 4, 5, 6, 7, 8)

    told.do("packet 200x10")

    assert told.session.ready_for == ()


# Ways of working ----------------------------------------------------------------------------------


def test_counted_pouches_are_not_told_apart() -> None:
    """In counted working nothing is claimed of a single pouch."""
    told = tell(TREATED).do("fill 8")

    assert not any(pouch.told_apart for pouch in told.session.pouches.values())


def test_numbered_pouches_have_their_own_figures() -> None:
    """In numbered working each pouch has its own mass and its own exposure."""
    told = tell("receive wheat 8 kg; bypass wheat; agree wheat 2 x 1 kg, numbered").do(
        "fill 1 at 1004 g; fill 1 at 997 g; ready; packet 200x2; +2 min; place 1; +5 min; place 1"
    )
    first, second = told.session.pouches.values()

    assert first.told_apart
    assert second.told_apart
    assert (first.net_mass_g, second.net_mass_g) == (1004.0, 997.0)
    assert first.placed[0].capacity_low_cc > second.placed[0].capacity_low_cc


def test_food_without_absorbers_is_shut_and_sealed_without() -> None:
    """Salt takes no absorber: it is filled, shut, sealed, and asked for nothing more."""
    told = tell("receive salt 4 kg; bypass salt; agree salt 4 x 1 kg, no absorber")

    told.do("fill 4; shut 1-4; seal 1-4")

    assert set(stages(told)) == {PouchStage.SEALED}
    assert "No absorber goes into" in told.refused("place 4")


def test_two_ratings_go_into_one_pouch_from_two_packets() -> None:
    """500 and 300 cc come from two packets; the pouch is shut only when both are in."""
    told = tell("receive wheat 8 kg; bypass wheat; agree wheat 2 x 4 kg, with 500+300").do(
        "fill 2; ready; packet 500x4; packet 300x4; +2 min; place 2"
    )
    assert set(stages(told)) == {PouchStage.ABSORBERS_IN}
    assert "Pouch 1 has 1 of 2 absorbers" in told.refused("shut 1-2")

    told.do("+1 min; place 2")

    assert set(stages(told)) == {PouchStage.PRESSED_SHUT}
    ratings = [[placed.rating_cc for placed in p.placed] for p in told.session.pouches.values()]
    assert ratings == [[500, 300], [500, 300]]
    assert [told.session.rounds[n].left for n in (1, 2)] == [2, 2]


def test_several_absorbers_of_one_rating_go_in_together() -> None:
    """Where the plan wants two of a rating in a pouch, one placing is two for each."""
    told = tell("receive wheat 8 kg; bypass wheat; agree wheat 2 x 4 kg, with 300+300").do(
        "fill 2; ready; packet 300x5; place 2"
    )

    assert told.last(f.AbsorbersPlaced).fact.each == 2
    assert told.session.rounds[1].left == 1
    assert set(stages(told)) == {PouchStage.PRESSED_SHUT}


def test_one_more_helps_a_tired_absorber() -> None:
    """A pouch that has what the plan wants can still be given one more while it is open."""
    told = tell(TREATED).do("fill 8; ready; packet 200x10; place 8, open; place in 3, open")

    assert sum(placed.each for placed in told.session.pouches[3].placed) == 2
    assert told.session.rounds[1].left == 1


def test_without_a_zip_absorbers_and_seam_are_one_act() -> None:
    """A pouch without a zip is sealed as the absorber goes in."""
    told = tell("receive wheat 8 kg; bypass wheat; agree wheat 8 x 1 kg, no zip").do(
        "fill 8; ready; packet 200x10; place 8"
    )

    assert kinds(told, f.AbsorbersPlaced) == ["absorbers_placed", "pouches_sealed"]
    assert all(pouch.gas_tight and pouch.seams == 1 for pouch in told.session.pouches.values())


def test_a_liner_is_seamed_but_for_a_gap_drawn_off_and_closed() -> None:
    """A liner takes its absorbers, a seam with a gap, the draw-off, and the closing of the gap."""
    told = tell("receive wheat 16 kg; bypass wheat; agree wheat 1 x 16 kg, liner, with 2000").do(
        "fill 1; ready; packet 2000x2; place 1, open; seal 1, gap left"
    )
    liner = told.session.pouches[1]
    assert liner.stage is PouchStage.PRESSED_SHUT
    assert (liner.gas_tight, liner.gap_left, liner.seams) == (False, True, 0)
    counted = tally(told.session, 1)
    assert counted is not None
    assert (counted.shut, counted.sealed) == (1, 0)

    told.do("draw off 1; seal 1, one seam")

    liner = told.session.pouches[1]
    assert (liner.gas_tight, liner.gap_left, liner.seams) == (True, False, 1)


# Seams --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("steps", "seams"),
    [
        ("seal 1", 2),
        ("seal 1, one seam", 1),
        ("seal 1, one seam; seal 1, one seam", 2),
        ("seal 1, one seam; seal 1", 2),
        ("seal 1, gap left; seal 1, one seam", 1),
        ("seal 1, gap left; seal 1", 2),
        ("seal 1, gap left; seal 1, gap left; seal 1, one seam; seal 1, one seam", 2),
    ],
)
def test_seams_are_counted_once_closed(steps: str, seams: int) -> None:
    """A seam counts when it is closed all along, and a pouch has no more than two."""
    told = tell(SHUT).do(steps)

    assert told.session.pouches[1].gas_tight
    assert told.session.pouches[1].seams == seams


def test_a_second_seam_does_not_move_when_the_pouch_was_closed() -> None:
    """A pouch is sealed since its first closed seam, whenever the second is made."""
    told = tell(SHUT).do("seal 1, one seam")
    sealed = told.session.pouches[1].sealed

    told.do("+2 h; seal 1, one seam")

    assert told.session.pouches[1].sealed == sealed


def test_a_gap_is_closed_when_its_seam_is() -> None:
    """A pouch with a gap is sealed since the gap was closed, not since the seam was begun."""
    told = tell(SHUT).do("seal 1, gap left; +4 min; seal 1, one seam")

    sealed = told.session.pouches[1].sealed
    assert sealed is not None
    assert sealed.utc == told.clock.reading().utc


# Set aside, emptied, brought back -----------------------------------------------------------------


def test_a_pouch_set_aside_counts_no_longer() -> None:
    """What is set aside with its food is out of every count but its own, and none is to fill."""
    told = tell(SEALED).do("set aside 3: dust in the seam")
    counted = tally(told.session, 1)

    assert counted is not None
    assert (counted.filled, counted.sealed, counted.aside, counted.to_fill) == (7, 7, 1, 0)


def test_a_pouch_brought_back_is_open() -> None:
    """It has lost its absorbers and its seam, and keeps what was in it and how it felt."""
    told = tell(SEALED).do("+1 d; check 3 soft; set aside 3: it went soft; return 3")
    pouch = told.session.pouches[3]

    assert pouch.stage is PouchStage.FILLED
    assert (pouch.placed, pouch.checks) == ((), ())
    assert [placed.rating_cc for placed in pouch.spent] == [200]
    assert [check.verdict for check in pouch.earlier_checks] == ["soft"]


def test_a_pouch_brought_back_is_given_fresh_absorbers() -> None:
    """Rework is a round like any other, from the remainder that was shut up."""
    told = tell(SEALED).do("set aside 3: dust in the seam; return 3; take R1; place 1; seal 3")

    assert told.session.pouches[3].stage is PouchStage.SEALED
    assert told.session.pouches[3].placed[0].round == 2


def test_a_pouch_leaves_its_pail() -> None:
    """A pouch set aside lies in no pail."""
    told = tell(SEALED).do("stow 1-8 in pail 1; set aside 3: slack")

    assert told.session.pails["1"].pouches == (1, 2, 4, 5, 6, 7, 8)
    assert told.session.pouches[3].pail == ""


def test_a_pouch_set_aside_may_still_be_emptied() -> None:
    """Its food goes back to the lot; its number is never used again."""
    told = tell(TREATED).do("fill 8; set aside 8: torn; empty 8: torn beyond mending; fill 1")

    assert told.session.pouches[8].emptied
    assert max(told.session.pouches) == 9
    assert "was emptied" in told.refused("return 8")


def test_a_swollen_pouch_is_set_aside_by_its_check() -> None:
    """A swollen pouch is out of the count, and is neither opened nor brought back."""
    told = tell(SEALED).do("stow 1-8 in pail 1; lid pail 1; +7 d; check 1-7 snug; check 8 swollen")

    assert told.session.pouches[8].stage is PouchStage.SET_ASIDE
    assert told.session.pails["1"].pouches == (1, 2, 3, 4, 5, 6, 7)
    for step in ("return 8", "empty 8: to look", "check 8 snug"):
        assert "is swollen. Do not open it; discard it." in told.refused(step)


def test_a_swollen_pouch_is_told_after_the_closing_too() -> None:
    """A look at the seams years later still sets the pouch aside."""
    told = tell(SEALED).do("close; +700 d; check 2 swollen")

    assert told.session.pouches[2].stage is PouchStage.SET_ASIDE


# Plans --------------------------------------------------------------------------------------------


def test_two_plan_lines_are_worked_side_by_side() -> None:
    """Each food has its own pouches; one packet serves both lines."""
    told = tell(
        "receive wheat 4 kg; receive rice 4 kg; bypass wheat; bypass rice;"
        "agree wheat 4 x 1 kg & rice 4 x 1 kg;"
        "fill 2 of wheat; fill 4 of rice; fill 2 of wheat; ready; packet 200x8;"
        "place 4 of wheat; place 4 of rice"
    )
    wheat, rice = (tally(told.session, line) for line in (1, 2))

    assert wheat is not None
    assert rice is not None
    assert (wheat.shut, rice.shut) == (4, 4)
    assert [p.number for p in told.session.working_pouches(1)] == [1, 2, 7, 8]
    assert told.session.rounds[1].left == 0


def test_a_plan_may_be_agreed_anew() -> None:
    """The later plan holds; what is filled stays filled."""
    told = tell(TREATED).do("fill 5; agree wheat 10 x 1 kg; fill 5")

    counted = tally(told.session, 1)
    assert counted is not None
    assert (counted.planned, counted.filled, counted.to_fill) == (10, 10, 0)


def test_the_last_pouch_of_an_uneven_plan_holds_what_was_left() -> None:
    """A pail of 2 × 1 kg and 1 × 400 g, none of them weighed, is put down as 2.4 kg."""
    told = tell("receive wheat 3 kg; bypass wheat; agree wheat 3 x 1 kg, last 0.4 kg").do(
        "fill 3; ready; packet 200x3; place 3; seal 1-3; stow 1-3 in pail 1; lid pail 1"
    )

    assert told.last(f.PailLidded).fact.net_mass_g == 2400.0


def test_before_the_last_pouch_every_one_is_full() -> None:
    """Of an uneven plan not yet filled to the end no pouch is taken for the last."""
    told = tell("receive wheat 3 kg; bypass wheat; agree wheat 3 x 1 kg, last 0.4 kg").do(
        "fill 2; ready; packet 200x3; place 2; seal 1-2; stow 1-2 in pail 1; lid pail 1"
    )

    assert told.last(f.PailLidded).fact.net_mass_g == 2000.0


def test_a_weighed_pouch_counts_with_its_own_mass() -> None:
    """What was weighed is used before what was planned."""
    told = tell("receive wheat 3 kg; bypass wheat; agree wheat 2 x 1 kg").do(
        "fill 1; fill 1 at 990 g; ready; packet 200x2; place 2; seal 1-2; stow 1-2 in pail 1"
    )

    told.do("lid pail 1")

    assert told.last(f.PailLidded).fact.net_mass_g == 1990.0


# Loads --------------------------------------------------------------------------------------------


def test_several_loads_overlap() -> None:
    """Two loads of one lot go through the cold at their own times, each with its own clocks."""
    told = tell("receive wheat 16 kg; agree wheat 16 x 1 kg; freeze wheat; +24 h; freeze wheat")
    told.do("+90 h; out A 21 C; +50 h; open A; out B 21 C: enough for us; fill 8")
    a, b = told.session.loads["A"], told.session.loads["B"]

    assert a.uncovered is not None
    assert b.uncovered is None
    assert b.taken_out is not None
    assert b.frozen.utc - a.frozen.utc == timedelta(hours=24)
    assert len(told.session.working_pouches()) == 8


def test_an_early_end_of_the_cold_is_kept_with_its_reason() -> None:
    """Cold cut short is the person's to decide; the record says how long it was held and why."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +20 h")
    told.do("out A 21 C: the freezer was needed")
    load = told.session.loads["A"]

    assert load.short_reason == "the freezer was needed"
    assert load.held_h < load.forecast.hold_h


def test_entries_made_later_count_from_when_they_happened() -> None:
    """A load frozen last night and entered this morning has been freezing since last night."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; +10 h; about 9 h ago: freeze wheat")
    now = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; +1 h; freeze wheat")

    early, late = told.session.loads["A"].forecast, now.session.loads["A"].forecast
    assert early.hold_done is not None
    assert late.hold_done is not None
    assert early.hold_done.likely == late.hold_done.likely


# Counts and remainders ----------------------------------------------------------------------------


def test_a_count_by_hand_stands_beside_the_tally() -> None:
    """A count that differs is kept beside the tally's number, and repairs nothing."""
    told = tell(TREATED).do("fill 8; count 7 filled")
    (count,) = told.session.counts

    assert (count.counted, count.tallied) == (7, 8)
    assert len(told.session.pouches) == 8


def test_a_remainder_counted_by_hand_is_believed() -> None:
    """Absorbers lost on the floor are not in the jar."""
    told = tell(SHUT).do("jar 1")

    assert told.book.remainders["R1"].count == 1
    assert told.session.rounds[1].left == 0


def test_an_empty_jar_is_no_remainder() -> None:
    """A round may end with nothing left worth keeping."""
    told = tell(SHUT).do("jar 0")

    assert told.book.remainders == {}
    assert told.session.rounds[1].left == 0


def test_a_remainder_keeps_what_its_absorbers_have_lost() -> None:
    """A later round begins with what was left, and its time is the shorter for it."""
    told = tell(SHUT).do("+10 min; jar; agree wheat 9 x 1 kg; fill 1; ready; take R1")
    jar, round_ = told.book.remainders["R1"], told.session.rounds[2]

    assert jar.taken
    assert round_.capacity_low_cc == jar.capacity_low_cc < 200.0
    assert jar.oldest_opening == told.book.packets["P1"].opened.utc


def test_a_remainder_of_a_remainder_remembers_the_first_opening() -> None:
    """However often a jar is opened, its absorbers are as old as their packet."""
    told = tell(SEALED).do("+1 d; take R1; +5 min; jar; +1 d; take R2; +5 min; jar")

    assert told.book.remainders["R3"].oldest_opening == told.book.packets["P1"].opened.utc
    assert told.book.remainders["R3"].capacity_low_cc < told.book.remainders["R2"].capacity_low_cc


def test_labels_made_wait_for_an_answer() -> None:
    """Labels made are no labels yet; a yes, or their entry voided, ends the question."""
    told = tell(f"{SEALED}; make labels 1-8")
    session = told.session
    assert session.labels_asked.pouches == tuple(range(1, 9))
    assert not any(pouch.labelled for pouch in session.pouches.values())
    assert told.do("label 1-8").session.labels_asked is None
