"""The work of cold treatment and thaw equilibration: keep the lids on, know what the core does."""

from __future__ import annotations

from datetime import timedelta

from packdesk.instants import Reading, day_and_time, local, time_of_day
from packdesk.present.cards import Control, WorkCard
from packdesk.present.cautions import COLD_CAUTION
from packdesk.present.chosen import Chosen
from packdesk.present.clock_rows import between
from packdesk.present.elsewhere import elsewhere
from packdesk.present.load_view import short_food, unfrozen_g
from packdesk.present.measures import Measures
from packdesk.present.path import lots_without_cold
from packdesk.session.clocks import Clock, ClockKind, Standing, running, standing
from packdesk.session.commands import UncoverLoad
from packdesk.session.decide_cold import next_letter
from packdesk.session.state import BookState, Load, SessionState
from packdesk.session.terms import LidRule, Stage
from packdesk.units import NO_BREAK_SPACE

LOADING_DAY = timedelta(hours=24)


def cold_card(book: BookState, session: SessionState, chosen: Chosen, now: Reading) -> WorkCard:
    """Say the work at the freezer."""
    waiting = lots_without_cold(session)
    cooling = [load for load in session.loads.values() if load.taken_out is None]
    if session.plan is None:
        return elsewhere(
            Stage.COLD_TREATMENT,
            "Agree the plan first; it says what goes into the freezer.",
            Stage.BEFORE,
        )
    freeze = Control(
        f"Load {next_letter(session)} is in the freezer",
        "Space bar, once the lid is shut",
        icon="cold",
        form="freeze",
    )
    readings = Control("Note a reading", icon="probe", key="R", form="reading")
    take_out = _take_out(session, cooling, chosen, now)
    begun = _begun_lot(book, session, now)
    if begun and not _any_due(session, now):
        lot = book.lots[begun]
        return WorkCard(
            stage=Stage.COLD_TREATMENT,
            sentence=(
                f"Put the rest of the {short_food(lot.food_name)} of lot {lot.lot} into the "
                "freezer, in a closed pail of its own."
            ),
            main=freeze,
            seconds=(readings, take_out),
            evidence=("Each pail is a load with clocks of its own.",),
            caution=COLD_CAUTION,
        )
    if waiting and not _any_due(session, now):
        lot = book.lots[waiting[0]]
        return WorkCard(
            stage=Stage.COLD_TREATMENT,
            sentence=(
                f"Put {short_food(lot.food_name)} of lot {lot.lot} into the freezer, "
                "in a closed pail."
            ),
            main=freeze,
            seconds=(readings, _bypass()) if cooling else (_bypass(),),
            evidence=("The hold counts from when the core is cold, not from the freezer door.",),
            caution=COLD_CAUTION,
        )
    if not cooling:
        return elsewhere(
            Stage.COLD_TREATMENT,
            "No load is in the freezer.",
            Stage.THAW_EQUILIBRATION,
            (_another(freeze), _bypass()),
        )
    load = chosen_load(cooling, chosen, session, now)
    found = _clock(session, load, ClockKind.COLD, now)
    if found is not None and found[1].due:
        return WorkCard(
            stage=Stage.COLD_TREATMENT,
            sentence=f"Take load {load.load} out, lid on: it is cold enough.",
            main=take_out,
            seconds=(readings, _another(freeze)),
            evidence=_cold_evidence(load, now, Measures(session.units)),
            caution=COLD_CAUTION,
        )
    return WorkCard(
        stage=Stage.COLD_TREATMENT,
        sentence=f"Keep the lids on. Load {load.load} is cold enough {_about(found, now)}.",
        main=Control(
            "Note a reading", "Space bar, or type the figure", icon="probe", form="reading",
        ),
        seconds=(take_out, _another(freeze)),
        evidence=_cold_evidence(load, now, Measures(session.units)),
    )  # fmt: skip


def thaw_card(session: SessionState, chosen: Chosen, now: Reading) -> WorkCard:
    """Say the work at the warming pails."""
    warming = [
        load
        for load in session.loads.values()
        if load.taken_out is not None and load.uncovered is None
    ]
    if not warming:
        if any(load.uncovered is not None for load in session.loads.values()):
            return elsewhere(
                Stage.THAW_EQUILIBRATION, "Every load is open and ready to fill.", Stage.FILLING
            )
        return elsewhere(
            Stage.THAW_EQUILIBRATION,
            "No load is warming. Loads come here from the freezer.",
            Stage.COLD_TREATMENT,
        )
    load = chosen_load(warming, chosen, session, now)
    measures = Measures(session.units)
    assert load.thaw is not None, "a load taken out has a thaw forecast"
    found = _clock(session, load, ClockKind.THAW, now)
    ready = found is not None and found[1].due
    limit = measures.temperature(load.thaw.open_above_c)
    why = (
        f"Above {limit} no dew settles on the food."
        if load.thaw.rule is LidRule.DEW_POINT
        else f"With no humidity read, the food should be within 3 K (5 °F) of the room: {limit}."
    )
    open_it = Control(
        f"Load {load.load} is open",
        "Space bar" if ready else "",
        icon="lid",
        command=UncoverLoad(load.load) if ready else None,
        form="" if ready else "early",
        missing="" if ready else f"Not yet: lid off from {_about(found, now, short=True)}",
    )
    sentence = (
        f"Wipe the lid and rim of load {load.load} dry, then open it."
        if ready
        else f"Keep the lid on load {load.load} until {_about(found, now)}."
    )
    return WorkCard(
        stage=Stage.THAW_EQUILIBRATION,
        sentence=sentence,
        main=open_it,
        seconds=(
            Control("Room reading", icon="probe", key="R", form="room", act="Note the room"),
            Control(
                "Open it early", icon="lid", key="E", form="early", act=f"Load {load.load} is open"
            ),
        ),
        evidence=(why, "Never open a warming load to measure it."),
    )


