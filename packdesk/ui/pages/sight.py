"""What a page is shown and what it hands on: the state in sight, the order it came to."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from packdesk.desk.ports import Tools
from packdesk.instants import Reading, When
from packdesk.present.measures import Measures
from packdesk.session.commands import Command
from packdesk.session.envelope import Entry
from packdesk.session.state import SessionState, State


@dataclass(frozen=True, slots=True)
class Sight:
    """What a page is shown: state and story, what the clocks say, and what the window was given."""

    state: State
    entries: tuple[Entry, ...]
    session_id: UUID | None
    now: Reading
    tools: Tools

    @property
    def session(self) -> SessionState | None:
        """The open session, if one is open."""
        return self.state.session

    @property
    def units(self) -> str:
        """The units the session speaks."""
        return self.session.units if self.session is not None else "metric"

    @property
    def measures(self) -> Measures:
        """How figures are said in this session."""
        return Measures(self.units)


@dataclass(frozen=True, slots=True)
class Order:
    """A command and when it happened (None: now)."""

    command: Command
    when: When | None = None
