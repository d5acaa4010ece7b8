"""Settings there and back, and every fault of a text told."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.settings.chosen import PrinterMeasure, Settings
from packdesk.settings.declared import DECLARED
from packdesk.settings.text import read, written

_LINES = st.text(st.characters(codec="utf-8"), max_size=40).filter(str.isprintable)
_MEASURES = st.builds(
    PrinterMeasure,
    _LINES,
    _LINES,
    st.floats(50, 200),
    st.floats(50, 200),
    st.floats(-5, 5),
    st.floats(-5, 5),
)


@given(_LINES, st.floats(0.5, 1.6), st.lists(_MEASURES, max_size=3))
def test_what_is_written_is_read_again(
    printer: str, size: float, measures: list[PrinterMeasure]
) -> None:
    """Any settings come back from their text without a fault."""
    settings = Settings().with_choice("printer", printer).with_choice("label_name_size", size)
    for measure in measures:
        settings = settings.with_measure(measure)
    assert read(written(settings)) == (settings, ())


def test_every_fault_is_told_and_the_rest_holds() -> None:
    """Unknown names, wrong kinds, figures out of bounds and bad measures each have a sentence."""
    settings, faults = read(
        'printer = "kitchen"\n'
        "label_stock = 7\n"
        "label_name_size = 3\n"
        "colour = 1\n"
        "[[printer_measure]]\n"
        'printer = "kitchen"\n'
        "[[printer_measure]]\n"
        'printer = "kitchen"\nstock = "s"\nacross_mm = 300\ndown_mm = 100\n'
        "right_mm = 0\nlower_mm = 0\n"
        "[[printer_measure]]\n"
        'printer = "kitchen"\nstock = "s"\nacross_mm = 100\ndown_mm = 99.8\n'
        "right_mm = 0.5\nlower_mm = -1\n"
    )
    assert settings.text("printer") == "kitchen"
    assert (settings.text("label_stock"), settings.figure("label_name_size")) == ("", 1.0)
    assert settings.measure("kitchen", "s").offset_mm == (0.5, -1.0)
    assert faults == (
        "Setting “label_stock” is 7, not a text. The usual value is used.",
        "Setting “label_name_size” is 3; it must be 0.5 to 1.6. The usual value is used.",
        "Setting “colour” is not known. Take it out of the settings.",
        "Printer measure 1 is not used: “stock” is missing.",
        "Printer measure 2 is not used: across_mm is 300; it must be 50 to 200.",
    )


def test_a_text_that_is_no_toml_leaves_the_usual_settings() -> None:
    """A torn file is told of, and nothing of it is used."""
    settings, (fault,) = read("printer = ")
    assert settings == Settings()
    assert fault.startswith("The settings cannot be read:")


def test_a_new_measure_takes_the_place_of_the_older() -> None:
    """Of a printer and a stock one measure is kept, others stay."""
    old = PrinterMeasure("kitchen", "s", 100, 100)
    other = PrinterMeasure("kitchen", "t", 100, 100)
    new = PrinterMeasure("kitchen", "s", 99.9, 100, 0.5, 0.5)
    settings = Settings().with_measure(old).with_measure(other).with_measure(new)
    assert settings.measures == (other, new)
    assert settings.measure("cellar", "s") is None


@pytest.mark.parametrize("wrong", [math.nan, math.inf, 0.4, True, "1"])
def test_a_choice_out_of_bounds_is_refused(wrong: object) -> None:
    """What the table does not allow is not chosen."""
    with pytest.raises(ValueError, match="label_name_size"):
        Settings().with_choice("label_name_size", wrong)


def test_every_usual_value_is_allowed() -> None:
    """The table agrees with itself."""
    assert [name for name, each in DECLARED.items() if each.objection(each.usual)] == []
