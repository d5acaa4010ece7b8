"""The alarm as the window uses it: told at each beat what rings, heard, seen, and in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from types import SimpleNamespace

import pytest
from PySide6.QtCore import QObject
from PySide6.QtGui import QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from packdesk.present.alarm_words import AlarmCall, Rhythm, alarm_call
from packdesk.present.early_warning import warnings_due
from packdesk.ui.ring import alarm as alarm_module
from packdesk.ui.ring import announce as announce_module
from packdesk.ui.ring.alarm import TEST_S, Alarm
from packdesk.ui.ring.chain import UNHEARD, UNSURE
from packdesk.ui.ring.tones import length_s
from tests.script import TREATED, tell
from tests.ui.ring.fake_sound import NotedNotices, NotedPlayer

AT = datetime(2026, 11, 20, 19, 20, tzinfo=UTC)
DUE = AlarmCall(
    Rhythm.DUE,
    "Packet P1 is 20 s past its time",
    "Shut the last pouches now.",
    frozenset({("packet:1", AT)}),
)
WARNING = AlarmCall(
    Rhythm.WARNING,
    "Packet P1 open: 10 min left",
    "Due at 19:20.",
    frozenset({("packet:1/soon", AT)}),
)


class Rig(SimpleNamespace):
    """An alarm on invented sound and notices, and everything it told."""

    alarm: Alarm
    player: NotedPlayer
    notices: NotedNotices
    now_s: float

    def beats(self, seconds: float, call: AlarmCall | None) -> None:
        """Let the window beat twice a second for a while, the same call standing."""
        for _ in range(round(seconds * 2)):
            self.now_s += 0.5
            self.alarm.follow(call, self.now_s)


MakeRig = Callable[..., Rig]


@pytest.fixture
def make_rig(qtbot: QtBot) -> Iterator[MakeRig]:
    """Make an alarm in a window of its own, with the players a test wants."""
    made: list[Rig] = []

    def make(*players: NotedPlayer) -> Rig:
        window = QWidget()
        qtbot.addWidget(window)
        notices = NotedNotices()
        used = players or (NotedPlayer(),)
        alarm = Alarm(window, players=used, notices=notices)
        rig = Rig(
            alarm=alarm, player=used[0], notices=notices, window=window, now_s=1000.0,
            doubts=[], tests=[],
        )  # fmt: skip
        alarm.doubtful.connect(rig.doubts.append)
        alarm.tested.connect(rig.tests.append)
        made.append(rig)
        return rig

    yield make
    for rig in made:
        rig.alarm.close()


@pytest.fixture
def rig(make_rig: MakeRig) -> Rig:
    """An alarm with one player that can."""
    return make_rig()


# Ringing ------------------------------------------------------------------------------------------


def test_what_is_due_sounds_and_shows(rig: Rig) -> None:
    """One call starts the sound and puts a notice on the desktop that stays."""
    rig.beats(0.5, DUE)

    assert rig.player.played == [(Rhythm.DUE, 0.5)]
    assert rig.notices.shown == [(DUE.title, DUE.body, True)]
    assert rig.alarm.ringing
    assert rig.alarm.state_words == "Sounds by the invented player."


def test_it_rings_again_each_minute_until_acted_on(rig: Rig) -> None:
    """In three minutes it rings three times, louder, each time with fresh words on the desktop."""
    rig.beats(170, DUE)

    assert [volume for _, volume in rig.player.played] == [0.5, 0.75, 1.0]
    assert len(rig.notices.shown) == 3


def test_it_rests_between_rings(rig: Rig) -> None:
    """After twenty seconds the sound stops, and the words say when it rings again."""
    rig.beats(length_s(Rhythm.DUE) + 1.0, DUE)

    assert not rig.player.sounding
    assert rig.alarm.ringing
    assert rig.alarm.state_words == "Rings again in 40 s."


def test_the_notice_of_a_later_ring_tells_the_later_words(rig: Rig) -> None:
    """Words that change as time goes by reach the desktop with the next ring."""
    rig.beats(30, DUE)
    later = AlarmCall(Rhythm.DUE, "Packet P1 is 1 min past its time", "", DUE.occasions)
    rig.beats(31, later)

    assert [title for title, _, _ in rig.notices.shown] == [DUE.title, later.title]


def test_stop_sound_is_silence_and_no_more(rig: Rig) -> None:
    """Stopped, it stays silent while the call stands, and says that work is still to be done."""
    rig.beats(3, DUE)
    rig.alarm.silence()
    rig.beats(120, DUE)

    assert not rig.player.sounding
    assert len(rig.player.played) == 1
    assert not rig.notices.standing
    assert not rig.alarm.ringing
    assert rig.alarm.state_words == "Sound stopped; what rang is still to be done."


def test_something_new_rings_after_a_stop(rig: Rig) -> None:
    """A second clock is heard although the first was silenced."""
    rig.beats(3, DUE)
    rig.alarm.silence()
    more = DUE.occasions | {("pressed_shut", AT)}
    rig.beats(0.5, AlarmCall(Rhythm.DUE, "2 clocks are due", "", more))

    assert rig.player.sounding


def test_acted_on_ends_sound_and_notice(rig: Rig) -> None:
    """When nothing rings any more the sound stops and the notice goes."""
    rig.beats(3, DUE)
    rig.beats(0.5, None)

    assert not rig.player.sounding
    assert not rig.notices.standing
    assert rig.alarm.state_words == "Nothing rings."


def test_a_warning_rings_once_and_may_go_by_itself(rig: Rig) -> None:
    """A warning sounds one time, and its notice is not a critical one."""
    rig.beats(15, WARNING)
    rig.beats(100, None)

    assert [rhythm for rhythm, _ in rig.player.played] == [Rhythm.WARNING]
    assert rig.notices.shown == [(WARNING.title, WARNING.body, False)]


def test_a_real_session_rings_warning_due_and_overdue(rig: Rig) -> None:
    """An opened packet left alone is heard in all three rhythms, at 10, 20 and 21 minutes."""
    told = tell(f"{TREATED}; fill 8; ready; packet 200x10")
    started = told.desk.now()
    heard: list[tuple[float, Rhythm]] = []
    for _ in range(23 * 120):
        told.clock.go(seconds=0.5)
        now = told.desk.now()
        told.desk.ring_due()
        for command in warnings_due(told.session, now):
            told.desk.submit(command)
        before = len(rig.player.played)
        rig.alarm.follow(alarm_call(told.session, now), now.steady_s)
        if len(rig.player.played) > before:
            heard.append(((now.utc - started.utc).total_seconds(), rig.player.played[-1][0]))

    assert heard == [
        (600.0, Rhythm.WARNING),
        (1200.0, Rhythm.DUE),
        (1260.0, Rhythm.OVERDUE),
        (1320.0, Rhythm.OVERDUE),
        (1380.0, Rhythm.OVERDUE),
    ]


# What cannot be heard -----------------------------------------------------------------------------


def test_without_any_sound_the_person_is_told_once(make_rig: MakeRig) -> None:
    """The sentence comes with the first silent ring alone, the notice with every one."""
    rig = make_rig(NotedPlayer("a", "is not installed"))
    rig.beats(170, DUE)

    assert rig.doubts == [UNHEARD]
    assert len(rig.notices.shown) == 3
    assert rig.alarm.state_words.startswith("Rings again")


def test_a_silent_ring_says_so(make_rig: MakeRig) -> None:
    """While a ring that nobody can hear lasts, the words do not claim a sound."""
    rig = make_rig(NotedPlayer("a", "is not installed"))
    rig.beats(1, DUE)

    assert rig.alarm.state_words == UNHEARD


def test_sound_lost_again_is_told_again(make_rig: MakeRig) -> None:
    """A loudspeaker that came back and goes once more is news once more."""
    rig = make_rig(NotedPlayer("a", "finds no sound device"))
    rig.beats(30, DUE)
    rig.player.refuses = ""
    rig.beats(60, DUE)
    rig.player.refuses = "finds no sound device"
    rig.beats(60, DUE)

    assert rig.doubts == [UNHEARD, UNHEARD]


def test_a_player_that_fails_in_every_ring_is_told_once(make_rig: MakeRig) -> None:
    """One that starts and breaks down each minute does not bring its sentence each minute."""
    rig = make_rig()
    for _ in range(3):
        rig.beats(1, DUE)
        rig.player.break_down()
        rig.beats(59.5, DUE)

    assert rig.doubts == [UNHEARD]


def test_the_windows_own_stroke_takes_the_place_of_all_sound(qtbot: QtBot) -> None:
    """A stroke handed in is all that is done: no sound file, no notice."""
    strokes: list[None] = []
    window = QWidget()
    qtbot.addWidget(window)
    alarm = Alarm(window, lambda: strokes.append(None))
    alarm.ring()
    assert len(strokes) == 1
    assert alarm.state_words == UNSURE

    alarm.tick(1000.0)
    alarm.tick(1000.5)
    alarm.silence()
    alarm.tick(1001.0)

    assert len(strokes) == 2
    alarm.close()


# The test before the round ------------------------------------------------------------------------


def test_a_test_sounds_softly_shows_and_reports(rig: Rig) -> None:
    """The test is as soft as a first ring, ends by itself, and tells what it found."""
    words = rig.alarm.test()
    assert words == "Testing the alarm. Trying the invented player."
    assert rig.player.played == [(Rhythm.DUE, 0.5)]
    assert rig.notices.standing

    rig.beats(TEST_S + 1.0, None)

    assert not rig.player.sounding
    assert not rig.notices.standing
    assert rig.tests == [
        "Sounded by the invented player. Only you can say whether it was heard. A notice was noted."
    ]


def test_a_test_names_what_was_tried_before(make_rig: MakeRig) -> None:
    """Players that could not are named with their reasons."""
    rig = make_rig(NotedPlayer("horn", "is not installed"), NotedPlayer("bell"))
    rig.alarm.test()
    rig.beats(TEST_S + 1.0, None)

    assert "Sounded by bell." in rig.tests[0]
    assert "Tried before: horn is not installed." in rig.tests[0]


def test_a_test_without_sound_says_so(make_rig: MakeRig) -> None:
    """A silent test ends in the sentence with its cure, not in a claim."""
    rig = make_rig(NotedPlayer("horn", "is not installed"))
    rig.alarm.test()
    rig.beats(TEST_S + 1.0, None)

    assert rig.tests[0].startswith(UNHEARD)


def test_a_real_alarm_breaks_a_test_off(rig: Rig) -> None:
    """What falls due during a test rings at once, and goes on after the test's time."""
    rig.alarm.test()
    rig.beats(2, None)
    rig.beats(TEST_S + 3.0, DUE)

    assert len(rig.tests) == 1
    assert rig.player.sounding
    assert rig.notices.shown[-1][0] == DUE.title
    assert rig.notices.standing


