"""Temperatures as a thermometer showed them."""

from __future__ import annotations

import pytest

from packdesk.present.measures import Measures
from packdesk.present.words import fact_words
from packdesk.session.facts import FreezerRead


@pytest.mark.parametrize(
    ("temp_c", "metric", "us"),
    [
        (-8.5, "−8.5 °C", "16.7 °F"),
        (-19.0, "−19 °C", "−2.2 °F"),
        ((0.0 - 32.0) / 1.8, "−17.8 °C", "0 °F"),
        ((70.0 - 32.0) / 1.8, "21.1 °C", "70 °F"),
        (-0.01, "0 °C", "32 °F"),
    ],
)
def test_a_reading_is_said_as_it_was_typed(temp_c: float, metric: str, us: str) -> None:
    """A tenth that was read is kept, and none is made up where whole degrees were read."""
    assert Measures("metric").reading(temp_c).replace("\u00a0", " ") == metric
    assert Measures("us").reading(temp_c).replace("\u00a0", " ") == us


def test_the_story_keeps_the_tenths_of_a_reading() -> None:
    """A freezer read at −18.5 °C is not told as −18 °C."""
    words = fact_words(FreezerRead(temp_c=-18.5, outlooks=()), Measures())

    assert words.replace("\u00a0", " ") == "Freezer read −18.5 °C"


@pytest.mark.parametrize(
    ("mass_g", "metric", "us"),
    [
        (684.0, "684 g", "1 lb 8.1 oz"),
        (1006.0, "1.006 kg", "2 lb 3.5 oz"),
        (12_340.0, "12.34 kg", "27 lb 3.3 oz"),
    ],
)
def test_a_weighing_keeps_the_grams_of_the_scale(mass_g: float, metric: str, us: str) -> None:
    """Below five kilograms a scale shows grams, and so does what was weighed."""
    assert Measures("metric").weighed(mass_g).replace("\u00a0", " ") == metric
    assert Measures("us").weighed(mass_g).replace("\u00a0", " ") == us
    both = Measures("us").both_masses(mass_g, weighed=True).replace("\u00a0", " ")
    assert both == f"{us} ({metric})"
