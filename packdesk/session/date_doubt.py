"""A date far beyond the last entry is asked about, while anything is under way that hangs on it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from packdesk.instants import When, date_and_time, span
from packdesk.session.case import Case, Refusal
from packdesk.session.clocks import ClockKind, running
from packdesk.session.envelope import Entry
from packdesk.session.fact import Fact

FAR = timedelta(days=30)
"""Nobody leaves a load or an open packet for so long (own judgement, no source)."""


def date_doubt(case: Case, found: Sequence[Fact]) -> Refusal | None:
    """Ask before the first act of a person in a run of the machine that begins a month later.

    Between two runs only the wall clock tells how long it was. One that is wrong by a month or a
    year makes every load cold enough.
    """
    if case.said or case.session is None or not any(fact.by_person for fact in found):
        return None
    if all(clock.kind is ClockKind.SEAL_CHECK for clock in running(case.session)):
        return None
    last = next((entry for entry in reversed(case.entries) if _by_person(entry)), None)
    if last is None or last.recorded.boot == case.now.boot:
        return None
    gap = case.now.utc - last.recorded.utc
    if gap <= FAR:
        return None
    return Refusal(
        f"By this computer's clock {span(gap.total_seconds())} have passed since the last entry, "
        f"of {date_and_time(last.recorded.utc, last.recorded.utc_offset_min)}. "
        "Set the clock right and enter it again, or keep it if today's date is right.",
        question=True,
        when=When(case.now.utc),
    )


def _by_person(entry: Entry) -> bool:
    return isinstance(entry.fact, Fact) and entry.fact.by_person