def test_no_test_while_it_rings(rig: Rig) -> None:
    """An alarm that rings already is test enough."""
    rig.beats(1, DUE)

    assert rig.alarm.test().startswith("The alarm rings already.")
    assert len(rig.player.played) == 1


def test_stop_sound_ends_a_test(rig: Rig) -> None:
    """The stop works on a test as on an alarm."""
    rig.alarm.test()
    rig.alarm.silence()

    assert not rig.player.sounding
    assert len(rig.tests) == 1


# The window ---------------------------------------------------------------------------------------


def test_a_warning_is_spoken_and_the_window_marked(
    rig: Rig, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A warning has no band, so the alarm itself tells assistive technology."""
    spoken: list[str] = []
    marked: list[QWidget] = []
    monkeypatch.setattr(alarm_module, "announce", lambda _, words: spoken.append(words))
    monkeypatch.setattr(alarm_module, "mark_window", marked.append)
    rig.beats(1, WARNING)
    rig.beats(1, DUE)

    assert spoken == ["Packet P1 open: 10 min left. Due at 19:20."]
    assert marked == [rig.window, rig.window]


def test_an_announcement_is_assertive(rig: Rig, monkeypatch: pytest.MonkeyPatch) -> None:
    """Words are handed to assistive technology as ones that interrupt."""
    told: list[QAccessibleAnnouncementEvent] = []
    fake = SimpleNamespace(
        AnnouncementPoliteness=announce_module.QAccessible.AnnouncementPoliteness,
        updateAccessibility=told.append,
    )
    monkeypatch.setattr(announce_module, "QAccessible", fake)
    announce_module.announce(rig.window, "Packet P1 is late.")

    (event,) = told
    assert event.message() == "Packet P1 is late."
    assert event.politeness() == fake.AnnouncementPoliteness.Assertive


def test_closing_leaves_nothing_behind(rig: Rig) -> None:
    """After the close nothing sounds, nothing is shown, and closing again is no fault."""
    rig.beats(1, DUE)
    rig.alarm.close()
    rig.alarm.close()

    assert not rig.player.sounding
    assert rig.notices.closed
    assert rig.alarm.state_words == "Nothing rings."


def test_an_alarm_needs_no_window(qapp: QObject) -> None:
    """An alarm whose parent is no widget rings all the same."""
    player = NotedPlayer()
    alarm = Alarm(qapp, players=(player,), notices=NotedNotices())
    alarm.follow(DUE, 1000.0)

    assert player.sounding
    alarm.close()
