"""What is said while a packet lies open: how long, how many, whether they are enough."""

from __future__ import annotations

import pytest

from packdesk.present.cards import WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.in_hand import line_in_hand
from packdesk.present.round_view import RoundView, round_view
from packdesk.present.verdict_words import verdict_sentences
from packdesk.present.work_filling import filling_card
from tests.script import TREATED, tell

NUMBERED = "receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg, numbered; fill 8"
PAIRS = "receive wheat 8 kg; bypass wheat: treated; agree wheat 2 x 4 kg, with 1000+1000; fill 2"
MIXED = "receive wheat 8 kg; bypass wheat: treated; agree wheat 2 x 4 kg, with 500+300; fill 2"


def view(steps: str) -> RoundView:
    """The round as it stands after these steps."""
    told = tell(steps)
    tally = line_in_hand(told.session, Chosen())
    assert tally is not None
    return round_view(told.session, tally, 1, told.desk.now())


def card(steps: str) -> WorkCard:
    """The work at the counter after these steps."""
    told = tell(steps)
    return filling_card(told.book, told.session, Chosen(), told.desk.now())


def test_says_pace_margin_and_cap_in_one_sentence() -> None:
    """5 at 22 s are 1 min 50 s; the cap of 20 min is 91 s nearer; worked by hand."""
    first = view(f"{NUMBERED}; packet 200x10; +66 s; place 3; +25 s").standing[0]

    assert first.startswith("5 left at 22 s each: 1 min 50 s; margin used up in 1 h ")
    assert first.endswith("practice cap in 18 min.")


def test_forecast_and_warning_reckon_with_the_same_hands() -> None:
    """30 pouches at about 30 s take 15 min: with 18 of 20 min gone they are at work still, nothing
    warns and the last comes before it is due; 20 are forgotten by then, and both say so."""
    sixty = "receive wheat 60 kg; bypass wheat: treated; agree wheat 60 x 1 kg"
    at_work = view(f"{sixty}; fill 30; packet 200x50; +18 min")
    assert not any("fit" in words for words in at_work.foremost)
    assert "2 min before the packet is due" in at_work.standing[1]

    late = view(f"{sixty}; fill 20; packet 200x50; +18 min")
    assert late.foremost[0].startswith("Only 4 of the 20 fit into the packet's time")
    assert "8 min after the packet is due" in late.sentences[0]


def test_says_which_limit_is_over() -> None:
    """After an hour and a half both limits of a packet are behind."""
    standing = view(f"{NUMBERED}; packet 200x10; +90 min; place 5").standing

    assert "margin used up, practice cap over." in standing[0]


def test_the_margin_of_a_doubtful_packet_is_that_of_what_goes_in() -> None:
    """One is below the need, as many as are asked for have time: of the packet as of its jar."""
    story = f"{NUMBERED}; packet 200x10 slack oxygen"
    packet = view(story).standing[0]
    jar = view(f"{story}; jar; take R1").standing[0]

    for sentence in (packet, jar):
        assert "margin used up in 3" in sentence
        assert "practice cap in 20 min." in sentence


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (4, "Pouches 1 to 8 are well supplied: "),
        (75, "Pouches 1 to 8 are marginal: "),
        (200, "Pouches 1 to 8 are short of absorber: "),
    ],
)
def test_a_verdict_comes_with_its_figures(minutes: int, words: str) -> None:
    """Enough, marginal, add one more: each with what is left for the oxygen, and why."""
    told = tell(f"{TREATED}; fill 8; packet 200x10; +{minutes} min; place 8")

    (said,) = verdict_sentences(told.session, told.session.pouches.values(), told.desk.now().utc)

    assert said.startswith(words)
    assert "left for 115 cc of oxygen" in said


def test_enough_says_how_long_and_how_much_smaller() -> None:
    """100 of 560 cc stay oxygen at first: 0.2095 x 560 / (560 + 1000/1.4) = 9.2 % of the pouch."""
    told = tell(f"{TREATED}; fill 8; packet 200x10; place 8")

    (said,) = verdict_sentences(told.session, told.session.pouches.values(), told.desk.now().utc)

    assert "the oxygen is gone in about 1 to 2 days" in said
    assert "a pouch gets 9 % smaller at most" in said


