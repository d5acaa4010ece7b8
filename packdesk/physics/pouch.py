"""What a pouch holds, and what a pail holds of pouches.

A pouch's name says little: what it holds follows from its flat size, its seams, the height left
free above the food and how far a person fills it. Sizes are those printed on the packet: flat, from
outside edge to outside edge.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from packdesk.physics.ranges import OutOfRange, within

PRACTICAL_FRACTION = 0.80
"""How much of a pouch's greatest volume a person fills (common practice, no source)."""

PAIL_PACKING_FRACTION = 0.75
"""How much of a pail soft pouches fill (common practice, no source; spheres thrown in at random
fill 0.64 and ellipsoids up to 0.735: Donev et al. 2004, Science 303:990, from memory)."""

LID_GAP_MM = 30.0
"""Height left free below a pail's rim for the lid (common practice, no source: 25 to 40 mm)."""

_MM3_PER_L = 1e6
_TALLEST_MM, _LEAST_INNER_MM = 2000.0, 10.0


def paper_bag_volume_l(width_mm: float, height_mm: float) -> float:
    """How much a flat bag closed all round holds at most, blown up tight.

    Symbols: ``width_mm`` and ``height_mm`` of the inner flat rectangle, mm, 10 to 2000, in either
    order.
    Source: A. C. Robin, "Paper bag problem", Mathematics Today, June 2004, 104 to 107:
    V = w³ (h/(πw) − 0.142 (1 − 10^(−h/w))), w the shorter side.
    Example: a square of side 1 gives 1/π − 0.142 × 0.9 = 0.1905, a rectangle of 1 by 2
    2/π − 0.142 × 0.99 = 0.4960 (both worked by hand from the formula).

    >>> f"{paper_bag_volume_l(100.0, 100.0):.4f}", f"{paper_bag_volume_l(200.0, 100.0):.3f}"
    ('0.1905', '0.496')

    Limits: an approximation; the true greatest volume of the square lies between 0.2055 and 0.217
    (Kepert's bounds), so the formula is 7 to 12 % low there. The film must not stretch.
    """
    width = within("width_mm", width_mm, _LEAST_INNER_MM, _TALLEST_MM, "mm")
    height = within("height_mm", height_mm, _LEAST_INNER_MM, _TALLEST_MM, "mm")
    w, h = min(width, height), max(width, height)
    filled = h / (math.pi * w) - 0.142 * (1.0 - math.pow(10.0, -h / w))
    return w * w * w * filled / _MM3_PER_L


def _inner_flat_mm(
    width_mm: float, height_mm: float, seam_mm: float, headspace_mm: float, side_seam_mm: float
) -> tuple[float, float]:
    """Take the seams off both sides, the bottom and the top, and the headspace off the height."""
    width = within("width_mm", width_mm, 50.0, 1500.0, "mm")
    height = within("height_mm", height_mm, 50.0, _TALLEST_MM, "mm")
    widest_seam = min(50.0, (height - _LEAST_INNER_MM) / 2.0)
    seam = within("seam_mm", seam_mm, 0.0, widest_seam, "mm")
    widest_side = min(50.0, (width - _LEAST_INNER_MM) / 2.0)
    side = within("side_seam_mm", side_seam_mm, 0.0, widest_side, "mm")
    free = within("headspace_mm", headspace_mm, 0.0, height - 2.0 * seam - _LEAST_INNER_MM, "mm")
    return width - 2.0 * side, height - 2.0 * seam - free


def flat_capacity_l(
    width_mm: float,
    height_mm: float,
    seam_mm: float,
    headspace_mm: float,
    practical_fraction: float = PRACTICAL_FRACTION,
    *,
    side_seam_mm: float | None = None,
) -> float:
    """How much settled food a flat pouch takes when a person fills it, in litres.

    Symbols: ``width_mm`` 50 to 1500 and ``height_mm`` 50 to 2000, outside, lying flat;
    ``seam_mm`` width of each seam, 0 to 50 (bottom, both sides, and the one to be made on top);
    ``side_seam_mm`` the same for the sides where it differs (0 for a tube); ``headspace_mm`` flat
    height left free between the food and the top seam, 0 up to what leaves 10 mm of pouch;
    ``practical_fraction`` of the greatest volume that is really filled, 0.3 to 1.
    Source: Robin's paper-bag formula (``paper_bag_volume_l``) on what is left after seams and
    headspace; the fraction is common practice, no source.
    Example: 8 by 10 inches with no seam and two inches free lies 203.2 by 203.2 mm: 203.2³ × 0.1905
    = 1.598 L at most, worked by hand.

    >>> f"{flat_capacity_l(203.2, 254.0, 0.0, 50.8, 1.0):.2f}"
    '1.60'

    Limits: good to some 20 %, which is why ``corrected_capacity_l`` listens to a person's scale.
    """
    fraction = within("practical_fraction", practical_fraction, 0.3, 1.0)
    side = seam_mm if side_seam_mm is None else side_seam_mm
    width, height = _inner_flat_mm(width_mm, height_mm, seam_mm, headspace_mm, side)
    return fraction * paper_bag_volume_l(width, height)


