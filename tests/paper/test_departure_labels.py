"""What was done against advice, on labels of the smallest stock: all of it, or the stock for it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from io import BytesIO

import numpy as np
import pytest
import zxingcpp

from packdesk.catalog.label_stock import LabelStock
from packdesk.paper.label_sheet import write_labels
from packdesk.present.label_text import label_texts
from packdesk.present.papers import LabelText
from tests.script import Script, tell

Pages = Callable[[BytesIO, int], list[np.ndarray]]
TextOf = Callable[[BytesIO], list[str]]

EARLY = "out {0} 21 C 50 %: the freezer was wanted; +1 h; open {0}: guests tonight"
ONE_LOAD = f"receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +20 h; {EARLY.format('A')}"
TWO_LOADS = (
    "receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat 4 kg; freeze wheat 4 kg; +30 h; "
    f"{EARLY.format('A')}; +20 h; {EARLY.format('B')}"
)


def said(told: Script) -> LabelText:
    """The label of pouch 1."""
    return label_texts(told.session, (1,))[0]


def against_advice(label: LabelText) -> LabelText:
    """The same of a food that is never to be sealed, with the caution that such a label has."""
    never = "Sealed against advice. Too oily to keep: smell it, and discard it when in doubt."
    caution = f"{label.caution} {never}"
    return replace(label, caution=caution, code=f"{label.code}\nSEALED AGAINST ADVICE")


def smallest(stocks: Mapping[str, LabelStock]) -> LabelStock:
    """The stock whose labels have the least room."""
    return min(stocks.values(), key=lambda each: each.label_width_mm * each.label_height_mm)


@pytest.mark.parametrize(
    ("steps", "lines", "never"),
    [
        (f"{ONE_LOAD}; fill 1 from A", 2, False),
        (f"{TWO_LOADS}; fill 1 from A, B", 3, False),
        (f"{ONE_LOAD}; fill 1 from A", 3, True),
        (f"{TWO_LOADS}; fill 1 from A, B", 4, True),
    ],
    ids=["one load", "two loads", "one load, never", "two loads, never"],
)
def test_departures_are_all_on_the_smallest_label_or_on_the_one_named(
    steps: str,
    lines: int,
    never: bool,
    stocks: Mapping[str, LabelStock],
    pages: Pages,
    text_of: TextOf,
) -> None:
    """Every line of every departure is read back from the page, on the stock asked for or named."""
    label = said(tell(steps))
    if never:
        label = against_advice(label)
    told = label.code.split("\n")[5:]
    assert len(told) == lines
    stock, out = smallest(stocks), BytesIO()

    report = write_labels([label], stock, 0, out, other_stocks=stocks.values())
    if report.unfit:
        assert out.getvalue() == b""
        (unfit,) = report.unfit
        assert unfit.stock is not None
        assert stocks[unfit.stock].name in unfit.words
        report = write_labels([label], stocks[unfit.stock], 0, out)

    assert (report.labels, report.unfit) == (1, ())
    (page,) = pages(out, 300)
    assert zxingcpp.read_barcode(page).text == label.code
    printed = text_of(out)[0]
    assert "Cold cut short" in label.caution
    assert "Opened cold" in label.caution
    for shown in (label.food, label.mass, label.caution, label.identity):
        assert "".join(shown.split()) in printed
