"""The work of cold treatment: keep the lids on, know what the core does."""

from __future__ import annotations

from datetime import timedelta

from packdesk.instants import Reading
from packdesk.present.cards import Control, WorkCard
from packdesk.present.cautions import COLD_CAUTION
from packdesk.present.chosen import Chosen
from packdesk.present.cold_evidence import cold_evidence
from packdesk.present.elsewhere import elsewhere
from packdesk.present.load_due import about, chosen_load, clock_of
from packdesk.present.load_view import short_food, unfrozen_g
from packdesk.present.measures import Measures
from packdesk.present.path import lots_without_cold
from packdesk.session.book_state import BookState
from packdesk.session.clocks import Clock, ClockKind, Standing, running, standing
from packdesk.session.decide_cold import next_letter
from packdesk.session.load import Load
from packdesk.session.state import SessionState
from packdesk.session.terms import Stage

READING_TITLE = "Type what the thermometer shows, and say where it was."
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
    readings = Control("Note a reading", icon="probe", key="R", form="reading", title=READING_TITLE)
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
            seconds=(readings, take_out, _bypass()) if cooling else (_bypass(),),
            evidence=("The hold counts from when the core is cold, not from the freezer door.",),
            caution=COLD_CAUTION,
        )
    if not cooling:
        none = not session.loads
        return elsewhere(
            Stage.COLD_TREATMENT,
            "Every lot goes without the cold." if none else "No load is in the freezer.",
            Stage.FILLING if none else Stage.THAW_EQUILIBRATION,
            (_another(freeze), _bypass()),
        )
    load = chosen_load(cooling, chosen, session, now)
    found = clock_of(session, load, ClockKind.COLD, now)
    if found is not None and found[1].due:
        return WorkCard(
            stage=Stage.COLD_TREATMENT,
            sentence=f"Take load {load.load} out, lid on: it is cold enough.",
            main=take_out,
            seconds=(readings, _another(freeze)),
            evidence=cold_evidence(session, load, now, Measures(session.units)),
            caution=COLD_CAUTION,
        )
    due = (
        f"is cold enough {about(found, now)}"
        if found is not None
        else "does not get cold enough in this freezer within ten days"
    )
    return WorkCard(
        stage=Stage.COLD_TREATMENT,
        sentence=f"Keep the lids on. Load {load.load} {due}.",
        main=Control(
            "Note a reading", "Space bar, or type the figure", icon="probe", form="reading",
            title=READING_TITLE,
        ),
        seconds=(take_out, _another(freeze)),
        evidence=cold_evidence(session, load, now, Measures(session.units)),
    )  # fmt: skip


def _take_out(session: SessionState, cooling: list[Load], chosen: Chosen, now: Reading) -> Control:
    if not cooling:
        return Control("Take a load out", icon="lid", missing="No load is in the freezer")
    load = chosen_load(cooling, chosen, session, now)
    found = clock_of(session, load, ClockKind.COLD, now)
    due = found is not None and found[1].due
    return Control(
        f"Load {load.load} is out",
        "Space bar, with the room typed in" if due else "",
        icon="lid",
        key="O",
        form="take_out",
        missing="" if due else _not_due(found, now),
        title="" if due else f"Take load {load.load} out before its time: say why.",
    )


def _not_due(found: tuple[Clock, Standing] | None, now: Reading) -> str:
    """From when on a load may come out without a reason; in few words, beside its control."""
    return f"from {about(found, now, short=True)}" if found is not None else "no end in sight"


def _another(freeze: Control) -> Control:
    return Control(
        "Freeze a load",
        icon="cold",
        key="L",
        form=freeze.form,
        act=freeze.label,
        title="Shut one more pail, put it into the freezer and say what is in it.",
    )


def _bypass() -> Control:
    return Control(
        "Needs no cold",
        icon="aside",
        key="B",
        form="bypass",
        act="This lot needs no cold",
        title="Say which lot goes without the cold, and why.",
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
