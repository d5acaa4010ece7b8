"""The pace of the hands: seconds a pouch takes, told by the presses of the rounds themselves."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from packdesk.session.once import once
from packdesk.session.state import Round, SessionState

USUAL_S = 30.0
"""Seconds one person takes to drop absorbers in, press the air out and shut a pouch (common
practice, no source)."""

FASTEST_S = 10.0
"""No person does it in less: presses that come closer were counted after the work, together, and
what even together took less was done before its packet was entered (own judgement)."""

ENOUGH_SHUT = 3
"""So many pouches tell the pace; fewer may have been a slow start."""

LONGEST_EACH_S = 300.0
"""What took longer for each of its pouches was left lying, and tells no pace (own judgement)."""

IDLE_FOLD = 2.0
"""What took more than this many times the pace of half of the pouches was not all work: a slow
start, a call at the door (own judgement)."""


@dataclass(frozen=True, slots=True)
class Pace:
    """Seconds a pouch takes, and whether that was measured in this session."""

    each_s: float
    measured: bool


@once
def pace(session: SessionState, hands: int = 1) -> Pace:
    """The seconds a pouch takes with `hands` people (1 or more), from this session's own rounds.

    The people who were to work at a round share its work evenly. Without pouches enough the usual
    figure stands.
    """
    rounds = session.rounds.values()
    found = each_person_s(group for round_ in rounds for group in _groups(round_))
    return Pace(USUAL_S / hands, False) if found is None else Pace(round(found / hands, 1), True)


def round_pace(session: SessionState, round_: Round) -> Pace:
    """The seconds a pouch of this round takes, by its own pouches once they are enough to tell."""
    own = each_person_s(_groups(round_))
    if own is None:
        return pace(session, round_.hands)
    return Pace(round(own / round_.hands, 1), measured=True)


def each_person_s(groups: Iterable[tuple[float, int]]) -> float | None:
    """The seconds of one person a pouch takes, by groups of pouches and the seconds spent on each
    group; None for fewer pouches than tell it.

    The mean, in which a group counts for no more than `IDLE_FOLD` times what half of the pouches
    took, so that what was no work is left out and the uneven work of hands is not. One group alone
    has only the usual pace to be held against, and is no more than `IDLE_FOLD` times off it either
    way: its packet may have been entered late.
    """
    known = sorted((seconds / count, count) for seconds, count in groups)
    pouches = sum(count for _, count in known)
    if pouches < ENOUGH_SHUT:
        return None
    passed, middle_s = 0, 0.0
    for each_s, count in known:
        passed, middle_s = passed + count, each_s
        if 2 * passed >= pouches:
            break
    if len(known) == 1:
        return min(max(middle_s, USUAL_S / IDLE_FOLD), USUAL_S * IDLE_FOLD)
    return sum(min(each_s, IDLE_FOLD * middle_s) * count for each_s, count in known) / pouches


def _groups(round_: Round) -> list[tuple[float, int]]:
    """The presses of a round with the seconds that one person alone would have taken; those that
    came too close upon one another are one group; what was left lying is none, nor what came so
    close upon the opening that its work was done before."""
    found: list[tuple[float, int]] = []
    for press in round_.presses:
        person_s, pouches = press.work_s * round_.hands, press.pouches
        if found and person_s < FASTEST_S * pouches:
            before_s, before = found.pop()
            person_s, pouches = person_s + before_s, pouches + before
        found.append((person_s, pouches))
    return [(s, pouches) for s, pouches in found if FASTEST_S <= s / pouches <= LONGEST_EACH_S]
