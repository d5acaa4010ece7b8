"""The story of a session: every entry in words, the voided ones with the reason beside them."""

from __future__ import annotations

from collections.abc import Sequence

from packdesk.instants import date_and_time
from packdesk.present.cards import OutlineLine
from packdesk.present.measures import Measures
from packdesk.present.words import fact_words
from packdesk.session.envelope import Entry
from packdesk.session.facts import FactVoided
from packdesk.session.fold import voided


def story_lines(
    entries: Sequence[Entry], measures: Measures, *, with_own_notes: bool = True
) -> tuple[OutlineLine, ...]:
    """Tell the entries in recorded order; without `with_own_notes` only what a person entered."""
    gone = voided(entries)
    lines = []
    for entry in entries:
        automatic = not getattr(entry.fact, "by_person", True)
        if automatic and not with_own_notes:
            continue
        reason = ""
        if entry.id in gone:
            cause = gone[entry.id].fact
            reason = cause.reason if isinstance(cause, FactVoided) else ""
        lines.append(
            OutlineLine(
                when=_when(entry),
                words=fact_words(entry.fact, measures),
                who=entry.who,
                voided=reason,
            )
        )
    return tuple(lines)


def _when(entry: Entry) -> str:
    at = date_and_time(entry.happened_at, entry.recorded.utc_offset_min)
    return f"about {at} ± {entry.about_min:.0f} min" if entry.about_min else at
