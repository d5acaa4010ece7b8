"""The group at the counter: its pouches as cells, how many are shut, what is said of them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from packdesk.instants import Reading
from packdesk.present.cards import CellState, PacketTimes, PouchCell
from packdesk.present.drawn_cells import drawn_cells
from packdesk.present.liners import called
from packdesk.present.other_source import turn_words
from packdesk.present.packet_times import (
    absorbers_kept,
    last_shut,
    packet_times,
    time_left,
    too_many_left,
)
from packdesk.present.tally_board import pouch_cell
from packdesk.present.verdict_words import judged, said
from packdesk.sentences import capital
from packdesk.session.decide_packing import open_pouches
from packdesk.session.figures import AgreedLine
from packdesk.session.lacking import lacking, round_in_hand
from packdesk.session.numbering import next_numbers
from packdesk.session.open_again import open_again, round_for_one_more, wanting_one_more
from packdesk.session.pouch import Pouch
from packdesk.session.state import Round, SessionState
from packdesk.session.supply import more_for_sure, served
from packdesk.session.tally import LineTally
from packdesk.session.verdicts import Enough

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
    last = len(waiting)
    cells = list(drawn_cells(waiting, last, lambda pouch: pouch_cell(session, pouch)))
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
    opened = len(open_again(session, tally.line)) + (0 if tally.to_fill else tally.back)
    return f"{opened} open again" if opened else ""


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
    packet = packet_times(session, line, round_, done, waiting, now)
    shut = sum(pouch.shut is not None or pouch.sealed is not None for pouch in done)
    numbers = called(line, (pouch.number for pouch in group)) if group else ""
    # Those that stand open again are judged beside what is to be done with them.
    closed = (pouch for pouch in done if pouch not in opened and pouch not in wanting)
    groups = judged(session, closed, now.utc)
    supplied = tuple(said(each, session.plan) for each in groups if each.found is Enough.ENOUGH)
    limits = time_left(session, round_, waiting, packet, now)
    last, in_time = last_shut(line, waiting, packet, now)
    source = "jar" if round_.source.startswith("R") else "packet"
    return RoundView(
        title=f"Round {round_.round}: {numbers}, {source} {round_.source}",
        progress=f"{shut} of {len(group)} shut",
        cells=drawn_cells(
            group,
            _place(group, [*well, *wanting, *waiting]),
            lambda pouch: pouch_cell(session, pouch, pouch.number in next_ones, now.utc),
        ),
        packet=packet,
        sentences=(
            *(() if waiting else limits),
            *(() if in_time else last),
            *supplied,
            absorbers_kept(session, round_, now),
        ),
        standing=(*(limits if waiting else ()), *(last if in_time else ())),
        foremost=(
            *turn_words(session, round_, now),
            *too_many_left(session, line, round_, waiting, now),
            *(said(each, session.plan) for each in groups if each.found is not Enough.ENOUGH),
        ),
    )


def _place(group: list[Pouch], coming: list[Pouch]) -> int:
    """Where in the group the first of those coming stands; at its end, if none is to come."""
    return next((group.index(pouch) for pouch in coming if pouch in group), len(group))
