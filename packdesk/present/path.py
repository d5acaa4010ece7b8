"""The path of a session: how far each stage has come, in words, and where the work is now."""

from __future__ import annotations

from packdesk.instants import Reading, day_and_time, local
from packdesk.present.cards import Mark, StageRow
from packdesk.present.clock_rows import WEEKDAY_WITHIN, day_words
from packdesk.session.book_state import BookState
from packdesk.session.clocks import ClockKind, running, standing
from packdesk.session.load import Load
from packdesk.session.state import SessionState
from packdesk.session.tally import LineTally, tallies
from packdesk.session.terms import LotVerdict, Stage

STAGE_NAMES = {
    Stage.BEFORE: "Before",
    Stage.COLD_TREATMENT: "Cold treatment",
    Stage.THAW_EQUILIBRATION: "Thaw equilibration",
    Stage.FILLING: "Filling",
    Stage.SEALING: "Sealing",
    Stage.LABELLING: "Labelling",
    Stage.AFTER: "After",
}


def stage_rows(book: BookState, session: SessionState | None, now: Reading) -> tuple[StageRow, ...]:
    """Say each stage of `session`; with none open, an untrodden path."""
    if session is None:
        return tuple(StageRow(stage, STAGE_NAMES[stage], "", Mark.NEXT) for stage in Stage)
    here = where_now(session)
    rows = []
    for stage in Stage:
        progress, share = _progress(stage, book, session, now)
        mark = Mark.DONE if share >= 1.0 else Mark.PARTLY if share > 0.0 else Mark.NEXT
        rows.append(
            StageRow(
                stage=stage,
                name=STAGE_NAMES[stage],
                progress=progress,
                mark=Mark.NOW if stage is here else mark,
                loads=_loads_at(stage, session),
            )
        )
    return tuple(rows)


def where_now(session: SessionState) -> Stage:
    """The stage whose work is next: the earliest that has something to do right now."""
    if session.closed_at is not None:
        return Stage.LABELLING if session.labels_asked is not None else Stage.AFTER
    if session.plan is None:
        return Stage.BEFORE
    counted = tallies(session)
    waiting = lots_without_cold(session)
    in_freezer = [load for load in session.loads.values() if load.taken_out is None]
    warming = [load for load in session.loads.values() if _warming(load)]
    open_rounds = any(round_.left for round_ in session.rounds.values())
    at_counter = any(line.shut < line.filled for line in counted)
    if open_rounds or at_counter:
        return Stage.FILLING
    if session.labels_asked is not None:
        return Stage.LABELLING
    if any(line.sealed < line.shut for line in counted):
        return Stage.SEALING
    if waiting or in_freezer:
        return Stage.COLD_TREATMENT
    if warming:
        return Stage.THAW_EQUILIBRATION
    if any(line.to_fill for line in counted):
        return Stage.FILLING
    if any(line.labelled < line.sealed for line in counted):
        return Stage.LABELLING
    return Stage.AFTER


def next_clock(session: SessionState) -> str:
    """Say what starts the next clock, for the time in which none runs."""
    if _loads_at(Stage.COLD_TREATMENT, session):
        return (
            "As said, the freezer gets nothing cold enough. Set it colder, then note what it shows."
        )
    if _loads_at(Stage.THAW_EQUILIBRATION, session):
        return "In this room no lid can come off. Note the room again when it is warmer."
    if session.plan is None or lots_without_cold(session):
        return "The first one starts when a pail goes into the freezer."
    return "The next one starts when a packet of absorbers is opened."


def lots_without_cold(session: SessionState) -> tuple[str, ...]:
    """Lots of the plan that are neither in the cold nor excused from it."""
    if session.plan is None:
        return ()
    treated = {load.lot for load in session.loads.values()} | set(session.bypassed)
    lots = dict.fromkeys(line.lot for line in session.plan.lines)
    return tuple(lot for lot in lots if lot not in treated)


def _warming(load: Load) -> bool:
    return load.taken_out is not None and load.uncovered is None


