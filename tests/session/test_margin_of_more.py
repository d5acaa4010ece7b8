"""The time of doubted absorbers is that of as many as a pouch is to get."""

from __future__ import annotations

import math
from datetime import timedelta

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from packdesk.session.commands import PlaceAbsorbers
from packdesk.session.supply import supply
from packdesk.session.verdicts import Enough, verdict
from tests.script import Script, tell
from tests.session.exposure_truth import KAPPA, SHARE

FILLED = "receive wheat 60 kg; bypass wheat: treated; agree wheat 6 x 1 kg, need {} cc; fill 6"


def advised(told: Script, round_: int) -> int:
    """How many of a round go into the first pouch that waits."""
    pouch = next(each for each in told.session.working_pouches() if not each.placed)
    line, at = told.session.plan.lines[0], told.desk.now().utc
    return supply(told.session, line, pouch, told.session.rounds[round_], at).sure


@settings(max_examples=25, deadline=None)
@given(st.integers(20, 190), st.sampled_from(["", " slack", " slack oxygen"]), st.integers(0, 40))
def test_with_the_number_advised_the_time_and_the_verdict_agree(
    need_cc: int, look: str, before_min: int
) -> None:
    """Half a minute before its time is over, worked out from the published uptake, a pouch has
    enough of what it is told to get, from a packet and from its jar."""
    told = tell(f"{FILLED.format(need_cc)}; ready; packet 200x40{look}")
    if before_min:
        told.do(f"+{before_min} min; jar in a sealed_pouch; take R1")
    round_ = told.session.rounds[max(told.session.rounds)]
    each = advised(told, round_.round)
    assume(round_.limit_min > 1.0 and not round_.no_margin and each <= 3)
    per_min = KAPPA[0] * SHARE / 60.0

    told.do(f"+{math.floor(round_.limit_min * 60.0) - 30} s")
    assert advised(told, round_.round) == each
    passed_min = (told.desk.now().utc - round_.started.utc) / timedelta(minutes=1)
    assert each * round_.capacity_low_cc * math.exp(-per_min * passed_min) >= need_cc
    told.desk.submit(PlaceAbsorbers(1, 1, each=each, round=round_.round))
    line, pouch = told.session.plan.lines[0], told.session.pouches[1]
    found = verdict(line, pouch, told.session.plan, told.desk.now().utc)

    assert found is not None
    assert found.verdict is Enough.ENOUGH
    if round_.limit_min < 20.0:
        margin_min = math.log(each * round_.capacity_low_cc / need_cc) / per_min
        assert abs(round_.limit_min - margin_min) < 0.3


def test_a_packet_and_its_older_jar_have_one_rule() -> None:
    """Half of 200 cc is counted on for a need of 98: two each for the whole time, from the packet
    as from the jar it is shut up in four minutes later."""
    told = tell(f"{FILLED.format(98)}; ready; packet 200x10 slack")
    each = [advised(told, 1)]
    told.do("+4 min; jar in a sealed_pouch; take R1")
    each.append(advised(told, 2))

    assert each == [2, 2]
    assert [round_.limit_min for round_ in told.session.rounds.values()] == [20.0, 20.0]
