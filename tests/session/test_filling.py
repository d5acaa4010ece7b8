"""Filling: masses, tare, unlikely masses, food lost, pouches to come, a revised plan."""

from __future__ import annotations

import pytest

from packdesk.planning import fill
from packdesk.session.mass_doubt import mass_doubt
from packdesk.session.net_mass import Basis, line_mean, net_mass
from packdesk.session.pouch import Pouch
from packdesk.session.still_to_come import (
    FULL_ENOUGH,
    StillToCome,
    next_mass_g,
    still_to_come,
)
from tests.script import TREATED, Script, tell


def coming(told: Script) -> StillToCome:
    """The pouches of the first plan line that are still to come."""
    return still_to_come(told.session, told.session.plan.lines[0])


def doubt(told: Script, mass_g: float):
    """What is asked about a mass in the first plan line."""
    return mass_doubt(told.session, told.session.plan.lines[0], mass_g)


def weighed(*masses: float) -> Script:
    """Wheat pouches weighed one after another."""
    return tell(TREATED).do("; ".join(f"fill 1 at {mass} g" for mass in masses))


def pouch(told: Script, number: int) -> Pouch:
    """One pouch."""
    return told.session.pouches[number]


# Tare ---------------------------------------------------------------------------------------------


def test_the_empty_pouch_is_taken_off_what_the_scale_shows() -> None:
    """With an empty pouch of 21 g a scale that shows 1,021 g stands for 1,000 g of food."""
    told = tell(f"{TREATED}; tare 21 g; fill 1 showing 1021 g")

    assert pouch(told, 1).net_mass_g == pytest.approx(1000.0)
    assert told.facts[-1].tare_g == 21.0


def test_without_a_tare_the_scale_shows_the_food() -> None:
    """Before any empty pouch is weighed, and after a tare of 0, what is shown is the food alone."""
    told = tell(f"{TREATED}; fill 1 showing 998 g; tare 21 g; tare 0 g; fill 1 showing 997 g")

    assert [p.net_mass_g for p in told.session.pouches.values()] == [998.0, 997.0]
    assert told.facts[-1].tare_g is None


def test_a_scale_that_shows_no_more_than_the_pouch_is_refused() -> None:
    """A pouch that weighs no more than an empty one is not filled, and the refusal says so."""
    words = tell(TREATED).refused("tare 21 g; fill 1 showing 20 g")

    assert words.startswith("The scale shows 20 g, the empty pouch alone weighs 21 g.")


def test_a_tare_can_be_undone() -> None:
    """One undo takes a tare back."""
    told = tell(f"{TREATED}; tare 21 g; undo; fill 1 showing 1000 g")

    assert pouch(told, 1).net_mass_g == 1000.0


# A mass left out ----------------------------------------------------------------------------------


def test_a_pouch_not_weighed_holds_the_mean_of_its_line_with_its_spread() -> None:
    """Of 990, 1,000 and 1,010 g mean and sample deviation are 1,000 and 10 g (by hand)."""
    told = weighed(990, 1000, 1010).do("fill 1")

    found = net_mass(told.session, told.session.plan.lines[0], pouch(told, 4))

    assert found.basis is Basis.MEAN
    assert (found.mass_g, found.spread_g) == (pytest.approx(1000.0), pytest.approx(10.0))


def test_with_few_weighed_the_plan_stands() -> None:
    """Two weighed pouches say too little of a third, which is said by the plan."""
    told = weighed(990, 1012).do("fill 1")

    found = net_mass(told.session, told.session.plan.lines[0], pouch(told, 3))

    assert (found.basis, found.mass_g) == (Basis.PLANNED, 1000.0)


def test_what_was_confirmed_to_be_unlike_does_not_bend_the_mean() -> None:
    """A mass that was asked about and confirmed is kept as it is and left out of the mean."""
    told = weighed(1000, 1000, 1000).do("fill 1 showing 700 g, it is right")

    assert pouch(told, 4).net_mass_g == 700.0
    assert line_mean(told.session, 1).mean_g == pytest.approx(1000.0)


