"""Hands a finished PDF to the system's printer, never fitted to another size."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from packdesk.desk.ports import Trouble

LOOK = (
    "Look at the first sheet before you use it: it must have been printed at actual size (100 %)."
)
"""Some queues ignore what they are asked; only the paper tells."""

_PATIENCE_S = 20.0

Run = Callable[[Sequence[str]], "subprocess.CompletedProcess[str]"]


def _run(command: Sequence[str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run(command, capture_output=True, text=True, timeout=_PATIENCE_S, check=False)


def print_file(
    pdf: Path, page: str, printer: str = "", *, run: Run = _run, platform: str = sys.platform
) -> str:
    """Print `pdf` on pages called `page`; answer a sentence about what was done.

    A size without a name is called `Custom.148x210mm`, as CUPS does; without it a queue takes its
    usual page and places the sheet on it as it likes.
    `printer` is the system's name of one; empty: the usual one. Raises `Trouble` when the system
    has no way to print or refuses.
    """
    if platform == "win32":
        return _hand_to_viewer(pdf)
    if shutil.which("lp") is None:
        raise Trouble(
            "This system has no “lp”, the command that prints.",
            "Open the PDF in a viewer and print it there at actual size (100 %).",
        )
    chosen = ["-d", printer] if printer else []
    media = ["-o", f"media={page}"] if page else []
    command = ["lp", *chosen, "-o", "print-scaling=none", *media, "--", str(pdf)]
    try:
        done = run(command)
    except (OSError, subprocess.TimeoutExpired) as error:
        raise _refused(str(error)) from error
    if done.returncode:
        raise _refused(done.stderr.strip() or f"lp ended with status {done.returncode}")
    return f"Sent to the printer. {LOOK}"


def printers(*, run: Run = _run, platform: str = sys.platform) -> tuple[str, ...]:
    """The printers that the system names; empty where it cannot be asked."""
    if platform == "win32" or shutil.which("lpstat") is None:
        return ()
    try:
        done = run(["lpstat", "-e"])
    except (OSError, subprocess.TimeoutExpired):
        return ()
    return tuple(line.strip() for line in done.stdout.splitlines() if line.strip())


def _hand_to_viewer(pdf: Path) -> str:
    """Windows prints a PDF through whatever program shows it."""
    try:
        os.startfile(pdf, "print")  # type: ignore[attr-defined,unused-ignore]
    except OSError as error:
        raise _refused(error.strerror or str(error)) from error
    return f"Handed to your PDF viewer to print. {LOOK}"


def _refused(why: str) -> Trouble:
    return Trouble(
        f"The printer did not take it: {why.rstrip('.')}.",
        "Check that it is on and has paper, or open the PDF and print it from there.",
    )
