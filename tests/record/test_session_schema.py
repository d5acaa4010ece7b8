from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from packdesk.record.book import Book
from packdesk.record.session_file import FORMAT, Header, read_session_text, write_session_file
from packdesk.record.session_schema import schema_text, session_file_schema
from packdesk.resources import shipped
from packdesk.session.facts import KINDS
from tests.record.drafts import LOT, OPENED, SESSION, STATION, draft, voided

SCHEMA = jsonschema.Draft202012Validator(
    session_file_schema(), format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER
)


def by_hand(**fields: Any) -> dict[str, Any]:
    """A line by hand that fits, but for the given fields."""
    fits = {"kind": "note_added", "at": "2026-11-25T09:16:00Z", "data": {"text": "x"}}
    return {**fits, **fields}


def test_the_shipped_schema_is_the_one_the_facts_make() -> None:
    """The schema file fits today's facts.

    If not: `python -m packdesk.record.session_schema resources/manual/session-file.schema.json`.
    """
    assert shipped("manual", "session-file.schema.json").read_text("utf-8") == schema_text()


def test_the_schema_is_a_schema() -> None:
    """The file is valid JSON Schema and knows every kind of fact."""
    jsonschema.Draft202012Validator.check_schema(session_file_schema())

    assert set(session_file_schema()["$defs"]["Line"]["properties"]["kind"]["enum"]) == set(KINDS)


def test_what_a_book_writes_fits(tmp_path: Path) -> None:
    """Every line of an exported file, the header too, fits the schema."""
    path = tmp_path / "session.jsonl"
    with Book.open(tmp_path / "record.packdesk", STATION) as book:
        opened, *_ = book.append([draft(1, OPENED), draft(2, LOT), draft(3)])
        book.append([draft(4, voided(opened.id), about_min=5.0)])
        header = Header(packdesk_session=FORMAT, session=SESSION, about="invented")
        write_session_file(path, header, book.links({SESSION}))

    for line in path.read_text().splitlines():
        SCHEMA.validate(json.loads(line))


@pytest.mark.parametrize(
    "line",
    [
        {"packdesk_session": 1},
        by_hand(),
        by_hand(v=1, about_min=10, who="sam", id="0193cccc-0000-7000-8000-000000000009"),
    ],
)
def test_lines_by_hand_fit(line: dict[str, Any]) -> None:
    """What the reader takes, the schema takes."""
    SCHEMA.validate(line)


@pytest.mark.parametrize(
    "line",
    [
        {"packdesk_session": "1"},
        {"packdesk_session": 1, "sesion": "x"},
        by_hand(kind="note_aded"),
        by_hand(at="9:16"),
        by_hand(about_min=-1),
        by_hand(data={}),
        by_hand(data={"text": 5}),
        by_hand(data={"text": "x", "txt": "x"}),
        by_hand(v=2),
        by_hand(extra=1),
        by_hand(chain="00" * 16),
        by_hand(kind="pouches_shut"),
    ],
)
def test_faulty_lines_do_not_fit(line: dict[str, Any]) -> None:
    """What the reader refuses, the schema refuses."""
    with pytest.raises(ValueError, match="cannot be read as a session file"):
        read_session_text(b'{"packdesk_session":1}\n' + json.dumps(line).encode(), "faulty")

    with pytest.raises(jsonschema.ValidationError):
        SCHEMA.validate(line)
