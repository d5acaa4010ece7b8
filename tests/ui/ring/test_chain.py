"""The first player that can plays; when it fails the next one takes over, down to words."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from packdesk.present.alarm_words import Rhythm
from packdesk.ui.ring.chain import UNHEARD, UNSURE, Chain, default_players
from packdesk.ui.ring.players import BeepPlayer
from packdesk.ui.ring.tones import SoundFiles
from tests.ui.ring.fake_sound import NotedPlayer


def settled(chain: Chain) -> list[str]:
    """What the chain tells of how sure the sound is."""
    told: list[str] = []
    chain.settled.connect(told.append)
    return told


@pytest.mark.parametrize(
    ("system", "names"),
    [
        ("linux", ["Qt's sound module", "pw-play", "paplay", "aplay", "the desktop's beep"]),
        ("darwin", ["Qt's sound module", "afplay", "the desktop's beep"]),
        ("win32", ["Qt's sound module", "the sound service of Windows", "the desktop's beep"]),
    ],
)
def test_every_system_has_its_chain(
    qapp: QApplication, system: str, names: list[str], tmp_path: Path
) -> None:
    """Qt's module first, then what the system has, the beep last."""
    assert [player.name for player in default_players(SoundFiles(tmp_path), system)] == names


def test_the_first_that_can_plays(qapp: QApplication) -> None:
    """Players that cannot start are passed over, and told."""
    absent, able, spare = NotedPlayer("a", "is not installed"), NotedPlayer("b"), NotedPlayer("c")
    chain = Chain([absent, able, spare])
    told = settled(chain)
    chain.play(Rhythm.DUE, 0.5)

    assert able.played == [(Rhythm.DUE, 0.5)]
    assert spare.played == []
    assert chain.tried_words() == "Tried before: a is not installed."
    assert told == [""]


def test_a_player_that_fails_later_hands_over(qapp: QApplication) -> None:
    """What breaks down in the middle of a ring is followed by the next, in the same rhythm."""
    first, second = NotedPlayer("a"), NotedPlayer("b")
    chain = Chain([first, second])
    chain.play(Rhythm.OVERDUE, 1.0)
    first.break_down()

    assert chain.playing is second
    assert second.played == [(Rhythm.OVERDUE, 1.0)]
    assert chain.tried == ("a broke down",)


def test_a_player_that_takes_over_counts_from_its_own_start(qapp: QApplication) -> None:
    """The second player's time begins when it began, not with the ring."""
    first, second = NotedPlayer("a"), NotedPlayer("b")
    chain = Chain([first, second])
    chain.play(Rhythm.DUE, 1.0)
    chain.tick(5.0)
    first.break_down()
    chain.tick(5.5)

    assert second.ticks == [0.5]


def test_with_no_player_left_the_words_say_so(qapp: QApplication) -> None:
    """When nothing sounds there is a sentence with a cure."""
    chain = Chain([NotedPlayer("a", "is not installed"), NotedPlayer("b", "is not there")])
    told = settled(chain)
    chain.play(Rhythm.DUE, 1.0)

    assert chain.playing is None
    assert told == [UNHEARD]
    assert "kitchen timer" in UNHEARD


def test_a_beep_is_not_taken_for_sure(qapp: QApplication) -> None:
    """When only the beep is left the words say that it may not be heard."""
    chain = Chain([NotedPlayer("a", "is not installed"), BeepPlayer(stroke=lambda: None)])
    told = settled(chain)
    chain.play(Rhythm.DUE, 1.0)

    assert told == [UNSURE]


def test_every_ring_begins_with_the_best(qapp: QApplication) -> None:
    """A loudspeaker that was plugged in meanwhile is found at the next ring."""
    best, spare = NotedPlayer("a", "finds no sound device"), NotedPlayer("b")
    chain = Chain([best, spare])
    chain.play(Rhythm.DUE, 1.0)
    best.refuses = ""
    chain.play(Rhythm.DUE, 1.0)

    assert chain.playing is best
    assert chain.tried_words() == ""
    assert not spare.sounding


def test_a_stopped_chain_stays_silent(qapp: QApplication) -> None:
    """After a stop a late failure starts no other player."""
    first, second = NotedPlayer("a"), NotedPlayer("b")
    chain = Chain([first, second])
    chain.play(Rhythm.DUE, 1.0)
    chain.stop()
    first.break_down()

    assert not first.sounding
    assert second.played == []
