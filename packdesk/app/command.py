"""What every command of the command line shares: its exit status, its refusal, its session file."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TypeAlias

DONE, REFUSED = 0, 1

Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"
"""Where a command is added."""


class CommandRefused(Exception):
    """A command cannot be followed; the text says why and what to do."""


def takes_file(parser: argparse.ArgumentParser) -> None:
    """Let a command be told which session file it is about."""
    parser.add_argument("file", type=Path, help="a session file (JSON lines)")
