"""The account of exposure against an integration of its own, over any history of the work."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from packdesk.session.case import Refusal
from packdesk.session.verdicts import Enough, PouchVerdict, verdict
from tests.script import Script, tell

# Written out anew from the published kinetics: half-life 1.0 h at 25 °C and 50 kJ/mol (Tewari et
# al. 2002, abstract), a mean rate of 0.31 1/h (doi 10.1111/ijfs.12100, abstract); air at 300 m has
# 97,773 Pa (ICAO standard atmosphere, table); dry air is 20.95 % oxygen.
ROOM_K = 294.15
COOLER = math.exp(-50_000.0 / 8.314462618 * (1.0 / ROOM_K - 1.0 / 298.15))
KAPPA = np.array([0.69, 0.31]) * COOLER
SHARE = 97_773.0 / 101_325.0
FULL_CC_PER_CC = 0.2095 * 298.15 / ROOM_K
"""Oxygen in a cc of sea-level air as warm as the room, in cc at 25 °C."""
POUCH_AIR_CC, JAR_AIR_CC, ZIP_CC_PER_H = 560.0, 450.0, 14.0

BEGIN = (
    "receive wheat 8 kg; bypass wheat: treated; agree wheat 4 x 1 kg, with 200, numbered; fill 1"
)


class Truth:
    """What becomes of a packet and of one pouch, integrated step by step by scipy."""

    def __init__(self) -> None:
        self.single = np.array([200.0, 200.0])
        self.count = 0
        self.jar_oxygen: np.ndarray | None = None
        self.pouch = np.zeros(2)
        self.pouch_oxygen: np.ndarray | None = None
        self.leak = 0.0

    def wait(self, hours: float) -> None:
        """Let everything lie for so long."""
        if self.jar_oxygen is None:
            self.single, _ = _run(self.single, None, JAR_AIR_CC, 0.0, hours)
        else:
            together = self.single * self.count
            together, self.jar_oxygen = _run(together, self.jar_oxygen, JAR_AIR_CC, 0.0, hours)
            self.single = together / self.count
        self.pouch, self.pouch_oxygen = _run(
            self.pouch, self.pouch_oxygen, POUCH_AIR_CC, self.leak, hours
        )

    def shut(self, leak: float) -> None:
        """Shut the room's air in with the pouch's absorbers, or tighten what shuts it in."""
        if self.pouch_oxygen is None:
            self.pouch_oxygen = np.full(2, SHARE * FULL_CC_PER_CC * POUCH_AIR_CC)
        self.leak = leak

    @property
    def worth(self) -> np.ndarray:
        """What is left, and what was taken of the pouch's own oxygen."""
        if self.pouch_oxygen is None:
            return self.pouch
        return self.pouch + SHARE * FULL_CC_PER_CC * POUCH_AIR_CC - self.pouch_oxygen

    def follow(self, step: str) -> None:
        """What a step that was taken does to them."""
        match step.split(" ")[0]:
            case "packet":
                self.single, self.count = np.array([200.0, 200.0]), 6
                self.jar_oxygen = None
            case "place":
                self.pouch, self.count = self.pouch + self.single, self.count - 1
                if not step.endswith("open"):
                    self.shut(ZIP_CC_PER_H)
            case "jar":
                self.jar_oxygen = np.full(2, SHARE * FULL_CC_PER_CC * JAR_AIR_CC)
            case "take":
                self.jar_oxygen = None
            case "shut":
                self.shut(ZIP_CC_PER_H)
            case "seal":
                self.shut(0.0)
            case "reopen":
                self.pouch_oxygen = None


def _run(
    capacity: np.ndarray, oxygen: np.ndarray | None, air_cc: float, leak: float, hours: float
) -> tuple[np.ndarray, np.ndarray | None]:
    """Integrate low and likely apart: C' = -κ C p/p0, O' = C' + leak/air (outside - O)."""
    ends = []
    for place in (0, 1):
        kappa, full = float(KAPPA[place]), FULL_CC_PER_CC * air_cc

        def slope(_: float, y: np.ndarray, kappa: float = kappa, full: float = full) -> list[float]:
            share = SHARE if oxygen is None else y[1] / full
            taken = kappa * y[0] * share
            came = 0.0 if oxygen is None else leak / air_cc * (SHARE * full - y[1]) - taken
            return [-taken, came]

        begin = [capacity[place], 0.0 if oxygen is None else oxygen[place]]
        found = solve_ivp(slope, (0.0, hours), begin, method="LSODA", rtol=1e-8, atol=1e-8)
        ends.append(found.y[:, -1])
    both = np.array(ends)
    return both[:, 0], None if oxygen is None else both[:, 1]