def gusseted_capacity_l(
    width_mm: float,
    height_mm: float,
    gusset_mm: float,
    seam_mm: float,
    headspace_mm: float,
    practical_fraction: float = PRACTICAL_FRACTION,
) -> float:
    """How much settled food a pouch with side gussets takes, in litres.

    Symbols: ``width_mm`` of the front, 50 to 1500; ``height_mm`` lying flat, 50 to 2000;
    ``gusset_mm`` depth with the gussets opened, 10 up to the height; ``seam_mm`` of the bottom and
    the top seam, 0 to 50; ``headspace_mm`` as ``flat_capacity_l``; ``practical_fraction`` 0.3 to 1.
    Source: geometry. Filled, it is a box of width × depth; front and back each give half the depth
    of their height to the bottom.
    Example: 150 × 300 mm, gusset 80 mm, seams 10 mm, 40 mm free: 300 − 20 − 40 − 40 = 200 mm tall,
    150 × 80 × 200 mm³ = 2.4 L, worked by hand.

    >>> f"{gusseted_capacity_l(150.0, 300.0, 80.0, 10.0, 40.0, 1.0):.1f}"
    '2.4'

    Limits: the corners are rounder than a box's; the practical fraction stands for that too.
    """
    fraction = within("practical_fraction", practical_fraction, 0.3, 1.0)
    width, height = _inner_flat_mm(width_mm, height_mm, seam_mm, headspace_mm, side_seam_mm=0.0)
    depth = within("gusset_mm", gusset_mm, 10.0, height, "mm")
    return fraction * width * depth * (height - depth / 2.0) / _MM3_PER_L


def _tapering_volume_l(bottom_mm: float, top_mm: float, height_mm: float) -> float:
    """Volume of a frustum by its two diameters."""
    squares = bottom_mm**2 + bottom_mm * top_mm + top_mm**2
    return math.pi * height_mm * squares / 12.0 / _MM3_PER_L


def _pail_mm(top_mm: float, bottom_mm: float, height_mm: float) -> tuple[float, float, float]:
    top = within("pail_top_diameter_mm", top_mm, 100.0, 1000.0, "mm")
    bottom = within("pail_bottom_diameter_mm", bottom_mm, 100.0, top, "mm")
    return top, bottom, within("pail_height_mm", height_mm, 100.0, 1200.0, "mm")


def liner_capacity_l(
    width_mm: float,
    height_mm: float,
    seam_mm: float,
    headspace_mm: float,
    *,
    pail_top_diameter_mm: float,
    pail_bottom_diameter_mm: float,
    pail_height_mm: float,
    lid_gap_mm: float = LID_GAP_MM,
) -> float:
    """How much settled food a liner takes that stands in a pail, in litres.

    Symbols: the liner as ``flat_capacity_l`` has a pouch; ``headspace_mm`` is the flat height
    drawn together above the food below the top seam; the pail by its inside
    diameters at the rim (100 to 1000 mm) and at the bottom (100 mm up to the rim's) and its inside
    height (100 to 1200 mm); ``lid_gap_mm`` left free below the rim, 0 to half the height.
    Source: geometry. The liner opens to a tube of circumference twice its inner width; the pail's
    wall holds it where that is wider than the pail. Each end gives half a diameter of its height to
    close over the food.
    Example: inner width 314.16 mm is a tube of 200 mm; in a pail of 300 by 500 mm, with 600 mm
    − 200 mm for the ends, it holds π × 10² × 40 cm³ = 12.57 L, worked by hand.

    >>> litres = liner_capacity_l(314.16, 600.0, 0.0, 0.0, pail_top_diameter_mm=300.0,
    ...                           pail_bottom_diameter_mm=300.0, pail_height_mm=500.0)
    >>> f"{litres:.2f}"
    '12.57'

    Limits: folds lie flat and take no room. A liner too short for its pail takes as much as it can
    still close over.
    """
    top, bottom, pail_height = _pail_mm(
        pail_top_diameter_mm, pail_bottom_diameter_mm, pail_height_mm
    )
    width, height = _inner_flat_mm(width_mm, height_mm, seam_mm, headspace_mm, seam_mm)
    filled_at_most = pail_height - within("lid_gap_mm", lid_gap_mm, 0.0, pail_height / 2.0, "mm")
    tube = 2.0 * width / math.pi
    ends = min(tube, bottom) / 2.0 + min(tube, top) / 2.0
    filled = min(filled_at_most, height - ends)
    if filled <= 0.0:
        raise OutOfRange("height_mm", height_mm, height_mm + ends - height, math.inf, "mm")
    if tube <= bottom:
        return _tapering_volume_l(tube, tube, filled)
    widening = (top - bottom) / pail_height
    # The wall holds the liner up to where the widening pail is as wide as the tube.
    walled = filled if tube >= top else min(filled, (tube - bottom) / widening)
    at_wall = _tapering_volume_l(bottom, bottom + widening * walled, walled)
    return at_wall + _tapering_volume_l(tube, tube, filled - walled)


