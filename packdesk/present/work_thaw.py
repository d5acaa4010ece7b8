"""The work of thaw equilibration: when the lid comes off, why then, and what to do then."""

from __future__ import annotations

from dataclasses import replace

from packdesk.instants import Reading
from packdesk.present.cards import Control, WorkCard
from packdesk.present.cautions import THAW_CAUTION
from packdesk.present.chosen import Chosen
from packdesk.present.clock_rows import between
from packdesk.present.elsewhere import elsewhere
from packdesk.present.load_due import about, chosen_load, clock_of
from packdesk.present.measures import Measures
from packdesk.present.path import lots_without_cold
from packdesk.sentences import capital
from packdesk.session.clocks import ClockKind
from packdesk.session.commands import UncoverLoad
from packdesk.session.figures import ThawForecast
from packdesk.session.load import Load
from packdesk.session.state import SessionState
from packdesk.session.terms import LidRule, Stage

NEVER_OPEN = "Never open a warming load for a reading: read the room instead, and this moves."
THEN = "Then wipe the outside and the rim dry before the lid comes off."


def thaw_card(session: SessionState, chosen: Chosen, now: Reading) -> WorkCard:
    """Say the work at the warming pails."""
    warming = [
        load
        for load in session.loads.values()
        if load.taken_out is not None and load.uncovered is None
    ]
    if not warming:
        return _nothing_warms(session)
    load = chosen_load(warming, chosen, session, now)
    assert load.thaw is not None, "a load taken out has a thaw forecast"
    measures = Measures(session.units)
    found = clock_of(session, load, ClockKind.THAW, now)
    ready = found is not None and found[1].due
    waits = "no end in sight"
    if found is not None:
        waits = f"lid off from {about(found, now, short=True)}"
    open_it = Control(
        f"Load {load.load} is open",
        "Space bar" if ready else "",
        icon="lid",
        command=UncoverLoad(load.load) if ready else None,
        form="open" if ready else "early",
        missing="" if ready else f"Not yet: {waits}",
    )
    if ready:
        sentence = f"Wipe load {load.load} and its rim dry, then open it."
    elif found is None:
        sentence = f"Keep the lid on load {load.load}: in this room it does not get warm enough."
    else:
        sentence = f"Keep the lid on load {load.load} until {about(found, now)}."
    reading = Control(
        "Note a reading", icon="probe", key="R", form="reading", act="Note the reading"
    )
    early = Control(
        "Open it early",
        icon="lid",
        key="E",
        form="early",
        act=f"Load {load.load} is open",
        title=f"Open load {load.load} before its time: say why.",
    )
    return WorkCard(
        stage=Stage.THAW_EQUILIBRATION,
        sentence=sentence,
        main=open_it,
        seconds=(reading,) if ready else (reading, early),
        evidence=_ready(load.thaw, measures) if ready else _waits(load, load.thaw, measures, now),
        caution=THAW_CAUTION,
        short=f"Load {load.load}: wipe it dry, open it." if ready else "",
    )


def _nothing_warms(session: SessionState) -> WorkCard:
    opened = [load for load in session.loads.values() if load.uncovered is not None]
    if not session.loads and session.plan is not None and not lots_without_cold(session):
        return elsewhere(
            Stage.THAW_EQUILIBRATION, "No lot went through the cold; none warms.", Stage.FILLING
        )
    if not opened:
        return elsewhere(
            Stage.THAW_EQUILIBRATION,
            "No load is warming. Loads come here from the freezer.",
            Stage.COLD_TREATMENT,
        )
    inside = [load.load for load in session.loads.values() if load.taken_out is None]
    still = f"{_loads(inside)} {'are' if len(inside) > 1 else 'is'} still in the cold."
    sentence = "Every load is open and ready to fill."
    if inside:
        sentence = f"What is out is open and ready to fill; {still}"
    card = elsewhere(Stage.THAW_EQUILIBRATION, sentence, Stage.FILLING)
    early = [load.load for load in opened if load.uncover_reason]
    if not early:
        return card
    dew = (
        f"Opened early, {_loads(early)}: look for dew on the food and the walls. Damp food is not "
        "packed; spread it out dry and cool, and have it measured."
    )
    first = f"Look for dew in {_loads(early)} before you fill."
    others = (capital(still),) if inside else ()
    return replace(card, sentence=first, evidence=(dew, *others, *card.evidence))


def _loads(letters: list[str]) -> str:
    return f"load{'s' if len(letters) > 1 else ''} {' and '.join(letters)}"


def _waits(load: Load, thaw: ThawForecast, measures: Measures, now: Reading) -> tuple[str, ...]:
    """Why the lid stays on, how sure the time is, and what to do then; the most needed first."""
    band = f": {between(thaw.lid_off, now)}." if thaw.lid_off is not None else "."
    return (f"{_why(thaw, measures)}{band}", NEVER_OPEN, THEN)


def _ready(thaw: ThawForecast, measures: Measures) -> tuple[str, ...]:
    warm = measures.temperature(thaw.open_above_c)
    dry = (
        "no dew settles on it"
        if thaw.dry
        else "but the air may be damp: look for dew on the inside of the lid, close it if there is"
    )
    return (f"All of its food is above {warm}: {dry}.", "Keep it closed until it is filled.")


def _why(thaw: ThawForecast, measures: Measures) -> str:
    """By which rule the lid waits, with its figures."""
    warm = measures.temperature(thaw.open_above_c)
    if thaw.rule is LidRule.ROOM or thaw.dew_point_c is None:
        return f"No humidity was read: the food has to be within 3 K (5 °F) of the room, {warm}"
    dew = measures.temperature(thaw.dew_point_c)
    if thaw.rule is LidRule.DEW_POINT:
        return f"Above {warm} no dew settles on it (dew point {dew})"
    sweats = " and may sweat even then" if not thaw.dry else ""
    return (
        f"The room is damp, its dew point {dew}: dry it, or carry the load to a drier one. Here "
        f"the food has to be {warm}{sweats}"
    )
