"""Pages by name."""

from __future__ import annotations

import pytest

from packdesk.paper.page_sizes import MM, page_size_mm


def test_pages_have_their_standard_sizes() -> None:
    """A4 is 210 × 297 mm (ISO 216), Letter 8.5 × 11 inches, which is 612 × 792 points."""
    assert page_size_mm("A4") == (210.0, 297.0)
    assert [side * MM for side in page_size_mm("Letter")] == pytest.approx([612.0, 792.0])


def test_an_unknown_page_is_refused_with_the_known_ones() -> None:
    """A wrong name is answered with the names that exist."""
    with pytest.raises(ValueError, match=r"“A5” is no page size .*\. Choose A4 or Letter\."):
        page_size_mm("A5")