# Unlikely masses ----------------------------------------------------------------------------------


def test_unlike_masses_are_asked_about_by_the_modified_z_score() -> None:
    """Median 1,000 and MAD 10 g let pass 3.5 × 10 / 0.6745 = 51.9 g (Iglewicz and Hoaglin, by
    hand), and nothing beyond."""
    told = weighed(980, 990, 1000, 1010, 1020)

    assert doubt(told, 1051.5) is None
    assert doubt(told, 948.5) is None
    assert doubt(told, 1052.0).within_g == pytest.approx(51.89, abs=0.01)
    assert doubt(told, 948.0).fellows == 5


def test_masses_all_alike_leave_room_for_the_grain_of_a_hand() -> None:
    """Where all masses are the same 2 % is let pass, though their deviation is nothing."""
    told = weighed(1000, 1000, 1000, 1000, 1000)

    assert doubt(told, 1019.0) is None
    assert doubt(told, 1021.0) is not None


def test_the_first_pouches_are_compared_with_the_plan() -> None:
    """With fewer than five weighed a mass more than a tenth off the plan is asked about."""
    told = tell(TREATED)

    assert doubt(told, 1095.0) is None
    assert doubt(told, 890.0).expected_g == 1000.0
    assert doubt(told, 890.0).fellows == 0


def test_the_last_pouch_takes_what_is_left() -> None:
    """The last pouch of a line may hold less without being asked about, but not more."""
    told = tell(TREATED).do("fill 7")

    assert doubt(told, 420.0) is None
    assert doubt(told, 1300.0) is not None


# Pouches to come ----------------------------------------------------------------------------------


def test_food_lost_lessens_the_pouches_to_come() -> None:
    """Of 8 kg planned into 8 pouches 1.2 kg spilled leave 6.8 kg: six of a kilogram and one of
    800 g."""
    told = tell(f"{TREATED}; lose 1200 g: the bowl fell")

    found = coming(told)

    assert (found.total, found.left_g, found.last_mass_g) == (7, 6800.0, pytest.approx(800.0))


def test_heavier_pouches_make_fewer() -> None:
    """Four pouches of 1,150 g leave 3.4 kg of 8 kg, which makes three more: seven in all."""
    told = weighed(1150, 1150, 1150, 1150)

    assert (coming(told).more, coming(told).total) == (3, 7)
    assert coming(told).learned


def test_an_emptied_pouch_gives_its_food_back() -> None:
    """A pouch set aside with food in it holds its food still; emptied, it fills another one."""
    told = tell(f"{TREATED}; fill 2; set aside 1: dirty")
    held = coming(told).left_g

    told.do("empty 2: torn")

    assert (held, coming(told).left_g) == (6000.0, 7000.0)


def test_the_plan_is_revised_by_one_command_and_undone_by_one() -> None:
    """The count changes with what the last pouch will hold, all else stays; Undo brings it back."""
    told = tell(f"{TREATED}; lose 1200 g: spilled")
    before = told.session.plan

    told.do("revise to 7")
    (line,) = told.session.plan.lines
    assert (line.count, line.last_fill_mass_g) == (7, pytest.approx(800.0))
    assert (line.mass_g, line.fill_mass_g) == (8000.0, 1000.0)

    told.do("undo")
    assert told.session.plan.lines == before.lines


def test_a_last_pouch_is_worth_its_film_by_the_same_rule_as_in_the_plan() -> None:
    """The least share of a last pouch is the one that the planning goes by."""
    assert FULL_ENOUGH == fill.FULL_ENOUGH


