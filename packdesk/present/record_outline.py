"""The session record from title to sources, for somebody who was not there."""

from __future__ import annotations

from collections.abc import Sequence

from packdesk.catalog.read import Catalog
from packdesk.instants import Reading, date_and_time, local
from packdesk.present import record_front, record_loads, record_plan, record_pouches
from packdesk.present.measures import Measures
from packdesk.present.outlines import OutlineSection, RecordOutline
from packdesk.present.record_deviations import deviations
from packdesk.present.record_sources import methods, sources
from packdesk.present.record_words import GLOSSARY, cautions
from packdesk.present.story import about, counted, record_lines
from packdesk.session.envelope import Entry
from packdesk.session.state import State


def record_outline(
    state: State, entries: Sequence[Entry], now: Reading, catalog: Catalog | None = None
) -> RecordOutline:
    """Set out everything the record knows of the open session.

    With a `catalog` the sources of the figures are told as well.
    """
    session = state.session
    assert session is not None, "a record is made of an open session"
    measures = Measures(session.units)
    opened = local(session.opened_at, now.offset_min_at)
    told = about(entries, session)
    valid = counted(told, state)
    sections = (
        record_front.in_short(session, measures),
        record_front.where_it_lies(session, measures),
        cautions(measures),
        record_plan.plan_and_outcome(session, measures),
        deviations(state, session, told, measures, now),
        record_plan.lots(state, session, measures, now),
        *record_loads.loads(session, valid, measures, now),
        record_pouches.rounds(state, session, valid, now),
        record_pouches.masses(session, measures),
        record_pouches.pouches(session, measures),
        record_pouches.checks(session),
        record_plan.written_by(told),
        OutlineSection(
            title="Every entry",
            sentences=("In the order recorded; what was voided is struck through.",),
            facts=record_lines(told, state, measures, now),
        ),
        record_plan.figures_of_the_plan(session, measures),
        methods(measures),
        *([sources(state, session, catalog)] if catalog is not None else []),
        GLOSSARY,
    )
    closed = "closed" if session.closed_at is not None else "still open"
    return RecordOutline(
        title=session.name,
        subtitle=f"Packing session {session.code}, begun {opened:%Y-%m-%d}, {closed}",
        sections=tuple(section for section in sections if _says_something(section)),
        foot=(
            f"Made {date_and_time(now.utc, now.offset_min_at)} from {len(told)} entries by PackDesk"
        ),
    )


def _says_something(section: OutlineSection) -> bool:
    return bool(section.sentences or section.rows or section.facts)
