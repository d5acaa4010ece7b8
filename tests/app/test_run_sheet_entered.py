"""A run kept on paper alone and entered days later, against what was written on the sheet."""

from __future__ import annotations

from io import BytesIO

import pypdfium2

from packdesk.catalog.read import read_catalog
from packdesk.desk.desk import Kept
from packdesk.instants import date_and_time
from packdesk.paper.run_paper import write_run_sheet
from packdesk.present.outlines import OutlineSection
from packdesk.present.papers import RunSheet
from packdesk.present.record_outline import record_outline
from packdesk.present.run_sheet import run_sheet
from packdesk.ui.pages.typed_time import parse_time
from tests.script import tell

CATALOG = read_catalog()[0]
MASSES_G = (1002.0, 1003.0, 1005.0, 1000.0)

WRITTEN = (
    ("Cold treatment", "In the freezer", "about 2026-11-20 21:30", "freeze wheat 4 kg",
     "Load A into the freezer: 4.00 kg of Wheat"),
    ("Cold treatment", "Read at", "2026-11-21 20:00", "core A -8.5 C",
     "Load A core read −8.5 °C"),
    ("Cold treatment", "Out", "2026-11-25 18:40", "out A 21 C 45 %",
     "Load A taken out"),
    ("Thaw equilibration", "at", "2026-11-27 08:50", "room 20.5 C 50 %",
     "Room read 20.5 °C, 50 % humidity"),
    ("Thaw equilibration", "opened at", "2026-11-27 09:00", "open A",
     "Load A opened"),
    *(
        ("Filling", f"K7M2-{number:03d}", f"2026-11-27 09:{10 + 2 * number}",
         f"fill 1 at {mass_g:.0f} g from A", f"Pouch {number} filled, {mass_g / 1000:.3f} kg")
        for number, mass_g in enumerate(MASSES_G, start=1)
    ),
    ("Absorbers", "Opened", "2026-11-27 10:04", "ready", "Ready for a round"),
    ("Absorbers", "Opened", "2026-11-27 10:04", "packet 200x10",
     "Packet P1 opened: 10 absorbers of 200 cc, bag tight"),
    ("Absorbers", "Last in", "2026-11-27 10:11", "place 4", "Pouches 1 to 4: absorber in"),
    ("Absorbers", "Jar shut", "2026-11-27 10:13", "jar", "Jar R1: 6 of 200 cc shut up"),
    ("Sealing", "At", "2026-11-27 10:30", "seal 1-4", "Pouches 1 to 4 sealed, two seams"),
    ("Labels", "at", "2026-11-27 10:45", "label 1-4", "Labels printed for pouches 1 to 4"),
    ("Pails", "Stowed at", "2026-11-27 11:00", "stow 1-4 in pail 1",
     "Pouches 1 to 4 into pail 1"),
    ("Seal checks", "At", "2026-11-28 11:05", "check 1-4 snug", "Pouches 1 to 4 checked: snug"),
    ("Pails", "Lid on at", "2026-11-28 11:10", "lid pail 1", "Lid on pail 1"),
    ("Notes", "When", "2026-11-28 11:15", "note: the second sack was opened", "Note: the second"),
)  # fmt: skip
"""Part and place of the sheet, what stands there in pencil, how it is entered, what it becomes."""


def test_what_was_written_on_a_run_sheet_is_on_record_after_it_was_entered() -> None:
    """Every place of the sheet becomes an entry with the time written there, and says so."""
    told = tell("receive wheat 4 kg; agree wheat 4 x 1 kg, numbered")
    sheet = run_sheet(told.session, told.desk.now(), CATALOG)
    printed = _printed(sheet)
    for part, place, *_ in WRITTEN:
        assert place in _places(sheet, part)
        assert "".join(place.split()) in printed

    told.do("+12 d")
    now = told.desk.now()
    begun = len(told.entries)
    for _, _, written, step, _ in WRITTEN:
        kept = told.desk.submit(told.order(step), parse_time(written, now))
        assert isinstance(kept, Kept), f"{step}: {kept}"

    outline = record_outline(told.desk.state, told.entries, now, CATALOG)
    entered = date_and_time(now.utc, now.utc_offset_min)
    facts = iter(_section(outline.sections, "Every entry").facts[begun:])
    for _, _, written, _, words in WRITTEN:
        line = next(fact for fact in facts if _plain(fact.words).startswith(words))
        assert line.when == written.removeprefix("about ")
        sure = "about, ± 15 min, " if written.startswith("about") else ""
        assert line.entered == f"{sure}entered {entered}"
    (round_,) = _section(outline.sections, "Rounds of absorbers").rows
    assert round_[2:5] == ("2026-11-27 10:04", "10:11", "7 min of 20 min, practice cap")
    pouches = _section(outline.sections, "Pouches").rows
    assert [_plain(row[3]) for row in pouches] == [f"{mass / 1000:.3f} kg" for mass in MASSES_G]
    (check,) = _section(outline.sections, "Seal checks").rows
    assert check == ("2026-11-28 11:05", "K7M2-001 to 004", "snug", "–")


def _printed(sheet: RunSheet) -> str:
    out = BytesIO()
    write_run_sheet(sheet, "A4", out)
    pages = pypdfium2.PdfDocument(out.getvalue())
    return "".join("".join(page.get_textpage().get_text_bounded().split()) for page in pages)


def _places(sheet: RunSheet, title: str) -> set[str]:
    """Where something can be written in a part: its blanks, the columns and cells of its tables."""
    part = next(part for part in sheet.parts if part.title == title)
    blanks = {blank.label for step in part.steps for blank in step.blanks}
    headers = {cell for table in part.tables for cell in table.header}
    return blanks | headers | {cell for table in part.tables for row in table.rows for cell in row}


def _section(sections: tuple[OutlineSection, ...], title: str) -> OutlineSection:
    return next(section for section in sections if section.title == title)


def _plain(words: str) -> str:
    return words.replace("\u00a0", " ")
