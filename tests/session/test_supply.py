"""How many absorbers of a doubted round a pouch takes, and how many sound ones are lacking then."""

from __future__ import annotations

import pytest

from packdesk.present.chosen import Chosen
from packdesk.present.work import work_card
from packdesk.session.commands import PlaceAbsorbers
from packdesk.session.supply import still_wanted, supply
from packdesk.session.terms import Stage
from packdesk.session.verdicts import Enough, verdict
from tests.script import TREATED, Script, tell

MIXED = "receive wheat 8 kg; bypass wheat: treated; agree wheat 2 x 4 kg, with 500+300"
PAIRS = "receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg, with 100+100"


def wanted(told: Script, rating_cc: int) -> int:
    """How many sound absorbers the open pouches lack."""
    pouches = told.session.working_pouches()
    return still_wanted(told.session, pouches, rating_cc, told.desk.now().utc)


def worked_through(told: Script) -> list[Enough]:
    """Press what the counter offers until no absorber is asked for; then the verdicts."""
    for _ in range(6):
        card = work_card(Stage.FILLING, told.desk.state, Chosen(), told.desk.now())
        if not isinstance(card.main.command, PlaceAbsorbers):
            break
        told.desk.submit(card.main.command)
        told.do("+1 min")
    found = [
        verdict(told.session.plan.lines[0], pouch, told.session.plan, told.desk.now().utc)
        for pouch in told.session.working_pouches()
    ]
    return [each.verdict for each in found if each is not None]


@pytest.mark.parametrize(
    "packets",
    [
        "packet 500x10 slack; packet 300x10 slack",
        "packet 300x10 slack; packet 500x10 slack",
        "packet 500x10; packet 300x10 slack oxygen",
        "packet 500x10 slack oxygen; packet 300x10",
    ],
)
def test_a_set_of_two_ratings_is_made_sure_whichever_is_doubted(packets: str) -> None:
    """Half of 500 cc and half of 300 cc are 400 cc: for 520 cc more goes in, of whichever."""
    told = tell(f"{MIXED}, need 520 cc; fill 2; ready; {packets}")

    assert worked_through(told) == [Enough.ENOUGH] * 2


def test_what_is_in_a_pouch_counts_as_it_is_not_as_it_is_rated() -> None:
    """One of 50 cc is in, of another such packet the pouch lacks 1 of 2: 3 reach 180 cc."""
    told = tell(f"{PAIRS}, need 180 cc; fill 1; ready; packet 100x1 slack; place 1")
    told.do("packet 100x10 slack")
    line, (pouch,) = told.session.plan.lines[0], told.session.working_pouches()

    found = supply(told.session, line, pouch, told.session.rounds[2], told.desk.now().utc)

    assert found.planned == 1
    assert found.beside_cc < 50.0
    assert 180.0 <= found.beside_cc + found.sure * found.low_cc < 180.0 + found.low_cc
    assert worked_through(told) == [Enough.ENOUGH]


def test_a_packet_whose_margin_runs_takes_as_planned_until_it_is_over() -> None:
    """Its time is that in which one absorber is enough: 1 each within it, 2 a minute after."""
    told = tell(
        "receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg, need 88 cc; fill 1; "
        "ready; packet 200x10 slack"
    )
    session = told.session
    line, (pouch,) = session.plan.lines[0], session.working_pouches()
    round_ = session.rounds[1]
    assert round_.limit_min == round_.margin_min

    each = []
    for wait in ("+1 s", f"+{round_.limit_min:.0f} min", "+2 min"):
        told.do(wait)
        each.append(supply(session, line, pouch, round_, told.desk.now().utc).sure)

    assert (each[0], each[-1]) == (1, 2)


@pytest.mark.parametrize(
    ("packets", "lacking"),
    [
        # Six pouches: a sound five serve five; of a doubted five two each serve two.
        ("packet 200x5", 1),
        ("packet 200x5 slack", 4),
        ("packet 200x5 slack; packet 200x4", 0),
        ("packet 200x5 slack; packet 200x2", 2),
        ("packet 200x1 slack", 6),
    ],
)
def test_what_is_lacking_goes_by_how_many_a_pouch_takes(packets: str, lacking: int) -> None:
    """Of a doubted packet a pouch takes two: fewer are served, and the odd one is no help."""
    told = tell(f"{TREATED}; fill 6; ready; {packets}")

    assert wanted(told, 200) == lacking


def test_what_is_lacking_counts_every_food_that_stands_open() -> None:
    """Four of wheat and two of beans stand open, five absorbers lie open: one is lacking."""
    told = tell(
        "receive wheat 8 kg; receive beans 8 kg; bypass wheat: treated; bypass beans: treated; "
        "agree wheat 4 x 1 kg & beans 2 x 1 kg; fill 4; fill 2 of beans; ready; packet 200x5"
    )

    assert wanted(told, 200) == 1


def test_a_sound_packet_is_counted_as_it_is_once_its_margin_is_used_up() -> None:
    """One of 200 cc as planned while the margin runs; after three hours in the open one is short,
    and as many as make sure are offered, with what is left of each."""
    told = tell(f"{TREATED}; fill 4; ready; packet 200x20; +40 min")
    card = work_card(Stage.FILLING, told.desk.state, Chosen(), told.desk.now())
    assert isinstance(card.main.command, PlaceAbsorbers)
    assert card.main.command.each is None

    told.do("+140 min")
    card = work_card(Stage.FILLING, told.desk.state, Chosen(), told.desk.now())
    assert "had 200 cc when it was opened, and may have 44 cc by now" in card.foremost[0]
    assert worked_through(told) == [Enough.ENOUGH] * 4
