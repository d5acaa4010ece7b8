"""The alarm of the window: sound, desktop notification and announcement behind one door."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QObject, Signal
from PySide6.QtWidgets import QWidget

from packdesk.instants import span
from packdesk.present.alarm_words import AlarmCall, Rhythm
from packdesk.ui.ring.announce import announce, mark_window
from packdesk.ui.ring.chain import Chain, default_players
from packdesk.ui.ring.notification import NoNotices, Notices, default_notices
from packdesk.ui.ring.player import Player
from packdesk.ui.ring.players import PATIENCE_S, BeepPlayer
from packdesk.ui.ring.ringing import VOLUMES, Move, Occasions, Ringing, Start
from packdesk.ui.ring.tones import SoundFiles

TEST_S = 6.0
TEST_TITLE = "Test of the alarm"
TEST_BODY = "This is how an alarm shows on this desktop."


class Alarm(QObject):
    """Rings for what `follow` is told at each beat, repeats until acted on, falls back in words.

    `stroke` replaces all sound by one call a stroke and shows nothing on the desktop, for tests
    of a window. Sound files are kept in `folder`, or for the time of the run where none is given.

    Signals:
        doubtful: a sentence to show: no alarm can be heard here, or nobody knows whether.
        tested: what a test tried and what sounded, once it is over.
    """

    doubtful = Signal(str)
    tested = Signal(str)

    def __init__(
        self,
        parent: QObject,
        stroke: Callable[[], None] | None = None,
        *,
        players: Sequence[Player] | None = None,
        notices: Notices | None = None,
        folder: Path | None = None,
    ) -> None:
        super().__init__(parent)
        self._files = SoundFiles(folder)
        if players is None:
            alone = stroke is not None
            players = (BeepPlayer(stroke=stroke),) if alone else default_players(self._files)
            notices = notices or (NoNotices() if alone else default_notices(self))
        self._notices: Notices = notices or NoNotices()
        self._chain = Chain(players, self)
        self._chain.settled.connect(self._on_settled)
        self._ringing = Ringing()
        self._doubt = self._told = ""
        self._title = self._body = ""
        self._test: float | None = None
        self._testing = False
        quitting = QCoreApplication.instance()
        if quitting is not None:
            quitting.aboutToQuit.connect(self.close)

    @property
    def ringing(self) -> bool:
        """Whether it sounds, pauses of the rhythm and between rings included."""
        return self._ringing.active

    @property
    def state_words(self) -> str:
        """How the sound stands, in one sentence."""
        if self._testing:
            return f"Testing the alarm. {self._tries()}"
        if self._ringing.stopped:
            return "Sound stopped; what rang is still to be done."
        if self._ringing.sounding:
            return self._sounds_by()
        if self._ringing.active:
            return f"Rings again in {span(self._ringing.next_ring_s)}."
        return "Nothing rings."

    def follow(self, call: AlarmCall | None, now_s: float) -> None:
        """Ring what `call` says, or nothing; to be told at every beat.

        `now_s` is the clock that counts through sleep (`Reading.steady_s`). After a stop the
        same occasions stay silent, whatever becomes of their entry in the record.
        """
        if call is None:
            self.end()
        else:
            self.ring(call.rhythm, call.title, call.body, call.occasions)
        self.tick(now_s)

    def ring(
        self,
        rhythm: Rhythm = Rhythm.DUE,
        title: str = "",
        body: str = "",
        occasions: Occasions = frozenset(),
    ) -> None:
        """Begin to ring, if it does not yet; the words are those of the next notification."""
        self._title, self._body = title, body
        self._make(self._ringing.begin(rhythm, occasions))

    def tick(self, now_s: float) -> None:
        """One beat of the window's clock: ring again, rest, see whether a player still plays."""
        if self._testing:
            self._tick_test(now_s)
        move = self._ringing.tick(now_s)
        if self._ringing.sounding and move is None:
            self._chain.tick(self._ringing.ring_age_s)
            if self._sounds and self._ringing.ring_age_s > PATIENCE_S:
                self._told = ""  # it is cured; the next time is news again
        self._make(move)

    def silence(self) -> None:
        """Stop the sound; what rang is still to be done, and something new rings again."""
        self._end_test()
        self._make(self._ringing.silence())
        self._notices.withdraw()

    def end(self) -> None:
        """What rang was acted on."""
        if self._ringing.rhythm is not None:
            self._make(self._ringing.end())
            self._notices.withdraw()

    def test(self, rhythm: Rhythm = Rhythm.DUE) -> str:
        """Sound `rhythm` for six seconds as softly as a first ring, and show a notification.

        Answers what is being tried; `tested` tells what came of it. Whether it was heard only
        the person can say: a muted loudspeaker looks like any other from here.
        """
        if self._ringing.active:
            return f"The alarm rings already. {self.state_words}"
        self._testing, self._test = True, None
        self._notices.show(TEST_TITLE, TEST_BODY, critical=True)
        self._chain.play(rhythm, VOLUMES[0])
        return self.state_words

    def close(self) -> None:
        """Stop for good, and take away what was shown and made."""
        self._testing = False
        self._ringing.end()
        self._chain.stop()
        self._notices.close()
        self._files.close()

    def _make(self, move: Move) -> None:
        if move is None:
            return
        if not isinstance(move, Start):
            self._chain.stop()
            return
        self._end_test()
        self._chain.play(move.rhythm, move.volume)
        window = self.parent()
        if isinstance(window, QWidget):
            mark_window(window)
            if move.rhythm is Rhythm.WARNING and self._title:
                # what is due is announced by its band; a warning has none
                announce(window, f"{self._title}. {self._body}")
        if self._title:
            critical = move.rhythm is not Rhythm.WARNING
            self._notices.show(self._title, self._body, critical=critical)

    def _tick_test(self, now_s: float) -> None:
        if self._test is None:
            self._test = now_s
        self._chain.tick(now_s - self._test)
        if now_s - self._test >= TEST_S:
            self._end_test()

    def _end_test(self) -> None:
        if not self._testing:
            return
        self._testing = False
        words = self._test_words()
        self._chain.stop()
        self._notices.withdraw()
        self.tested.emit(words)

    def _test_words(self) -> str:
        said = self._doubt
        if self._sounds:
            said = f"Sounded by {self._chain.playing.name}. Only you can say whether it was heard."
        parts = (said, self._chain.tried_words(), self._notices.words)
        return " ".join(part for part in parts if part)

    def _tries(self) -> str:
        """What a test is trying: whether it plays is known only once it did."""
        playing = self._chain.playing
        return f"Trying {playing.name}." if self._sounds and playing is not None else self._doubt

    def _sounds_by(self) -> str:
        return f"Sounds by {self._chain.playing.name}." if self._sounds else self._doubt

    @property
    def _sounds(self) -> bool:
        """Whether a player plays that is heard for sure, as far as a program can know."""
        player = self._chain.playing
        return player is not None and player.heard_for_sure

    def _on_settled(self, doubt: str) -> None:
        self._doubt = doubt
        if doubt and doubt != self._told:
            self._told = doubt
            self.doubtful.emit(doubt)
