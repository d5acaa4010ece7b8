"""The story of a session: every entry in words, the voided ones with the reason beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from uuid import UUID

from packdesk.instants import Reading, clock_set_words, date_and_time
from packdesk.present.measures import Measures
from packdesk.present.outlines import OutlineLine
from packdesk.present.words import fact_words
from packdesk.session.clock_set import set_before
from packdesk.session.envelope import Entry
from packdesk.session.facts import FactVoided, LotLookedAt, LotReceived, WallClockSet
from packdesk.session.fold import voided
from packdesk.session.liners import liner_numbers
from packdesk.session.state import SessionState, State

LATER_S = 300.0
"""An entry written down this long after it happened says when that was."""

NOT_COUNTED = "it did not fit what came before it, and is not counted"


def story_lines(
    entries: Sequence[Entry],
    measures: Measures,
    now: Reading,
    *,
    with_own_notes: bool = True,
    liners: frozenset[int] = frozenset(),
) -> tuple[OutlineLine, ...]:
    """Tell the entries in recorded order; without `with_own_notes` only what a person entered.

    The pouches of `liners` are called so.
    """
    gone = voided(entries)
    lines = []
    settings = set_before(entries)
    for place, entry in enumerate(entries):
        automatic = not getattr(entry.fact, "by_person", True)
        if automatic and not with_own_notes:
            continue
        reason = ""
        if entry.id in gone:
            cause = gone[entry.id].fact
            reason = cause.reason if isinstance(cause, FactVoided) else ""
        lines.append(
            OutlineLine(
                when=_when(entry, now),
                words=fact_words(entry.fact, measures, liners),
                who=entry.who,
                voided=reason,
                entered=_entered(entry, settings.get(place, 0.0)),
            )
        )
    return tuple(lines)


def record_lines(
    entries: Sequence[Entry], state: State, measures: Measures, now: Reading
) -> tuple[OutlineLine, ...]:
    """Tell every entry as the record does: a plain time first, how sure it is behind the words.

    A name stands beside each only where several people made entries.
    """
    told = []
    names = {entry.who for entry in entries if getattr(entry.fact, "by_person", True)}
    liners = liner_numbers(state.session) if state.session is not None else frozenset[int]()
    lines = story_lines(entries, measures, now, liners=liners)
    for entry, line in zip(entries, lines, strict=True):
        sure = f"about, ± {entry.about_min:.0f} min" if entry.about_min else ""
        told.append(
            replace(
                line,
                who=line.who if len(names) > 1 else "",
                when=happened(entry, now),
                entered=", ".join(each for each in (sure, line.entered) if each),
                voided=NOT_COUNTED if entry.id in state.disputed else line.voided,
            )
        )
    return tuple(told)


def about(entries: Sequence[Entry], session: SessionState) -> tuple[Entry, ...]:
    """The entries that tell of this session: its own, and what the book noted for it.

    What other sessions noted in the book is left out, but for the lots that this one uses.
    """
    lots = {line.lot for line in session.plan.lines} if session.plan is not None else set()
    kept: list[Entry] = []
    known: set[UUID] = set()
    for entry in entries:
        fact = entry.fact
        noted_in = getattr(fact, "session", None)
        ours = noted_in in (None, session.session)
        if isinstance(fact, FactVoided):
            ours = bool(known.intersection(fact.targets)) or entry.stream == session.session
        elif isinstance(fact, (LotReceived, LotLookedAt)):
            ours = ours or fact.lot in lots
        if ours:
            kept.append(entry)
            known.add(entry.id)
    return tuple(kept)


def counted(entries: Sequence[Entry], state: State) -> tuple[Entry, ...]:
    """The entries that count: neither voided nor at odds with what came before them."""
    gone = {*voided(entries), *state.disputed}
    return tuple(entry for entry in entries if entry.id not in gone)


def happened(entry: Entry, now: Reading) -> str:
    """When it happened, by the clocks of the place as they stood then."""
    return date_and_time(entry.happened_at, now.offset_min_of(entry.happened_at, entry.recorded))


def _when(entry: Entry, now: Reading) -> str:
    at = happened(entry, now)
    return f"about {at} ± {entry.about_min:.0f} min" if entry.about_min else at


def _entered(entry: Entry, set_s: float) -> str:
    """When an entry was written down, where not as it happened, and by which clock."""
    said = []
    later_s = (entry.recorded.utc - entry.happened_at).total_seconds()
    if abs(later_s) >= LATER_S:
        at = date_and_time(entry.recorded.utc, entry.recorded.utc_offset_min)
        said.append(f"entered {at}" + (" by a clock that was behind" if later_s < 0.0 else ""))
    if set_s and not isinstance(entry.fact, WallClockSet):
        said.append(f"{clock_set_words(set_s)} before this")
    return ", ".join(said)