def test_short_says_how_much_oxygen_stays_and_what_to_do() -> None:
    """Tired absorbers leave some per cent of oxygen; the cure is to open and add one."""
    told = tell(f"{TREATED}; fill 8; packet 200x10; +200 min; place 8")

    (said,) = verdict_sentences(told.session, told.session.pouches.values(), told.desk.now().utc)

    assert "% of oxygen would stay in the gas" in said
    assert said.endswith("Open them again and add one more.")


def test_half_a_set_is_not_judged() -> None:
    """While the second absorber of a pouch is still to come nothing is said of it."""
    told = tell(f"{MIXED}; packet 500x5; place 2")
    pouches = told.session.pouches.values()

    assert verdict_sentences(told.session, pouches, told.desk.now().utc) == ()


def test_a_long_wait_behind_the_zip_is_a_reason() -> None:
    """What the air took and where is said beside the figures."""
    told = tell(f"{TREATED}; fill 8; packet 200x10; place 8; +50 min")

    (said,) = verdict_sentences(told.session, told.session.pouches.values(), told.desk.now().utc)

    assert "after 50 min behind a zip" in said


def test_a_pouch_opened_again_asks_for_one_more() -> None:
    """Marginal and open again: one more goes in, or it is shut without."""
    found = card(f"{TREATED}; fill 8; packet 200x10; +75 min; place 8; reopen 3")

    assert found.sentence == "Drop 1 absorber more into pouch 3, press the air out and shut it."
    assert [each.label for each in found.seconds] == ["Shut without", "2 left: into a jar"]


def test_a_pouch_opened_again_that_has_enough_is_shut() -> None:
    """What was opened by mistake is pressed shut again; one more is still offered."""
    found = card(f"{TREATED}; fill 8; packet 200x10; place 8; reopen 3")

    assert found.main.label == "Pouch 3 is shut"


def test_one_absorber_too_few_is_foreseen() -> None:
    """Six absorbers for eight pouches that stand open: another packet is asked for in time."""
    found = card(f"{TREATED}; fill 8; packet 200x7")

    assert "1 absorber is lacking for what stands open; P opens a packet or jar." in found.evidence


def test_an_odd_one_goes_in_before_the_next_packet() -> None:
    """One is left and a pouch takes two: it is not thrown away."""
    found = card(f"{PAIRS}; packet 1000x3; place 1")

    assert found.sentence.startswith("Only 1 absorber is left, pouch 2 takes 2 more.")


def test_the_second_rating_of_a_set_is_asked_for() -> None:
    """500 cc are in, 300 cc lie in no open packet yet: that one is opened."""
    found = card(f"{MIXED}; packet 500x5; place 2")

    assert found.sentence == "Open a packet of 300 cc now: pouches 1 and 2 lack it."
    assert found.main.form == "packet"


def test_what_lies_open_for_nobody_is_shut_up_first() -> None:
    """Beans wait for 100 cc, eight of 200 cc lie open and no pouch takes one: into the jar."""
    found = card(
        "receive wheat 8 kg; bypass wheat: treated; receive beans 2 kg; bypass beans: treated;"
        "agree wheat 2 x 4 kg, with 200 & beans 2 x 1 kg, with 100; fill 2 of wheat;"
        "fill 2 of beans; packet 200x10; place 2 of wheat"
    )

    assert found.sentence == "Put the 8 absorbers left into the jar and screw its lid tight."


def test_the_rating_in_hand_is_named_where_there_are_two() -> None:
    """With two packets open the card says which one the hand goes to."""
    first = card(f"{MIXED}; packet 500x5; packet 300x5")
    second = card(f"{MIXED}; packet 500x5; packet 300x5; place 2")

    assert "1 absorber of 500 cc into each of pouches 1 and 2, then 1 of 300 cc" in first.sentence
    assert "1 absorber of 300 cc" in second.sentence
    assert second.main.label == "All 2 are shut"


