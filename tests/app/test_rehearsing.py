"""A sample session through the real window and the real record."""

from __future__ import annotations

from pathlib import Path

import pytest

from packdesk.app.command_line import main
from packdesk.app.session_files import tell
from packdesk.session.facts import AlarmRang, FactVoided

SAMPLES = Path(__file__).resolve().parents[2] / "sample_sessions"
STAGES = (
    "before",
    "cold_treatment",
    "thaw_equilibration",
    "filling",
    "sealing",
    "labelling",
    "after",
)


@pytest.mark.parametrize("name", ["autumn-wheat", "winter-rice"])
def test_a_rehearsal_comes_to_the_same_facts_and_leaves_its_papers(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A sample goes through the window to the same facts, with labels, record and pictures."""
    sample = SAMPLES / f"{name}.jsonl"

    assert main(["rehearse", str(sample), "--out", str(tmp_path)]) == 0, capsys.readouterr().err

    for made in ("labels.pdf", "record.pdf"):
        assert (tmp_path / made).read_bytes().startswith(b"%PDF")
    assert {stage for stage in STAGES if list(tmp_path.glob(f"*{stage}.png"))} == set(STAGES)
    told = [entry.fact for entry in tell(sample).entries]
    again = [entry.fact for entry in tell(tmp_path / "session.jsonl").entries]
    skipped = (AlarmRang, FactVoided)  # alarms are the program's own; a voiding names identities
    assert [f.kind for f in again if not isinstance(f, AlarmRang)] == [f.kind for f in told]
    assert _without_session([f for f in again if not isinstance(f, skipped)]) == _without_session(
        [f for f in told if not isinstance(f, skipped)]
    )


def _without_session(facts: list[object]) -> list[str]:
    """Facts as text, without the identity of the session they were told in."""
    found = []
    for fact in facts:
        named = str(getattr(fact, "session", ""))
        found.append(str(fact).replace(named, "") if named else str(fact))
    return found


def test_a_size_that_is_none_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A picture size that cannot be read is refused with how to write it."""
    sample = str(SAMPLES / "autumn-wheat.jsonl")

    assert main(["rehearse", sample, "--out", str(tmp_path), "--size", "big"]) == 1
    assert "1366x768" in capsys.readouterr().err
