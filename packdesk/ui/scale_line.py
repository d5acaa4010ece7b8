"""Keys that come faster than a hand presses them are one line of a scale, not keys to act on."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Signal

SCALE_GAP_S = 0.060
"""A scale that types like a keyboard sends a key every few milliseconds; no hand is so fast."""


class ScaleLine(QObject):
    """Holds a key back until it is plain that no line follows it, and gathers the line that does.

    Signals:
        came: a line, and whether Enter ended it.
    """

    came = Signal(str, bool)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._text = ""
        self._act: Callable[[], object] | None = None
        self._belied: Callable[[], object] | None = None
        self._over = False
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(round(1000 * SCALE_GAP_S))
        self._wait.timeout.connect(self.settle)

    def hold(self, text: str, act: Callable[[], object]) -> None:
        """Let a key wait: it does `act` unless a line goes on from it."""
        self._act = act
        if self._belied is None:
            self._text = text
        self._wait.start()

    def watch(self, text: str, belied: Callable[[], object]) -> None:
        """A key has acted already: `belied` is done if a line goes on from it after all.

        One more quick key may be a hand's that rolls over two keys; two more are a line.
        """
        if self._belied is None:
            self._text, self._belied = text, belied

    def goes_on(self, text: str, *, enter: bool) -> bool:
        """Let a key that came at once after the last one join the line; whether there is one."""
        if self._over and enter:
            return True
        if not self._text:
            return False
        if self._belied is not None and len(self._text) == 1 and text.isprintable():
            self._text += text
            return False
        belied, self._belied, self._act = self._belied, None, None
        if belied is not None:
            belied()
        if enter:
            self._over = True
            self._give_out(entered=True)
            return True
        if not text or not text.isprintable():
            self._give_out(entered=False)
            return False
        self._text += text
        self._wait.start()
        return True

    def settle(self) -> None:
        """Nothing more comes: do what was held, or hand a line out that no Enter ended."""
        act, self._act = self._act, None
        self._over = False
        if act is not None or self._belied is not None:
            self._belied, self._text = None, ""
            if act is not None:
                act()
        else:
            self._give_out(entered=False)

    def _give_out(self, *, entered: bool) -> None:
        self._wait.stop()
        line, self._text = self._text, ""
        if line:
            self.came.emit(line, entered)