def test_what_is_left_can_be_counted_and_told_where() -> None:
    """At the end the jar takes one press, another count or place a form."""
    found = card(f"{TREATED}; fill 8; packet 200x10; place 8")

    assert found.main.label == "2 are in the jar"
    assert [each.form for each in found.seconds] == ["jar"]


@pytest.mark.parametrize("size", [30, 50, 100])
@pytest.mark.parametrize("share", [0.0, 0.5, 0.9, 1.0])
def test_a_large_round_is_counted_whole_and_drawn_around_the_next(size: int, share: float) -> None:
    """Of many pouches those shut are counted; the cells hold the last shut and the next."""
    shut = int(size * share)
    found = view(
        f"receive wheat {size} kg; bypass wheat: treated; agree wheat {size} x 1 kg; fill {size};"
        f"packet 200x{size + 1}; +60 s" + (f"; place {shut}" if shut else "")
    )
    drawn = [cell.number for cell in found.cells]

    assert found.progress == f"{shut} of {size} shut"
    assert found.title == f"Round 1: pouches 1 to {size}, packet P1"
    assert len(drawn) == 20
    assert {shut, shut + 1} & set(range(1, size + 1)) <= set(drawn)
    assert [cell.number for cell in found.cells if cell.in_hand] == [shut + 1] * (shut < size)


def test_the_cells_of_a_large_round_mostly_stand_still() -> None:
    """Shutting one more pouch of thirty seldom moves the row, so that the eye finds its place."""
    story = (
        "receive wheat 30 kg; bypass wheat: treated; agree wheat 30 x 1 kg; fill 30;"
        "packet 200x50; +60 s"
    )
    rows = [view(f"{story}; place {shut}").cells for shut in range(1, 30, 4)]
    firsts = [next(cell.number for cell in row if cell.number) for row in rows]

    assert firsts == sorted(firsts)
    assert set(firsts) == {1, 12}


def test_pouches_that_are_not_drawn_are_told() -> None:
    """At the end where a large group goes on stands how many more, and which."""
    story = (
        "receive wheat 30 kg; bypass wheat: treated; agree wheat 30 x 1 kg; fill 30;"
        "packet 200x50; +60 s"
    )
    begun, later = view(story).cells, view(f"{story}; place 22").cells

    assert (begun[0].more, begun[-1].more) == (0, 11)
    assert begun[-1].label == "11 more after, not drawn: pouches 20 to 30"
    assert (later[0].more, later[-1].more) == (11, 0)
    assert "pouches 1 to 11" in later[0].label


def test_what_stands_open_is_counted_whole() -> None:
    """Twenty-five pouches stand open at the scale: the title says 25, not the 20 drawn."""
    found = view("receive wheat 30 kg; bypass wheat: treated; agree wheat 30 x 1 kg; fill 25")

    assert found.title.endswith("25 pouches stand open")


FIFTY = "receive wheat 50 kg; bypass wheat: treated; agree wheat 50 x 1 kg; fill 50"


def test_a_round_too_large_for_its_time_is_said_before_the_first_is_shut() -> None:
    """50 at the usual 30 s are 25 min, 5 more than the cap: 40 fit, as the ready check said."""
    found = view(f"{FIFTY}; packet 200x50")

    assert found.foremost[0].startswith("Only 40 of the 50 fit into the packet's time: ")
    assert found.foremost[0].endswith("10 come in another round.")
    assert "5 min after the packet is due." in found.sentences[0]


def test_a_round_that_fits_asks_for_nothing() -> None:
    """Eight at 30 s are 4 min of 20: no word of too many, and the last is 16 min before time."""
    found = view(f"{NUMBERED}; packet 200x10")

    assert found.foremost == ()
    assert found.standing[1].startswith("Pouch 8 is then shut about ")
    assert found.standing[1].endswith("16 min before the packet is due.")


def test_how_many_fit_follows_the_pace_of_the_round() -> None:
    """Ten in 4 min are 24 s each: of the 16 min left 40 fit, all that wait."""
    slow = view(f"{FIFTY}; packet 200x50; +6 min; place 10")
    quick = view(f"{FIFTY}; packet 200x50; +4 min; place 10")

    assert slow.foremost[0].startswith("Only 23 of the 40 fit into the packet's time: ")
    assert quick.foremost == ()


