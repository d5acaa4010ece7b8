"""What a load rests on, made of what a person says of its pail and its freezer."""

from __future__ import annotations

import pytest

from packdesk.catalog.read import read_catalog
from packdesk.present.load_view import FreezerSaid, load_figures_of
from packdesk.session.figures import LoadFigures
from packdesk.session.forecast import cold_forecast
from packdesk.session.load_story import begin
from packdesk.session.terms import Stands
from tests.fakes.clock import START


@pytest.fixture(scope="module")
def standing() -> dict[Stands, LoadFigures]:
    """A pail of 14 kg of wheat, wherever it may stand."""
    catalog, _ = read_catalog()
    return {
        stands: load_figures_of(
            catalog, "hard_wheat", "pail-19l", 14000.0, 21.0, FreezerSaid(-18.0, stands=stands)
        )
        for stands in Stands
    }


def test_where_it_stands_moves_the_due_time(standing: dict[Stands, LoadFigures]) -> None:
    """A pail in free air is cold first, one that touches others later, a stacked one last."""
    done = {}
    for stands, figures in standing.items():
        assert figures.stands is stands
        span = cold_forecast(begin(figures, START), START, -15.0, 72.0).hold_done
        assert span is not None
        done[stands] = (span.likely - START).total_seconds() / 3600.0

    assert done[Stands.FREE_AIR] + 1.0 < done[Stands.TOUCHING] + 0.5 < done[Stands.STACKED]
