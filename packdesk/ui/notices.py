"""Sentences that concern the whole window, above the page, until the person takes them away."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from packdesk.ui.icons import Icon
from packdesk.ui.pages.words import Words, let_grow
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from packdesk.ui.widgets.themed import Themed

UNDERSTOOD = "Understood"
MOST = 2
"""More would push the work off the screen; the oldest goes."""


class Notice(Themed):
    """One notice: what there is to say, and a button that takes it away or does something.

    Signals:
        answered: the button was pressed.
    """

    answered = Signal()

    def __init__(self, theme: Theme, words: str, answer: str, parent: QWidget) -> None:
        super().__init__(theme, parent, ground="haze", fills_ground=True)
        self.words = words
        self.only_read = answer == UNDERSTOOD
        """Whether its button does nothing but take it away, as Esc then does too."""
        self.fleeting = False
        self._said = Words(theme, Role.NOTE, self, weight=Weight.REGULAR, ground="haze")
        self._said.say(words)
        self.button = SecondControl(theme, self, ground="haze")
        self.button.show_face(SecondFace(answer, "Esc" if self.only_read else "", Icon.DONE))
        self.button.set_height(57)
        self.button.acted.connect(self.answered)
        self._row = QHBoxLayout(self)
        self._row.addWidget(self._said, 1)
        self._row.addWidget(self.button)
        let_grow(self)
        self.setAccessibleName(words)
        self.restyle()

    def restyle(self) -> None:
        super().restyle()
        margin, gap = self.theme.whole(self.theme.layout.work_margin), self.theme.whole(8)
        self._row.setContentsMargins(margin, gap, margin, gap)
        self._row.setSpacing(self.theme.whole(16))


class Notices(QWidget):
    """The notices that stand, the latest at the foot."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(theme.whole(4))
        self._shown: list[Notice] = []
        let_grow(self)
        self.hide()

    @property
    def sentences(self) -> tuple[str, ...]:
        """What is said now."""
        return tuple(notice.words for notice in self._shown)

    def say(self, words: str, answer: str = UNDERSTOOD, *, fleeting: bool = False) -> Notice:
        """Say something until it is answered; what stands already is not said twice.

        What is `fleeting` goes by itself with the next act. Of words that begin with what stands
        already only the rest is said.
        """
        for notice in self._shown:
            if notice.words == words:
                return notice
            if words.startswith(f"{notice.words} "):
                words = words.removeprefix(f"{notice.words} ")
        notice = Notice(self._theme, words, answer, self)
        notice.fleeting = fleeting
        notice.answered.connect(lambda: self.take_away(notice))
        self._shown.append(notice)
        self._box.addWidget(notice)
        notice.show()
        self.show()
        while len(self._shown) > MOST:
            self.take_away(self._shown[0])
        return notice

    def understood(self) -> bool:
        """Take away the latest that is only to be read; whether there was one."""
        read = [notice for notice in self._shown if notice.only_read]
        if read:
            read[-1].answered.emit()
        return bool(read)

    def stands(self, notice: Notice) -> bool:
        """Whether a notice is still to be seen."""
        return notice in self._shown

    def pass_by(self) -> None:
        """Take away what was meant only until the next act."""
        for notice in [each for each in self._shown if each.fleeting]:
            self.take_away(notice)

    def take_away(self, notice: Notice) -> None:
        """Take a notice away."""
        if notice in self._shown:
            self._shown.remove(notice)
            self._box.removeWidget(notice)
            notice.hide()
            notice.deleteLater()
        self.setVisible(bool(self._shown))
