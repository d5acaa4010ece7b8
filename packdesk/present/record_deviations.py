"""What went otherwise than planned in a session: when, what, and the reason that was given."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from uuid import UUID

from packdesk.instants import Reading, span
from packdesk.present.cold_words import came_to
from packdesk.present.measures import Measures
from packdesk.present.outlines import OutlineSection
from packdesk.present.story import NOT_COUNTED, counted, happened
from packdesk.present.words import ASKED_AND_CONFIRMED, LATE_S, alarm_said, fact_words
from packdesk.sentences import capital
from packdesk.session import facts as f
from packdesk.session.envelope import Entry
from packdesk.session.fact import Fact, UnknownFact
from packdesk.session.load import cold_is_complete
from packdesk.session.numbers import named
from packdesk.session.state import SessionState, State
from packdesk.session.terms import (
    Feel,
    Indicator,
    LotVerdict,
    PacketCondition,
    SealVerdict,
)
from packdesk.session.under_way import under_way

QUESTIONED = "asked about, and done all the same"
ASKED = "far from what was reckoned; asked about, and so all the same"
ASKED_BEFORE = "asked about before it went in, and put in all the same"
NOTHING = "Nothing that was recorded went otherwise than planned."


def deviations(
    state: State,
    session: SessionState,
    entries: Sequence[Entry],
    measures: Measures,
    now: Reading,
) -> OutlineSection:
    """Every departure from the plan and from the rules, in recorded order."""
    by_id = {entry.id: entry for entry in entries}
    plans = 0
    rows = []
    for entry in entries:
        if entry.id in state.disputed:
            rows.append((happened(entry, now), fact_words(entry.fact, measures), NOT_COUNTED))
    for entry in counted(entries, state):
        if isinstance(entry.fact, f.PlanAgreed):
            plans += 1
            if plans > 1:
                rows.append((happened(entry, now), "The plan was changed", ""))
        for what, why in _departures(entry.fact, session, by_id, measures):
            rows.append((happened(entry, now), what, why))
    said = [] if rows else [NOTHING]
    if state.newer_kinds:
        said.append("A newer PackDesk wrote entries that this one cannot read.")
    return OutlineSection(
        title="What went otherwise",
        sentences=tuple(said),
        header=("When", "What", "Why") if rows else (),
        rows=tuple(sorted(rows, key=lambda row: row[0])),
    )


def _departures(
    fact: Fact | UnknownFact,
    session: SessionState,
    by_id: dict[UUID, Entry],
    measures: Measures,
) -> Iterator[tuple[str, str]]:
    """What one fact departs from, and why."""
    words = fact_words(fact, measures)
    match fact:
        case f.LotReceived() if fact.verdict is not LotVerdict.ACCEPTED:
            yield words.removesuffix(f", {fact.seen}"), fact.seen
        case f.LotLookedAt():
            yield words.removesuffix(f", {fact.seen}"), fact.seen
        case f.LotBypassedCold():
            yield f"Lot {fact.lot} went without cold", fact.reason
        case f.CoreRead() | f.FreezerRead() | f.RoomRead() if fact.confirmed:
            yield words, ASKED
        case f.LoadFrozen() if fact.confirmed:
            yield words.removesuffix(ASKED_AND_CONFIRMED), ASKED_BEFORE
        case f.PouchesFilled() if fact.confirmed:
            yield words.removesuffix(ASKED_AND_CONFIRMED), QUESTIONED
        case f.SessionClosed():
            # What it waited for is no part of the fact; once closed hardly any of it can change.
            waiting = " ".join(under_way(session))
            if waiting:
                yield f"Session closed all the same. {waiting.rstrip('.')}", fact.remark
        case f.PlanAgreed():
            for line in fact.lines:
                if line.never:
                    advice = line.never.rstrip(".")
                    yield (
                        f"{capital(line.food_name)} planned against advice. {advice}",
                        line.against_advice,
                    )
        case f.PouchesSealed() if fact.against_advice:
            never = [number for number in fact.pouches if _never(session, number)]
            if never:
                yield (
                    f"{capital(named(never))} sealed, of a food never to be sealed",
                    fact.against_advice,
                )
        case f.LoadTakenOut():
            if fact.reason:
                yield _taken_out(fact), fact.reason
            if fact.confirmed:
                room = measures.reading(fact.forecast.room_c)
                yield f"Load {fact.load} came into a room at {room}", ASKED
        case f.LoadUncovered() if fact.reason:
            core, limit = (
                measures.temperature(temp_c) for temp_c in (fact.core_c, fact.open_above_c)
            )
            yield (
                f"Load {fact.load} opened, coldest food about {core}, limit {limit}",
                fact.reason,
            )
        case f.PacketOpened():
            yield from _doubtful(fact)
        case f.RemainderShut() if fact.reckoned is not None and fact.reckoned != fact.count:
            yield words, ""
        case f.PouchesReopened():
            yield f"{capital(named(fact.pouches))} opened again", fact.reason
        case f.PouchesSwapped() | f.AbsorbersFelt():
            yield words, ""
        case f.AbsorbersPlaced():
            yield from _more_each(fact, session)
            yield from _late(fact, session)
        case f.SealChecked() if fact.verdict in (SealVerdict.SOFT, SealVerdict.SWOLLEN):
            yield words, ""
        case f.PouchesSetAside():
            done = "emptied" if fact.emptied else "set aside"
            yield f"{capital(named(fact.pouches))} {done}", fact.reason
        case f.PouchesReturned():
            yield words, ""
        case f.FoodLost():
            yield f"{measures.mass(fact.mass_g)} of {fact.food_name} lost", fact.reason
        case f.LabelsPrinted() if fact.reprint:
            yield words, "same numbers"
        case f.CountTaken() if fact.counted != fact.tallied:
            yield words, ""
        case f.AlarmRang() if fact.late_s >= LATE_S:
            yield alarm_said(fact.clock), f"rang {span(fact.late_s)} late"
        case f.FactVoided():
            for target in fact.targets:
                gone = fact_words(by_id[target].fact, measures) if target in by_id else "An entry"
                yield (
                    f"{gone.rstrip('.')}: {'taken back' if fact.mistap else 'voided'}",
                    fact.reason,
                )
            yield from _after_all(fact, session)
        case _:
            return


def _never(session: SessionState, number: int) -> bool:
    """Whether a pouch holds a food that is never to be sealed."""
    pouch = session.pouches.get(number)
    line = session.plan.line(pouch.line) if session.plan is not None and pouch is not None else None
    return line is not None and bool(line.never)


def _taken_out(fact: f.LoadTakenOut) -> str:
    """How a load with a reason to leave the cold stood by the rule that was chosen."""
    if cold_is_complete(fact.rule, fact.held_h, fact.needed_h, fact.dose):
        return f"Load {fact.load} left the cold"
    cold = came_to(fact.rule, fact.held_h, fact.needed_h, fact.dose, fact.dose_stage)
    return f"Load {fact.load} left the cold early, {cold}"


def _after_all(fact: f.FactVoided, session: SessionState) -> Iterator[tuple[str, str]]:
    """What the cold of loads taken out by a voided reading came to without it."""
    for each in fact.outlooks:
        load = session.loads.get(each.load)
        if each.held_h is not None and load is not None:
            cold = came_to(load.rule, each.held_h, load.forecast.hold_h, each.dose, each.dose_stage)
            yield f"Load {each.load}, {cold} after all", "without what was voided"


def _doubtful(fact: f.PacketOpened) -> Iterator[tuple[str, str]]:
    """What made a packet doubtful before it was opened."""
    if fact.condition is PacketCondition.SLACK:
        yield (
            f"The bag of packet {fact.packet} was slack before it was opened",
            "air may have reached its absorbers",
        )
    if fact.indicator is Indicator.OXYGEN:
        yield f"The indicator in packet {fact.packet} showed oxygen", "air had reached it"
    if fact.feel is Feel.HARD:
        yield f"The absorbers of packet {fact.packet} were hard", "they were spent"


def _more_each(fact: f.AbsorbersPlaced, session: SessionState) -> Iterator[tuple[str, str]]:
    """More absorbers at once than a pouch was to have, as of a packet that air had reached."""
    round_, pouch = session.rounds.get(fact.round), session.pouches.get(fact.pouches[0])
    line = session.plan.line(pouch.line) if session.plan is not None and pouch is not None else None
    if round_ is None or line is None:
        return
    planned = line.absorbers_cc.count(round_.rating_cc)
    if fact.each > planned:
        low, likely = f"{fact.capacity_low_cc:.0f}", f"{fact.capacity_likely_cc:.0f}"
        had = low if low == likely else f"{low} to {likely}"
        what = f"{fact.each} absorbers of {round_.rating_cc}\u00a0cc in each, {planned} planned"
        yield (
            f"{capital(named(fact.pouches))}: {what}",
            f"one had {had} cc left",
        )


def _late(fact: f.AbsorbersPlaced, session: SessionState) -> Iterator[tuple[str, str]]:
    """Absorbers that lay open longer than their round was to last."""
    round_ = session.rounds.get(fact.round)
    if round_ is None:
        return
    open_s = (fact.last_at - round_.started.utc).total_seconds()
    limit_s = 0.0 if round_.no_margin else round_.limit_min * 60.0
    if open_s > limit_s:
        yield (
            f"{capital(named(fact.pouches))}: the last absorber had lain open {span(open_s)}",
            f"the limit was {span(limit_s)}" if limit_s else "no margin was left",
        )
