"""What a pouch itself needs, by its own mass and by what is in it, is said before it is shut."""

from __future__ import annotations

from packdesk.present.cards import WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.work import work_card
from packdesk.session.commands import PlaceAbsorbers, ReopenPouches, ShutRemainder
from packdesk.session.terms import Stage
from packdesk.session.verdicts import Enough, verdict
from tests.script import Script, tell

HEAVY = (
    "receive wheat 9 kg; bypass wheat: treated; agree wheat 4 x 1 kg, need 190 cc, numbered;"
    "fill 1; fill 1 at 1400 g; fill 2; ready; packet 200x10"
)


def card(told: Script) -> WorkCard:
    """The card at the counter."""
    return work_card(Stage.FILLING, told.desk.state, Chosen(), told.desk.now())


def found_on(told: Script, number: int) -> Enough:
    """The verdict on a pouch now."""
    plan = told.session.plan
    assert plan is not None
    found = verdict(plan.lines[0], told.session.pouches[number], plan, told.desk.now().utc)
    assert found is not None
    return found.verdict


def test_a_pouch_heavier_than_planned_is_told_its_own_need_first() -> None:
    """With a sound packet open it takes as many as its own mass needs, and it is said why."""
    told = tell(f"{HEAVY}; place 1")
    said = card(told)
    assert isinstance(said.main.command, PlaceAbsorbers)
    assert said.main.command.each == 2
    assert said.sentence.startswith("Drop 2 absorbers into pouch 2")
    assert said.foremost[0].startswith("Pouch 2 holds 1.40\N{NO-BREAK SPACE}kg and needs")
    told.desk.submit(said.main.command)
    assert found_on(told, 2) is Enough.ENOUGH
    assert "Drop 1 absorber into pouch 3" in card(told).sentence


def test_a_pouch_a_little_too_heavy_takes_as_planned() -> None:
    """What one absorber has is enough for it now: none is wasted."""
    told = tell(f"{HEAVY.replace('1400 g', '1010 g')}; place 1")
    assert "Drop 1 absorber into pouch 2" in card(told).sentence


def test_an_absorber_that_lay_in_an_open_pouch_counts_as_it_is() -> None:
    """The second of a pair an hour and a half after the first: what the air took is made up."""
    told = tell(
        "receive wheat 9 kg; bypass wheat: treated; agree wheat 2 x 4 kg, with 500+500, "
        "need 750 cc; fill 2; packet 500x3; place 1; place 1, open; +90 min; packet 500x10"
    )
    said = card(told)
    assert said.sentence.startswith("Drop 2 absorbers into pouch 2")
    told.desk.submit(said.main.command)
    assert found_on(told, 2) is Enough.ENOUGH


def test_a_short_pouch_is_opened_again_before_the_rest_is_shut_up() -> None:
    """While its packet lies open the Space bar opens it; then the rest goes into the jar."""
    told = tell(f"{HEAVY}; place 4")
    said = card(told)
    assert said.main.command == ReopenPouches((2,), "one absorber more")
    assert [control.form for control in said.seconds] == ["jar"]
    for _ in range(2):
        told.desk.submit(card(told).main.command)
    assert found_on(told, 2) is Enough.ENOUGH
    assert isinstance(card(told).main.command, ShutRemainder)
