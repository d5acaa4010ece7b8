"""Handing a PDF to the system's printer, with a system that only takes notes."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path

import pytest

from packdesk.desk.ports import Trouble
from packdesk.system.printer import print_file, printers

PDF = Path("papers") / "labels.pdf"


class _System:
    """Answers every command with one status and text, and keeps the commands."""

    def __init__(self, status: int = 0, out: str = "", err: str = "") -> None:
        self.asked: list[list[str]] = []
        self._answer = (status, out, err)

    def __call__(self, command: Sequence[str]) -> subprocess.CompletedProcess[str]:
        self.asked.append(list(command))
        status, out, err = self._answer
        return subprocess.CompletedProcess(list(command), status, out, err)


@pytest.fixture(autouse=True)
def _has_lp(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "which", lambda name: f"bin/{name}")


def test_pages_are_printed_unscaled_on_their_own_paper() -> None:
    """The printer is asked not to scale, and for the page the sheet has."""
    system = _System()

    said = print_file(PDF, "A4", run=system, platform="linux")

    assert system.asked == [["lp", "-o", "print-scaling=none", "-o", "media=A4", "--", str(PDF)]]
    assert "actual size (100 %)" in said


def test_a_printer_that_was_chosen_is_used() -> None:
    """The name of a printer reaches the system."""
    system = _System()

    print_file(PDF, "Letter", "kitchen", run=system, platform="linux")

    assert system.asked[0][:3] == ["lp", "-d", "kitchen"]
    assert "media=Letter" in system.asked[0]


def test_a_page_without_a_name_is_asked_for_by_its_size() -> None:
    """A sheet of one's own on A5 is not placed on the queue's usual A4."""
    system = _System()

    print_file(PDF, "Custom.148x210mm", run=system, platform="linux")
    print_file(PDF, "", run=system, platform="linux")

    assert "media=Custom.148x210mm" in system.asked[0]
    assert "media" not in " ".join(system.asked[1])


def test_a_refusal_of_the_printer_is_told_in_its_words() -> None:
    """What the system says is the reason; the cure follows."""
    with pytest.raises(Trouble) as trouble:
        print_file(PDF, "A4", run=_System(1, err="lp: no default destination.\n"), platform="linux")

    assert trouble.value.sentence == ("The printer did not take it: lp: no default destination.")
    assert "print it from there" in trouble.value.cure


def test_a_system_without_a_print_command_says_how_to_print(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The way through a viewer is told, at actual size."""
    monkeypatch.setattr(shutil, "which", lambda name: None)

    with pytest.raises(Trouble, match="Open the PDF in a viewer"):
        print_file(PDF, "A4", run=_System(), platform="linux")


def test_a_printer_that_never_answers_is_given_up() -> None:
    """A queue that hangs does not hang the window."""

    def hang(command: Sequence[str]) -> subprocess.CompletedProcess[str]:
        raise subprocess.TimeoutExpired(list(command), 20)

    with pytest.raises(Trouble, match="The printer did not take it"):
        print_file(PDF, "A4", run=hang, platform="linux")
    assert printers(run=hang, platform="linux") == ()


def test_printers_are_named_by_the_system() -> None:
    """Each line names one."""
    assert printers(run=_System(out="kitchen\noffice\n\n"), platform="linux") == (
        "kitchen",
        "office",
    )
