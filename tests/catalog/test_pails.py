from __future__ import annotations

from math import pi

import pytest

from packdesk.catalog.pails import Pail
from packdesk.catalog.read import read_catalog
from packdesk.units import convert

PAILS = read_catalog()[0].pails


@pytest.mark.parametrize(
    ("key", "litres"), [("pail-8l", 8.75), ("pail-13l", 13.96), ("pail-19l", 20.3)]
)
def test_a_pail_holds_the_volume_of_its_cone(key: str, litres: float) -> None:
    """Brimful volume is that of a truncated cone, reckoned elsewhere by the trapezoidal rule."""
    pail = PAILS[key]
    slices = 10_000
    volume = 0.0
    for each in range(slices):
        share = (each + 0.5) / slices
        across = pail.bottom_diameter_mm + share * (pail.top_diameter_mm - pail.bottom_diameter_mm)
        volume += pi / 4 * across**2 * pail.inner_height_mm / slices

    assert pail.brimful_l == pytest.approx(volume / 1e6, rel=1e-6)
    assert pail.brimful_l == pytest.approx(litres, abs=0.05)


@pytest.mark.parametrize("pail", PAILS.values(), ids=PAILS.keys())
def test_room_for_the_lid_is_kept(pail: Pail) -> None:
    """A pail is filled to 25 to 40 mm below its rim, and so holds less than brimful."""
    assert 25 <= pail.inner_height_mm - pail.usable_depth_mm <= 40
    assert pail.usable_volume_l < pail.brimful_l
    assert pail.bottom_diameter_mm < pail.inner_diameter_mm < pail.top_diameter_mm


def test_pails_are_called_by_their_nominal_volume() -> None:
    """The litres and gallons in a pail's name are its nominal volume."""
    for pail in PAILS.values():
        gallons = convert(pail.nominal_volume_l, "L", "gal")
        assert pail.name == f"pail, {pail.nominal_volume_l:.1f} L ({round(gallons, 1):g} US gal)"
