"""Which clocks run, what each means, and how it stands; worked out anew at every heartbeat.

A clock stores the instant it started and how long it is to run, never what remains. An
at-least clock fails safe by running longer, a no-longer-than clock by being due earlier.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from operator import attrgetter

from packdesk.instants import Reading, elapsed_s
from packdesk.session.figures import Span
from packdesk.session.liners import liner_numbers
from packdesk.session.load import Load
from packdesk.session.once import once
from packdesk.session.pouch import Pouch
from packdesk.session.seal_looks import next_looks
from packdesk.session.state import Alarm, Round, SessionState
from packdesk.session.terms import ColdRule, OpenLimit

RING_AGAIN_AFTER_S = 60.0
"""A due time that moved on by no more than this has rung already."""

_UTC = attrgetter("utc")


class ClockKind(StrEnum):
    """What a clock is about."""

    COLD = "cold"
    THAW = "thaw"
    PACKET = "packet"
    PRESSED_SHUT = "pressed_shut"
    SEAL_CHECK = "seal_check"


AT_LEAST = frozenset({ClockKind.COLD, ClockKind.THAW, ClockKind.SEAL_CHECK})


@dataclass(frozen=True, slots=True)
class Clock:
    """One running clock: `span` is its uncertain due instant, `limit` which limit it stands for.

    `clock` names it for good: an alarm belongs to it. `subject` is a load's letter, a round's or
    a pouch's number; `count` how many things wait, `gap` whether with a gap in their seam.
    `open_pouches` are the pouches that stand open, where no absorber lies beside them; `again`
    tells that all of them were shut before; `liners` are those of the pouches it speaks of that
    are liners.
    """

    clock: str
    kind: ClockKind
    subject: str
    name: str
    started: Reading
    runs_s: float
    span: Span | None = None
    limit: OpenLimit | None = None
    count: int = 1
    gap: bool = False
    open_pouches: tuple[int, ...] = ()
    again: bool = False
    liners: tuple[int, ...] = ()

    @property
    def at_least(self) -> bool:
        """Whether the clock means "at least" rather than "no longer than"."""
        return self.kind in AT_LEAST

    @property
    def due_at(self) -> datetime:
        """When it is due, by the wall clock as it stood at the start."""
        return self.started.utc + timedelta(seconds=self.runs_s)


@dataclass(frozen=True, slots=True)
class Standing:
    """How a clock stands at a reading; `due_at` is the wall clock's time of day it is due.

    `certain` is False after a restart of the machine or when its clocks disagree
    (`contradicted`); the figure is then the safe one, and where it is `unknown` how long the clock
    has run it stands for nothing else. `wall_moved_s` tells by how much the wall
    clock was set meanwhile.
    """

    passed_s: float
    remaining_s: float
    due_at: datetime
    due: bool
    certain: bool
    wall_moved_s: float
    contradicted: bool = False
    unknown: bool = False


def standing(clock: Clock, now: Reading) -> Standing:
    """Say how `clock` stands at `now`, on the safe side of its kind where clocks disagree."""
    elapsed = elapsed_s(clock.started, now)
    passed_s = elapsed.least_s if clock.at_least else elapsed.most_s
    unknown = elapsed.contradicted and elapsed.most_s <= 0.0
    if unknown and not clock.at_least:
        passed_s = max(passed_s, clock.runs_s)  # take it as due
    remaining_s = clock.runs_s - passed_s
    return Standing(
        passed_s=passed_s,
        remaining_s=remaining_s,
        due_at=now.utc + timedelta(seconds=remaining_s),
        due=remaining_s <= 0.0,
        certain=elapsed.certain,
        wall_moved_s=elapsed.wall_moved_s,
        contradicted=elapsed.contradicted,
        unknown=unknown,
    )


@once
def running(session: SessionState) -> tuple[Clock, ...]:
    """List every clock that runs in `session`, in no particular order.

    In a closed session only the looks at the seams go on.
    """
    checks = _of_seal_checks(session)
    if session.closed_at is not None:
        return tuple(checks)
    loads = [clock for load in session.loads.values() for clock in _of_load(session, load)]
    open_ = [pouch for pouch in session.working_pouches() if not pouch.closed]
    packets = [
        clock for round_ in session.rounds.values() for clock in _of_round(session, round_, open_)
    ]
    return (*loads, *packets, *_of_waiting(session), *checks)


def _until(started: Reading, due_at: datetime) -> float:
    return (due_at - started.utc).total_seconds()


def governing(session: SessionState, load: Load) -> ColdRule:
    """The rule that says when the cold of `load` is complete, or said so when it came out."""
    rule = session.cold_rule if load.taken_out is None else load.rule
    return rule if load.forecast.dose_stage or load.dose is not None else ColdRule.PLAIN


def cold_done(session: SessionState, load: Load) -> Span | None:
    """When the cold of `load` is complete by the rule that governs; None: not in sight."""
    if governing(session, load) is ColdRule.DOSE:
        return load.forecast.dose_done
    return load.forecast.hold_done


def _of_load(session: SessionState, load: Load) -> list[Clock]:
    if load.taken_out is None:
        span, started, kind = cold_done(session, load), load.frozen, ClockKind.COLD
    elif load.uncovered is None and load.thaw is not None:
        span, started, kind = load.thaw.lid_off, load.taken_out, ClockKind.THAW
    else:
        return []
    if span is None:
        return []
    return [
        Clock(
            clock=f"{kind}:{load.load}",
            kind=kind,
            subject=load.load,
            name=load.food_name,
            started=started,
            runs_s=_until(started, span.likely),
            span=span,
        )
    ]


def _of_round(session: SessionState, round_: Round, open_: Sequence[Pouch]) -> list[Clock]:
    """Runs while absorbers of the round lie open, or in pouches that stand open."""
    exposed = [
        pouch
        for pouch in open_
        if any(placed.round == round_.round for placed in pouch.placed)
        and (round_.left or _stands_for(session, pouch) == round_.round)
    ]
    if not round_.left and not exposed:
        return []
    standing = () if round_.left else tuple(pouch.number for pouch in exposed)
    opened = [pouch.reopened for pouch in exposed if pouch.reopened is not None]
    again = not round_.left and len(opened) == len(exposed)
    # Where all are open again their time runs anew: what they lost before is in their account.
    started = min(opened, key=_UTC) if again else round_.started
    return [
        Clock(
            clock=f"{ClockKind.PACKET}:{round_.round}",
            kind=ClockKind.PACKET,
            subject=str(round_.round),
            name=round_.source,
            started=started,
            runs_s=round_.limit_min * 60.0,
            limit=round_.limit,
            count=round_.left or len(exposed),
            open_pouches=standing,
            again=again,
            liners=tuple(number for number in standing if number in liner_numbers(session)),
        )
    ]


def _stands_for(session: SessionState, pouch: Pouch) -> int:
    """The round whose clock an open pouch is in, of those it has absorbers of, so that it is in
    one clock only: one whose packet is put away, and that gives it the least time."""
    rounds = [session.rounds[p.round] for p in pouch.placed if p.round in session.rounds]
    if pouch.reopened is None:
        return min(rounds, key=lambda each: (each.left > 0, each.due, each.round)).round
    return min(rounds, key=lambda each: (each.left > 0, each.limit_min, each.round)).round


def _of_waiting(session: SessionState) -> list[Clock]:
    """One clock for all pouches that wait for the iron, and one for those with a gap in their seam:
    the one's that is due first.

    It is one and the same clock whichever pouch that is, so that the alarm of many pouches shut
    together rings once, not anew at every seam.
    """
    waiting = [
        (pouch, since)
        for pouch in session.working_pouches()
        if (since := pouch.shut or pouch.sealed) is not None and not pouch.gas_tight
    ]
    gaps = [each for each in waiting if each[0].gap_left]
    whole = [each for each in waiting if not each[0].gap_left]
    found = []
    for name, group in ((f"{ClockKind.PRESSED_SHUT}:gap", gaps), (ClockKind.PRESSED_SHUT, whole)):
        if group:
            found.append(_first_due(session, name, group))
    return found


def _first_due(session: SessionState, name: str, waiting: Sequence[tuple[Pouch, Reading]]) -> Clock:
    pouch, since = min(
        waiting, key=lambda each: each[1].utc + timedelta(minutes=each[0].seal_within_min)
    )
    return Clock(
        clock=name,
        kind=ClockKind.PRESSED_SHUT,
        subject=str(pouch.number),
        name=str(pouch.number),
        started=since,
        runs_s=pouch.seal_within_min * 60.0,
        count=len(waiting),
        gap=pouch.gap_left,
        liners=(pouch.number,) if pouch.number in liner_numbers(session) else (),
    )


def _of_seal_checks(session: SessionState) -> list[Clock]:
    """One clock a step of looking; it runs from the seam of the pouch that is due last."""
    clocks = []
    for look in next_looks(session):
        started = max((pouch.sealed for pouch in look.pouches if pouch.sealed), key=_UTC)
        clocks.append(
            Clock(
                clock=f"{ClockKind.SEAL_CHECK}:{look.step}",
                kind=ClockKind.SEAL_CHECK,
                subject=str(look.step),
                name=str(look.step),
                started=started,
                runs_s=_until(started, look.due_at),
                count=len(look.pouches),
            )
        )
    return clocks


def to_ring(session: SessionState, now: Reading) -> tuple[tuple[Clock, Standing], ...]:
    """List the clocks that are due and have not rung for this due instant, worst first."""
    found = []
    for clock in running(session):
        stands = standing(clock, now)
        if stands.due and not rang_since(
            session.alarms.get(clock.clock), clock, -stands.remaining_s, now
        ):
            found.append((clock, stands))
    return tuple(sorted(found, key=lambda each: each[1].remaining_s))


def rang_since(
    alarm: Alarm | None,
    clock: Clock,
    due_for_s: float,
    now: Reading,
    tolerance_s: float = RING_AGAIN_AFTER_S,
) -> bool:
    """Whether `alarm` rang since its clock fell due, `due_for_s` ago as is known now.

    One that rang before that, by a due time that has moved on since or by a wall clock that was
    wrong, did not ring for it. Both lengths of time are taken on the safe side of the kind.
    """
    if alarm is None:
        return False
    elapsed = elapsed_s(alarm.rang, now)
    rang_for_s = elapsed.least_s if clock.at_least else elapsed.most_s
    return rang_for_s <= due_for_s + tolerance_s
