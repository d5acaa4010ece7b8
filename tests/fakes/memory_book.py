"""A record book that keeps its entries in memory, for tests of what stands above the record."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from uuid import UUID

from packdesk.desk.ports import SessionHead, Trouble
from packdesk.session.envelope import BOOK_STREAM, Draft, Entry
from packdesk.session.fact import fact_from_text, fact_text
from packdesk.session.facts import (
    KINDS,
    AlarmRang,
    AlarmSilenced,
    FactVoided,
    SessionClosed,
    SessionOpened,
)


class MemoryBook:
    """Keeps what `RecordBook` promises for as long as the test runs.

    While `trouble` is set, appending raises it and records nothing.
    """

    def __init__(self, station: UUID) -> None:
        self._station = station
        self._kept: list[Entry] = []
        self._known: dict[UUID, Entry] = {}
        self.trouble: Trouble | None = None

    @property
    def station(self) -> UUID:
        """This installation's identity."""
        return self._station

    def append(self, drafts: Sequence[Draft]) -> tuple[Entry, ...]:
        """Record all of `drafts` or none; answers the old entries for drafts recorded before."""
        if self.trouble is not None:
            raise self.trouble
        known = self._known
        if drafts and all(draft.id in known for draft in drafts):
            return tuple(known[draft.id] for draft in drafts)
        assert not any(draft.id in known for draft in drafts), "only some of them are recorded"
        start = len(self._kept) + 1
        entries = tuple(self._entry(number, draft) for number, draft in enumerate(drafts, start))
        self._kept += entries
        known.update((entry.id, entry) for entry in entries)
        return entries

    def entries(self, streams: Collection[UUID]) -> tuple[Entry, ...]:
        """The entries of some streams in the order in which they were recorded."""
        return tuple(entry for entry in self._kept if entry.stream in streams)

    def sessions(self) -> tuple[SessionHead, ...]:
        """The sessions, the one used last first."""
        last = {
            entry.stream: entry
            for entry in self._kept
            if entry.stream != BOOK_STREAM and not isinstance(entry.fact, AlarmRang | AlarmSilenced)
        }
        newest_first = sorted(last.values(), key=lambda entry: -entry.station_seq)
        return tuple(self._head(entry.stream) for entry in newest_first)

    def _head(self, session: UUID) -> SessionHead:
        entries = self.entries({session})
        voided: set[UUID] = set()
        for entry in reversed(entries):
            if isinstance(entry.fact, FactVoided) and entry.id not in voided:
                voided.update(entry.fact.targets)
        first = entries[0].fact
        return SessionHead(
            session=session,
            name=first.name if isinstance(first, SessionOpened) else "",
            opened_at=entries[0].happened_at,
            last_at=[e for e in entries if not isinstance(e.fact, AlarmRang | AlarmSilenced)][
                -1
            ].recorded.utc,
            closed=any(
                isinstance(entry.fact, SessionClosed) and entry.id not in voided
                for entry in entries
            ),
            entries=len(entries),
        )

    def _entry(self, number: int, draft: Draft) -> Entry:
        """The entry a draft becomes; its fact goes through text, as it does on a disk."""
        fact = draft.fact
        return Entry(
            id=draft.id,
            act=draft.act,
            stream=draft.stream,
            happened_at=draft.happened_at,
            about_min=draft.about_min,
            recorded=draft.recorded,
            who=draft.who,
            station=self._station,
            station_seq=number,
            fact=fact_from_text(KINDS, fact.kind, fact.v, fact_text(fact)),
        )
