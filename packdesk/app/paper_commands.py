"""The commands that make papers and files of a session file."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from packdesk.app.command import DONE, Commands, takes_file


def add_paper_commands(commands: Commands) -> None:
    """Add them to the command line."""
    labels = _paper(commands, "labels", "make the labels of a session file as PDF", _labels)
    labels.add_argument("--stock", help="key of a label stock in the catalogue")
    labels.add_argument("--first", type=int, default=1, help="first free place, counted from 1")
    labels.add_argument("--pouches", default="", help="only these, as 3,7-9; again with one number")
    labels.add_argument("--numbers", action="store_true", help="numbers alone, before filling")
    _offset(labels)

    pails = _paper(commands, "pails", "make a card for each pail as PDF", _pails)
    pails.add_argument("--pail", help="key of what the pails are; one of 19 L if left out")

    _paper(commands, "runsheet", "make the run sheet for the counter as PDF", _run_sheet)
    _paper(commands, "record", "make the session record as PDF", _record)
    _paper(commands, "pouches", "write every pouch for a spreadsheet", _pouches, "CSV file")
    _paper(
        commands, "calendar", "write what is to come for a calendar", _calendar, "iCalendar file"
    )

    alignment = commands.add_parser("alignment", help="make the alignment page of a label stock")
    alignment.add_argument("--stock", required=True, help="key of a label stock in the catalogue")
    alignment.add_argument("--out", type=Path, required=True, help="the PDF to write")
    _offset(alignment)
    alignment.set_defaults(follow=_alignment)


def _paper(
    commands: Commands,
    name: str,
    what: str,
    follow: Callable[[argparse.Namespace], int],
    written: str = "PDF",
) -> argparse.ArgumentParser:
    """A command that makes one paper of a session file."""
    paper = commands.add_parser(name, help=what)
    takes_file(paper)
    paper.add_argument("--out", type=Path, required=True, help=f"the {written} to write")
    paper.set_defaults(follow=follow)
    return paper


def _offset(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--offset", type=float, nargs=2, default=(0.0, 0.0), metavar=("RIGHT", "DOWN"),
        help="mm to move everything, as measured on the alignment page",
    )  # fmt: skip


def _labels(asked: argparse.Namespace) -> int:
    from packdesk.app.making import labels_of
    from packdesk.app.session_files import tell

    made = labels_of(
        tell(asked.file),
        asked.stock,
        asked.first,
        asked.out,
        pouches=asked.pouches,
        numbers_only=asked.numbers,
        offset_mm=tuple(asked.offset),
    )
    _remark(made.remarks)
    labels = "1 label" if made.labels == 1 else f"{made.labels} labels"
    sheets = "1 sheet" if made.sheets == 1 else f"{made.sheets} sheets"
    print(f"{labels} on {sheets}: {asked.out}. Print at 100 %.")
    return DONE


def _pails(asked: argparse.Namespace) -> int:
    from packdesk.app.making import pails_of
    from packdesk.app.session_files import tell

    made = pails_of(tell(asked.file), asked.pail, asked.out)
    _remark(made.remarks)
    print(f"Pail cards: {asked.out}")
    return DONE


def _run_sheet(asked: argparse.Namespace) -> int:
    from packdesk.app.making import run_sheet_of
    from packdesk.app.session_files import tell

    made = run_sheet_of(tell(asked.file), asked.out)
    _remark(made.remarks)
    print(f"Run sheet: {asked.out}")
    return DONE


def _record(asked: argparse.Namespace) -> int:
    from packdesk.app.making import record_of
    from packdesk.app.session_files import tell

    made = record_of(tell(asked.file), asked.out)
    _remark(made.remarks)
    print(f"Session record: {asked.out}")
    return DONE


def _pouches(asked: argparse.Namespace) -> int:
    from packdesk.app.making import pouches_of
    from packdesk.app.session_files import tell

    count = pouches_of(tell(asked.file), asked.out)
    print(f"{count} pouches: {asked.out}")
    return DONE


def _calendar(asked: argparse.Namespace) -> int:
    from packdesk.app.making import calendar_of
    from packdesk.app.session_files import tell

    count = calendar_of(tell(asked.file), asked.out)
    print(f"{count} {'entry' if count == 1 else 'entries'}: {asked.out}")
    return DONE


def _alignment(asked: argparse.Namespace) -> int:
    from packdesk.app.making import alignment_of

    stock = alignment_of(asked.stock, tuple(asked.offset), asked.out)
    print(f"Alignment page of {stock.name}: {asked.out}. Print at 100 % on plain paper.")
    return DONE


def _remark(remarks: Sequence[str]) -> None:
    for remark in remarks:
        print(remark, file=sys.stderr)
