"""The one way in and out: an order is decided, its facts are made durable, then shown."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from uuid import UUID

from packdesk.desk.drafting import drafts
from packdesk.desk.other_sessions import OtherSessions
from packdesk.desk.ports import Clock, RecordBook, SessionHead, Trouble
from packdesk.instants import Reading, When, uuid7, wall_set_s
from packdesk.session.case import Case, Refusal
from packdesk.session.clock_set import by_the_clock_now
from packdesk.session.clocks import to_ring
from packdesk.session.commands import (
    Command,
    NoteClockSet,
    OpenSession,
    RingAlarm,
    SilenceAlarm,
)
from packdesk.session.envelope import BOOK_STREAM, Draft, Entry
from packdesk.session.facts import FactVoided
from packdesk.session.fold import advance, fold, untouched
from packdesk.session.rules import decide
from packdesk.session.state import Milestone, SessionState, State

MILESTONES = 20
"""Acts whose taking back need not fold the whole session."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A command was followed; its entries are on the disk."""

    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class _Unsaved:
    """What a command came to, kept as it is until the record has it."""

    command: Command
    when: When | None
    session: UUID
    drafts: tuple[Draft, ...]


Answer = Kept | Refusal
Listener = Callable[[], None]


class Desk:
    """One record book with one session open at it.

    `who` stands beside all that a person enters from now on; empty: nobody is named.
    `state` and `entries` (the book's and the session's, in recorded order) are replaced, never
    changed, and only after the record has them. `submit` raises `ports.Trouble` when the record
    could not be written; the same command can then be given again. What was written in spite of
    the fault is found by reading the record anew, or by the record itself: a command given again
    with the same `when` comes with the same entries, which are never recorded twice.
    """

    def __init__(self, record: RecordBook, clock: Clock, who: str = "") -> None:
        self._record = record
        self._clock = clock
        self.who = who
        self._listeners: list[Listener] = []
        self._others = OtherSessions(record)
        self._unsaved: _Unsaved | None = None
        self.session_id: UUID | None = None
        self.entries: tuple[Entry, ...] = ()
        self.state = State()
        self._milestones: tuple[Milestone, ...] = ()
        self._read: tuple[Entry, ...] = ()
        self._read_at = self.now()
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
        unsaved = self._unsaved
        if unsaved is None or (unsaved.command, unsaved.when) != (command, when):
            decided = self._decided(command, when)
            if isinstance(decided, Refusal):
                return decided
            unsaved = decided
        try:
            entries = self._record.append(unsaved.drafts)
        except Trouble:
            found = self._look_again(unsaved)
            if not found:
                raise
            return Kept(found)
        self._unsaved = None
        if isinstance(command, OpenSession):
            self.resume(unsaved.session)
            return Kept(entries)
        self._go_on(entries)
        self._publish()
        return Kept(entries)

    def ring_due(self) -> tuple[str, ...]:
        """Note every clock that fell due and has not rung; answer their identities, worst first.

        That the wall clock was set is noted too: the next run of the machine needs to know. The
        ringing is on record before any sound starts, so that a crash cannot make it ring
        for ever. Raises `ports.Trouble` as `submit` does; the clocks then ring the next time.
        """
        now = self.now()
        if self._follow(now):
            self._publish()
        if self.state.newer_kinds:
            return ()
        if self.entries and (set_s := wall_set_s(self.entries[-1].recorded, now)):
            self.submit(NoteClockSet(set_s))
        if self.state.session is None:
            return ()
        rung = []
        for clock, stands in to_ring(self.state.session, self.now()):
            late_s = round(-stands.remaining_s, 1)
            command = RingAlarm(clock.clock, clock.due_at, late_s)
            if isinstance(self.submit(command), Kept):
                rung.append(clock.clock)
        return tuple(rung)

    @property
    def elsewhere(self) -> tuple[SessionState, ...]:
        """The sessions that are not in hand, as far as they were looked at."""
        return self._others.sessions

    def ring_elsewhere(self) -> tuple[str, ...]:
        """Look at one more session that is not in hand; note what fell due in those looked at.

        Raises `ports.Trouble` as `ring_due` does.
        """
        now = self.now()
        rung = self._others.ring_due(now)
        self._others.read_one(now)
        return rung

    def silence_elsewhere(self, session: UUID, clocks: tuple[str, ...]) -> None:
        """Note that the sound of another session's alarm was stopped; raises `ports.Trouble`."""
        self._others.submit(session, SilenceAlarm(clocks), self.now())
        self._publish()

    def _decided(self, command: Command, when: When | None) -> _Unsaved | Refusal:
        now = self.now()
        self._follow(now)
        state, entries = self.state, self._read
        session = self.session_id if self.session_id is not None else BOOK_STREAM
        if isinstance(command, OpenSession):
            entries = self._record.entries({BOOK_STREAM})
            state, session = fold(entries), uuid7(now.utc)
        case = Case(
            state,
            entries,
            session,
            when or When(now.utc),
            now,
            self._milestones,
            said=when is not None,
        )
        decision = decide(case, command)
        if isinstance(decision, Refusal):
            return decision
        return _Unsaved(command, when, session, drafts(decision, case, self.who))

    def _go_on(self, entries: tuple[Entry, ...]) -> None:
        """Carry the state on by what was just recorded."""
        before = self._read
        self.entries = (*self.entries, *entries)
        self._read = (*before, *entries)
        voidings = [entry.fact for entry in entries if isinstance(entry.fact, FactVoided)]
        if voidings:
            targets = [target for voiding in voidings for target in voiding.targets]
            self._milestones = untouched(self._milestones, before, targets)
            self.state = fold(self._read, (Milestone(), *self._milestones)[-1])
        else:
            now = Milestone(len(before), self.state)
            self._milestones = (*self._milestones, now)[-MILESTONES:]
            self.state = advance(self.state, entries)

    def _follow(self, now: Reading) -> bool:
        """Read the record by the wall clock as it is set `now`; whether that changed anything."""
        moved = bool(wall_set_s(self._read_at, now))
        if moved:
            self._read_by(now)
            self._others.forget()
        self._read_at = now
        return moved

    def _read_by(self, now: Reading) -> None:
        self.entries = (*self.entries,)  # whoever knows them by identity looks anew
        self._read, self._read_at = by_the_clock_now(self.entries, now), now
        self.state = fold(self._read)
        self._milestones = ()

    def _look_again(self, unsaved: _Unsaved) -> tuple[Entry, ...]:
        """Read the record anew after trouble; answer the entries if they are in it after all."""
        self._unsaved = unsaved
        before = self.entries
        opening = isinstance(unsaved.command, OpenSession)
        try:
            reached = self._record.entries({BOOK_STREAM, unsaved.session})
            ids = {draft.id for draft in unsaved.drafts}
            found = tuple(entry for entry in reached if entry.id in ids)
            self._load(unsaved.session if found and opening else self.session_id)
        except Trouble:
            return ()
        # Certainly not recorded: without a time of its own the act is dated when it is repeated.
        self._unsaved = None if found or unsaved.when is None else unsaved
        if self.entries != before:
            self._publish()
        return found

    def _load(self, session: UUID | None) -> None:
        streams = {BOOK_STREAM} if session is None else {BOOK_STREAM, session}
        self.entries = self._record.entries(streams)
        self._read_by(self.now())
        self.session_id = session
        self._others.take_up(session)
        self._unsaved = None

    def _publish(self) -> None:
        for listener in self._listeners:
            listener()
