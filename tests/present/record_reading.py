"""Reading a session record as its reader does: a section by its title, its words as one text."""

from __future__ import annotations

from packdesk.catalog.read import read_catalog
from packdesk.present.outlines import OutlineSection, RecordOutline
from packdesk.present.record_outline import record_outline
from tests.script import Script


def outline_of(told: Script) -> RecordOutline:
    """The record of what was told, with its sources."""
    return record_outline(told.desk.state, told.entries, told.desk.now(), read_catalog()[0])


def section(outline: RecordOutline, title: str) -> OutlineSection:
    """The section called `title`."""
    return next(each for each in outline.sections if each.title == title)


def said(section: OutlineSection) -> str:
    """All of a section as one text, with plain spaces."""
    rows = (cell for row in (section.header, *section.rows) for cell in row)
    facts = (
        part for fact in section.facts for part in (fact.when, fact.words, fact.who, fact.voided)
    )
    return "\n".join((*section.sentences, *rows, *facts)).replace("\u00a0", " ")