def chosen_load(loads: list[Load], chosen: Chosen, session: SessionState, now: Reading) -> Load:
    """The load picked, or the one that is due first."""
    picked = next((load for load in loads if load.load == chosen.load), None)
    if picked is not None:
        return picked
    remaining = {
        clock.subject: standing(clock, now).remaining_s
        for clock in running(session)
        if clock.kind in (ClockKind.COLD, ClockKind.THAW)
    }
    return min(loads, key=lambda load: remaining.get(load.load, float("inf")))


def _take_out(session: SessionState, cooling: list[Load], chosen: Chosen, now: Reading) -> Control:
    if not cooling:
        return Control("Take a load out", icon="lid", missing="No load is in the freezer")
    load = chosen_load(cooling, chosen, session, now)
    found = _clock(session, load, ClockKind.COLD, now)
    due = found is not None and found[1].due
    return Control(
        f"Load {load.load} is out",
        "Space bar, with the room typed in" if due else "",
        icon="lid",
        key="O",
        form="take_out",
        missing="" if due else f"from {_about(found, now, short=True)}",
    )


def _another(freeze: Control) -> Control:
    return Control("Freeze a load", icon="cold", key="L", form=freeze.form, act=freeze.label)


def _bypass() -> Control:
    return Control(
        "Needs no cold", icon="aside", key="B", form="bypass", act="This lot needs no cold"
    )


def next_to_freeze(book: BookState, session: SessionState, now: Reading) -> str:
    """The lot whose turn it is at the freezer; empty when nothing is left outside."""
    waiting = lots_without_cold(session)
    return _begun_lot(book, session, now) or (waiting[0] if waiting else "")


def _begun_lot(book: BookState, session: SessionState, now: Reading) -> str:
    """The lot of the load put in last, while much of it is still outside; else empty.

    Only on the day of the loading: whoever leaves the rest out after that means to.
    """
    if not session.loads or session.plan is None:
        return ""
    last = list(session.loads.values())[-1]
    fills_g = [line.fill_mass_g for line in session.plan.lines if line.lot == last.lot]
    recent = last.taken_out is None and now.utc - last.frozen.utc < LOADING_DAY
    rest_g = unfrozen_g(session, book, last.lot)
    return last.lot if recent and fills_g and rest_g >= max(fills_g) else ""


def _any_due(session: SessionState, now: Reading) -> bool:
    return any(
        clock.kind is ClockKind.COLD and standing(clock, now).due for clock in running(session)
    )


def _clock(
    session: SessionState, load: Load, kind: ClockKind, now: Reading
) -> tuple[Clock, Standing] | None:
    for clock in running(session):
        if clock.kind is kind and clock.subject == load.load:
            return clock, standing(clock, now)
    return None


def _about(found: tuple[Clock, Standing] | None, now: Reading, *, short: bool = False) -> str:
    """When a load is due, by the same time of day that its clock shows."""
    if found is None:
        return "no time within ten days" if short else "no time that can be foreseen"
    due = found[1].due_at
    today = local(due, now.utc_offset_min).date() == local(now.utc, now.utc_offset_min).date()
    words = (time_of_day if today else day_and_time)(due, now.utc_offset_min)
    words = words.replace(" ", NO_BREAK_SPACE)
    return words if short else f"about {words}"


def _cold_evidence(load: Load, now: Reading, measures: Measures) -> tuple[str, ...]:
    forecast = load.forecast
    treat = measures.temperature(forecast.treat_c)
    if forecast.cold_from is None:
        return (
            f"With the freezer as it is the core does not reach {treat}.",
            "Set the freezer colder or take other loads out.",
        )
    if forecast.hold_done is None:
        return (f"The core reaches {treat} {between(forecast.cold_from, now)}.",)
    return (
        f"{forecast.hold_h:.0f} h at the core are complete {between(forecast.hold_done, now)}.",
    )
