"""The time of an open packet: what has passed of it, what is to come, and who fits into it."""

from __future__ import annotations

from datetime import datetime, timedelta

from packdesk.instants import Reading, span, time_of_day
from packdesk.present.cards import PacketTimes
from packdesk.present.liners import called
from packdesk.sentences import capital
from packdesk.session.clocks import ClockKind, running, standing
from packdesk.session.figures import AgreedLine
from packdesk.session.pace import round_pace
from packdesk.session.pouch import Pouch
from packdesk.session.round_size import at_work_since, still_in_time
from packdesk.session.state import Round, SessionState


def packet_times(
    session: SessionState,
    line: AgreedLine,
    round_: Round,
    done: list[Pouch],
    waiting: list[Pouch],
    now: Reading,
) -> PacketTimes | None:
    """The times of the packet that a round takes from; None while no clock of it runs.

    `done` are the pouches done with, `waiting` those still to come, in order.
    """
    clock = next(
        (
            each
            for each in running(session)
            if each.kind is ClockKind.PACKET and each.subject == str(round_.round)
        ),
        None,
    )
    if clock is None:
        return None
    due = standing(clock, now).due_at
    opened = round_.started.utc
    shut_at = sorted(_shut_at(pouch, round_) for pouch in done)
    offset = now.offset_min_at
    coming = _to_come(session, line, round_, len(waiting), now.utc)
    return PacketTimes(
        opened=opened,
        now=now.utc,
        due=due,
        opened_words=f"{time_of_day(opened, offset)} opened",
        now_words="now",
        due_words=f"{time_of_day(due, offset)} due",
        done=tuple(shut_at),
        forecast=coming if round_pace(session, round_).measured else (),
        last=coming[-1] if coming else None,
    )


def _shut_at(pouch: Pouch, round_: Round) -> datetime:
    """When a pouch was done with; while it stands open, when its absorbers of the round went in."""
    reading = pouch.shut or pouch.sealed
    if reading is not None:
        return reading.utc
    went_in = [each.at for each in pouch.placed if each.round == round_.round and each.at]
    return max(went_in, default=round_.last_at)


def _to_come(
    session: SessionState, line: AgreedLine, round_: Round, waiting: int, now: datetime
) -> tuple[datetime, ...]:
    """When the waiting pouches will be shut, the hands being at work on them already."""
    begin = at_work_since(session, line, round_, waiting, now)
    each = timedelta(seconds=round_pace(session, round_).each_s)
    return tuple(max(now, begin + each * place) for place in range(1, waiting + 1))


def last_shut(
    line: AgreedLine, waiting: list[Pouch], packet: PacketTimes | None, now: Reading
) -> tuple[tuple[str, ...], bool]:
    """When the last of the waiting pouches is shut at this pace, and whether that is in time."""
    if packet is None or packet.last is None:
        return (), False
    spare_s = (packet.due - packet.last).total_seconds()
    relation = "before" if spare_s >= 0 else "after"
    words = (
        f"{capital(called(line, (waiting[-1].number,)))} is then shut about "
        f"{time_of_day(packet.last, now.offset_min_at)}, {span(round(spare_s / 60) * 60)} "
        f"{relation} the packet is due."
    )
    return (words,), spare_s >= 0


def absorbers_kept(session: SessionState, round_: Round, now: Reading) -> str:
    """How much of their rating the absorbers that lie open still have."""
    from packdesk.session.exposure import capacity_left, pressure_of  # loads numpy

    low_cc, likely_cc = capacity_left(round_, now.utc, pressure_of(session.plan))
    low, likely = (round(100 * each / round_.rating_cc) for each in (low_cc, likely_cc))
    share = f"{likely} %" if low == likely else f"{low} to {likely} %"
    lie = "absorber that lies open keeps" if round_.left == 1 else "absorbers that lie open keep"
    return f"The {round_.left} {lie} {share} of the rating now."


def time_left(
    session: SessionState,
    round_: Round,
    waiting: list[Pouch],
    packet: PacketTimes | None,
    now: Reading,
) -> tuple[str, ...]:
    """«9 left at 22 s each: 3 min 20 s; margin used up in 41 min, practice cap in 11 min.»"""
    from packdesk.physics.absorber import PRACTICE_CAP_MINUTES

    if packet is None:
        return ()
    parts = []
    if waiting:
        pace = round_pace(session, round_)
        parts.append(
            f"{len(waiting)} left at {'' if pace.measured else 'about '}{span(pace.each_s)}"
            + (f" each: {span(pace.each_s * len(waiting))}" if len(waiting) > 1 else "")
        )
    # The clock of the packet knows how long it really was; its limit is one of the two.
    passed_min = round_.limit_min - (packet.due - now.utc).total_seconds() / 60.0
    limits = [("practice cap", PRACTICE_CAP_MINUTES)]
    if round_.margin_min is not None:
        limits.insert(0, ("margin", round_.margin_min))
    told = [_until(name, limit_min - passed_min) for name, limit_min in limits]
    parts.append(", ".join(told))
    words = "; ".join(parts)
    return (f"{capital(words)}.",)


def too_many_left(
    session: SessionState, line: AgreedLine, round_: Round, waiting: list[Pouch], now: Reading
) -> tuple[str, ...]:
    """Say how many of the waiting pouches fit into the packet's time, unless all do."""
    left = len(waiting)
    fit = still_in_time(session, line, round_, left, now.utc)
    if fit >= left:
        return ()
    if round_.due <= now.utc:
        return (f"The packet's time is over: {_IN_HAND}.",)
    if not fit:
        none = "The one left does not fit" if left == 1 else f"None of the {left} left fits"
        return (f"{none} into the packet's time: {_IN_HAND}.",)
    rest = "1 comes" if left - fit == 1 else f"{left - fit} come"
    shut = f"Only {fit} of the {left} fit into the packet's time: shut those, then C puts"
    return (f"{shut} the absorbers left into the jar; {rest} in another round.",)


_IN_HAND = "finish what is in your hand, then C puts the absorbers left into the jar"


def _until(name: str, minutes: float) -> str:
    over, ahead = {
        "margin": ("margin used up", "margin used up in"),
        "practice cap": ("practice cap over", "practice cap in"),
    }[name]
    return f"{ahead} {span(minutes * 60.0)}" if minutes > 0.0 else over
