"""What goes wrong at the counter, put right with keys and clicks; the look at the packet."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt

from packdesk.session.facts import CountTaken, PacketOpened, RemainderShut
from packdesk.session.terms import Feel, Indicator, PacketCondition, PouchStage, Stage, Vessel
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

OPEN = ("opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered")
SHUT = (*OPEN, "filled", "in_round", "all_shut")
SPACE, ENTER = Qt.Key.Key_Space, Qt.Key.Key_Return


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window on an empty book."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    yield bench
    bench.close()


def bring(bench: Bench, stage: Stage, *steps: str) -> None:
    """Bring the session to a stage and show its page."""
    for step in steps:
        getattr(bench.walk, step)()
    bench.window.show_stage(stage)


def last(bench: Bench, kind: type) -> object:
    """The last fact of a kind."""
    return next(e.fact for e in reversed(bench.desk.entries) if isinstance(e.fact, kind))


def test_a_pouch_is_opened_again_by_key_and_shut(bench: Bench) -> None:
    """O opens the form, the pouch stands open with its absorber in, Space shuts it again."""
    bring(bench, Stage.FILLING, *SHUT)
    bench.key("o")
    bench.fill_in("pouches", "3")
    bench.key(ENTER)

    assert bench.session.pouches[3].stage is PouchStage.ABSORBERS_IN
    assert bench.page.sentence.text.startswith("Pouch 3 stands open again")
    bench.key(SPACE)
    assert bench.session.pouches[3].stage is PouchStage.PRESSED_SHUT


def test_what_went_wrong_has_its_place_at_the_foot(bench: Bench) -> None:
    """The controls stand under the page, named; a click opens the form, Esc brings them back."""
    bring(bench, Stage.SEALING, *SHUT)
    row = bench.page.amiss_row
    shown = [each for each in row.buttons if each.isVisibleTo(bench.page)]
    assert [each.accessibleName() for each in shown] == ["Open one again", "Count and compare"]

    bench.page.scroll.ensureWidgetVisible(shown[-1])
    bench.click(shown[-1])
    assert bench.page.form_opened("compare")
    assert not row.isVisibleTo(bench.page)

    bench.key(Qt.Key.Key_Escape)
    assert row.isVisibleTo(bench.page)


def test_two_mixed_up_are_exchanged(bench: Bench) -> None:
    """In numbered working X exchanges what was noted of two pouches; Undo brings it back."""
    bench.walk.opened().received().planned(numbered=True)
    bring(bench, Stage.FILLING, *OPEN[3:], "filled", "in_round")
    bench.walk.shut(1)
    bench.key("x")
    bench.fill_in("first", "1")
    bench.fill_in("second", "4")
    bench.key(ENTER)

    stages = [bench.session.pouches[n].stage for n in (1, 4)]
    assert stages == [PouchStage.FILLED, PouchStage.PRESSED_SHUT]
    bench.key(Qt.Key.Key_Backspace)
    stages = [bench.session.pouches[n].stage for n in (1, 4)]
    assert stages == [PouchStage.PRESSED_SHUT, PouchStage.FILLED]


def test_a_count_that_differs_says_what_to_do(bench: Bench) -> None:
    """One fewer than the tally: the words stay until either has changed."""
    bring(bench, Stage.FILLING, *OPEN, "filled")
    bench.key("k")
    bench.fill_in("counted", "5")
    bench.key(ENTER)

    fact = last(bench, CountTaken)
    assert isinstance(fact, CountTaken)
    assert (fact.counted, fact.tallied) == (5, 6)
    assert bench.page.scroll.verticalScrollBar().value() == 0
    words, mass = (
        each.mapTo(bench.page, QPoint(0, 0)).y()
        for each in (bench.page._first, bench.input("mass"))
    )
    assert words < mass
    assert words_foremost(bench).startswith("You count 5 filled of hard wheat, the tally says 6.")

    bench.walk.filled(1)
    assert "You count" not in words_foremost(bench)
    bench.key(Qt.Key.Key_Backspace)
    assert "You count" in words_foremost(bench)

    bench.walk.one_aside()
    bench.walk.filled(1)
    assert "You count" not in words_foremost(bench)


def test_the_way_that_a_count_names_works(bench: Bench) -> None:
    """Where a count finds one press too many, H and V take that press back, and the words go."""
    bring(bench, Stage.FILLING, *OPEN, "filled")
    bench.walk.filled(1)
    bench.key("k")
    bench.fill_in("counted", "6")
    bench.key(ENTER)
    assert "void a press too many (H, then V)" in words_foremost(bench)

    bench.key("h")
    bench.key("v")
    entries = bench.window.story.list
    entries.setCurrentItem(entries.findItems("Pouch 7 filled", Qt.MatchFlag.MatchContains)[0])
    bench.fill_in("reason", "one press too many")
    bench.key(ENTER)
    bench.window.show_stage(Stage.FILLING)
    assert len(bench.session.working_pouches()) == 6
    assert words_foremost(bench) == ""


def test_a_count_begins_with_the_food_and_the_step_in_hand(bench: Bench) -> None:
    """Scale, round and iron each preset what was worked at; the one food is named."""
    bring(bench, Stage.FILLING, *OPEN, "filled")
    said = []
    steps = ("", "in_round", "all_left", "sealed")
    for step in steps:
        stage = Stage.FILLING if step in steps[:2] else Stage.SEALING
        if step:
            getattr(bench.walk, step)()
        bench.window.show_stage(stage)
        bench.key("k")
        assert bench.page.sentence.text.startswith("Count the hard wheat by hand")
        assert bench.input("line").isHidden()
        said.append(bench.input("what").key)
        bench.key(Qt.Key.Key_Escape)

    assert said == ["filled", "pressed_shut", "pressed_shut", "sealed"]


def words_foremost(bench: Bench) -> str:
    """What stands above all else below the controls."""
    return "\n".join(bench.page.card.foremost)


def test_the_remainder_is_counted_and_told_where(bench: Bench) -> None:
    """W opens the form: how many, in what, where it stands."""
    bring(bench, Stage.FILLING, *OPEN, "filled", "in_round")
    bench.walk.shut(6)
    bench.key("w")
    bench.fill_in("counted", "5")
    bench.pick("vessel", "quart_jar")
    bench.fill_in("place", "pantry shelf")
    bench.key(ENTER)

    fact = last(bench, RemainderShut)
    assert isinstance(fact, RemainderShut)
    assert (fact.count, fact.reckoned) == (5, 4)
    assert (fact.vessel, fact.place) == (Vessel.QUART_JAR, "pantry shelf")


# The packet before it is cut ----------------------------------------------------------------------


@pytest.fixture
def packet(bench: Bench) -> Bench:
    """Pouches filled, looked over, the packet in the hand."""
    bring(bench, Stage.FILLING, *OPEN, "filled", "made_ready")
    bench.key("p")
    assert bench.page.form_opened("packet")
    return bench


def test_the_smallest_packet_that_does_is_offered(packet: Bench) -> None:
    """Six pouches wait: of the sizes there are, the least of six or more stands there."""
    form = packet.page.forms["packet"]
    rating = form.inputs["rating"].key
    sizes = packet.window.tools.catalog.absorbers[rating].packet_counts

    assert any(size > 6 for size in sizes)
    assert form.inputs["absorbers"].text == str(min(size for size in sizes if size >= 6))


def test_the_look_at_the_packet_is_on_record(packet: Bench) -> None:
    """Bag, indicator and feel are noted, and what they mean is said before it is cut."""
    packet.option("bag", "slack")
    packet.pick("indicator", "oxygen")
    packet.option("feel", "soft")
    assert packet.page.forms["packet"].doubt.text.startswith("Air got into this packet")
    packet.press_main()

    fact = last(packet, PacketOpened)
    assert isinstance(fact, PacketOpened)
    assert (fact.indicator, fact.feel) == (Indicator.OXYGEN, Feel.SOFT)
    assert "Air got into packet P1:" in packet.page.evidence.text


@pytest.mark.parametrize(("key", "each"), [(SPACE, 2), ("N", 1)])
def test_a_doubted_packet_changes_what_the_next_press_means(
    packet: Bench, key: Qt.Key | str, each: int
) -> None:
    """Two of 50 cc do for 86 cc until the packet's time, which goes by two, is over: two go into
    each pouch, and the page says why. N puts in one each all the same."""
    packet.option("bag", "slack")
    packet.pick("indicator", "oxygen")
    packet.press_main()
    assert packet.page.sentence.text.startswith("Drop 2 absorbers into each of pouches 1 to 5")
    assert packet.page._foremost.text.startswith("1 absorber of packet P1 counts for 50 to 100 cc")
    assert packet.page._progress.text == "0 of 5 shut"
    packet.key(key)

    held = [sum(p.each for p in packet.session.pouches[n].placed) for n in (1, 3)]
    assert held == [each, each]


def test_a_look_that_nobody_took_is_not_on_record(packet: Bench) -> None:
    """The Space bar opens the packet in the hand; what was neither looked at nor felt stays so."""
    assert packet.page.forms["packet"].doubt.text == (
        "Neither looked at nor felt, it counts as sound."
    )
    packet.key(Qt.Key.Key_Space)

    fact = last(packet, PacketOpened)
    assert isinstance(fact, PacketOpened)
    assert (fact.condition, fact.feel) == (PacketCondition.NOT_SEEN, Feel.NOT_FELT)
    (round_,) = packet.session.rounds.values()
    assert round_.capacity_low_cc == round_.rating_cc


def test_the_next_packet_is_looked_at_anew(packet: Bench) -> None:
    """What was seen of one packet is not taken for the next."""
    packet.option("bag", "slack")
    packet.pick("indicator", "oxygen")
    packet.press_main()
    form = packet.page.forms["packet"]

    assert (form.inputs["bag"].key, form.inputs["indicator"].key) == (
        "not_seen",
        "not_seen",
    )


def test_a_hard_packet_starts_no_round_and_says_so(packet: Bench) -> None:
    """Spent absorbers are on record; the page asks for another packet."""
    packet.option("feel", "hard")
    packet.press_main()

    assert packet.session.rounds == {}
    assert packet.page._first.text.startswith("Packet P1 is written off.")


def test_an_absorber_that_waits_for_moisture_is_refused(packet: Bench) -> None:
    """In dry food it takes up little or nothing, and the field says so."""
    packet.pick("rating", "moist-300")
    packet.press_main()

    assert packet.session.rounds == {}
    objection = packet.input("rating").box.accessibleDescription()
    assert "moisture-activated" in objection


def test_one_too_few_is_counted_while_a_pouch_waits(bench: Bench) -> None:
    """The last pouch lacks its absorber and none is in the hand: C, 0; no jar is made up."""
    bench.walk.opened().received().planned().frozen().cold_enough().taken_out().uncovered()
    bench.walk.filled()
    bench.walk.in_round(count=6)
    bring(bench, Stage.FILLING)
    bench.walk.shut(5)
    bench.window.refresh()
    assert "None in your hand? C takes the count" in bench.page.evidence.text

    bench.key("c")
    form = bench.page.forms["jar"]
    assert form.inputs["counted"].label == "You count (1 reckoned)"
    assert bench.page.main.face.label == "1 is put away"
    bench.fill_in("counted", "0")
    assert bench.page.main.face.label == "None is left"
    bench.key(ENTER)

    shut = last(bench, RemainderShut)
    assert (shut.count, shut.reckoned) == (0, 1)
    assert not bench.desk.state.book.remainders
    assert bench.session.pouches[6].stage is PouchStage.FILLED


def test_what_is_shut_up_in_mid_round_says_how_many_and_where(bench: Bench) -> None:
    """Pouches still wait; C asks for count, vessel and place before anything is on record."""
    bring(bench, Stage.FILLING, *OPEN, "filled", "in_round")
    bench.walk.shut(3)
    bench.window.refresh()
    bench.key("c")
    assert not bench.session.rounds[1].shut_up
    left = bench.session.rounds[1].left
    assert bench.page.main.face.label == f"{left} are put away"
    bench.fill_in("place", "sill")
    bench.key(ENTER)

    shut = last(bench, RemainderShut)
    assert (shut.count, shut.vessel, shut.place) == (left, Vessel.PINT_JAR, "sill")
    assert shut.reckoned is None


@pytest.mark.parametrize("stage", [Stage.FILLING, Stage.SEALING])
def test_one_too_many_is_shut_up_after_the_round_is_used_up(bench: Bench, stage: Stage) -> None:
    """All were reckoned in pouches, one is in the hand: J shuts it up, Undo takes that back."""
    bench.walk.opened().received().planned().frozen().cold_enough().taken_out().uncovered()
    bench.walk.filled()
    bench.walk.in_round(count=6)
    bench.walk.shut(6)
    bring(bench, stage)
    bench.key("j")
    assert bench.page.forms["over"].inputs["counted"].label == "You count (0 reckoned)"
    assert bench.page.main.face.label == "1 is put away"
    bench.fill_in("place", "shelf")
    bench.key(ENTER)

    shut = last(bench, RemainderShut)
    assert (shut.count, shut.reckoned, shut.place) == (1, 0, "shelf")
    names = [each.accessibleName() for each in bench.page.amiss_row.buttons if each.isVisible()]
    assert "Absorber left over" not in names
    bench.key(Qt.Key.Key_Backspace)
    assert not bench.desk.state.book.remainders


def test_all_four_cures_have_their_place(bench: Bench) -> None:
    """In numbered working with a round used up there are four; the fourth stands below three."""
    bench.walk.opened().received().planned(numbered=True)
    bring(bench, Stage.SEALING, *OPEN[3:], "filled")
    bench.walk.in_round(6).shut(6)
    bench.window.show_stage(Stage.SEALING)

    shown = [each for each in bench.page.amiss_row.buttons if each.isVisibleTo(bench.page)]
    assert [each.accessibleName() for each in shown] == [
        "Absorber left over",
        "Open one again",
        "Two mixed up",
        "Count and compare",
    ]
    tops = [each.geometry().top() for each in shown]
    assert tops[0] == tops[1] == tops[2] < tops[3]
    assert {each.width() >= shown[0].width() for each in shown} == {True}
