"""How a fact is held against the case: by a rule for its kind, and by what holds for all."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import singledispatch

from packdesk.session import facts as f
from packdesk.session.fact import Fact, Home
from packdesk.session.state import SessionState, State
from packdesk.units import MINUS

NO_SESSION = "No session is open. Open or start one first."

TYPED_TO = timedelta(minutes=1)
"""People type whole minutes; so much earlier than a recorded second is not a contradiction."""

MINUTES_A_DAY = 1440.0
"""Nothing that is to be done at the counter may be left for longer."""

_AFTER_CLOSING = (f.NoteAdded, f.AlarmRang, f.AlarmSilenced, f.PouchesSetAside)


def objection(state: State, fact: Fact, at: datetime) -> str:
    """Say what stands against `fact` happening at `at`; empty when nothing does."""
    if fact.home is Home.BOOK or isinstance(fact, (f.SessionOpened, f.FactVoided)):
        return rule(fact, state, at)
    if state.session is None:
        return NO_SESSION
    if state.session.closed_at is not None and not _goes_on(fact):
        return "This session is closed. Undo the closing to go on with it."
    return rule(fact, state, at)


def _goes_on(fact: Fact) -> bool:
    """Whether a fact may follow the closing: what looks at the seams bring, a label once more."""
    return isinstance(fact, _AFTER_CLOSING) or (
        isinstance(fact, (f.LabelsMade, f.LabelsPrinted)) and fact.reprint
    )


@singledispatch
def rule(fact: Fact, state: State, at: datetime) -> str:
    """Say what stands against a fact of this kind; each kind registers its own rule."""
    raise TypeError(f"no rule admits {type(fact).__name__}")


def the_session(state: State) -> SessionState:
    """The open session, which `objection` has made sure of."""
    assert state.session is not None, "objection() looks for the session first"
    return state.session


def not_before(at: datetime, earliest: datetime, what: str) -> str:
    """Object to an instant that lies before `what` happened at `earliest`."""
    return f"That would be before {what}. Check the time." if at < earliest - TYPED_TO else ""


def not_outside(figure: float, low: float, high: float, what: str, unit: str) -> str:
    """Object to a figure that no thermometer or scale in a kitchen shows (nor NaN)."""
    if low <= figure <= high:
        return ""
    words = f"{what} of {figure:g} {unit} cannot be. Enter {low:g} to {high:g} {unit}."
    return words.replace("-", MINUS)
