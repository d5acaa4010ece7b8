"""Plays a session file through the real window and the real record, on a driven clock."""

from __future__ import annotations

import os
import re
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from packdesk import __version__
from packdesk.app.driven_clock import DrivenClock
from packdesk.app.making import labels_of, record_of
from packdesk.app.parts import Parts, rehearsal_parts
from packdesk.app.session_files import acts_of, known_facts, reading_of, tell
from packdesk.instants import When
from packdesk.record.session_file import FORMAT, Header, SessionFile, write_session_file
from packdesk.session.envelope import BOOK_STREAM
from packdesk.session.replay import command_of, offset_of
from packdesk.system.folders import make_folder
from packdesk.system.screen import screen_trouble

if TYPE_CHECKING:
    from packdesk.ui.rehearsal import RehearsalReport, Step

SIZE = re.compile(r"(\d{3,4})x(\d{3,4})")


def rehearse_file(file: Path, out: Path, size: str, palette: str) -> int:
    """Rehearse `file`, leave labels, record, session file and pictures in `out`, say what it did.

    Answers 1 when an order of the file was refused. Raises `ValueError` for a size that is none
    and for a file that opens no session; `Trouble` when `out` cannot be written.
    """
    pixels = SIZE.fullmatch(size)
    if pixels is None:
        raise ValueError(f"“{size}” is no size. Write it as 1366x768.")
    told = tell(file)
    if told.state.session is None:
        raise ValueError(f"{file} opens no session; its first fact should.")
    make_folder(out, "what the rehearsal makes")
    _without_screen()
    from packdesk.ui.rehearsal import rehearse

    clock = DrivenClock(told.entries[0].recorded)
    with (
        tempfile.TemporaryDirectory(prefix="packdesk-rehearsal-") as folder,
        rehearsal_parts(Path(folder), clock, clock.offset_min) as parts,
    ):
        report = rehearse(
            steps_of(told.file),
            parts.desk,
            parts.tools,
            clock,
            out,
            size=(int(pixels[1]), int(pixels[2])),
            palette=palette,
        )
        _write_session(parts, out / "session.jsonl")
    again = tell(out / "session.jsonl")
    made = labels_of(again, None, 1, out / "labels.pdf")
    record_of(again, out / "record.pdf")
    say = sys.stdout.write
    say(f"Rehearsed {told.state.session.name}: {report.kept} acts kept\n")
    for stage, picture in report.pictures.items():
        say(f"  {stage.value.replace('_', ' ')}: {picture}\n")
    say(f"  {made.labels} labels on {made.sheets} sheets: {out / 'labels.pdf'}\n")
    say(f"  session record: {out / 'record.pdf'}\n  session file: {out / 'session.jsonl'}\n")
    return _say_refused(report)


def steps_of(file: SessionFile) -> Sequence[Step]:
    """The acts of a session file as orders with their times."""
    from packdesk.ui.rehearsal import Step

    steps = []
    for act in acts_of(file):
        facts = known_facts(act)
        command = command_of(facts)
        if command is not None:
            first = act[0]
            steps.append(
                Step(
                    command=command,
                    when=When(first.happened_at, first.about_min, offset_of(facts)),
                    reading=reading_of(first),
                    ids=tuple(line.id for line in act),
                    who=first.who,
                )
            )
    return steps


def _say_refused(report: RehearsalReport) -> int:
    for each in report.refused:
        sys.stderr.write(f"Act {each.step}, {each.command}, was refused: {each.sentence}\n")
    return 1 if report.refused else 0


def _write_session(parts: Parts, out: Path) -> None:
    session = parts.desk.session_id
    assert session is not None, "the first order opens it"
    header = Header(
        packdesk_session=FORMAT,
        program=f"PackDesk {__version__}",
        session=session,
        about="A rehearsal.",
    )
    write_session_file(out, header, parts.book.links({BOOK_STREAM, session}))


def _without_screen() -> None:
    """A rehearsal needs no screen: it paints offscreen unless one answers."""
    if screen_trouble():
        os.environ["QT_QPA_PLATFORM"] = "offscreen"
