"""The short run of the kill harness; PACKDESK_KILLS=300 makes it the long one."""

from __future__ import annotations

import os
import random
from pathlib import Path

import pytest

from tests.record.kill_harness import run

KILLS = int(os.environ.get("PACKDESK_KILLS", "12"))


@pytest.mark.parametrize("while_opening", [False, True], ids=["recording", "opening"])
def test_a_killed_program_loses_nothing_it_called_saved(
    tmp_path: Path, while_opening: bool
) -> None:
    """Killed at any moment, the book opens again, is sound, and has all that was acknowledged."""
    kills = KILLS // 3 if while_opening else KILLS

    outcome = run("sound", tmp_path, kills, random.Random(1), while_opening=while_opening)

    assert outcome.kills == kills
    assert outcome.acknowledged > 0
    assert (outcome.lost, outcome.torn, outcome.damage) == (0, 0, [])


@pytest.mark.parametrize("recorder", ["announcing_early", "buffering"])
def test_the_harness_sees_what_a_broken_recorder_loses(tmp_path: Path, recorder: str) -> None:
    """Recorders that announce before the disk has it are caught losing what they announced."""
    outcome = run(recorder, tmp_path, 60, random.Random(1), until_a_loss=True)

    assert outcome.lost > 0
