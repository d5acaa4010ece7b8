"""What the manual says of the session file is so."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import msgspec

from packdesk.record.book import Book
from packdesk.record.line_form import Line
from packdesk.record.session_file import FORMAT, Header, read_session_text, write_session_file
from packdesk.resources import shipped
from tests.record.drafts import LOT, OPENED, OTHER_SESSION, SESSION, STATION, draft, note

PAGE = shipped("manual", "session-file.md").read_text("utf-8")


def test_the_example_is_a_session_file() -> None:
    """The example at the top of the page reads without a fault."""
    example = "\n".join(re.findall(r"^    (\{.*\})$", PAGE, re.MULTILINE))

    (line,) = read_session_text(example.encode(), "the manual").lines

    assert line.fact == note("The freezer is switched on.")


def test_the_tables_name_every_field() -> None:
    """Each field of the header and of a line has its row, and no row is left over."""
    rows = re.findall(r"^\| (`.+?`) \|", PAGE, re.MULTILINE)
    named = {name for row in rows for name in re.findall(r"`(\w+)`", row)}

    fields = [*msgspec.structs.fields(Header), *msgspec.structs.fields(Line)]
    assert named == {field.name for field in fields}


def test_the_checking_program_agrees(tmp_path: Path) -> None:
    """The page's own program finds an exported file as recorded, and a changed line changed."""
    (program,) = re.findall(r"```python\n(.*?)```", PAGE, re.DOTALL)
    script, path = tmp_path / "check.py", tmp_path / "session.jsonl"
    script.write_text(program, "utf-8")
    with Book.open(tmp_path / "record.packdesk", STATION) as book:
        book.append([draft(1, OPENED), draft(2, session=OTHER_SESSION)])
        book.append([draft(3, note("“é” \t 🌾 \x7f"), about_min=15.0), draft(4, LOT)])
        write_session_file(path, Header(packdesk_session=FORMAT), book.links({SESSION}))
        write_session_file(tmp_path / "all.jsonl", Header(packdesk_session=FORMAT), book.links())
    changed = tmp_path / "changed.jsonl"
    changed.write_text(path.read_text("utf-8").replace('"who":"sam"', '"who":"kim"', 1), "utf-8")

    said = [
        subprocess.run(
            [sys.executable, "-X", "utf8", script, file], capture_output=True, text=True, check=True
        ).stdout.splitlines()
        for file in (path, tmp_path / "all.jsonl", changed)
    ]

    assert said[0] == ["1 as recorded", "3 as recorded"]
    assert said[1] == [f"{n} as recorded" for n in (1, 2, 3, 4)]
    assert said[2] == ["1 CHANGED", "3 as recorded"]
