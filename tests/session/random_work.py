"""Work in any order, as a tired person might do it: most of it is refused, all of it must hold."""

from __future__ import annotations

import re
from collections.abc import Sequence

from hypothesis import strategies as st

from packdesk.session.clocks import running, standing
from packdesk.session.commands import VoidFact
from packdesk.session.tally import tallies
from packdesk.session.terms import PouchStage
from tests.script import Script, tell

BEGIN = (
    "receive wheat 20 kg; receive salt 2 kg; bypass wheat: treated; bypass salt: salt;"
    "agree wheat 12 x 1 kg, with 200 & salt 2 x 1 kg, no absorber; fill 2 of wheat"
)

NUMBERED = (
    "receive wheat 20 kg; receive salt 2 kg; bypass wheat: treated; bypass salt: salt;"
    "agree wheat 12 x 1 kg, with 200 & salt 2 x 1 kg, no absorber, numbered; fill 2 of wheat"
)

_BY_STAGE = [f"<{stage}>" for stage in PouchStage]
_SOME = st.sampled_from(["1", "2", "1-2", "3", "2-4", "4-6", *_BY_STAGE, *_BY_STAGE])
"""Pouches by number, or all that have come to a stage just then."""

_AGAIN = st.sampled_from(["", " again"])
_FEW = st.integers(1, 4).map(str)