def test_a_plan_never_falls_below_what_is_filled() -> None:
    """Fewer pouches than are filled cannot be planned."""
    assert "3 pouches of Wheat are filled" in tell(f"{TREATED}; fill 3").refused("revise to 2")


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("lose 9000 g: spilled", "9000 g of Wheat cannot be lost: the plan has 8000 g of it."),
        ("lose 0 g: spilled", "0 g of Wheat cannot be lost"),
        ("lose 5 g:", "Say what became of this food."),
        ("tare 6000 g", "An empty pouch of 6000 g cannot be. Enter 0 to 5000 g."),
    ],
)
def test_what_cannot_be_is_refused(step: str, words: str) -> None:
    """Losses beyond the plan, without a reason, and tares heavier than any pouch are refused."""
    assert tell(TREATED).refused(step).startswith(words)


# What is left over --------------------------------------------------------------------------------


def test_with_the_last_in_sight_the_count_is_told_sure_or_not() -> None:
    """Of 8 kg seven pouches of about 900 g (mean 902, spread 48 g) leave 1,700 g: nine pouches, and
    the plan has eight."""
    told = weighed(980, 860, 940, 850, 930, 870, 870)

    found = coming(told)

    assert (found.more, found.total, found.left_g) == (2, 9, pytest.approx(1700.0))
    assert found.differs
    assert found.left_over


def test_a_revised_plan_fills_like_the_pouches_it_was_reckoned_from() -> None:
    """Of 8 kg five pouches of 1,200 g leave 2 kg: one more of 1,200 g and a last one of 800 g."""
    told = weighed(1200, 1200, 1200, 1200, 1200).do("revise to 7")
    (line,) = told.session.plan.lines

    assert (line.count, line.to_hold_g, line.last_fill_mass_g) == (7, 1200.0, 800.0)
    assert line.fill_mass_g == 1000.0, "air and oxygen are reckoned for it"
    assert next_mass_g(told.session, line) == 1200.0

    told.do("fill 1")
    assert next_mass_g(told.session, line) == 800.0
    told.do("fill 1")
    assert coming(told).left_g == pytest.approx(0.0)
    assert net_mass(told.session, line, pouch(told, 7)).mass_g == pytest.approx(800.0)


def test_too_little_for_a_pouch_is_left_over() -> None:
    """Eight pouches of 975 g leave 200 g of 8 kg, which no pouch is worth."""
    found = coming(weighed(*[975] * 8))

    assert (found.more, found.rest_g) == (0, pytest.approx(200.0))
    assert not found.differs


def test_a_pouch_set_aside_with_its_food_is_none_to_fill() -> None:
    """One of eight full pouches set aside with its food in it counts as held: none is to fill."""
    found = coming(tell(f"{TREATED}; fill 8; set aside 8: dirty"))

    assert (found.differs, found.total, found.more, found.to_fill) == (False, 8, 0, 0)


def test_a_doubt_tells_how_many_it_leaves_out() -> None:
    """Of six pouches weighed one was confirmed as unlike: five are compared with."""
    told = weighed(1000, 1000, 1000, 1000, 1000).do("fill 1 showing 700 g, it is right")

    found = doubt(told, 1100.0)

    assert (found.fellows, found.left_out) == (5, 1)


def test_the_same_mass_confirmed_twice_is_not_asked_about_a_third_time() -> None:
    """After two confirmed at 1,300 g in a row 1,315 g may well be, as 2 % of the others' 1,000 g
    are let pass; 1,325 g is asked about."""
    told = weighed(1000, 1000, 1000, 1000, 1000).do(
        "fill 1 showing 1300 g, it is right; fill 1 showing 1300 g, it is right"
    )

    assert doubt(told, 1315.0) is None
    assert doubt(told, 1325.0) is not None


def test_a_last_pouch_not_weighed_holds_what_the_others_left() -> None:
    """Seven of 1,060 g leave 580 g of 8 kg planned even: so much is in the eighth, and no more."""
    told = weighed(*[1060] * 7)
    assert next_mass_g(told.session, told.session.plan.lines[0]) == pytest.approx(580.0)

    told.do("fill 1")

    found = net_mass(told.session, told.session.plan.lines[0], pouch(told, 8))
    assert found.mass_g == pytest.approx(580.0)
    assert coming(told).left_g == pytest.approx(0.0)
