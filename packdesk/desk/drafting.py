"""Facts that were decided become drafts: one act, written down now, to be made durable."""

from __future__ import annotations

from packdesk.instants import uuid7
from packdesk.session.case import Case
from packdesk.session.envelope import Draft, stream_of
from packdesk.session.fact import Fact


def drafts(facts: tuple[Fact, ...], case: Case, who: str) -> tuple[Draft, ...]:
    """The drafts of one act; `who` stands beside what a person entered."""
    act = uuid7(case.now.utc)
    return tuple(
        Draft(
            id=uuid7(case.now.utc),
            act=act,
            stream=stream_of(fact, case.session_id),
            happened_at=case.when.at,
            about_min=case.when.about_min,
            recorded=case.now,
            who=who if fact.by_person else "",
            fact=fact,
        )
        for fact in facts
    )
