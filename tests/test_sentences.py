"""How sentences begin, and how several things stand in a row."""

from __future__ import annotations

import pytest

from packdesk.sentences import capital, joined


@pytest.mark.parametrize(
    ("words", "begun"), [("pouch 3", "Pouch 3"), ("ölsaat", "Ölsaat"), ("", "")]
)
def test_a_sentence_begins_with_a_capital(words: str, begun: str) -> None:
    """The first letter alone changes, and nothing stays nothing."""
    assert capital(words) == begun


@pytest.mark.parametrize(
    ("things", "said"),
    [((), ""), (("A",), "A"), (("A", "B"), "A and B"), (("A", "B", "C"), "A, B and C")],
)
def test_things_in_a_row_have_one_and_before_the_last(things: tuple[str, ...], said: str) -> None:
    """Commas between the first ones, the word before the last."""
    assert joined(things) == said
