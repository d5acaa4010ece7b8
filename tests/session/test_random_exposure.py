"""What absorbers keep over any history of the work, against an integration of its own."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packdesk.session.case import Refusal
from packdesk.session.exposure import capacity_left, left_in_vessel, pressure_of
from packdesk.session.verdicts import verdict
from tests.script import Script, tell
from tests.session.exposure_truth import FRESH_CC, IN_PACKET, POUCHES, Truth

BEGIN = (
    "receive wheat 8 kg; bypass wheat: treated; agree wheat 6 x 1 kg, with 200, numbered; fill 3"
)
# A history is drawn as intents: which round, jar or pouch is meant is settled by what there is.
INTENTS = ["place", "place", "place, open", "jar", "jar", "take", "take", "reopen", "reopen"]
SHORT, LONG = st.integers(1, 60), st.integers(60, 9_000)
MINUTES = st.one_of(SHORT, SHORT, LONG)
STEP = st.one_of(
    st.tuples(st.sampled_from([*INTENTS, "shut", "seal", "seal", "packet"]), st.integers(0, 2)),
    st.tuples(st.sampled_from(INTENTS), st.integers(0, 2)),
    st.tuples(st.just("wait"), MINUTES),
)
FIRST = st.sampled_from(
    [
        [("place", 0)],
        [("wait", 9), ("place, open", 0)],
        [("place", 0), ("wait", 15), ("jar", 0), ("wait", 90), ("take", 0), ("place", 1)],
        [("place", 0), ("wait", 40), ("packet", 0), ("wait", 5), ("place", 1)],
        [("place", 0), ("wait", 600), ("reopen", 0)],
    ]
)
HISTORY = st.builds(
    lambda first, then: [("packet", 0), *first, *then],
    FIRST,
    st.lists(STEP, min_size=3, max_size=9),
)
History = list[tuple[str, int]]


def choices(told: Script, intent: str, which: int) -> list[str]:
    """The steps of the script that an intent may mean, the one meant first."""
    verb, _, rest = intent.partition(", ")
    match verb:
        case "wait":
            return [f"+{which} min"]
        case "packet":
            return [f"packet 200x{IN_PACKET}"] if len(lying(told)) < 2 else []
        case "jar":
            found = [f"jar of round {number}" for number in lying(told)]
        case "take":
            found = [f"take {name}" for name, jar in told.book.remainders.items() if not jar.taken]
        case "place":
            found = [f"place in {number}{rest and ', '}{rest}" for number in POUCHES]
        case _:
            found = [f"{verb} {number}" for number in POUCHES]
    turn = which % max(len(found), 1)
    return [*found[turn:], *found[:turn]]


def lying(told: Script) -> list[int]:
    """The rounds of which absorbers lie open."""
    return [number for number, round_ in told.session.rounds.items() if round_.left]


def walk(told: Script, history: History) -> Iterator[str]:
    """Do what is intended, each with the first step that is not refused, and say which it was."""
    for intent, which in history:
        fetched = [("take", which)] if intent.startswith("place") and not lying(told) else []
        for meant in (*fetched, (intent, which)):
            for step in choices(told, *meant):
                if not isinstance(told.try_to(step), Refusal):
                    yield step
                    break


def kept(told: Script) -> dict[str, tuple[int, np.ndarray]]:
    """How many absorbers lie in each place, and what one of them is worth (of a pouch: all)."""
    session, at = told.session, told.desk.now().utc
    plan = session.plan
    assert plan is not None
    pressure = pressure_of(plan)
    found: dict[str, tuple[int, np.ndarray]] = {}
    for n, round_ in session.rounds.items():
        if round_.left:
            found[f"round {n}"] = (round_.left, np.array(capacity_left(round_, at, pressure)))
    for name, jar in told.book.remainders.items():
        if not jar.taken:
            found[name] = (jar.count, np.array(left_in_vessel(jar, at, 21.0, pressure)))
    for number, pouch in session.pouches.items():
        judged = verdict(plan.lines[0], pouch, plan, at)
        if judged is not None:
            found[f"pouch {number}"] = (1, np.array([judged.low_cc, judged.likely_cc]))
    return found


@settings(max_examples=60)
@given(HISTORY)
def test_agrees_with_an_integration_of_its_own(history: History) -> None:
    """Opened, placed, shut, cut open, put in a jar and taken out in any order: all is right."""
    told, truth = tell(BEGIN), Truth()
    for step in walk(told, history):
        if step.startswith("+"):
            truth.wait(float(step[1:].split(" ")[0]) / 60.0)
        else:
            truth.follow(step, told)

    true = {f"round {n}": (lot.count, lot.single) for n, lot in truth.rounds.items()}
    true |= {name: (jar.count, jar.single) for name, jar in truth.jars.items()}
    expected = {name: each for name, each in true.items() if each[0]}
    expected |= {f"pouch {n}": (1, each.worth) for n, each in truth.pouches.items() if each.used}
    found = kept(told)
    assert {name: count for name, (count, _) in found.items()} == {
        name: count for name, (count, _) in expected.items()
    }
    for name, (_, worth) in expected.items():
        # What is written down is cut to a tenth, at every absorber and at every jar.
        assert found[name][1] == pytest.approx(worth, rel=0.002, abs=0.6), name


@settings(max_examples=60)
@given(HISTORY)
def test_nothing_but_a_packet_adds_capacity(history: History) -> None:
    """From step to step all absorbers together are worth less, but for what a new packet brings."""
    told = tell(BEGIN)
    before = np.zeros(2)
    for step in walk(told, history):
        now = sum((count * worth for count, worth in kept(told).values()), np.zeros(2))
        brought = IN_PACKET * FRESH_CC if step.startswith("packet") else 0.0
        assert np.all(now <= before + brought + 1e-6), step
        assert -1e-6 <= now[0] <= now[1] + 1e-6, step
        before = now
