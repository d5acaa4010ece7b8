"""The commands that check, copy, restore and hand over the record book."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from packdesk.app.command import DONE, REFUSED, Commands, takes_file


def add_book_commands(commands: Commands) -> None:
    """Add them to the command line."""
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
    takes_file(take)
    take.set_defaults(follow=_import)


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
