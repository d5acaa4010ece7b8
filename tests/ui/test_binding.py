"""The Qt binding must not lose references: one release does, and aborts long sessions."""

from __future__ import annotations

import sys

import PySide6
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot


def test_void_calls_keep_their_references_to_none(qtbot: QtBot) -> None:
    """Two hundred calls that answer nothing leave the references to None where they were."""
    label = QLabel()
    qtbot.addWidget(label)

    before = sys.getrefcount(None)
    for _ in range(200):
        label.setText("x")

    # From Python 3.12 on None is immortal and cannot run out of references.
    assert sys.version_info >= (3, 12) or abs(sys.getrefcount(None) - before) < 50


def test_the_release_that_aborts_older_pythons_is_refused() -> None:
    """PySide6 6.12.0 is never installed with a Python below 3.12 (upstream PYSIDE-3474)."""
    release = tuple(PySide6.__version_info__[:3])

    assert sys.version_info >= (3, 12) or release != (6, 12, 0)
