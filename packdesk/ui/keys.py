"""Which key goes where: Space to the main control, digits to the figures, letters to controls."""

from __future__ import annotations

import math
import time
from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QApplication, QWidget

from packdesk.ui.pages.inputs import PickInput, TypedInput, input_around
from packdesk.ui.presses import Presses
from packdesk.ui.scale_line import SCALE_GAP_S, ScaleLine
from packdesk.ui.widgets.main_control import MainControl

_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_FIGURES = frozenset("0123456789.,-−+")
_SHIFTS = (Qt.Key.Key_Shift, Qt.Key.Key_CapsLock, Qt.Key.Key_AltGr, Qt.Key.Key_NumLock)
"""Keys that say nothing by themselves; a scale's capital letters come with them."""
_MODIFIERS = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)


class Keys(QObject):
    """Watches the keys of the focused widget only, so that nothing else grows slower.

    Space is the main control's, whatever has the focus, but: a button that was walked to takes
    its own Space, unless it is a choice that is made already; words take theirs; a quantity being
    typed ("2 lb 8 oz") takes its own too, which no count does. Letters and Backspace are
    controls only while no field has the focus, so that a slip in a field never acts. A held key
    acts once, also where a busy system tells it as many presses: a repeat is let go and pressed
    in the same instant, which no hand does.

    A scale that types like a keyboard needs no setting. A line that begins with its figure or
    sign goes to the field for figures key by key, as any typed figure does. One that begins with
    marks ("ST,GS,+  1.234 kg") or a blank is gathered whole, and no key of it is a control: so a
    letter acts only once no line goes on from it, 60 ms later. The Space bar acts at once; a
    blank that a line goes on from is taken back, and from then on the Space bar waits as well.

    `clock` tells seconds; without one the events' own time stamps do.
    """

    def __init__(
        self, window: QWidget, presses: Presses, clock: Callable[[], float] | None = None
    ) -> None:
        super().__init__(window)
        self._window = window
        self._presses = presses
        self._clock = clock
        self._last_s = -math.inf
        self._let_go: tuple[int, int] = (0, 0)
        """The key that was let go last, and its time stamp in ms; 0 where none was told."""
        self._watched: QWidget | None = None
        self._blank_first = False
        """Whether the scale at this counter has sent a line that begins with a blank."""
        self.line = ScaleLine(self)
        self.line.came.connect(lambda line, entered: presses.take_line(line, entered=entered))
        QApplication.instance().focusChanged.connect(self._follow)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take a key before the focused widget does."""
        if event.type() == QEvent.Type.ShortcutOverride:
            return False
        if event.type() == QEvent.Type.KeyPress and isinstance(watched, QWidget):
            return self.press(event, watched)
        if event.type() == QEvent.Type.KeyRelease:
            self._let_go = (event.key(), event.timestamp())
            return isinstance(watched, MainControl) and event.key() == Qt.Key.Key_Space
        return False

    def press(self, event: QKeyEvent, focus: QWidget | None) -> bool:
        """Take a key; whether it was ours."""
        if event.modifiers() & _MODIFIERS:
            return False
        key, text = event.key(), event.text()
        if key in _SHIFTS:
            return False
        now_s, held = self._time_of(event), self._is_held(event)
        by_scale = now_s - self._last_s < SCALE_GAP_S and not held
        self._last_s = now_s
        if by_scale and self.line.goes_on(text, enter=key in _ENTER):
            return True
        if not by_scale:
            self.line.settle()
        if key == Qt.Key.Key_Space and by_scale and _in_figures(input_around(focus)):
            return False
        ours = self._goal(key, text, focus)
        if ours is None:
            return held and isinstance(focus, QAbstractButton)
        return True if held else self._act(key, text, ours)

    def _act(self, key: int, text: str, ours: Callable[[], bool]) -> bool:
        """Do what a key is for, or let it wait where it may begin a line of a scale."""
        blank = key == Qt.Key.Key_Space
        if text.isalpha() or (blank and self._blank_first):
            self.line.hold(text, ours)
            return True
        before = self._presses.entries
        done = ours()
        if blank:
            self.line.watch(text, lambda: self._take_blank_back(before))
        elif text in _FIGURES and not done:
            self.line.watch(text, lambda: None)
        return done

    def _take_blank_back(self, before: object) -> None:
        self._blank_first = True
        self._presses.take_blank_back(before)

    def _is_held(self, event: QKeyEvent) -> bool:
        key, let_go_ms = self._let_go
        at_once = key == event.key() and 0 < let_go_ms == event.timestamp()
        return event.isAutoRepeat() or at_once

    def _time_of(self, event: QKeyEvent) -> float:
        if self._clock is not None:
            return self._clock()
        return event.timestamp() / 1000.0 if event.timestamp() else time.monotonic()

    def _goal(self, key: int, text: str, focus: QWidget | None) -> Callable[[], bool] | None:
        """What a key would do, or None when it is not ours."""
        presses = self._presses
        typing = input_around(focus)
        if key == Qt.Key.Key_Escape:
            return presses.go_back
        if key == Qt.Key.Key_PageDown:
            return presses.press_main
        if key == Qt.Key.Key_Space:
            return None if _keeps_space(focus, typing) else presses.press_main
        if key in _ENTER:
            takes = isinstance(typing, TypedInput) or isinstance(focus, MainControl)
            takes = takes or _is_made_choice(focus)
            return presses.press_main if takes else None
        if key == Qt.Key.Key_Backspace:
            if isinstance(typing, TypedInput):
                return None
            return presses.undo
        if not text or not text.isprintable():
            return None
        if isinstance(typing, TypedInput):
            return None
        if text in _FIGURES:
            return lambda: presses.take_figure(text)
        if text.isalpha() and not isinstance(typing, PickInput):
            return lambda: presses.press_letter(text.upper())
        return None

    def _follow(self, _old: QWidget | None, new: QWidget | None) -> None:
        if self._watched is not None:
            self._watched.removeEventFilter(self)
        inside = new is not None and self._window.isAncestorOf(new)
        self._watched = new if inside else None
        if self._watched is not None:
            self._watched.installEventFilter(self)


def _in_figures(typing: object) -> bool:
    return isinstance(typing, TypedInput) and bool(typing.text)


def _keeps_space(focus: QWidget | None, typing: object) -> bool:
    if isinstance(typing, TypedInput):
        return typing.keeps_blanks
    if isinstance(focus, QAbstractItemView):
        return True
    if _is_made_choice(focus):
        return False
    return isinstance(focus, QAbstractButton) and not isinstance(focus, MainControl)


def _is_made_choice(focus: QWidget | None) -> bool:
    """What is chosen already has no use for a key of its own."""
    return isinstance(focus, QAbstractButton) and focus.autoExclusive() and focus.isChecked()
