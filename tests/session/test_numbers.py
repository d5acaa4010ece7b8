"""Pouch numbers as people say them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.session.numbers import listed, named, runs


@pytest.mark.parametrize(
    ("numbers", "words"),
    [
        ((17,), "pouch 17"),
        ((1, 2), "pouches 1 and 2"),
        ((1, 2, 3), "pouches 1 to 3"),
        ((1, 2, 3, 7), "pouches 1 to 3 and 7"),
        ((9, 3, 1, 2, 8), "pouches 1 to 3, 8 and 9"),
        ((1, 2, 3, 11, 12, 13, 20), "pouches 1 to 3, 11 to 13 and 20"),
        ((5, 5), "pouch 5"),
    ],
)
def test_are_said_in_runs(numbers: tuple[int, ...], words: str) -> None:
    """Three and more in a row are said as a run, two are said singly."""
    assert named(numbers) == words


@pytest.mark.parametrize(
    ("numbers", "words"), [((4,), "Pouch 4 is"), ((1, 2, 3), "Pouches 1 to 3 are")]
)
def test_begin_a_sentence(numbers: tuple[int, ...], words: str) -> None:
    """A sentence about pouches has the verb that agrees with them."""
    assert listed(numbers) == words


@given(st.sets(st.integers(1, 60), min_size=1))
def test_runs_hold_every_number_once(numbers: set[int]) -> None:
    """Written out, the runs are the numbers again, in order."""
    assert [n for first, last in runs(numbers) for n in range(first, last + 1)] == sorted(numbers)
