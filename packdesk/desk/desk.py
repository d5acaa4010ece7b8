"""The one way in and out: an order is decided, its facts are made durable, then shown."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from uuid import UUID

from packdesk.desk.ports import Clock, RecordBook, SessionHead
from packdesk.instants import Reading, When, uuid7
from packdesk.session.case import Case, Refusal
from packdesk.session.clocks import to_ring
from packdesk.session.commands import Command, OpenSession, RingAlarm
from packdesk.session.envelope import BOOK_STREAM, Draft, Entry, stream_of
from packdesk.session.fact import Fact
from packdesk.session.facts import FactVoided
from packdesk.session.fold import advance, fold
from packdesk.session.rules import decide
from packdesk.session.state import State


@dataclass(frozen=True, slots=True)
class Kept:
    """A command was followed; its entries are on the disk."""

    entries: tuple[Entry, ...]


Answer = Kept | Refusal
Listener = Callable[[], None]


class Desk:
    """One record book with one session open at it.

    `state` and `entries` (the book's and the session's, in recorded order) are replaced, never
    changed, and only after the record has them. `submit` raises `ports.Trouble` when the record
    could not be written; nothing has then happened and the same command can be given again.
    """

    def __init__(self, record: RecordBook, clock: Clock, who: str = "") -> None:
        self._record = record
        self._clock = clock
        self._who = who
        self._listeners: list[Listener] = []
        self.session_id: UUID | None = None
        self.entries: tuple[Entry, ...] = ()
        self.state = State()
        self._load(None)

    def subscribe(self, listener: Listener) -> None:
        """Call `listener` after every change, once a command."""
        self._listeners.append(listener)

    def now(self) -> Reading:
        """Read the clocks."""
        return self._clock.reading()

    def sessions(self) -> tuple[SessionHead, ...]:
        """List the sessions in the book, the one used last first."""
        return self._record.sessions()

    def resume(self, session: UUID) -> None:
        """Go on with a session of the book, exactly where it was."""
        self._load(session)
        self._publish()

    def leave(self) -> None:
        """Put the session away; the book stays open."""
        self._load(None)
        self._publish()

    def submit(self, command: Command, when: When | None = None) -> Answer:
        """Follow `command`, which happened at `when` (now, if not said), or say why not."""
        now = self.now()
        when = when or When(now.utc)
        if isinstance(command, OpenSession):
            return self._open(command, when, now)
        session_id = self.session_id if self.session_id is not None else BOOK_STREAM
        case = Case(self.state, self.entries, session_id, when, now)
        decision = decide(case, command)
        if isinstance(decision, Refusal):
            return decision
        entries = self._record.append(self._drafts(decision, case))
        self.entries = (*self.entries, *entries)
        if any(isinstance(entry.fact, FactVoided) for entry in entries):
            self.state = fold(self.entries)
        else:
            self.state = advance(self.state, entries)
        self._publish()
        return Kept(entries)

    def ring_due(self) -> tuple[str, ...]:
        """Note every clock that fell due and has not rung; answer their identities, worst first.

        The ringing is on record before any sound starts, so that a crash cannot make it ring
        for ever. Raises `ports.Trouble` as `submit` does; the clocks then ring the next time.
        """
        if self.state.session is None or self.state.newer_kinds:
            return ()
        rung = []
        for clock, stands in to_ring(self.state.session, self.now()):
            late_s = round(-stands.remaining_s, 1)
            command = RingAlarm(clock.clock, clock.due_at, late_s)
            if isinstance(self.submit(command), Kept):
                rung.append(clock.clock)
        return tuple(rung)

    def _open(self, command: OpenSession, when: When, now: Reading) -> Answer:
        book = self._record.entries({BOOK_STREAM})
        session_id = uuid7(now.utc)
        case = Case(fold(book), book, session_id, when, now)
        decision = decide(case, command)
        if isinstance(decision, Refusal):
            return decision
        entries = self._record.append(self._drafts(decision, case))
        self.resume(session_id)
        return Kept(entries)

    def _drafts(self, facts: tuple[Fact, ...], case: Case) -> list[Draft]:
        act = uuid7(case.now.utc)
        return [
            Draft(
                id=uuid7(case.now.utc),
                act=act,
                stream=stream_of(fact, case.session_id),
                happened_at=case.when.at,
                about_min=case.when.about_min,
                recorded=case.now,
                who=self._who,
                fact=fact,
            )
            for fact in facts
        ]

    def _load(self, session: UUID | None) -> None:
        streams = {BOOK_STREAM} if session is None else {BOOK_STREAM, session}
        self.entries = self._record.entries(streams)
        self.state = fold(self.entries)
        self.session_id = session

    def _publish(self) -> None:
        for listener in self._listeners:
            listener()