def test_the_press_means_as_many_as_fit() -> None:
    """Sentence and control agree with the ready check: 40 now, another count on asking."""
    found = card(f"{FIFTY}; packet 200x50")

    assert found.main.label == "All 40 are shut"
    assert "each of pouches 1 to 40" in found.sentence


def test_what_does_not_fit_any_more_is_shut_up() -> None:
    """Nineteen in 19.5 min: a minute a pouch, and half a minute is left; none fits."""
    story = f"{FIFTY}; packet 200x50; +1170 s; place 19"

    assert view(story).foremost[0] == (
        "None of the 31 left fits into the packet's time: finish what is in your hand, then C "
        "puts the absorbers left into the jar."
    )
    assert card(story).main.label == "Pouch 20 is shut"


def test_before_at_and_after_the_due_time_the_same_is_asked_for() -> None:
    """From when none fits on: the pouch in the hand, then the absorbers left into the jar."""
    story = f"{FIFTY}; packet 200x50; +1170 s; place 19"
    for wait in (15, 30, 45, 120):
        later = f"{story}; +{wait} s"

        assert (
            view(later)
            .foremost[0]
            .endswith("finish what is in your hand, then C puts the absorbers left into the jar.")
        )
        assert card(later).main.label == "Pouch 20 is shut"


def test_a_slow_start_is_no_alarm() -> None:
    """One in 12 min does not tell the pace: seven more at 30 s fit into the 8 min left."""
    story = f"{TREATED}; fill 8; packet 200x10; +12 min; place 1"

    assert view(story).foremost == ()
    assert view(story).standing[0].startswith("7 left at about 30 s each: 3 min 30 s;")
    assert card(story).main.label == "All 7 are shut"


def test_time_idle_is_counted_in_sentence_and_press() -> None:
    """25 wait, nothing is in after 19 min: of the minute left 2 fit, and the press means those."""
    story = (
        "receive wheat 25 kg; bypass wheat: treated; agree wheat 25 x 1 kg; fill 25;"
        "packet 200x50; +19 min"
    )

    assert view(story).foremost[0].startswith("Only 2 of the 25 fit into the packet's time: ")
    assert card(story).main.label == "All 2 are shut"


def test_the_forecast_goes_on_at_the_pace_of_those_shut() -> None:
    """Three shut 60 s after the opening are 20 s each: the next come at 20, 40, 60 s from then."""
    packet = view(f"{NUMBERED}; packet 200x6; +60 s; place 3").packet

    assert packet is not None
    ahead = [(at - packet.opened).total_seconds() for at in packet.forecast]
    assert ahead == [80.0, 100.0, 120.0]


def test_the_last_pouch_is_said_at_that_pace() -> None:
    """Four in 2 min are 30 s each: four more take 2 min, 16 min before the cap of 20."""
    sentence = view(f"{NUMBERED}; packet 200x10; +2 min; place 4").standing[1]

    assert sentence.endswith("16 min before the packet is due.")


def test_a_pouch_opened_again_keeps_its_place_in_time() -> None:
    """Filled before the opening, it stands on the ribbon where its absorber went in."""
    packet = view(f"{NUMBERED}; +30 min; packet 200x10; +60 s; place 4; +30 s; reopen 2").packet

    assert packet is not None
    assert [(at - packet.opened).total_seconds() for at in packet.done] == [60.0] * 4


def test_pouches_opened_for_one_more_are_counted_with_the_group() -> None:
    """2 to 5 stand open again for one of the new packet: they are drawn, and not yet shut."""
    story = f"{TREATED}; fill 8; packet 200x8; +75 min; place 8; reopen 2-5; packet 200x10"
    found = view(story)

    assert found.title == "Round 2: pouches 2 to 5, packet P2"
    assert found.progress == "0 of 4 shut"
    assert [cell.number for cell in found.cells] == [2, 3, 4, 5]
    assert [cell.number for cell in found.cells if cell.in_hand] == [2]
    assert view(f"{story}; place in 2").progress == "1 of 4 shut"
