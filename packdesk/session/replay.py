"""The command that leads to recorded facts again: how a session file is rehearsed.

Only what a person decided is taken from the facts; every figure is worked out anew, so that a
rehearsal shows whether today's program comes to the same record.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import singledispatch
from uuid import UUID

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.fact import Fact


def command_of(act: Sequence[Fact], ids: Mapping[UUID, UUID] | None = None) -> c.Command | None:
    """Find the command behind the facts of one act; None for what the program does by itself.

    `ids` leads from the recorded identities to those the rehearsal gave, for voidings.
    """
    first = act[0]
    if not first.by_person:
        return None
    command = _command(first, act)
    if isinstance(command, c.VoidFact) and ids is not None:
        new = [ids.get(target, target) for target in (command.target, *command.along)]
        command = replace(command, target=new[0], along=tuple(new[1:]))
    return command


def offset_of(act: Sequence[Fact]) -> int | None:
    """The local offset (min) an act was said with, where it was another than when it was noted."""
    filled = (fact.utc_offset_min for fact in act if isinstance(fact, f.PouchesFilled))
    return next(filled, None)


@singledispatch
def _command(first: Fact, act: Sequence[Fact]) -> c.Command | None:
    raise TypeError(f"no command leads to {type(first).__name__}")


@_command.register
def _(first: f.SessionOpened, act: Sequence[Fact]) -> c.Command:
    return c.OpenSession(first.name, first.units, first.code)


@_command.register
def _(first: f.LotReceived, act: Sequence[Fact]) -> c.Command:
    return c.ReceiveLot(
        first.food, first.food_name, first.mass_g, first.supplier_lot, first.verdict, first.seen
    )


@_command.register
def _(first: f.LotLookedAt, act: Sequence[Fact]) -> c.Command:
    return c.LookAtLot(first.lot, first.verdict, first.seen)


@_command.register
def _(first: f.PlanAgreed, act: Sequence[Fact]) -> c.Command:
    if returned := next((fact for fact in act if isinstance(fact, f.PouchesReturned)), None):
        return c.ReturnPouches(returned.pouches)
    return c.AgreePlan(
        first.lines, first.numbered, first.elevation_m, first.packing_temp_c, first.pack_at
    )


@_command.register
def _(first: f.LoadFrozen, act: Sequence[Fact]) -> c.Command:
    return c.FreezeLoad(
        first.lot,
        first.container,
        first.container_name,
        first.mass_g,
        first.figures,
        first.forecast.treat_c,
        first.forecast.hold_h,
        confirmed=True,
    )


@_command.register
def _(first: f.LotBypassedCold, act: Sequence[Fact]) -> c.Command:
    return c.BypassCold(first.lot, first.reason)


@_command.register
def _(first: f.CoreRead, act: Sequence[Fact]) -> c.Command:
    return c.NoteCoreReading(first.load, first.temp_c, first.probe, confirmed=True)


@_command.register
def _(first: f.FreezerRead, act: Sequence[Fact]) -> c.Command:
    return c.NoteFreezerReading(first.temp_c, first.freezer, confirmed=True)


@_command.register
def _(first: f.ColdRuleChosen, act: Sequence[Fact]) -> c.Command:
    return c.ChooseColdRule(first.rule)


@_command.register
def _(first: f.LoadTakenOut, act: Sequence[Fact]) -> c.Command:
    thaw = first.forecast
    return c.TakeLoadOut(
        first.load, thaw.room_c, thaw.room_relative_humidity, first.reason, confirmed=True
    )


@_command.register
def _(first: f.RoomRead, act: Sequence[Fact]) -> c.Command:
    return c.NoteRoomReading(first.temp_c, first.relative_humidity, confirmed=True)


@_command.register
def _(first: f.LoadUncovered, act: Sequence[Fact]) -> c.Command:
    return c.UncoverLoad(first.load, first.reason)


@_command.register
def _(first: f.PouchesFilled, act: Sequence[Fact]) -> c.Command:
    net_g, tare_g = first.net_mass_g, first.tare_g
    tared = net_g is not None and tare_g is not None
    return c.FillPouches(
        first.line,
        len(first.pouches),
        None if tared else net_g,
        shown_g=round((net_g or 0.0) + (tare_g or 0.0), 3) if tared else None,
        confirmed=first.confirmed,
        loads=first.loads,
    )


@_command.register
def _(first: f.EmptyPouchWeighed, act: Sequence[Fact]) -> c.Command:
    return c.WeighEmptyPouch(first.pouch, first.tare_g)


@_command.register
def _(first: f.FoodLost, act: Sequence[Fact]) -> c.Command:
    return c.NoteFoodLost(first.line, first.mass_g, first.reason)


@_command.register
def _(first: f.ReadyChecked, act: Sequence[Fact]) -> c.Command:
    return c.CheckReady(first.checked, first.hands)


@_command.register
def _(first: f.PacketOpened, act: Sequence[Fact]) -> c.Command:
    return c.OpenPacket(
        first.absorber,
        first.rating_cc,
        first.count,
        first.condition,
        _room_c(act),
        first.indicator,
        first.feel,
    )


def _room_c(act: Sequence[Fact]) -> float:
    """The room's temperature in which the round of an act was started; any, where none was."""
    return next((fact.room_c for fact in act if isinstance(fact, f.RoundStarted)), 0.0)


