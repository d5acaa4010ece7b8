"""The account of exposure: cases worked by hand, and two packets at once."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packdesk.session.case import Refusal
from packdesk.session.verdicts import Enough, PouchVerdict, verdict
from tests.script import Script, tell
from tests.session.exposure_truth import (
    COOLER,
    FULL_CC_PER_CC,
    JAR_AIR_CC,
    KAPPA,
    POUCH_AIR_CC,
    SHARE,
    ZIP_CC_PER_H,
)

BEGIN = (
    "receive wheat 8 kg; bypass wheat: treated; agree wheat 4 x 1 kg, with 200, numbered; fill 1"
)


def judged(told: Script) -> PouchVerdict | None:
    """The verdict on pouch 1 as it stands."""
    plan = told.session.plan
    assert plan is not None
    return verdict(plan.lines[0], told.session.pouches[1], plan, told.desk.now().utc)


def test_a_pouch_left_open_with_its_absorber_in_loses() -> None:
    """An hour in an open pouch halves it at the fast end; the verdict then says so."""
    told = tell(f"{BEGIN}; packet 200x6; place in 1, open")
    fresh = judged(told)
    told.do("+60 min; shut 1")
    found = judged(told)

    assert fresh is not None
    assert fresh.verdict is Enough.ENOUGH
    assert found is not None
    assert found.open_min == pytest.approx(60.0)
    # 200 exp(-0.69 x 0.760 x 0.965): slower by 50 kJ/mol at 21 °C and by 300 m of height.
    assert found.low_cc == pytest.approx(200.0 * math.exp(-0.69 * COOLER * SHARE), abs=0.5)


def test_what_is_taken_of_the_pouch_itself_is_not_lost() -> None:
    """Behind a seam the absorber works on what it is there for: the verdict stays."""
    told = tell(f"{BEGIN}; packet 200x6; place in 1; seal 1")
    at_once = judged(told)
    told.do("+30 d")

    assert judged(told) == at_once


def test_a_sealed_pouch_cut_open_has_new_air() -> None:
    """A day behind the seam took the pouch's 115 cc; cut open, as much comes in again."""
    told = tell(f"{BEGIN}; packet 200x6; place in 1; jar; seal 1; +2 d")
    sealed = judged(told)
    told.do("reopen 1: one more; shut 1")
    cut_open = judged(told)

    assert sealed is not None
    assert sealed.verdict is Enough.ENOUGH
    assert cut_open is not None
    assert cut_open.verdict is Enough.ADD_ONE
    taken = SHARE * FULL_CC_PER_CC * POUCH_AIR_CC
    assert cut_open.likely_cc == pytest.approx(sealed.likely_cc - taken, abs=1.0)


def test_a_forgotten_pouch_behind_its_zip_runs_down() -> None:
    """A zip lets in 14 cc of air an hour at most: 2.9 cc of oxygen, 70 in a day."""
    told = tell(f"{BEGIN}; packet 200x6; place in 1; jar")
    before = judged(told)
    told.do("+1 d")
    after = judged(told)

    assert before is not None
    assert after is not None
    lost = before.low_cc - after.low_cc
    assert 20.0 < lost < 24.0 * ZIP_CC_PER_H * SHARE * FULL_CC_PER_CC


def test_what_lies_in_a_jar_takes_the_oxygen_of_its_air_and_shares_it() -> None:
    """Three absorbers a week in a pint jar take its 92 cc of oxygen, 31 each, and no more."""
    told = tell(f"{BEGIN}; packet 200x4; place in 1; jar; +7 d; take R1")
    found = told.session.rounds[2]

    each = SHARE * FULL_CC_PER_CC * JAR_AIR_CC / 3
    assert each == pytest.approx(30.7, abs=0.1)
    assert found.capacity_low_cc == pytest.approx(200.0 - each, abs=0.2)
    assert found.capacity_likely_cc == pytest.approx(200.0 - each, abs=0.2)


@pytest.mark.parametrize(
    ("fill", "own_need_cc", "expected"),
    [
        ("fill 1 at 1000 g", 115.0, Enough.ENOUGH),
        # The air's 114.7 cc (560 cc, 97,773 Pa, 21 °C) go with the mass, the film's 0.3 do not.
        ("fill 1 at 1800 g, confirmed", 206.8, Enough.ADD_ONE),
        ("fill 1 at 600 g, confirmed", 69.1, Enough.ENOUGH),
        ("fill 1", 115.0, Enough.ENOUGH),
    ],
)
def test_a_weighed_pouch_is_judged_by_its_own_mass(
    fill: str, own_need_cc: float, expected: Enough
) -> None:
    """More food holds more air between its grains: the absorber of the plan may be too small."""
    begin = BEGIN.replace("fill 1", fill)
    found = judged(tell(f"{begin}; packet 200x6; place in 1; seal 1"))

    assert found is not None
    assert found.need_cc == pytest.approx(own_need_cc, abs=0.3)
    assert found.verdict is expected


# Two places at once -------------------------------------------------------------------------------

TWO = "receive wheat 20 kg; bypass wheat: treated; agree wheat 20 x 1 kg, with 200; fill 16"


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 9), st.sampled_from([None, 1, 2])), max_size=12))
def test_of_two_packets_each_pays_for_its_own_pouches(work: list[tuple[int, int | None]]) -> None:
    """Two packets of a rating lie open; each pouch has what its own kept, and none is made."""
    told = tell(f"{TWO}; packet 200x6; +7 min; packet 200x10")
    age_min, left, passed = {1: 7.0, 2: 0.0}, {1: 6, 2: 10}, 0
    for minutes, picked in work:
        told.do(f"+{minutes} min")
        passed += minutes
        step = "place 1" if picked is None else f"place 1, from round {picked}"
        refused = isinstance(told.try_to(step), Refusal)
        assert refused == (not (left[picked] if picked else sum(left.values())))
        if refused:
            continue
        pouch = told.session.pouches[sum(told.session.rounds[n].placed for n in (1, 2))]
        took = pouch.placed[-1]
        # Opened first, due first, taken from first; one past its 20 min only after one in time.
        late = {n: age_min[n] + passed >= 20.0 for n in left}
        turn = [n for n in (1, 2) if left[n]]
        assert took.round == (picked or next((n for n in turn if not late[n]), turn[0]))
        left[took.round] -= 1
        hours = (age_min[took.round] + passed) / 60.0
        low, likely = 200.0 * np.exp(-KAPPA * SHARE * hours)
        assert took.capacity_low_cc == pytest.approx(low, abs=0.11)
        assert took.capacity_likely_cc == pytest.approx(likely, abs=0.11)
    assert {n: round_.left for n, round_ in told.session.rounds.items()} == left


def test_two_jars_are_shut_up_and_taken_out_each_for_itself() -> None:
    """What is shut up again of each is as old as its own opening, and neither gains."""
    told = tell(f"{TWO}; packet 200x3; place 2; jar; +30 min; packet 200x4; place 1; take R1")
    told.do("place 1, from round 2; place 1, from round 3; jar of round 2")
    opened = {name: packet.opened.utc for name, packet in told.desk.state.book.packets.items()}

    assert [told.session.rounds[n].left for n in (2, 3)] == [0, 0]
    assert told.desk.state.book.remainders["R2"].oldest_opening == opened["P2"]
    assert told.desk.state.book.remainders["R2"].count == 2
    assert isinstance(told.try_to("place 1"), Refusal)
