"""The group at the counter: its pouches as cells, the time of the open packet, the pace."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from packdesk.instants import Reading, span, time_of_day
from packdesk.present.cards import CellState, PacketTimes, PouchCell
from packdesk.present.liners import called
from packdesk.present.other_source import turn_words
from packdesk.present.tally_board import pouch_cell
from packdesk.present.verdict_words import judged, said
from packdesk.sentences import capital
from packdesk.session.clocks import ClockKind, running, standing
from packdesk.session.decide_packing import open_pouches
from packdesk.session.figures import AgreedLine
from packdesk.session.lacking import lacking, round_in_hand
from packdesk.session.numbering import next_numbers
from packdesk.session.open_again import open_again, round_for_one_more, wanting_one_more
from packdesk.session.pace import round_pace
from packdesk.session.pouch import Pouch
from packdesk.session.round_size import at_work_since, still_in_time
from packdesk.session.state import Round, SessionState
from packdesk.session.supply import more_for_sure, served
from packdesk.session.tally import LineTally
from packdesk.session.verdicts import Enough

MOST_CELLS = 20
"""So many cells are drawn at most; a larger group is counted whole and drawn around the next."""

STEP_CELLS = 10
"""The cells of a large group move on by so many at once, so that they mostly stand still."""

USUAL_GROUP = 10
"""How many pouches are shown ahead of the scale: what one packet usually closes."""


@dataclass(frozen=True, slots=True)
class RoundView:
    """The pouches in hand: a title, how many are shut, cells, and the packet if one is open.

    `foremost` is what must not be missed: which of several packets is taken from, and verdicts
    that ask for something to be done; `standing` the forecast, which never scrolls away.
    """

    title: str
    progress: str
    cells: tuple[PouchCell, ...]
    packet: PacketTimes | None = None
    sentences: tuple[str, ...] = ()
    foremost: tuple[str, ...] = ()
    standing: tuple[str, ...] = ()


def round_view(
    session: SessionState,
    tally: LineTally,
    in_hand: int,
    now: Reading,
    picked: int | None = None,
) -> RoundView:
    """Say how the group at the counter stands; `in_hand` pouches are meant by the next press.

    `picked` is the round to take from, where several lie open.
    """
    waiting = open_pouches(session, tally.line.line)
    round_ = round_in_hand(session, tally.line, waiting, now.utc, picked)
    if open_again(session, tally.line) or wanting_one_more(session, tally.line, now.utc):
        round_ = round_for_one_more(session, tally.line, now.utc, picked) or round_
    if round_ is None:
        return _filling(session, tally, in_hand)
    view = _in_round(session, tally.line, round_, in_hand, now)
    if view.cells:
        return view
    # No pouch is in it and none is to be: how many are filled is all there is to count.
    return replace(view, title="", progress=f"{tally.filled} of {tally.planned} filled")


def _filling(session: SessionState, tally: LineTally, in_hand: int) -> RoundView:
    waiting = open_pouches(session, tally.line.line)
    cells = [pouch_cell(session, pouch) for pouch in waiting[-MOST_CELLS:]]
    room = max(USUAL_GROUP, in_hand + 1) - len(cells)
    shown = min(tally.to_fill, max(room, in_hand))
    for place, number in enumerate(next_numbers(session, tally.line.line, shown)):
        told = ", next" if place < in_hand else ""
        cells.append(
            PouchCell(
                number,
                CellState.PLANNED,
                f"{capital(called(tally.line, (number,)))}, {tally.line.food_name}, to fill{told}",
                in_hand=place < in_hand,
                liner=tally.line.liner,
            )
        )
    return RoundView(
        title=capital(f"{tally.line.food_name}: {_standing(tally.line, len(waiting))}"),
        progress=_opened(session, tally) or f"{tally.filled} of {tally.planned} filled",
        cells=tuple(cells),
    )


def _opened(session: SessionState, tally: LineTally) -> str:
    """«5 open again», while that is what is to be done with; else empty."""
    opened = open_again(session, tally.line)
    return f"{len(opened)} open again" if opened else ""


def _standing(line: AgreedLine, count: int) -> str:
    if not count:
        return f"no {'liner' if line.liner else 'pouch'} stands open"
    return f"{_count(line, count)} {'stands' if count == 1 else 'stand'} open"


def _count(line: AgreedLine, count: int) -> str:
    """«1 pouch», «3 liners»."""
    if count == 1:
        return "1 liner" if line.liner else "1 pouch"
    return f"{count} {'liners' if line.liner else 'pouches'}"


def _in_round(
    session: SessionState, line: AgreedLine, round_: Round, in_hand: int, now: Reading
) -> RoundView:
    done = [
        pouch
        for pouch in session.working_pouches()
        if any(placed.round == round_.round for placed in pouch.placed)
    ]
    waiting = [
        pouch
        for pouch in open_pouches(session, line.line)
        if lacking(line, pouch)[round_.rating_cc]
    ]
    done = [pouch for pouch in done if pouch not in waiting]
    opened = open_again(session, line)
    wanting = wanting_one_more(session, line, now.utc)
    again, beside = [], round_
    for pouch in wanting if round_.rating_cc in line.absorbers_cc else ():
        each = more_for_sure(session, line, pouch, round_, now.utc).taken(beside.left)
        if each:
            again.append(pouch)
            beside = replace(beside, placed=beside.placed + each)
    done = [pouch for pouch in done if pouch not in again]
    well = [pouch for pouch in opened if pouch not in wanting]
    others = [pouch for pouch in well if pouch not in done]
    waiting = [*others, *again, *served(session, line, waiting, beside, now.utc)]
    group = sorted([*done, *waiting], key=lambda pouch: pouch.number) if opened else done + waiting
    next_ones = {pouch.number for pouch in (well or waiting)[:in_hand]}
    packet = _times(session, line, round_, done, waiting, now)
    shut = sum(pouch.shut is not None or pouch.sealed is not None for pouch in done)
    numbers = called(line, (pouch.number for pouch in group)) if group else ""
    # Those that stand open again are judged beside what is to be done with them.
    closed = (pouch for pouch in done if pouch not in opened and pouch not in wanting)
    groups = judged(session, closed, now.utc)
    supplied = tuple(said(each, session.plan) for each in groups if each.found is Enough.ENOUGH)
    limits = _ahead(session, round_, waiting, packet, now)
    last, in_time = _last_shut(line, waiting, packet, now)
    source = "jar" if round_.source.startswith("R") else "packet"
    return RoundView(
        title=f"Round {round_.round}: {numbers}, {source} {round_.source}",
        progress=f"{shut} of {len(group)} shut",
        cells=tuple(
            pouch_cell(session, pouch, pouch.number in next_ones, now.utc)
            for pouch in _around(group, _place(group, [*well, *wanting, *waiting]))
        ),
        packet=packet,
        sentences=(
            *(() if waiting else limits),
            *(() if in_time else last),
            *supplied,
            _kept(session, round_, now),
        ),
        standing=(*(limits if waiting else ()), *(last if in_time else ())),
        foremost=(
            *turn_words(session, round_, now),
            *_too_many(session, line, round_, waiting, now),
            *(said(each, session.plan) for each in groups if each.found is not Enough.ENOUGH),
        ),
    )


def _place(group: list[Pouch], coming: list[Pouch]) -> int:
    """Where in the group the first of those coming stands; at its end, if none is to come."""
    return next((group.index(pouch) for pouch in coming if pouch in group), len(group))


def _around(group: list[Pouch], place: int) -> list[Pouch]:
    """The pouches of `group` that are drawn: those about the one at `place`, which is next."""
    first = max(0, place - STEP_CELLS // 2) // STEP_CELLS * STEP_CELLS
    first = max(0, min(first, len(group) - MOST_CELLS))
    return group[first : first + MOST_CELLS]


def _times(
    session: SessionState,
    line: AgreedLine,
    round_: Round,
    done: list[Pouch],
    waiting: list[Pouch],
    now: Reading,
) -> PacketTimes | None:
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


def _last_shut(
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


def _kept(session: SessionState, round_: Round, now: Reading) -> str:
    """How much of their rating the absorbers that lie open still have."""
    from packdesk.session.exposure import capacity_left, pressure_of  # loads numpy

    low_cc, likely_cc = capacity_left(round_, now.utc, pressure_of(session.plan))
    low, likely = (round(100 * each / round_.rating_cc) for each in (low_cc, likely_cc))
    share = f"{likely} %" if low == likely else f"{low} to {likely} %"
    lie = "absorber that lies open keeps" if round_.left == 1 else "absorbers that lie open keep"
    return f"The {round_.left} {lie} {share} of the rating now."


def _ahead(
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


def _too_many(
    session: SessionState, line: AgreedLine, round_: Round, waiting: list[Pouch], now: Reading
) -> tuple[str, ...]:
    """Say how many of the waiting pouches fit into the packet's time, unless all do.

    Once that time is over its clock says so, and nothing is added here.
    """
    left = len(waiting)
    fit = still_in_time(session, line, round_, left, now.utc)
    if fit >= left or round_.due <= now.utc:
        return ()
    if not fit:
        none = "The one left does not fit" if left == 1 else f"None of the {left} left fits"
        hand = "finish what is in your hand, then C shuts up the absorbers left"
        return (f"{none} into the packet's time: {hand}.",)
    rest = "1 comes" if left - fit == 1 else f"{left - fit} come"
    shut = f"Only {fit} of the {left} fit into the packet's time: shut those, then C shuts up"
    return (f"{shut} the absorbers left; {rest} in another round.",)


def _until(name: str, minutes: float) -> str:
    over, ahead = {
        "margin": ("margin used up", "margin used up in"),
        "practice cap": ("practice cap over", "practice cap in"),
    }[name]
    return f"{ahead} {span(minutes * 60.0)}" if minutes > 0.0 else over