@_command.register
def _(first: f.RemainderTaken, act: Sequence[Fact]) -> c.Command:
    return c.TakeRemainder(first.remainder, _room_c(act))


@_command.register
def _(first: f.AbsorbersPlaced, act: Sequence[Fact]) -> c.Command:
    shut = any(isinstance(fact, (f.PouchesShut, f.PouchesSealed)) for fact in act)
    return c.PlaceAbsorbers(
        line=0,
        count=len(first.pouches),
        pouches=first.pouches,
        first_at=first.first_at,
        shut=shut,
        round=first.round,
        each=first.each,
    )


@_command.register
def _(first: f.PouchesShut, act: Sequence[Fact]) -> c.Command:
    return c.ShutPouches(first.pouches)


@_command.register
def _(first: f.RemainderShut, act: Sequence[Fact]) -> c.Command:
    return c.ShutRemainder(first.round, first.count, first.vessel, first.place)


@_command.register
def _(first: f.PouchesReopened, act: Sequence[Fact]) -> c.Command:
    return c.ReopenPouches(first.pouches, first.reason)


@_command.register
def _(first: f.AbsorbersFelt, act: Sequence[Fact]) -> c.Command:
    return c.FeelAbsorbers(first.round, first.without)


@_command.register
def _(first: f.PouchesSwapped, act: Sequence[Fact]) -> c.Command:
    return c.SwapPouches(first.first, first.second)


@_command.register
def _(first: f.PouchesSealed, act: Sequence[Fact]) -> c.Command:
    return c.SealPouches(first.pouches, first.seams, first.gap_left, first.against_advice)


@_command.register
def _(first: f.AirDrawnOff, act: Sequence[Fact]) -> c.Command:
    return c.DrawOffAir(first.pouches)


@_command.register
def _(first: f.LabelsMade, act: Sequence[Fact]) -> c.Command:
    return c.NoteLabelsMade(
        first.pouches,
        first.stock,
        first.first_cell,
        first.next_cell,
        first.reprint,
        first.line,
        first.file,
        first.remarks,
    )


@_command.register
def _(first: f.LabelsPrinted, act: Sequence[Fact]) -> c.Command:
    used = next((fact.cells for fact in act if isinstance(fact, f.StockSheetUsed)), 0)
    return c.NoteLabelsPrinted(first.pouches, first.stock, first.first_cell, used, first.reprint)


@_command.register
def _(first: f.NumberLabelsPrinted, act: Sequence[Fact]) -> c.Command:
    used = next((fact.cells for fact in act if isinstance(fact, f.StockSheetUsed)), 0)
    return c.NoteNumberLabels(
        first.line, first.pouches, first.stock, first.first_cell, used, first.reprint
    )


@_command.register
def _(first: f.PouchesStowed, act: Sequence[Fact]) -> c.Command:
    return c.StowPouches(first.pail, first.pouches)


@_command.register
def _(first: f.PailLidded, act: Sequence[Fact]) -> c.Command:
    return c.LidPail(first.pail)


@_command.register
def _(first: f.PailOpened, act: Sequence[Fact]) -> c.Command:
    return c.OpenPail(first.pail)


@_command.register
def _(first: f.SealChecked, act: Sequence[Fact]) -> c.Command:
    return c.CheckSeals(first.pouches, first.verdict)


@_command.register
def _(first: f.PouchesSetAside, act: Sequence[Fact]) -> c.Command:
    return c.SetAside(first.pouches, first.reason, first.emptied)


@_command.register
def _(first: f.PouchesReturned, act: Sequence[Fact]) -> c.Command:
    return c.ReturnPouches(first.pouches)


@_command.register
def _(first: f.SessionClosed, act: Sequence[Fact]) -> c.Command:
    return c.CloseSession(first.remark, confirmed=True)


@_command.register
def _(first: f.CountTaken, act: Sequence[Fact]) -> c.Command:
    return c.TakeCount(first.line, first.what, first.counted)


@_command.register
def _(first: f.NoteAdded, act: Sequence[Fact]) -> c.Command:
    return c.AddNote(first.text)


@_command.register
def _(first: f.FactVoided, act: Sequence[Fact]) -> c.Command:
    if first.mistap:
        return c.UndoLast()
    targets = [target for fact in act if isinstance(fact, f.FactVoided) for target in fact.targets]
    return c.VoidFact(targets[0], first.reason, tuple(targets[1:]))
