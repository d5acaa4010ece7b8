"""Wrapping and shrinking: every character is kept and every line stays within its width."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.paper.fit import shrink, tied, wrap
from packdesk.paper.fonts import BOLD, REGULAR, text_width

words = st.text(st.sampled_from("abcWÅő Жж-1"), min_size=1, max_size=60).map(
    lambda text: " ".join(text.split(" "))
)


@given(words, st.floats(0.5, 30.0))
def test_no_line_is_wider_than_asked_for(text: str, width_em: float) -> None:
    """Whatever the text and the width, a line that is set keeps within it."""
    for line in wrap(text, REGULAR, width_em, break_words=True):
        assert text_width(line, REGULAR) <= width_em


@given(words, st.floats(1.5, 30.0))
def test_every_character_is_kept(text: str, width_em: float) -> None:
    """Lines put together are the text again, but for hyphens at the breaks."""
    lines = wrap(text, REGULAR, width_em, break_words=True)

    kept = "".join(lines).replace(" ", "").replace("-", "")
    assert kept == text.replace(" ", "").replace("-", "")


def test_lines_end_at_spaces() -> None:
    """Words stay whole where the line has room for them."""
    width = text_width("and wheat", REGULAR) + 0.01

    assert wrap("rice and wheat", REGULAR, width) == ("rice and", "wheat")


def test_a_number_stays_with_its_unit() -> None:
    """A no-break space never ends a line."""
    width = text_width("about 1.25", REGULAR) + 0.01

    assert wrap("about 1.25\u00a0kg", REGULAR, width) == ("about", "1.25\u00a0kg")


def test_a_word_too_wide_is_not_set_unless_it_may_be_broken() -> None:
    """Without leave to break words a long one makes the text unfit, never cut."""
    assert wrap("Kichererbsenmehl", REGULAR, 4.0) == ()
    assert wrap("Kichererbsenmehl", REGULAR, 4.0, break_words=True)[0].endswith("-")


def test_no_hyphen_is_put_into_a_number() -> None:
    """A lot code broken at a digit gets no hyphen, which would change it."""
    pieces = wrap("20261125001", REGULAR, 2.0, break_words=True)

    assert len(pieces) > 1
    assert "".join(pieces) == "20261125001"


def test_a_width_that_takes_no_character_sets_nothing() -> None:
    """Where not even one letter fits, the answer is empty rather than endless."""
    assert wrap("W", REGULAR, 0.3, break_words=True) == ()


def test_the_largest_size_on_few_lines_is_taken() -> None:
    """Of the sizes offered the first that needs no more lines than allowed is taken."""
    width = text_width("Black turtle beans", BOLD) * 10.0 + 0.1

    assert shrink("Black turtle beans", BOLD, (20.0, 10.0, 5.0), width, 1) == (
        10.0,
        ("Black turtle beans",),
    )


def test_the_smallest_size_breaks_words_rather_than_losing_them() -> None:
    """When no size is small enough the last one takes as many lines as it needs."""
    size, lines = shrink("W" * 30, BOLD, (20.0, 10.0), 50.0, 2)

    assert size == 10.0
    assert "".join(lines).replace("-", "") == "W" * 30


@pytest.mark.parametrize("width_em", [0.0, -3.0])
def test_no_width_at_all_sets_nothing(width_em: float) -> None:
    """A column without width takes no text."""
    assert wrap("rice", REGULAR, width_em, break_words=True) == ()


@pytest.mark.parametrize(
    "together",
    ["254 mm", "203 × 254 mm", "8 × 680 g", "± 15 min", "10 %", "1617 J/(kg K)", "8 W/(m² K)",
     "−15 °C", "1 lb 8 oz", "30 years", "Lot 2610-1", "2026-11-06 21:30", "72 h",
     "0.01 cc/(m² day)"],
)  # fmt: skip
def test_a_figure_keeps_its_unit_on_its_line(together: str) -> None:
    """No line ends between figure and unit, nor between date and time, however narrow it is."""
    assert " " not in tied(together)
    assert tied(together).replace("\u00a0", " ") == together
    assert tied(f"from {together} on").count(" ") == 2


def test_words_after_a_figure_stay_apart() -> None:
    """Only units are tied: a count and what it counts may stand on two lines."""
    for words in ("8 pouches", "2 hours", "pouch 14 sealed", "13 checked", "3 Kidney beans"):
        assert tied(words) == words