def _loads_at(stage: Stage, session: SessionState) -> tuple[str, ...]:
    loads = session.loads.values()
    match stage:
        case Stage.COLD_TREATMENT:
            return tuple(load.load for load in loads if load.taken_out is None)
        case Stage.THAW_EQUILIBRATION:
            return tuple(load.load for load in loads if _warming(load))
        case Stage.FILLING:
            if all(not line.to_fill for line in tallies(session)):
                return ()
            return tuple(load.load for load in loads if load.uncovered is not None)
        case _:
            return ()


def _progress(
    stage: Stage, book: BookState, session: SessionState, now: Reading
) -> tuple[str, float]:
    """The progress of a stage in words, and the share of it that is done."""
    match stage:
        case Stage.BEFORE:
            return _before(book, session, now)
        case Stage.COLD_TREATMENT:
            return _cold(session, now)
        case Stage.THAW_EQUILIBRATION:
            return _thaw(session)
    counted = tallies(session)
    if not counted:
        return "after the plan", 0.0
    match stage:
        case Stage.FILLING:
            return _share(counted, "shut", "shut", "planned")
        case Stage.SEALING:
            return _share(counted, "sealed", "sealed", "planned")
        case Stage.LABELLING:
            return _share(counted, "labelled", "printed", "planned")
        case _:
            return _after(session, counted, now)


def _before(book: BookState, session: SessionState, now: Reading) -> tuple[str, float]:
    if session.plan is not None:
        agreed = local(session.plan.agreed_at, now.offset_min_at)
        return f"agreed {agreed.day} {agreed:%B}", 1.0
    lots = [lot for lot in book.lots.values() if lot.verdict is LotVerdict.ACCEPTED]
    if not lots:
        return "nothing received yet", 0.0
    return f"{len(lots)} {'lot' if len(lots) == 1 else 'lots'} in the book", 0.5


def _cold(session: SessionState, now: Reading) -> tuple[str, float]:
    loads = session.loads.values()
    waiting = lots_without_cold(session)
    if not loads:
        if session.plan is None:
            return "after the plan", 0.0
        if waiting:
            return f"{len(waiting)} {'lot' if len(waiting) == 1 else 'lots'} to freeze", 0.0
        return "not needed", 1.0
    due = {
        clock.subject
        for clock in running(session)
        if clock.kind is ClockKind.COLD and standing(clock, now).due
    }
    held = sum(load.taken_out is not None or load.load in due for load in loads)
    out = sum(load.taken_out is not None for load in loads)
    words = f"{held} of {len(loads)} done"
    if waiting:
        return f"{words}, {len(waiting)} to freeze", 0.5
    return words, 1.0 if out == len(loads) else 0.5


def _thaw(session: SessionState) -> tuple[str, float]:
    loads = session.loads.values()
    out = [load for load in loads if load.taken_out is not None]
    opened = sum(load.uncovered is not None for load in out)
    if not loads and session.plan is not None and not lots_without_cold(session):
        return "not needed", 1.0
    if not out:
        return "after the cold", 0.0
    words = f"{opened} of {len(loads)} lids off"
    return words, 1.0 if opened == len(loads) else 0.5


def _share(counted: tuple[LineTally, ...], name: str, word: str, out_of: str) -> tuple[str, float]:
    done = sum(getattr(line, name) for line in counted)
    total = sum(getattr(line, out_of) for line in counted)
    return f"{done} of {total} {word}", done / total if total else 0.0


def _after(
    session: SessionState, counted: tuple[LineTally, ...], now: Reading
) -> tuple[str, float]:
    if session.closed_at is not None:
        return "session closed", 1.0
    sealed = sum(line.sealed for line in counted)
    stowed = sum(line.stowed for line in counted)
    total = sum(line.planned for line in counted)
    checks = [clock for clock in running(session) if clock.kind is ClockKind.SEAL_CHECK]
    if sealed and stowed >= sealed and checks:
        due = min(standing(clock, now).due_at for clock in checks)
        day, today = (local(at, now.offset_min_at).date() for at in (due, now.utc))
        soon = abs(due - now.utc) < WEEKDAY_WITHIN
        when = day_and_time(due, now.offset_min_at) if soon else day_words(day, today)
        return f"next look {when}", 0.5
    return f"{stowed} of {total} stowed", 0.5 if stowed else 0.0
