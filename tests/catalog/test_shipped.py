from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields

import pytest

from packdesk.catalog.description import Description
from packdesk.catalog.figures import Figure, Grade
from packdesk.catalog.foods import LowOxygen, Suitability
from packdesk.catalog.read import Catalog, read_catalog


@pytest.fixture(scope="module")
def catalog() -> Catalog:
    catalog, faults = read_catalog()
    assert faults == ()
    return catalog


def every_figure(catalog: Catalog) -> Iterator[tuple[str, Figure]]:
    for kind in fields(catalog):
        shelf: Mapping[str, Description] = getattr(catalog, kind.name)
        for key, thing in shelf.items():
            for name, figure in thing.figures():
                yield f"{kind.name}.{key}.{name}", figure


def test_every_figure_leads_to_a_source_or_admits_there_is_none(catalog: Catalog) -> None:
    """Every shipped figure names a bibliography entry that bears out its grade."""
    walked = 0
    for where, figure in every_figure(catalog):
        source = catalog.sources[figure.source]
        if figure.grade is Grade.PUBLISHED:
            assert source.seen, where
        assert (figure.grade is Grade.PRACTICE) == (figure.source == "practice"), where
        assert figure.grade is not Grade.OWN, where
        walked += 1
    assert walked > 300


def test_the_twelve_foods_suit_and_the_two_are_refused(catalog: Catalog) -> None:
    """Twelve foods suit long storage, brown rice is short-lived and peanuts are never stored."""
    suiting = [food.key for food in catalog.foods.values() if food.suitability == "suits"]

    assert len(suiting) == 12
    assert catalog.foods["brown_rice"].suitability is Suitability.SHORT_LIVED
    assert catalog.foods["peanuts"].suitability is Suitability.NEVER
    assert catalog.foods["peanuts"].low_oxygen is LowOxygen.REFUSED
