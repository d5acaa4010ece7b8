"""Which packet does for the absorbers that are wanted."""

from __future__ import annotations

import pytest

from packdesk.session.packets import packet_for


@pytest.mark.parametrize(
    ("pieces", "packet"),
    [(1, 5), (5, 5), (6, 10), (10, 10), (11, 50), (51, 100), (100, 100), (120, 100)],
)
def test_the_smallest_packet_that_does_is_taken(pieces: int, packet: int) -> None:
    """Of 5, 10, 50 and 100 the least that is enough, so that little goes stale; else the most."""
    assert packet_for((100, 5, 50, 10), pieces) == packet


def test_without_a_known_size_there_is_nothing_to_offer() -> None:
    """A rating whose packets nobody entered is left to the person."""
    assert packet_for((), 6) == 0
