"""Decisions about loads: freezing, which rule governs, taking out, uncovering.

The heat calculation is imported inside the rules that need it, so that the window can open
before numpy is loaded.
"""

from __future__ import annotations

import string
from dataclasses import replace

from packdesk.instants import Reading
from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.admit import objection
from packdesk.session.admit.cold import no_such_load
from packdesk.session.case import Case, Refused
from packdesk.session.decide import facts_of, the_session
from packdesk.session.fact import Fact
from packdesk.session.figures import ColdForecast, FreezerOutlook, LoadOutlook
from packdesk.session.load import Load
from packdesk.session.load_story import as_if, story
from packdesk.session.packing_room import known_room_c
from packdesk.session.state import SessionState
from packdesk.session.temperatures import no_such_food, no_such_rest, no_such_room


def next_letter(session: SessionState) -> str:
    """Name the next load: A to Z, then AA, AB and so on."""
    letters = string.ascii_uppercase
    names: list[str] = [*letters, *(first + second for first in letters for second in letters)]
    return next(name for name in names if name not in session.loads)


def the_load(case: Case, letter: str) -> Load:
    """The load of this letter; refused when there is none."""
    session = the_session(case)
    load = session.loads.get(letter)
    if load is None:
        raise Refused(no_such_load(session, letter))
    return load


def possible(words: str) -> None:
    """Refuse what no thermometer shows before any heat is reckoned with it."""
    if words:
        raise Refused(words)


@facts_of.register
def _(command: c.FreezeLoad, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    lot = case.state.book.lots.get(command.lot)
    if lot is None:
        raise Refused(f"Lot {command.lot} is not in the book. Receive it first.")
    possible(no_such_food(command.figures.start_temp_c, session.units))
    possible(no_such_rest(command.figures.freezer_temp_c, session.units))
    from packdesk.session import freezer_air, outlooks

    load = Load(
        load=next_letter(session),
        lot=command.lot,
        food_name=lot.food_name,
        container=command.container,
        container_name=command.container_name,
        mass_g=command.mass_g,
        figures=command.figures,
        frozen=Reading(case.when.at, case.now.utc_offset_min, 0.0, ""),
        forecast=ColdForecast(
            treat_c=command.treat_c,
            hold_h=command.hold_h,
            cold_from=None,
            hold_done=None,
            core_now_c=command.figures.start_temp_c,
        ),
    )
    with_it = as_if(session, load)
    beside = outlooks.neighbours(session, load, case.when.at)
    renewed = outlooks.cold_outlooks(with_it, beside, case.when.at)
    number = load.figures.freezer
    freezer = None
    if load.figures.spare_power_w is not None:
        freezer = freezer_air.freezer_outlook(with_it, number, case.when.at)
    load = replace(load, forecast=outlooks.cold_of(with_it, load, case.when.at))
    question = _asked_of(case, load, renewed, freezer)
    if question and not command.confirmed:
        raise Refused(question, question=True)
    return (
        f.LoadFrozen(
            load=load.load,
            lot=load.lot,
            food_name=load.food_name,
            container=load.container,
            container_name=load.container_name,
            mass_g=load.mass_g,
            figures=load.figures,
            forecast=load.forecast,
            outlooks=renewed,
            freezer=freezer,
            confirmed=bool(question),
        ),
    )


def _asked_of(
    case: Case, load: Load, renewed: tuple[LoadOutlook, ...], freezer: FreezerOutlook | None
) -> str:
    """What is to be asked before a load goes in."""
    from packdesk.session import cold_questions, freezer_air

    session = the_session(case)
    known = {each.load: each.cold for each in renewed}
    later = replace(
        session,
        loads={
            letter: replace(each, forecast=known.get(letter) or each.forecast)
            for letter, each in session.loads.items()
        },
    )
    before = None
    if freezer is not None:
        before = freezer_air.freezer_outlook(session, freezer.freezer, case.when.at)
    return (
        cold_questions.height_question(load, session.units)
        or cold_questions.never_cold_question(load, session)
        or cold_questions.said_question(load, session, known_room_c(session))
        or cold_questions.heat_question(
            load, session, later, renewed, (before, freezer), case.now.utc_offset_min
        )
    )


def freezing_question(case: Case, command: c.FreezeLoad) -> str:
    """What would be asked if `command` were given now; empty if nothing."""
    try:
        facts_of(replace(command, confirmed=False), case)
    except Refused as refused:
        return refused.refusal.sentence if refused.refusal.question else ""
    return ""


@facts_of.register
def _(command: c.ChooseColdRule, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.ColdRuleChosen(rule=command.rule),)


@facts_of.register
def _(command: c.BypassCold, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.LotBypassedCold(lot=command.lot, reason=command.reason.strip()),)


@facts_of.register
def _(command: c.TakeLoadOut, case: Case) -> tuple[Fact, ...]:
    from packdesk.session import cold_questions, freezer_air, outlooks
    from packdesk.session.forecast import cold_if_out, thaw_forecast

    session = the_session(case)
    load = the_load(case, command.load)
    possible(no_such_room(command.room_c, command.room_relative_humidity, session.units))
    told = story(session, load)
    lasted_until = case.at_least_since(load.frozen)
    cold = cold_if_out(told, lasted_until, command.room_c, load.forecast.treat_c)
    out = Reading(case.when.at, case.now.utc_offset_min, 0.0, "")
    without = as_if(session, replace(load, taken_out=out))
    beside = outlooks.neighbours(session, load, case.when.at)
    question = cold_questions.room_question(known_room_c(session), command.room_c, session.units)
    found = (
        f.LoadTakenOut(
            load=load.load,
            held_h=cold.held_h,
            needed_h=load.forecast.hold_h,
            reason=command.reason.strip(),
            forecast=thaw_forecast(
                told.taken_out(case.when.at, command.room_c),
                case.when.at,
                command.room_c,
                command.room_relative_humidity,
            ),
            rule=session.cold_rule,
            dose=cold.dose,
            dose_stage=cold.dose_stage,
            outlooks=outlooks.cold_outlooks(without, beside, case.when.at),
            freezer=(
                freezer_air.freezer_outlook(without, load.figures.freezer, case.when.at)
                if load.figures.spare_power_w is not None
                else None
            ),
            confirmed=bool(question),
        ),
    )
    admitted = not objection(case.state, found[0], case.when.at)
    if question and admitted and not command.confirmed:  # what it lacks is asked for first
        raise Refused(question, question=True)
    return found


@facts_of.register
def _(command: c.UncoverLoad, case: Case) -> tuple[Fact, ...]:
    from packdesk.session.forecast import coldest_c

    session = the_session(case)
    load = the_load(case, command.load)
    if load.thaw is None or load.taken_out is None:
        raise Refused(f"Load {load.load} is still in the freezer. Take it out first, lid on.")
    return (
        f.LoadUncovered(
            load=load.load,
            core_c=coldest_c(story(session, load), case.at_least_since(load.taken_out)),
            open_above_c=load.thaw.open_above_c,
            reason=command.reason.strip(),
        ),
    )
