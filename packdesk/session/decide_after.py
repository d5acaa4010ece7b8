"""Decisions about pails, seal checks, pouches set aside, counts, notes and alarms."""

from __future__ import annotations

from collections import Counter

from msgspec.structs import replace

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.case import Case, Refused
from packdesk.session.decide import facts_of, the_session
from packdesk.session.fact import Fact
from packdesk.session.net_mass import net_mass_g
from packdesk.session.tally import counted_as, tally
from packdesk.session.terms import PouchStage


@facts_of.register
def _(command: c.StowPouches, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    if not command.pail.strip():
        raise Refused("Give the pail a number or a name.")
    return (f.PouchesStowed(pail=command.pail.strip(), pouches=command.pouches),)


@facts_of.register
def _(command: c.LidPail, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    pail = session.pails.get(command.pail)
    net_g = 0.0
    for number in pail.pouches if pail is not None else ():
        pouch = session.pouches[number]
        line = session.plan.line(pouch.line) if session.plan is not None else None
        net_g += net_mass_g(session, line, pouch) if line is not None else 0.0
    return (f.PailLidded(pail=command.pail, net_mass_g=round(net_g, 1)),)


@facts_of.register
def _(command: c.OpenPail, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.PailOpened(pail=command.pail),)


@facts_of.register
def _(command: c.CheckSeals, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    return (
        f.SealChecked(session=session.session, pouches=command.pouches, verdict=command.verdict),
    )


@facts_of.register
def _(command: c.SetAside, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (
        f.PouchesSetAside(
            pouches=command.pouches, emptied=command.emptied, reason=command.reason.strip()
        ),
    )


@facts_of.register
def _(command: c.ReturnPouches, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    returned = f.PouchesReturned(pouches=command.pouches)
    plan = session.plan
    if plan is None:
        return (returned,)
    coming = Counter(p.line for n in command.pouches if (p := session.pouches.get(n)) is not None)
    lines = tuple(
        replace(line, count=max(line.count, len(session.working_pouches(line.line)) + back))
        if (back := coming.get(line.line, 0))
        else line
        for line in plan.lines
    )
    if lines == plan.lines:
        return (returned,)
    # Others were filled in their place: the plan makes room, and one press takes both back.
    return (
        f.PlanAgreed(
            lines=lines,
            numbered=plan.numbered,
            elevation_m=plan.elevation_m,
            packing_temp_c=plan.packing_temp_c,
            pack_at=plan.pack_at,
        ),
        returned,
    )


@facts_of.register
def _(command: c.TakeCount, case: Case) -> tuple[Fact, ...]:
    line = tally(the_session(case), command.line)
    if line is None:
        raise Refused("Agree a plan with this food first.")
    if command.what not in set(PouchStage):
        known = ", ".join(stage.value for stage in PouchStage)
        raise Refused(f"Count one of: {known}.")
    tallied = counted_as(line, PouchStage(command.what))
    return (
        f.CountTaken(
            line=command.line,
            what=command.what,
            counted=command.counted,
            tallied=tallied,
            food_name=line.line.food_name,
        ),
    )


@facts_of.register
def _(command: c.RingAlarm, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.AlarmRang(clock=command.clock, due_at=command.due_at, late_s=command.late_s),)


@facts_of.register
def _(command: c.NoteClockSet, case: Case) -> tuple[Fact, ...]:
    return (f.WallClockSet(by_s=command.by_s, session=case.noted_in),)


@facts_of.register
def _(command: c.SilenceAlarm, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.AlarmSilenced(clocks=command.clocks),)


@facts_of.register
def _(command: c.AddNote, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.NoteAdded(text=command.text.strip()),)
