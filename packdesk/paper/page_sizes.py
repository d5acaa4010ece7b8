"""How large a page is, and how millimetres become the points of a PDF."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

MM = 72.0 / 25.4
"""Points in a millimetre (a PDF point is 1/72 inch)."""

PAGE_SIZES_MM: Mapping[str, tuple[float, float]] = MappingProxyType(
    {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
)
"""Width and height upright. Sources: ISO 216 (A4); ANSI/ASME Y14.1 size A, 8.5 x 11 in (Letter)."""


def page_size_mm(page: str) -> tuple[float, float]:
    """Width and height of the page called `page`; raises `ValueError` for an unknown name."""
    try:
        return PAGE_SIZES_MM[page]
    except KeyError:
        known = " or ".join(PAGE_SIZES_MM)
        raise ValueError(f"“{page}” is no page size known here. Choose {known}.") from None
