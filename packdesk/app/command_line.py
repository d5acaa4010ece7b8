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
from packdesk.app.book_commands import add_book_commands
from packdesk.app.command import DONE, REFUSED, CommandRefused, takes_file
from packdesk.app.paper_commands import add_paper_commands
from packdesk.desk.ports import Trouble
from packdesk.record.session_file import FaultySessionFile


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
    takes_file(rehearse)
    rehearse.add_argument("--out", type=Path, required=True, help="folder for what it makes")
    rehearse.add_argument("--size", default="1366x768", help="of the pictures, such as 1366x768")
    rehearse.add_argument("--palette", choices=("light", "dark", "high_contrast"), default="light")
    rehearse.set_defaults(follow=_rehearse)

    plan = commands.add_parser("plan", help="say the plan of a session file and its figures")
    takes_file(plan)
    plan.add_argument("--json", action="store_true", help="as JSON, with units in the keys")
    plan.set_defaults(follow=_plan)

    add_paper_commands(commands)
    add_book_commands(commands)

    machine = commands.add_parser("machine", help="what this machine lacks, with the cure")
    machine.set_defaults(follow=_machine)
    return parser


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


def _machine(asked: argparse.Namespace) -> int:
    from packdesk.system.folders import find_folders
    from packdesk.system.machine import lacks

    found = lacks(find_folders())
    if not found:
        print("This machine has all that PackDesk needs.")
    for lack in found:
        print(f"{lack.what} {lack.meaning}\n  {lack.cure}")
    return REFUSED if any(lack.blocks for lack in found) else DONE
