"""What other programs need to check a session file: a JSON Schema, made from the facts.

`python -m packdesk.record.session_schema FILE` writes it; a test compares the shipped one.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import msgspec

from packdesk.record.line_form import Line, StampedLine
from packdesk.record.session_file import Header
from packdesk.session.facts import KINDS


def session_file_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) that every line of a session file fits, one by one.

    It knows today's kinds in today's versions. Unlike PackDesk itself it cannot check the chain,
    nor that a file begins with its header and repeats no id.
    """
    references, parts = msgspec.json.schema_components(
        [Header, Line, StampedLine, *KINDS.values()], ref_template="#/$defs/{name}"
    )
    header, line, _, *facts = references
    stamped = set(parts.pop("StampedLine")["required"])
    fields = parts["Line"]
    fields["dependentRequired"] = {"chain": sorted(stamped - {"chain", *fields["required"]})}
    fields["properties"]["kind"] = {"enum": list(KINDS)}
    fields["properties"]["data"] = {"type": "object"}
    fields["allOf"] = [
        _when({"properties": {"kind": {"const": kind}}}, _content(KINDS[kind].v, fact))
        for kind, fact in zip(KINDS, facts, strict=True)
    ]
    for part in ("Header", "Line"):
        parts[part]["properties"] = {
            name: _left_out_rather_than_null(field)
            for name, field in parts[part]["properties"].items()
        }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A line of a PackDesk session file",
        **_when({"required": ["packdesk_session"]}, header),
        "else": line,
        "$defs": parts,
    }


def _when(condition: dict[str, Any], consequence: dict[str, Any]) -> dict[str, Any]:
    return {"if": condition, "then": consequence}


def _content(v: int, fact: dict[str, Any]) -> dict[str, Any]:
    """The content of a kind; a line that leaves out its version is of version 1."""
    fits: dict[str, Any] = {"properties": {"v": {"const": v}, "data": fact}}
    return fits if v == 1 else {**fits, "required": ["v"]}


def _left_out_rather_than_null(field: dict[str, Any]) -> dict[str, Any]:
    if "anyOf" not in field:
        return field
    (kept,) = [option for option in field["anyOf"] if option != {"type": "null"}]
    return dict(kept)


def schema_text() -> str:
    """The schema as the file that ships with PackDesk."""
    return json.dumps(session_file_schema(), indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    Path(sys.argv[1]).write_text(schema_text(), "utf-8")
