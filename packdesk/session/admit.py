"""Which facts fit what is already the case; the one set of rules for entry, voiding and reading.

`objection(state, fact, at)` answers an empty string when `fact`, happening at `at`, fits
`state`; otherwise one sentence that says what stands against it and what would be allowed.
The same answer refuses a command, finds the facts that rest on a voided one (they no longer
fit once it is gone), and sets aside entries of two stations that cross.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime
from functools import singledispatch

from packdesk.session import facts as f
from packdesk.session.fact import Fact
from packdesk.session.numbers import listed
from packdesk.session.state import Load, Pouch, Round, SessionState, State
from packdesk.session.terms import LotVerdict

NO_SESSION = "No session is open. Open or start one first."

LID_TOLERANCE_K = 0.2
"""A forecast is worked out on half hours; at its own due time the food may seem this much short."""

PouchRule = Callable[[State, Pouch], str]


def objection(state: State, fact: Fact, at: datetime) -> str:
    """Say what stands against `fact` happening at `at`; empty when nothing does."""
    if isinstance(fact, (f.SessionOpened, f.FactVoided)) or (
        state.session is None and fact.home == "book"
    ):
        return _objection(fact, state, at)
    if state.session is None:
        return NO_SESSION
    if state.session.closed_at is not None and not isinstance(fact, _AFTER_CLOSING):
        return "This session is closed. Undo the closing to go on with it."
    return _objection(fact, state, at)


_AFTER_CLOSING = (f.SealChecked, f.NoteAdded, f.AlarmRang, f.AlarmSilenced, f.LotReceived)


@singledispatch
def _objection(fact: Fact, state: State, at: datetime) -> str:
    raise TypeError(f"no rule admits {type(fact).__name__}")


def _session(state: State) -> SessionState:
    assert state.session is not None, "objection() looks for the session first"
    return state.session


# Before -------------------------------------------------------------------------------------------


@_objection.register
def _(fact: f.SessionOpened, state: State, at: datetime) -> str:
    if not fact.name.strip():
        return "Give the session a name, such as the foods and the season."
    return "A session is open already." if state.session is not None else ""


@_objection.register
def _(fact: f.LotReceived, state: State, at: datetime) -> str:
    if fact.lot in state.book.lots:
        return f"Lot {fact.lot} is in the book already."
    return "" if fact.mass_g > 0 else "A lot needs a mass above zero."


@_objection.register
def _(fact: f.PlanAgreed, state: State, at: datetime) -> str:
    if not fact.lines:
        return "A plan needs at least one food."
    if len({line.line for line in fact.lines}) != len(fact.lines):
        return "Two plan lines have the same number."
    for line in fact.lines:
        lot = state.book.lots.get(line.lot)
        if lot is None:
            return f"Lot {line.lot} is not in the book. Receive it first."
        if lot.verdict is not LotVerdict.ACCEPTED:
            return f"Lot {line.lot} was {lot.verdict}. Only an accepted lot can be packed."
        if lot.food != line.food:
            return f"Lot {line.lot} is {lot.food_name}, not {line.food_name}."
    for pouch in _session(state).pouches.values():
        line_now = next((line for line in fact.lines if line.line == pouch.line), None)
        line_then = _line_food(state, pouch.line)
        if line_now is None or line_now.food != line_then:
            return f"Pouch {pouch.number} is already filled. Keep its plan line."
    for line in fact.lines:
        filled = len(_session(state).working_pouches(line.line))
        if filled > line.count:
            return f"{filled} pouches of {line.food_name} are filled; plan at least as many."
    return ""


def _line_food(state: State, number: int) -> str:
    plan = _session(state).plan
    line = plan.line(number) if plan is not None else None
    return line.food if line is not None else ""


# Cold treatment and thaw equilibration ------------------------------------------------------------


@_objection.register
def _(fact: f.LoadFrozen, state: State, at: datetime) -> str:
    session = _session(state)
    lot = state.book.lots.get(fact.lot)
    if lot is None:
        return f"Lot {fact.lot} is not in the book. Receive it first."
    if lot.verdict is LotVerdict.REFUSED:
        return f"Lot {fact.lot} was refused. Freeze an accepted or quarantined lot."
    if fact.load in session.loads:
        return f"Load {fact.load} is in use. Take the next letter."
    if fact.lot in session.bypassed:
        return f"Lot {fact.lot} bypasses the cold. Undo that first."
    return ""


@_objection.register
def _(fact: f.LotBypassedCold, state: State, at: datetime) -> str:
    session = _session(state)
    if fact.lot not in state.book.lots:
        return f"Lot {fact.lot} is not in the book. Receive it first."
    if fact.lot in session.bypassed:
        return f"Lot {fact.lot} bypasses the cold already."
    if any(load.lot == fact.lot for load in session.loads.values()):
        return f"Lot {fact.lot} has a load in the cold already."
    return "" if fact.reason.strip() else "Say why this lot needs no cold."


@_objection.register
def _(fact: f.CoreRead, state: State, at: datetime) -> str:
    load = _session(state).loads.get(fact.load)
    if load is None:
        return f"There is no load {fact.load}."
    if load.uncovered is not None:
        return f"Load {fact.load} is already open; its clocks are done."
    return _not_before(at, load.frozen.utc, f"load {fact.load} was frozen")


@_objection.register
def _(fact: f.FreezerRead, state: State, at: datetime) -> str:
    return "" if _in_freezer(_session(state)) else "No load is in the freezer."


def _in_freezer(session: SessionState) -> tuple[Load, ...]:
    return tuple(load for load in session.loads.values() if load.taken_out is None)


@_objection.register
def _(fact: f.LoadTakenOut, state: State, at: datetime) -> str:
    load = _session(state).loads.get(fact.load)
    if load is None:
        return f"There is no load {fact.load}."
    if load.taken_out is not None:
        return f"Load {fact.load} is out of the freezer already."
    if fact.held_h < fact.needed_h and not fact.reason.strip():
        return "The cold is not complete. Say why it ends early, or leave the load in."
    return _not_before(at, load.frozen.utc, f"load {fact.load} was frozen")


@_objection.register
def _(fact: f.RoomRead, state: State, at: datetime) -> str:
    return ""


@_objection.register
def _(fact: f.LoadUncovered, state: State, at: datetime) -> str:
    load = _session(state).loads.get(fact.load)
    if load is None:
        return f"There is no load {fact.load}."
    if load.taken_out is None:
        return f"Load {fact.load} is still in the freezer. Take it out first, lid on."
    if load.uncovered is not None:
        return f"Load {fact.load} is open already."
    if fact.core_c < fact.open_above_c - LID_TOLERANCE_K and not fact.reason.strip():
        return "The food is still too cold and would sweat. Keep the lid on, or say why not."
    return _not_before(at, load.taken_out.utc, f"load {fact.load} was taken out")


# Filling ------------------------------------------------------------------------------------------


@_objection.register
def _(fact: f.PouchesFilled, state: State, at: datetime) -> str:
    session = _session(state)
    line = session.plan.line(fact.line) if session.plan is not None else None
    if line is None:
        return "Agree a plan with this food first."
    if not fact.pouches or len(set(fact.pouches)) != len(fact.pouches):
        return "Say how many pouches were filled."
    taken = [number for number in fact.pouches if number in session.pouches]
    if taken:
        return f"{listed(taken)} already filled. Undo first, if that was wrong."
    if len(session.working_pouches(fact.line)) + len(fact.pouches) > line.count:
        return f"That is more than the {line.count} pouches planned. Plan more first."
    if fact.net_mass_g is not None and not fact.net_mass_g > 0:
        return "A filled pouch needs a mass above zero."
    if line.lot in session.bypassed:
        return ""
    loads = [load for load in session.loads.values() if load.lot == line.lot]
    opened = [load.uncovered.utc for load in loads if load.uncovered is not None]
    if not opened:
        return (
            f"Lot {line.lot} is not ready: uncover one of its loads first, "
            "or note why it needs no cold."
        )
    return _not_before(at, min(opened), f"a load of lot {line.lot} was uncovered")


@_objection.register
def _(fact: f.ReadyChecked, state: State, at: datetime) -> str:
    return _each(state, fact.pouches, _must_be_open)


@_objection.register
def _(fact: f.PacketOpened, state: State, at: datetime) -> str:
    if fact.packet in state.book.packets:
        return f"Packet {fact.packet} was opened already."
    return "" if fact.count > 0 and fact.rating_cc > 0 else "A packet holds at least one absorber."


@_objection.register
def _(fact: f.RoundStarted, state: State, at: datetime) -> str:
    session, book = _session(state), state.book
    if fact.round in session.rounds:
        return f"Round {fact.round} is started already."
    packet = book.packets.get(fact.source)
    remainder = book.remainders.get(fact.source)
    if packet is None and remainder is None:
        return f"There is no packet or remainder {fact.source}."
    if remainder is not None and remainder.taken:
        return f"Remainder {fact.source} was taken already."
    if any(r.source == fact.source for r in session.rounds.values()):
        return f"Packet {fact.source} has its round already."
    if any(r.left and r.rating_cc == fact.rating_cc for r in session.rounds.values()):
        return "Absorbers of this rating lie open. Use them up or shut them up first."
    return ""


@_objection.register
def _(fact: f.AbsorbersPlaced, state: State, at: datetime) -> str:
    session = _session(state)
    round_ = session.rounds.get(fact.round)
    if round_ is None:
        return "No packet is open. Open one first."
    if fact.each < 1:
        return "Say how many absorbers went into each pouch."
    if fact.each * len(fact.pouches) > round_.left:
        return _too_few(round_, fact.each)
    if fact.last_at < fact.first_at or fact.first_at < round_.started.utc:
        return "The first absorber cannot go in before the packet was opened."
    return _each(state, fact.pouches, _must_be_open)


def _too_few(round_: Round, each: int) -> str:
    return (
        f"Round {round_.round} has {round_.left} absorbers left, "
        f"enough for {round_.left // each} pouches. Enter fewer."
    )


@_objection.register
def _(fact: f.PouchesShut, state: State, at: datetime) -> str:
    return _each(state, fact.pouches, _must_be_open) or _each(
        state, fact.pouches, _must_have_absorbers
    )


@_objection.register
def _(fact: f.RemainderShut, state: State, at: datetime) -> str:
    if state.session is None or fact.session != state.session.session:
        return ""
    round_ = state.session.rounds.get(fact.round)
    if round_ is None or not round_.left:
        return "No absorbers lie open."
    if fact.remainder in state.book.remainders:
        return f"Remainder {fact.remainder} is in the book already."
    if not 0 <= fact.count <= round_.left:
        return f"At most {round_.left} absorbers can be left of round {round_.round}."
    return _not_before(at, round_.started.utc, "the packet was opened")


# Sealing ------------------------------------------------------------------------------------------


@_objection.register
def _(fact: f.PouchesSealed, state: State, at: datetime) -> str:
    if not 1 <= fact.seams <= 2:
        return "A pouch is sealed with one seam or two."
    return (
        _each(state, fact.pouches, _must_take_a_seam)
        or _each(state, fact.pouches, _must_have_absorbers)
        or next(
            (
                _not_before(at, pouch.filled_at, f"pouch {pouch.number} was filled")
                for pouch in _found(state, fact.pouches)
                if at < pouch.filled_at
            ),
            "",
        )
    )


def _must_take_a_seam(state: State, pouch: Pouch) -> str:
    if pouch.aside:
        return f"Pouch {pouch.number} is set aside. Bring it back first."
    if pouch.gas_tight and pouch.seams >= 2:
        return f"Pouch {pouch.number} has its two seams already."
    return "" if not pouch.pail else f"Pouch {pouch.number} is in pail {pouch.pail} already."


@_objection.register
def _(fact: f.AirDrawnOff, state: State, at: datetime) -> str:
    return _each(state, fact.pouches, _must_have_a_gap)


def _must_have_a_gap(state: State, pouch: Pouch) -> str:
    session = _session(state)
    line = session.plan.line(pouch.line) if session.plan is not None else None
    if line is not None and line.dusty:
        return f"{line.food_name} is a powder: never draw air off over it. Close the gap."
    return "" if pouch.gap_left else f"Pouch {pouch.number} has no gap left in its seam."


# Labelling and after ------------------------------------------------------------------------------


@_objection.register
def _(fact: f.LabelsPrinted, state: State, at: datetime) -> str:
    if not fact.pouches:
        return "Choose at least one pouch to label."
    if fact.first_cell < 0:
        return "The first place on the sheet is 1."
    return _each(state, fact.pouches, lambda _, pouch: _not_emptied(pouch))


def _not_emptied(pouch: Pouch) -> str:
    return f"Pouch {pouch.number} was emptied." if pouch.emptied else ""


@_objection.register
def _(fact: f.StockSheetUsed, state: State, at: datetime) -> str:
    return "" if fact.cells >= 0 else "A sheet cannot have fewer than no places used."


@_objection.register
def _(fact: f.PouchesStowed, state: State, at: datetime) -> str:
    pail = _session(state).pails.get(fact.pail)
    if pail is not None and pail.lidded:
        return f"Pail {fact.pail} has its lid on. Take another pail."
    return _each(state, fact.pouches, _must_be_ready_to_stow)


def _must_be_ready_to_stow(state: State, pouch: Pouch) -> str:
    if pouch.aside:
        return f"Pouch {pouch.number} is set aside. Bring it back first."
    if pouch.pail:
        return f"Pouch {pouch.number} is in pail {pouch.pail} already."
    return "" if pouch.gas_tight else f"Pouch {pouch.number} is not sealed yet."


@_objection.register
def _(fact: f.PailLidded, state: State, at: datetime) -> str:
    pail = _session(state).pails.get(fact.pail)
    if pail is None:
        return f"Pail {fact.pail} is empty. Stow pouches in it first."
    return f"Pail {fact.pail} has its lid on already." if pail.lidded else ""


@_objection.register
def _(fact: f.SealChecked, state: State, at: datetime) -> str:
    if state.session is None or fact.session != state.session.session:
        return ""
    return _each(state, fact.pouches, _must_be_sealed)


def _must_be_sealed(state: State, pouch: Pouch) -> str:
    if pouch.aside:
        return f"Pouch {pouch.number} is set aside."
    return "" if pouch.gas_tight else f"Pouch {pouch.number} is not sealed yet."


@_objection.register
def _(fact: f.PouchesSetAside, state: State, at: datetime) -> str:
    if not fact.reason.strip():
        return "Say why the pouch is set aside."
    return _each(
        state,
        fact.pouches,
        lambda _, pouch: f"Pouch {pouch.number} is set aside already." if pouch.aside else "",
    )


@_objection.register
def _(fact: f.PouchesReturned, state: State, at: datetime) -> str:
    return _each(state, fact.pouches, _must_be_aside)


def _must_be_aside(state: State, pouch: Pouch) -> str:
    if not pouch.aside:
        return f"Pouch {pouch.number} is not set aside."
    if pouch.emptied:
        return f"Pouch {pouch.number} was emptied. Fill a new one."
    session = _session(state)
    line = session.plan.line(pouch.line) if session.plan is not None else None
    if line is not None and len(session.working_pouches(pouch.line)) >= line.count:
        return f"All {line.count} planned pouches are there already. Plan more first."
    return ""


@_objection.register
def _(fact: f.SessionClosed, state: State, at: datetime) -> str:
    open_rounds = [r for r in _session(state).rounds.values() if r.left]
    if open_rounds:
        return f"Round {open_rounds[0].round} has absorbers lying open. Shut them up first."
    return ""


# At any time --------------------------------------------------------------------------------------


@_objection.register
def _(fact: f.CountTaken, state: State, at: datetime) -> str:
    return "" if fact.counted >= 0 else "A count is zero or more."


@_objection.register
def _(fact: f.AlarmRang, state: State, at: datetime) -> str:
    return ""


@_objection.register
def _(fact: f.AlarmSilenced, state: State, at: datetime) -> str:
    known = _session(state).alarms
    return "" if any(clock in known for clock in fact.clocks) else "No alarm is ringing."


@_objection.register
def _(fact: f.NoteAdded, state: State, at: datetime) -> str:
    return "" if fact.text.strip() else "Write the note first."


@_objection.register
def _(fact: f.FactVoided, state: State, at: datetime) -> str:
    return "" if fact.targets else "Name the entry that does not count."


# Shared looks at pouches --------------------------------------------------------------------------


def _found(state: State, numbers: Iterable[int]) -> list[Pouch]:
    pouches = _session(state).pouches
    return [pouches[number] for number in numbers if number in pouches]


def _each(state: State, numbers: tuple[int, ...], rule: PouchRule) -> str:
    """The first objection that `rule` has to any of the pouches; unknown numbers object too."""
    if not numbers or len(set(numbers)) != len(numbers):
        return "Say which pouches, each once."
    missing = [number for number in numbers if number not in _session(state).pouches]
    if missing:
        return f"{listed(missing)} not filled yet."
    return next((words for p in _found(state, numbers) if (words := rule(state, p))), "")


def _must_be_open(state: State, pouch: Pouch) -> str:
    if pouch.aside:
        return f"Pouch {pouch.number} is set aside. Bring it back first."
    if pouch.sealed is not None:
        return f"Pouch {pouch.number} is already sealed."
    if pouch.shut is not None:
        return f"Pouch {pouch.number} is already shut. Undo first, if that was wrong."
    return ""


def _must_have_absorbers(state: State, pouch: Pouch) -> str:
    session = _session(state)
    line = session.plan.line(pouch.line) if session.plan is not None else None
    if line is not None and line.absorbers_cc and not pouch.placed:
        return f"Pouch {pouch.number} has no absorber yet. Drop it in first."
    return ""


def _not_before(at: datetime, earliest: datetime, what: str) -> str:
    return f"That would be before {what}. Check the time." if at < earliest else ""
