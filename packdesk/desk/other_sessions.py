"""The sessions of the book that nobody has in hand: their clocks go on, and ring as well."""

from __future__ import annotations

from uuid import UUID

from packdesk.desk.drafting import drafts
from packdesk.desk.ports import RecordBook
from packdesk.instants import Reading, When
from packdesk.present.early_warning import warnings_due
from packdesk.session.case import Case, Refusal
from packdesk.session.clock_set import by_the_clock_now
from packdesk.session.clocks import to_ring
from packdesk.session.commands import Command, RingAlarm
from packdesk.session.envelope import BOOK_STREAM
from packdesk.session.fold import advance, fold
from packdesk.session.rules import decide
from packdesk.session.state import SessionState, State


class OtherSessions:
    """Knows how they stand; they are read one by one, so that a book of many years opens at once.

    Nothing but the desk changes a session, and only the one in hand: what was read stays true
    until somebody takes that session up.
    """

    def __init__(self, record: RecordBook) -> None:
        self._record = record
        self._in_hand: UUID | None = None
        self._known: dict[UUID, State] = {}
        self._unread: list[UUID] | None = None

    @property
    def sessions(self) -> tuple[SessionState, ...]:
        """Those that were read so far and can be understood."""
        return tuple(
            state.session
            for state in self._known.values()
            if state.session is not None and not state.newer_kinds
        )

    def take_up(self, session: UUID | None) -> None:
        """From now on `session` is the one in hand; None: none is."""
        self._in_hand = session
        self._unread = None
        if session is not None:
            self._known.pop(session, None)

    def forget(self) -> None:
        """The wall clock was set: all are read anew by it."""
        self._known.clear()
        self._unread = None

    def read_one(self, now: Reading) -> None:
        """Read one more that is not known yet, if there is any; raises `Trouble`."""
        if self._unread is None:
            heads = self._record.sessions()
            known = {*self._known, self._in_hand}
            self._unread = [head.session for head in heads if head.session not in known]
        if self._unread:
            session = self._unread.pop(0)  # one that cannot be read is said once, and left alone
            entries = self._record.entries({BOOK_STREAM, session})
            self._known[session] = fold(by_the_clock_now(entries, now))

    def ring_due(self, now: Reading) -> tuple[str, ...]:
        """Put on record what fell due, or soon will be; answer the clocks. Raises `Trouble`."""
        rung = []
        for session in self.sessions:
            due = [
                RingAlarm(clock.clock, clock.due_at, round(-stands.remaining_s, 1))
                for clock, stands in to_ring(session, now)
            ]
            for ring in (*due, *warnings_due(session, now)):
                if self.submit(session.session, ring, now):
                    rung.append(ring.clock)
        return tuple(rung)

    def submit(self, session: UUID, command: Command, now: Reading) -> bool:
        """Follow what concerns the alarms of one of them; whether it fitted. Raises `Trouble`."""
        state = self._known[session]
        case = Case(state, (), session, When(now.utc), now)
        decision = decide(case, command)
        if isinstance(decision, Refusal):
            return False
        entries = self._record.append(drafts(decision, case, who=""))
        self._known[session] = advance(state, entries)
        return True