def _said(text: str, *parts: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    return st.tuples(*parts).map(lambda found: text.format(*found))


STEP = st.one_of(
    _said("fill {0} of {1}", _FEW, st.sampled_from(["wheat", "salt", "wheat at 990 g"])),
    st.just("ready"),
    _said(
        "packet {0}x{1}{2}{3}{4}",
        st.sampled_from(["200", "100"]),
        st.integers(1, 6).map(str),
        st.sampled_from(["", "", " slack"]),
        st.sampled_from(["", "", " no oxygen", " oxygen"]),
        st.sampled_from(["", "", " soft", " hard"]),
    ),
    _said("place {0}{1}", _FEW, st.sampled_from(["", "", ", open"])),
    _said("place in {0}{1}", _SOME, st.sampled_from(["", ", open"])),
    _said(
        "jar{0}{1}",
        st.sampled_from(["", " 1", " 0", " 7"]),
        st.sampled_from(["", " in a quart_jar", " in a pressed_pouch, shelf"]),
    ),
    st.sampled_from(("felt round 1", "felt round 1, none in 2", "felt round 2, none in 1, 3")),
    _said("reopen {0}{1}", _SOME, st.sampled_from(["", ": one more"])),
    _said("swap {0} and {1}", _FEW, _FEW),
    _said("take R{0}", _FEW),
    _said("shut {0}", _SOME),
    _said("seal {0}{1}", _SOME, st.sampled_from(["", ", one seam", ", gap left"])),
    _said("draw off {0}", _SOME),
    _said("label {0}{1}", _SOME, _AGAIN),
    _said("number {0} of {1}{2}", _SOME, st.sampled_from(["wheat", "salt"]), _AGAIN),
    _said("stow {0} in pail {1}", _SOME, st.sampled_from(["1", "2"])),
    _said("lid pail {0}", st.sampled_from(["1", "2"])),
    _said("unlid pail {0}", st.sampled_from(["1", "2"])),
    _said("check {0} {1}", _SOME, st.sampled_from(["snug", "soft", "swollen"])),
    _said("set aside {0}: torn", _SOME),
    _said("empty {0}: torn", _SOME),
    _said("return {0}", _SOME),
    st.sampled_from(
        [
            "agree wheat 14 x 1 kg, with 200 & salt 2 x 1 kg, no absorber",
            "agree wheat 12 x 1 kg, with 200+100, no zip & salt 3 x 1 kg, no absorber",
            "receive rice 2 kg",
            "look at wheat again: quarantined, a moth",
            "look at wheat again: accepted, no more moths",
            "look at rice again: refused, damp",
            "count 3 sealed of wheat",
            "silence packet:1",
            "note: said",
            "close",
        ]
    ),
    _said("+{0} {1}", st.integers(1, 40).map(str), st.sampled_from(["s", "min", "min", "h"])),
    _said("{0} min ago: fill 1 of wheat", _FEW),
    st.sampled_from(
        [
            "tare 12 g",
            "tare 21 g",
            "fill 1 of wheat showing 1012 g",
            "lose 400 g of wheat: spilled",
            "revise to 13 of wheat",
            "revise to 3 of salt",
            "cold rule dose",
            "cold rule plain",
            "room 20 C 50 %",
            "room 23 C",
        ]
    ),
)
"""One step of work; many of them will not fit."""

CHORE = st.sampled_from(
    [
        "fill 2 of wheat; ready; packet 200x6; place 2",
        "place 2; place 1; +2 min; jar",
        "take R1; place 1",
        "shut <absorbers_in>; seal <pressed_shut>",
        "seal <pressed_shut>, gap left; draw off <pressed_shut>; seal <pressed_shut>, one seam",
        "label <sealed>; stow <sealed> in pail 1; lid pail 1",
        "+1 d; check <stowed> snug; check <sealed> tight",
        "set aside <seal_checked>: slack; return <set_aside>",
        "reopen <pressed_shut>; +3 min; place in <absorbers_in>",
        "reopen <sealed>; shut <absorbers_in>",
    ]
)
"""Some steps as they follow each other where all goes well."""

UNDO = st.just("undo")
STARTS = st.sampled_from(
    [
        BEGIN,
        f"{BEGIN}; fill 2 of wheat; packet 200x5; place 4; jar; seal 1-3; seal 4, gap left",
        f"{BEGIN}; fill 2 of salt; shut 3-4; packet 200x3; place 1, open; close; undo",
        f"{BEGIN.replace('no absorber', 'no absorber, numbered')}; number 5-8 of wheat",
        f"{BEGIN}; packet 200x4; place 2; seal 1-2; stow 1-2 in pail 1; check 2 soft",
        f"{NUMBERED}; fill 2 of wheat at 1004 g; packet 200x4; place 3; label 1-3; swap 2 and 3",
    ]
)
VOID = _said("void {0}", st.integers(0, 60).map(str))
RING = st.just("ring")
CLOCK = st.sampled_from(["set 2 h", "set -2 h", "set 50 h", "set -50 h", "restart"])
"""The wall clock is set, or the machine restarted, in the midst of it all."""


def begun(start: str = BEGIN) -> Script:
    """A session in which any step may come next."""
    told = tell()
    for step in start.split(";"):
        told.try_to(step.strip())
    return told


def follow(told: Script, step: str) -> None:
    """Take a step, whatever the answer; `void 7` voids the seventh entry with all that rests."""
    if ";" in step:
        for part in step.split(";"):
            follow(told, part.strip())
    elif step == "ring":
        told.desk.ring_due()
    elif step.startswith("set ") and step.endswith(" h"):
        told.clock.step_wall(hours=float(step.split()[1]))
    elif step == "restart":
        told.clock.reboot(minutes=3)
    elif step.startswith("void "):
        target = told.entries[int(step.removeprefix("void ")) % len(told.entries)].id
        answer = told.desk.submit(VoidFact(target, "wrong"))
        rests = getattr(answer, "rests", ())
        if rests:
            told.desk.submit(VoidFact(target, "wrong", rests))
    else:
        told.try_to(re.sub("<(.+)>", lambda found: _at_stage(told, found[1]), step))


def _at_stage(told: Script, stage: str) -> str:
    numbers = [str(p.number) for p in told.session.pouches.values() if p.stage == stage]
    return ", ".join(numbers) or "1"


def assert_sound(told: Script) -> None:
    """Hold the state against what must be so whatever was done."""
    session, now = told.session, told.desk.now()
    pouches = session.pouches.values()
    for round_ in session.rounds.values():
        placed = [p for pouch in pouches for p in (*pouch.spent, *pouch.placed)]
        inside = sum(p.each for p in placed if p.round == round_.round)
        assert inside == round_.placed, "every absorber of a round lies in a pouch or in the open"
        assert round_.left >= 0
        assert 0 <= round_.placed <= round_.count
    for pouch in pouches:
        lies_in = [name for name, pail in session.pails.items() if pouch.number in pail.pouches]
        assert lies_in == ([pouch.pail] if pouch.pail else [])
        assert not (pouch.aside and pouch.pail)
        assert 0 <= pouch.seams <= 2
        assert pouch.gas_tight == (pouch.seams > 0 and not pouch.gap_left)
    for line in tallies(session):
        of_line = [pouch for pouch in pouches if pouch.line == line.line.line]
        assert sum(line.at_stage.values()) == line.filled + line.aside == len(of_line)
        assert line.filled <= line.planned
        held = line.filled + line.held_aside
        assert held + line.to_fill == max(line.planned, held)
        steps: Sequence[int] = (line.stowed, line.sealed, line.shut, line.filled)
        assert list(steps) == sorted(steps)
        assert all(0 <= count <= line.filled for count in (line.labelled, line.checked))
    for clock in running(session):
        stands = standing(clock, now)
        assert clock.count > 0
        assert stands.due == (stands.remaining_s <= 0.0)
    assert len({clock.clock for clock in running(session)}) == len(running(session))
