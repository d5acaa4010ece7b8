from __future__ import annotations

from pathlib import Path

import pytest

from packdesk.app.choices import FileChoices
from packdesk.desk.ports import Trouble
from packdesk.settings.chosen import Settings


def test_choices_are_there_after_a_restart(tmp_path: Path) -> None:
    """What was kept is read when the program starts again."""
    kept = Settings().with_choice("printer", "kitchen")
    FileChoices(tmp_path).keep(kept)
    again = FileChoices(tmp_path)
    assert (again.settings, again.faults) == (kept, ())


def test_choices_that_cannot_be_written_change_nothing(tmp_path: Path) -> None:
    """Without its folder the file is not written, and the choices stay as they were."""
    choices = FileChoices(tmp_path / "gone")
    with pytest.raises(Trouble, match="its folder is not there"):
        choices.keep(Settings().with_choice("printer", "kitchen"))
    assert choices.settings == Settings()


def test_a_faulty_file_is_told(tmp_path: Path) -> None:
    """A file of other letters than UTF-8 leaves the usual settings, with a sentence."""
    (tmp_path / "settings.toml").write_bytes(b"\xff\xfe")
    choices = FileChoices(tmp_path)
    assert choices.settings == Settings()
    assert "cannot be read" in choices.faults[0]
