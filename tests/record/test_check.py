from __future__ import annotations

import sqlite3
from contextlib import closing, suppress
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packdesk.desk.ports import Trouble
from packdesk.record.book import Book
from packdesk.record.check import Report
from packdesk.session.envelope import BOOK_STREAM
from tests.record.drafts import LOT, OPENED, SESSION, STATION, draft

ENTRIES = 40


@pytest.fixture(scope="module")
def closed_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of 40 entries, closed in good order."""
    path = tmp_path_factory.mktemp("check") / "record.packdesk"
    with Book.open(path, STATION) as book:
        book.append([draft(1, OPENED), draft(2, LOT)])
        book.append([draft(number, who="kim é") for number in range(3, ENTRIES + 1)])
    return path


def after(closed_book: Path, tmp_path: Path, *changes: str) -> Report:
    """What a check finds after somebody went past the triggers."""
    changed = tmp_path / "changed.packdesk"
    changed.write_bytes(closed_book.read_bytes())
    with closing(sqlite3.connect(changed, isolation_level=None)) as file:
        for statement in ("DROP TRIGGER events_no_update", "DROP TRIGGER events_no_delete"):
            file.execute(statement)
        for statement in changes:
            file.execute(statement)
    with Book.open(changed, STATION) as book:
        return book.verify()


def test_a_sound_book_is_said_to_be_sound(closed_book: Path, tmp_path: Path) -> None:
    """Of an untouched book the check says how much it read."""
    report = after(closed_book, tmp_path)

    assert report.sound
    assert report.sentence == (
        "The record book is sound: 40 entries of one station checked, each as it was recorded."
    )


def test_an_empty_book_is_sound(tmp_path: Path) -> None:
    """A book without entries has no faults."""
    with Book.open(tmp_path / "record.packdesk", STATION) as book:
        assert book.verify() == Report(0, 0, ())


@pytest.mark.parametrize(
    "column",
    [
        "event_id = zeroblob(16)",
        "act = zeroblob(16)",
        "stream = zeroblob(16)",
        "happened_us = happened_us + 1",
        "about_s = 1",
        "recorded_us = recorded_us + 1",
        "tz_min = 61",
        "steady_ms = 1",
        "boot = 'boot-2'",
        "who = 'sam'",
        "hlc = hlc + 1",
        "kind = 'note_takes'",
        "v = 2",
        """payload = '{"text":"note 71"}'""",
        "chain = zeroblob(16)",
    ],
)
def test_a_change_in_any_column_is_noticed(closed_book: Path, tmp_path: Path, column: str) -> None:
    """Whatever is changed of an entry, the check names the entry."""
    report = after(closed_book, tmp_path, f"UPDATE events SET {column} WHERE station_seq = 17")

    assert report.faults[0] == "Entry 17 of station 0193aaaa is not as it was recorded."
    assert report.sentence == (
        f"The record book is damaged: {'2 faults' if 'chain' in column else 'one fault'}"
        " found among 40 entries of one station."
    )


@pytest.mark.parametrize(
    ("gone", "said"),
    [
        ("station_seq = 17", "Entry 17 of station 0193aaaa is missing."),
        ("station_seq IN (1, 2)", "Entries 1 to 2 of station 0193aaaa are missing."),
    ],
)
def test_missing_entries_are_named(closed_book: Path, tmp_path: Path, gone: str, said: str) -> None:
    """Entries that are gone leave a gap in the numbers, and the check says which."""
    report = after(closed_book, tmp_path, f"DELETE FROM events WHERE {gone}")

    assert report.faults == (said,)


def test_entries_that_changed_places_are_noticed(closed_book: Path, tmp_path: Path) -> None:
    """Two entries whose numbers were swapped are both reported, and what follows them."""
    report = after(
        closed_book,
        tmp_path,
        "UPDATE events SET station_seq = 1000 WHERE station_seq = 5",
        "UPDATE events SET station_seq = 5 WHERE station_seq = 6",
        "UPDATE events SET station_seq = 6 WHERE station_seq = 1000",
    )

    assert [fault[:7] for fault in report.faults] == ["Entry 5", "Entry 6", "Entry 7"]


def test_text_that_is_no_text_is_a_fault_of_its_entry(closed_book: Path, tmp_path: Path) -> None:
    """Stored bytes that are not text do not stop the check."""
    report = after(
        closed_book,
        tmp_path,
        "UPDATE events SET who = CAST(x'ff' AS TEXT) WHERE station_seq = 17",
    )

    assert report.faults == ("Entry 17 of station 0193aaaa is not as it was recorded.",)


@settings(max_examples=150, deadline=None)
@given(place=st.floats(0, 1, exclude_max=True), bit=st.integers(0, 7))
def test_no_flipped_bit_goes_unnoticed(
    closed_book: Path, tmp_path_factory: pytest.TempPathFactory, place: float, bit: int
) -> None:
    """A flipped bit either changes nothing that was recorded, or opening or checking says so."""
    flipped = tmp_path_factory.mktemp("flip") / "record.packdesk"
    content = bytearray(closed_book.read_bytes())
    content[int(place * len(content))] ^= 1 << bit
    flipped.write_bytes(content)
    with Book.open(closed_book, STATION, read_only=True) as book:
        truth = book.entries({SESSION, BOOK_STREAM})

    sound = same = False
    with suppress(Trouble), Book.open(flipped, STATION) as book:
        sound = book.verify().sound
        same = book.entries({SESSION, BOOK_STREAM}) == truth

    assert same or not sound
