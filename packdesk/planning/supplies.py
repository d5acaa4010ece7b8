"""What a plan takes to have at hand: pouches, absorbers by the packet, pails, labels."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from packdesk.catalog.absorbers import AbsorberKind
from packdesk.catalog.pails import Pail
from packdesk.catalog.read import Catalog
from packdesk.physics.pouch import pouches_in_pail
from packdesk.planning.planned import PlannedLine

SPARE_SHARE = 0.1
"""Spare pouches, of those planned and at least one: seams go wrong (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Supply:
    """One row of the shopping list."""

    count: int
    name: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Supplies:
    """The whole shopping list, in the order things are needed at the counter."""

    pouches: tuple[Supply, ...]
    absorbers: tuple[Supply, ...]
    jars: tuple[Supply, ...]
    pails: tuple[Supply, ...]
    labels: tuple[Supply, ...]

    @property
    def rows(self) -> tuple[Supply, ...]:
        """All rows, one after the other."""
        return (*self.pouches, *self.absorbers, *self.jars, *self.pails, *self.labels)


def supplies_for(
    lines: Sequence[PlannedLine], catalog: Catalog, pail: Pail, freezer_pails: int
) -> Supplies:
    """What planned lines take together.

    ``pail`` is the one that pouches are stowed in and that food is frozen in, ``freezer_pails``
    how many loads there are. A pail emptied on packing day takes pouches afterwards.
    """
    rows, pails = _pails(lines, catalog, pail, freezer_pails)
    return Supplies(
        _pouches(lines), _absorbers(lines, catalog), _jars(lines), rows, _labels(lines, pails)
    )


def spare(count: int) -> int:
    """How many spare pouches go with ``count`` planned ones."""
    return math.ceil(count * SPARE_SHARE - 1e-9) if count else 0


def _pouches(lines: Sequence[PlannedLine]) -> tuple[Supply, ...]:
    planned, names = Counter[str](), {each.pouch: each.pouch_name for each in lines}
    for each in lines:
        planned[each.pouch] += each.count
    return tuple(
        Supply(count + spare(count), names[key], f"{count} and {spare(count)} spare")
        for key, count in planned.items()
    )


def _absorbers(lines: Sequence[PlannedLine], catalog: Catalog) -> tuple[Supply, ...]:
    """Enough for every pouch and for the spare ones, by the packet."""
    planned, spares = absorbers_wanted(lines)
    found = []
    for rating, needed in sorted(planned.items()):
        name = f"{rating} cc absorbers"
        sizes = packet_sizes(rating, catalog)
        for_spares = f"{needed} and {spares[rating]} for spare pouches"
        if not sizes:
            found.append(Supply(needed + spares[rating], name, for_spares))
            continue
        bought = packets(needed + spares[rating], sizes)
        said = " and ".join(
            f"{count} packet{'s' if count > 1 else ''} of {size}" for size, count in bought
        )
        found.append(
            Supply(sum(size * count for size, count in bought), name, f"{said}; {for_spares}")
        )
    return tuple(found)


def _jars(lines: Sequence[PlannedLine]) -> tuple[Supply, ...]:
    """One for each rating: what is left of a packet is shut up apart from the others."""
    ratings = len(absorbers_wanted(lines)[0])
    if not ratings:
        return ()
    name = "small jar, lid tight" if ratings == 1 else "small jars, lids tight"
    return (Supply(ratings, name, "for the absorbers left over between rounds"),)


class Takes(Protocol):
    """A plan line, on offer or agreed: how many pouches, and which absorbers go into each (cc)."""

    @property
    def count(self) -> int:
        """Pouches."""

    @property
    def absorbers_cc(self) -> tuple[int, ...]:
        """Ratings of the absorbers of one pouch."""


def absorbers_wanted(lines: Iterable[Takes]) -> tuple[Counter[int], Counter[int]]:
    """How many absorbers of each rating the pouches of plan lines take, and the spare ones."""
    planned, spares = Counter[int](), Counter[int]()
    for each in lines:
        for rating in each.absorbers_cc:
            planned[rating] += each.count
            spares[rating] += spare(each.count)
    return planned, spares


def packet_sizes(rating: int, catalog: Catalog) -> tuple[int, ...]:
    """How many absorbers of a rating (cc) come in a packet, of those that work in dry food."""
    return tuple(
        size
        for each in catalog.absorbers.values()
        if each.kind is AbsorberKind.SELF_ACTIVATED and int(each.rating_cc) == rating
        for size in each.packet_counts
    )


def _pails(
    lines: Sequence[PlannedLine], catalog: Catalog, pail: Pail, freezer_pails: int
) -> tuple[tuple[Supply, ...], int]:
    """The rows of pails, and how many pails are stowed away in the end.

    Where pails from the freezer take pouches afterwards, the first pouches are ready before the
    first of those is empty: one pail to spare is needed then.
    """
    stowed, share, beside = Counter({pail.key: 0}), 0.0, list[Supply]()
    for each in lines:
        if each.liner:
            stowed[each.pail] += each.count
        elif holds := pouches_in_pail(_filled_l(each), pail.usable_volume_l):
            share += each.count / holds
        else:
            name = f"{each.pouch_name}, beside the pails"
            beside.append(Supply(each.count, name, f"too large for {pail.name}"))
    stowed[pail.key] += math.ceil(share - 1e-9)
    known = {**catalog.pails, pail.key: pail}
    rows = []
    for key, count in stowed.items():
        frozen = freezer_pails if key == pail.key else 0
        notes = [f"{frozen} for the freezer"] if frozen else []
        notes += [f"{count} to stow away"] if count else []
        if notes:
            name = known[key].name if key in known else key
            enough, said = max(count, frozen), ", then ".join(notes)
            if frozen and 0 < count <= frozen:
                enough, said = frozen + 1, f"{said}; 1 spare"
            rows.append(Supply(enough, name, said))
    return (*rows, *beside), stowed.total()


_SMALLEST_POUCH_L = 0.05


def _filled_l(line: PlannedLine) -> float:
    """The room a filled pouch takes in a pail: its food and the gas left above it."""
    food_cc = line.fill_mass_g / line.bulk_density_g_per_cc
    return max(_SMALLEST_POUCH_L, (food_cc + line.residual_gas_cc) / 1000.0)


def _labels(lines: Sequence[PlannedLine], pails: int) -> tuple[Supply, ...]:
    pouches = sum(each.count for each in lines)
    if not pouches:
        return ()
    return (Supply(pouches + pails, "labels", f"{pouches} for pouches, {pails} for pails"),)


def packets(needed: int, sizes: Iterable[int]) -> tuple[tuple[int, int], ...]:
    """Which packets to buy for ``needed`` absorbers, as (absorbers in a packet, packets).

    Fewest absorbers left over; of the ways to that, the one whose largest packet is smallest and
    then the fewest packets: what is opened goes stale, so that a packet should be used up at one
    go. Largest first.
    """
    choices = sorted(set(sizes))
    if needed <= 0:
        return ()
    if not choices or choices[0] < 1:
        raise ValueError("no packet size is given; name at least one, such as 10")
    ways = []
    for largest in choices:
        last = _fewest_packets(needed + largest, [each for each in choices if each <= largest])
        total = next(each for each in range(needed, len(last)) if last[each] is not None)
        ways.append((total, largest, _walk(total, last)))
    _, _, bought = min(ways)
    return tuple(sorted(Counter(bought).items(), reverse=True))


def _fewest_packets(up_to: int, sizes: Sequence[int]) -> list[int | None]:
    """For each total the last packet of a way to it with the fewest packets; None: there is no way.

    The total 0 has 0.
    """
    counts = [0] + [up_to + 1] * up_to
    last: list[int | None] = [0] + [None] * up_to
    for total in range(1, up_to + 1):
        for size in sizes:
            if size <= total and counts[total - size] + 1 < counts[total]:
                counts[total], last[total] = counts[total - size] + 1, size
    return last


def _walk(total: int, last: Sequence[int | None]) -> list[int]:
    found = []
    while size := last[total]:
        found.append(size)
        total -= size
    return found