STEP = st.one_of(
    st.sampled_from(["place in 1", "place in 1, open", "shut 1", "reopen 1", "seal 1"]),
    st.sampled_from(["jar", "take R1", "take R2", "reopen 1", "shut 1"]),
    st.integers(1, 60).map(lambda minutes: f"+{minutes} min"),
    st.integers(1, 60).map(lambda minutes: f"+{minutes} min"),
    st.integers(1, 200).map(lambda hours: f"+{hours} h"),
)
HISTORY = st.lists(STEP, min_size=4, max_size=14)


def judged(told: Script) -> PouchVerdict | None:
    """The verdict on pouch 1 as it stands."""
    plan = told.session.plan
    assert plan is not None
    return verdict(plan.lines[0], told.session.pouches[1], plan, told.desk.now().utc)


def follow(told: Script, truth: Truth, step: str) -> bool:
    """Take a step in both; whether the desk took it."""
    if step.startswith("+"):
        told.do(step)
        figure, unit = step[1:].split(" ")
        truth.wait(float(figure) / (60.0 if unit == "min" else 1.0))
        return True
    if isinstance(told.try_to(step), Refusal):
        return False
    truth.follow(step)
    return True


@settings(max_examples=60, deadline=None)
@given(HISTORY)
def test_agrees_with_an_integration_of_its_own(history: list[str]) -> None:
    """Opened, placed, shut, sealed, cut open, put in a jar in any order: the account is right."""
    told, truth = tell(f"{BEGIN}; packet 200x6"), Truth()
    truth.follow("packet")
    for step in history:
        follow(told, truth, step)
    found = judged(told)

    if found is not None:
        # What is written down is cut to a tenth, at every absorber.
        assert found.low_cc == pytest.approx(truth.worth[0], rel=0.002, abs=0.6)
        assert found.likely_cc == pytest.approx(truth.worth[1], rel=0.002, abs=0.6)
    for round_ in told.session.rounds.values():
        if round_.left and truth.jar_oxygen is None:
            from packdesk.session.exposure import capacity_left, pressure_of

            left = capacity_left(round_, told.desk.now().utc, pressure_of(told.session.plan))
            assert left == pytest.approx(tuple(truth.single), rel=0.002, abs=0.6)


@settings(max_examples=60, deadline=None)
@given(HISTORY)
def test_nothing_but_an_absorber_adds_capacity(history: list[str]) -> None:
    """From step to step a pouch is worth less, but for what a placed absorber brings."""
    told, truth = tell(f"{BEGIN}; packet 200x6"), Truth()
    truth.follow("packet")
    before, brought = np.zeros(2), 200.0
    for step in history:
        done = follow(told, truth, step)
        found = judged(told)
        if found is None:
            continue
        now = np.array([found.low_cc, found.likely_cc])
        allowed = brought if done and step.startswith("place") else 0.0
        assert np.all(now <= before + allowed + 1e-6)
        assert -1e-6 <= found.low_cc <= found.likely_cc + 1e-6
        before = now


@settings(max_examples=40, deadline=None)
@given(HISTORY)
def test_a_round_never_starts_with_more_than_the_one_before(history: list[str]) -> None:
    """What comes out of a jar has no more than what went in, however often."""
    told, truth = tell(f"{BEGIN}; packet 200x6"), Truth()
    truth.follow("packet")
    for step in history:
        follow(told, truth, step)

    lows = [round_.capacity_low_cc for round_ in told.session.rounds.values()]
    likelies = [round_.capacity_likely_cc for round_ in told.session.rounds.values()]
    assert lows == sorted(lows, reverse=True)
    assert likelies == sorted(likelies, reverse=True)


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
