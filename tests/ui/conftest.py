"""Puts the window's parts on the offscreen platform, with our type and one theme a test."""

from __future__ import annotations

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import gc
from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from packdesk.ui.theme.faces import Faces, load_faces
from packdesk.ui.theme.theme import Theme


class HandClock:
    """A monotonic clock that stands until a test moves it."""

    def __init__(self) -> None:
        self.seconds = 100.0

    def __call__(self) -> float:
        return self.seconds

    def advance(self, seconds: float) -> None:
        """Let time pass."""
        self.seconds += seconds


@pytest.fixture(scope="session")
def faces(qapp: QApplication) -> Faces:
    """The three cuts of our family, loaded once."""
    return load_faces()


@pytest.fixture
def theme(faces: Faces) -> Theme:
    """The light theme at 96 dpi and 100 % text size."""
    return Theme(faces)


@pytest.fixture
def hand_clock() -> Callable[[], float]:
    """A clock that only the test moves."""
    return HandClock()


_tests = 0
SWEPT_EVERY = 20
"""So many tests share one sweep of what nobody holds any more."""


@pytest.fixture(scope="session", autouse=True)
def swept_here() -> Iterator[None]:
    """Sweep on this thread only: a test runner's own thread must not delete a widget."""
    gc.disable()
    yield
    gc.enable()


@pytest.fixture(autouse=True)
def nothing_outlives(qapp: QApplication, qtbot: QtBot) -> Iterator[None]:
    """Fail a test that leaves a window or a running timer behind."""
    global _tests
    _tests += 1
    gc.disable()
    if _tests % SWEPT_EVERY == 0:
        gc.collect()
    before = set(qapp.allWidgets())
    yield
    left = [widget for widget in qapp.topLevelWidgets() if widget not in before]
    for widget in left:
        assert not widget.isVisible(), f"{widget!r} is still on the screen"
        timers = [timer for timer in widget.findChildren(QTimer) if timer.isActive()]
        assert not timers, f"{widget!r} leaves {len(timers)} timers running"
