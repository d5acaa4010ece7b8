"""The command line: the window by default, and what the window computes for scripts.

Exit status: 0 done, 1 refused with the reason on stderr, 2 wrong usage.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from packdesk import __version__
from packdesk.desk.ports import Trouble
from packdesk.record.session_file import FaultySessionFile

DONE, REFUSED = 0, 1


class CommandRefused(Exception):
    """A command cannot be followed; the text says why and what to do."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Follow the command line and answer the exit status."""
    asked = _parser().parse_args(arguments)
    follow: Callable[[argparse.Namespace], int] = asked.follow
    try:
        status = follow(asked)
        print(end="", flush=True)  # a program without a console has no stdout to flush
    except (Trouble, FaultySessionFile, CommandRefused, ValueError) as refused:
        print(refused, file=sys.stderr)
        return REFUSED
    except BrokenPipeError:  # whoever read along has gone, as `head` does: nobody is left to tell
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    return status


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="packdesk",
        description="Plan, time, count, label and record the putting-up of dry staples.",
        epilog="Without a command the window opens on the record book.",
    )
    parser.add_argument("--version", action="version", version=__version__)
    parser.add_argument("--who", help="your name, for all that is entered from now on; '' for none")
    parser.set_defaults(follow=_window)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")

    rehearse = commands.add_parser("rehearse", help="run a session file through the window")
    _file(rehearse)
    rehearse.add_argument("--out", type=Path, required=True, help="folder for what it makes")
    rehearse.add_argument("--size", default="1366x768", help="of the pictures, such as 1366x768")
    rehearse.add_argument("--palette", choices=("light", "dark", "high_contrast"), default="light")
    rehearse.set_defaults(follow=_rehearse)

    plan = commands.add_parser("plan", help="say the plan of a session file and its figures")
    _file(plan)
    plan.add_argument("--json", action="store_true", help="as JSON, with units in the keys")
    plan.set_defaults(follow=_plan)

    _add_papers(commands)
    _add_book(commands)

    machine = commands.add_parser("machine", help="what this machine lacks, with the cure")
    machine.set_defaults(follow=_machine)
    return parser


def _add_papers(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
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
    commands: argparse._SubParsersAction[argparse.ArgumentParser],
    name: str,
    what: str,
    follow: Callable[[argparse.Namespace], int],
    written: str = "PDF",
) -> argparse.ArgumentParser:
    """A command that makes one paper of a session file."""
    paper = commands.add_parser(name, help=what)
    _file(paper)
    paper.add_argument("--out", type=Path, required=True, help=f"the {written} to write")
    paper.set_defaults(follow=follow)
    return paper


def _offset(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--offset", type=float, nargs=2, default=(0.0, 0.0), metavar=("RIGHT", "DOWN"),
        help="mm to move everything, as measured on the alignment page",
    )  # fmt: skip


def _add_book(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    book = commands.add_parser("book", help="check, copy, restore, hand over the record book")
    acts = book.add_subparsers(title="acts", metavar="ACT", required=True)
    acts.add_parser("verify", help="read the whole book and say whether it is sound").set_defaults(
        follow=_verify
    )
    acts.add_parser("backup", help="make a checked copy").set_defaults(follow=_backup)
    restore = acts.add_parser("restore", help="put a copy in the place of the book")
    restore.add_argument(
        "copy", type=Path, nargs="?", help="the copy; the newest sound one if left out"
    )
    restore.set_defaults(follow=_restore)
    export = acts.add_parser("export", help="write a session, or all, as a session file")
    export.add_argument("--out", type=Path, required=True, help="the file to write")
    export.add_argument("--session", help="name of the session; all of the book if left out")
    export.set_defaults(follow=_export)
    take = acts.add_parser("import", help="take entries of a session file into the book")
    _file(take)
    take.set_defaults(follow=_import)


def _file(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", type=Path, help="a session file (JSON lines)")


# The window ---------------------------------------------------------------------------------------


def _window(asked: argparse.Namespace) -> int:
    from packdesk.app.parts import real_parts, sign
    from packdesk.system.folders import find_folders
    from packdesk.system.log import Log
    from packdesk.system.machine import lacks

    folders = find_folders().made()
    blocking = [lack for lack in lacks(folders) if lack.blocks]
    if blocking:
        raise CommandRefused("\n".join(f"{lack.what} {lack.cure}" for lack in blocking))
    log = Log(folders.data)
    try:
        with real_parts(folders) as parts:
            if asked.who is not None:
                sign(parts, asked.who)
            from packdesk.ui.start import open_window

            return open_window(parts.desk, parts.tools, catch=log.catch_uncaught)
    finally:
        log.close()


def _rehearse(asked: argparse.Namespace) -> int:
    from packdesk.app.rehearsing import rehearse_file

    return rehearse_file(asked.file, asked.out, asked.size, asked.palette)


# From a session file ------------------------------------------------------------------------------


def _plan(asked: argparse.Namespace) -> int:
    from packdesk.app.making import freezer_of
    from packdesk.app.plan_report import plan_json, plan_text
    from packdesk.app.session_files import tell

    told = tell(asked.file)
    session = told.state.session
    if session is None:
        raise CommandRefused(f"{asked.file} opens no session; its first fact should.")
    print(plan_json(session) if asked.json else plan_text(session, freezer_of(told)))
    return DONE


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


# The record book ----------------------------------------------------------------------------------


def _verify(asked: argparse.Namespace) -> int:
    from packdesk.app.keeping import verify

    sound, words = verify()
    print(words, file=sys.stdout if sound else sys.stderr)
    return DONE if sound else REFUSED


def _backup(asked: argparse.Namespace) -> int:
    from packdesk.app.keeping import backup

    print(backup())
    return DONE


def _restore(asked: argparse.Namespace) -> int:
    from packdesk.app.keeping import restore

    print(restore(asked.copy))
    return DONE


def _export(asked: argparse.Namespace) -> int:
    from packdesk.app.keeping import export

    print(export(asked.out, asked.session))
    return DONE


def _import(asked: argparse.Namespace) -> int:
    from packdesk.app.keeping import take

    print(take(asked.file))
    return DONE


def _machine(asked: argparse.Namespace) -> int:
    from packdesk.system.folders import find_folders
    from packdesk.system.machine import lacks

    found = lacks(find_folders())
    if not found:
        print("This machine has all that PackDesk needs.")
    for lack in found:
        print(f"{lack.what} {lack.meaning}\n  {lack.cure}")
    return REFUSED if any(lack.blocks for lack in found) else DONE
