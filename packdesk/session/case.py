"""What a command is decided on, and what a decision may be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from packdesk.instants import Reading, When, elapsed_s
from packdesk.session.envelope import Entry
from packdesk.session.fact import Fact
from packdesk.session.state import Milestone, SessionState, State


@dataclass(frozen=True, slots=True)
class Case:
    """State and story so far, when the thing happened, what the clocks say now."""

    state: State
    entries: Sequence[Entry]
    session_id: UUID
    when: When
    now: Reading
    milestones: tuple[Milestone, ...] = ()
    """What was the case on the way here, so that taking back the last need not fold everything."""
    said: bool = False
    """Whether `when` was said; else it happens as it is entered."""

    def at_least_since(self, started: Reading) -> datetime:
        """When it happened, for what must have lasted at least so long since `started`.

        Where the machine's clocks disagree that is the earlier of two instants.
        """
        elapsed = elapsed_s(started, self.now)
        if not elapsed.contradicted:
            return self.when.at
        return min(self.when.at, started.utc + timedelta(seconds=elapsed.least_s))

    def at_most_since(self, started: Reading, due_s: float) -> datetime:
        """When it happened, for what must have lasted no longer since `started`.

        Where the machine's clocks disagree that is the later of two instants, and where neither
        can be right the time is up, after `due_s`.
        """
        elapsed = elapsed_s(started, self.now)
        if not elapsed.contradicted:
            return self.when.at
        most_s = elapsed.most_s if elapsed.most_s > 0.0 else due_s
        return max(self.when.at, started.utc + timedelta(seconds=most_s))

    @property
    def session(self) -> SessionState | None:
        """The open session, if one is open."""
        return self.state.session

    @property
    def noted_in(self) -> UUID | None:
        """The session that a fact of the book is noted in; None while none is open."""
        return self.session_id if self.state.session is not None else None


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a command is not followed, what would be allowed, and which facts stand in its way.

    A `question` is followed if the same command comes again, confirmed; one that stands `when` it
    happened, if it comes again with that time.
    """

    sentence: str
    rests: tuple[UUID, ...] = ()
    question: bool = False
    when: When | None = None


Decision = tuple[Fact, ...] | Refusal


class Refused(Exception):
    """Raised inside a deciding rule to answer with its refusal; never leaves `decide`."""

    def __init__(
        self, sentence: str, rests: tuple[UUID, ...] = (), *, question: bool = False
    ) -> None:
        super().__init__(sentence)
        self.refusal = Refusal(sentence, rests, question)
