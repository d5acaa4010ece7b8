from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.catalog.read import read_catalog
from packdesk.planning.plan import LineRequest, Plan, Site, plan
from packdesk.planning.supplies import packets, spare

CATALOG, _ = read_catalog()


def planned(*lines: tuple[str, str, float], pail: str = "pail-19l") -> Plan:
    """The plan of some foods, pouches and grams, each a lot of its own."""
    requests = [
        LineRequest(number, CATALOG.foods[food], f"lot {number}", mass, CATALOG.pouches[pouch])
        for number, (food, pouch, mass) in enumerate(lines, 1)
    ]
    return plan(requests, CATALOG, Site(), pail=CATALOG.pails[pail])


@pytest.mark.parametrize(
    ("needed", "sizes", "bought"),
    [
        (38, (10, 20, 25, 50), ((10, 4),)),
        (13, (5, 10, 20, 25, 50), ((5, 3),)),
        (41, (10, 20, 25, 50), ((25, 1), (20, 1))),
        (100, (20, 50, 100), ((20, 5),)),
        (130, (20, 50, 100), ((50, 1), (20, 4))),
        (1, (10,), ((10, 1),)),
        (0, (10,), ()),
    ],
)
def test_packets_by_hand(
    needed: int, sizes: tuple[int, ...], bought: tuple[tuple[int, int], ...]
) -> None:
    """Fewest left over first, then the smallest packets that manage it: counted by hand."""
    assert packets(needed, sizes) == bought


@given(st.integers(1, 400), st.sets(st.integers(1, 100), min_size=1, max_size=4))
def test_no_single_packet_can_be_spared(needed: int, sizes: set[int]) -> None:
    """What is bought suffices, and less than the smallest packet of it is left over."""
    bought = packets(needed, sizes)
    total = sum(size * count for size, count in bought)
    assert needed <= total < needed + min(size for size, _ in bought)


def test_packets_need_a_size() -> None:
    """A rating that comes in no packet is said to."""
    with pytest.raises(ValueError, match="packet size"):
        packets(5, ())


@pytest.mark.parametrize(("planned_count", "spares"), [(0, 0), (1, 1), (10, 1), (11, 2), (34, 4)])
def test_one_spare_pouch_for_every_ten(planned_count: int, spares: int) -> None:
    """At least one as soon as there is any."""
    assert spare(planned_count) == spares


def test_pouches_of_one_kind_are_one_row() -> None:
    """Two foods in the same kind of pouch share a row and its spares."""
    found = planned(
        ("white_rice", "flat-203x254", 7500.0), ("lentils", "flat-203x254", 7500.0)
    ).supplies
    assert len(found.pouches) == 1
    row = found.pouches[0]
    assert row.count == 20 + spare(20)
    assert row.note == "20 and 2 spare"


def test_absorbers_are_bought_for_the_spare_pouches_too() -> None:
    """Ten pouches and one spare take eleven absorbers, which are two packets of ten."""
    found = planned(("white_rice", "flat-203x254", 7500.0)).supplies
    row = found.absorbers[0]
    assert (row.count, row.name) == (20, "200 cc absorbers")
    assert row.note == "2 packets of 10; 10 and 1 for spare pouches"


def test_a_pail_emptied_on_packing_day_takes_pouches_afterwards() -> None:
    """The same pails are counted once, for whichever of the two takes more."""
    found = planned(("white_rice", "flat-203x254", 25_000.0))
    (row,) = found.supplies.pails
    assert row.note == "2 for the freezer, then 3 to stow away"
    assert row.count == 3


def test_one_pail_is_spare_while_those_from_the_freezer_are_full() -> None:
    """The first pouches need a pail before any pail of the freezer is empty."""
    found = planned(("hard_wheat", "flat-203x254", 8_000.0))
    (row,) = found.supplies.pails
    assert row.note == "1 for the freezer, then 1 to stow away; 1 spare"
    assert row.count == 2


def test_sugar_takes_neither_freezer_nor_absorbers() -> None:
    """Its row of pails speaks of stowing alone."""
    found = planned(("granulated_sugar", "flat-203x254", 10_000.0)).supplies
    assert found.absorbers == ()
    assert found.pails[0].note == "1 to stow away"


def test_every_liner_has_its_own_pail() -> None:
    """Of the size it closes over, beside the pails that the food was frozen in."""
    found = planned(("hard_wheat", "liner-508x762", 50_000.0)).supplies
    by_name = {row.name: row for row in found.pails}
    assert by_name["pail, 22.7 L (6 US gal)"].note == "3 to stow away"
    assert by_name["pail, 18.9 L (5 US gal)"].note == "4 for the freezer"


def test_pouches_too_large_for_the_pail_are_named() -> None:
    """They are listed beside the pails, not lost."""
    found = planned(("white_rice", "flat-356x508", 20_000.0), pail="pail-8l")
    row = found.supplies.pails[-1]
    assert row.count == found.lines[0].count
    assert row.name.endswith("beside the pails")
    assert row.note == "too large for pail, 7.6 L (2 US gal)"


def test_labels_are_one_a_pouch_and_one_a_pail() -> None:
    """An empty plan needs none."""
    found = planned(("white_rice", "flat-203x254", 25_000.0)).supplies
    assert [row.count for row in found.labels] == [34 + 3]
    assert planned().supplies.rows == ()


def test_a_jar_is_on_the_list_for_what_is_left_of_the_absorbers() -> None:
    """One for each rating that is planned; none where no absorber goes in."""
    found = planned(("white_rice", "flat-203x254", 25_000.0)).supplies
    assert [row.count for row in found.jars] == [len(found.absorbers)]
    assert found.jars[0] in found.rows
    assert planned().supplies.jars == ()
