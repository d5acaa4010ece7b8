"""The committed sample sessions against the stories they are told from."""

from __future__ import annotations

import sys
from pathlib import Path

import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from packdesk.app.making import labels_of
from packdesk.app.session_files import tell
from packdesk.present.label_text import label_texts
from packdesk.session.facts import KINDS

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))
import sample_stories  # noqa: E402 - the stories lie beside the test folders

NAMES = tuple(sample_stories.STORIES)


@pytest.mark.parametrize("name", NAMES)
def test_a_sample_is_what_its_story_comes_to_today(name: str) -> None:
    """The committed sample tells the same facts as its story; write it anew if this fails."""
    kept = [line.fact for line in tell(ROOT / "sample_sessions" / name).file.lines]
    now = [entry.fact for entry in sample_stories.STORIES[name]().notebook.kept]

    assert [fact.kind for fact in now] == [fact.kind for fact in kept]
    assert now == kept


@pytest.mark.parametrize("name", NAMES)
def test_every_entry_of_a_sample_fits(name: str) -> None:
    """No entry of a sample is disputed, and its session can be gone on with."""
    state = tell(ROOT / "sample_sessions" / name).state

    assert state.disputed == ()
    assert state.newer_kinds == ()


def test_samples_tell_most_kinds_of_facts() -> None:
    """Together the samples hold most kinds of facts, so that they are worth rehearsing."""
    told = {
        line.fact.kind
        for name in NAMES
        for line in tell(ROOT / "sample_sessions" / name).file.lines
    }

    assert len(told) >= 0.75 * len(KINDS)


def test_every_label_of_a_session_decodes_and_equals_the_record(tmp_path: Path) -> None:
    """Each code on the rendered sheets of 41 and 13 pouches equals the record."""
    for name in NAMES:
        told = tell(ROOT / "sample_sessions" / name)
        session = told.state.session
        assert session is not None
        out = tmp_path / f"{name}.pdf"
        labels_of(told, None, 4, out)
        numbers = tuple(pouch.number for pouch in session.working_pouches())
        expected = sorted(text.code for text in label_texts(session, numbers))

        document = pypdfium2.PdfDocument(out)
        pages: list[Image.Image] = [page.render(scale=200 / 72).to_pil() for page in document]
        document.close()
        found = sorted(code.text for page in pages for code in zxingcpp.read_barcodes(page))

        assert found == expected