# A person's own weighings against the geometry: how far the geometry may be off (sd of the natural
# logarithm of the ratio) and how far one weighed pouch is from the next. Own judgement, no source.
_GEOMETRY_SD, _WEIGHING_SD = 0.20, 0.08


def corrected_capacity_l(
    computed_l: float, net_masses_g: Sequence[float], bulk_density_g_per_cc: float
) -> float:
    """What a pouch holds in a person's own hands, once some filled ones were weighed, in litres.

    Symbols: ``computed_l`` from the geometry, 0.01 to 200 L; ``net_masses_g`` of pouches filled as
    they should be, each from 0.3 to 3 times what the geometry says; ``bulk_density_g_per_cc`` of
    the settled food, 0.05 to 2.5.
    Source: our own rule (mean of two normal estimates by their precision, on the logarithm of the
    ratio): the geometry is taken to be good to 20 %, one weighing to 8 %.
    Example: four pouches of 1000 g at 0.8 g/cc against a computed 1 L. Weights 1/0.2² = 25 and
    4/0.08² = 625, so the ratio is 1.25^(625/650) = 1.2393, worked by hand.

    >>> f"{corrected_capacity_l(1.0, [1000.0] * 4, 0.8):.3f}"
    '1.239'

    Limits: no weighing leaves the geometry as it is; many leave their own (geometric) mean.
    """
    computed = within("computed_l", computed_l, 0.01, 200.0, "L")
    density = within("bulk_density_g_per_cc", bulk_density_g_per_cc, 0.05, 2.5, "g/cc")
    expected_g = computed * 1000.0 * density
    masses = [
        within("net_mass_g", mass, 0.3 * expected_g, 3.0 * expected_g, "g") for mass in net_masses_g
    ]
    told = sum(math.log(mass / expected_g) for mass in masses) / _WEIGHING_SD**2
    return computed * math.exp(told / (1.0 / _GEOMETRY_SD**2 + len(masses) / _WEIGHING_SD**2))


def pouches_in_pail(
    pouch_volume_l: float, pail_volume_l: float, packing_fraction: float = PAIL_PACKING_FRACTION
) -> int:
    """How many filled pouches of one size go into a pail.

    Symbols: ``pouch_volume_l`` of one filled, sealed pouch, 0.05 to 200 L; ``pail_volume_l`` below
    the lid's gap, 1 to 500 L; ``packing_fraction`` of that which pouches really fill, 0.4 to 1.
    Source: volume; the fraction is common practice, no source.
    Example: 18.9 L × 0.75 / 3.0 L = 4.7, so four, worked by hand (practice has four to five of the
    one-gallon size in a five-gallon pail).

    >>> pouches_in_pail(3.0, 18.9)
    4

    Limits: says nothing of pouches longer than the pail is wide, nor of weight.
    """
    pouch = within("pouch_volume_l", pouch_volume_l, 0.05, 200.0, "L")
    pail = within("pail_volume_l", pail_volume_l, 1.0, 500.0, "L")
    fraction = within("packing_fraction", packing_fraction, 0.4, 1.0)
    return math.floor(pail * fraction / pouch + 1e-9)
