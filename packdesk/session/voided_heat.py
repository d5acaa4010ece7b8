"""The outlooks of loads and freezers anew, once what they were worked out with does not count.

Each fact about the cold carries outlooks worked out with all that was on record by then. Where a
mistyped one of them is voided, those that came after it went by it all the same.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from uuid import UUID

from packdesk.session import facts as f
from packdesk.session.case import Case
from packdesk.session.envelope import Entry
from packdesk.session.fact import Fact, UnknownFact
from packdesk.session.figures import FreezerOutlook, LoadOutlook
from packdesk.session.fold import fold_without, uncounted

_CARRIES_OUTLOOKS = (f.LoadFrozen, f.CoreRead, f.FreezerRead, f.LoadTakenOut, f.RoomRead)

_NOT_OF_THE_COLD = (f.RoomRead, f.LoadUncovered)
"""What changes the lid's time alone; of an open load no reading works it out."""


@dataclass(frozen=True, slots=True)
class Renewed:
    """What is reckoned of loads and freezers with the voided facts gone."""

    loads: tuple[LoadOutlook, ...] = ()
    freezers: tuple[FreezerOutlook, ...] = ()


def renewed_without(case: Case, targets: Collection[UUID]) -> Renewed:
    """Work out anew what later facts reckoned with `targets`; nothing where none did."""
    changed = _changed(case.entries, targets)
    if not _reckoned_with(case.entries, targets, changed):
        return Renewed()
    session = fold_without(targets, case.entries, case.milestones).session
    if session is None:
        return Renewed()
    from packdesk.session import outlooks  # loads numpy

    at = case.when.at
    cold = [
        entry.happened_at
        for entry in case.entries
        if entry.id in changed and not isinstance(entry.fact, _NOT_OF_THE_COLD)
    ]
    return Renewed(
        outlooks.all_loads(session, at, min(cold, default=None)),
        outlooks.all_freezers(session, at),
    )


def _reckoned_with(
    entries: Sequence[Entry], targets: Collection[UUID], changed: Collection[UUID]
) -> bool:
    """Whether a fact that still counts carries outlooks and came after one of `changed`."""
    gone, found = uncounted(entries, targets), False
    for entry in entries:
        if entry.id in changed:
            found = True
        elif found and entry.id not in gone and _carries_outlooks(entry.fact):
            return True
    return False


def _changed(entries: Sequence[Entry], targets: Collection[UUID]) -> set[UUID]:
    """The facts about the heat of loads that would no longer count, or count again."""
    now, then = uncounted(entries), uncounted(entries, targets)
    return {
        entry.id
        for entry in entries
        if (entry.id in now) != (entry.id in then)
        and (_carries_outlooks(entry.fact) or isinstance(entry.fact, f.LoadUncovered))
    }


def _carries_outlooks(fact: Fact | UnknownFact) -> bool:
    if isinstance(fact, f.FactVoided):
        return bool(fact.outlooks or fact.freezers)
    return isinstance(fact, _CARRIES_OUTLOOKS)
