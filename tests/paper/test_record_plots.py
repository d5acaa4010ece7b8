"""Plots and histograms of the record, judged by where their ink lies."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from io import BytesIO

import numpy as np
import pypdfium2
import pytest

from packdesk.paper.session_record import write_record
from packdesk.present.curves import AirStep, CoreCurve, CurvePoint
from packdesk.present.outlines import (
    AxisMark,
    CorePlot,
    MassHistogram,
    OutlineSection,
    RecordOutline,
)

TextOf = Callable[[BytesIO], list[str]]
START = datetime(2026, 10, 12, 17, 5, tzinfo=UTC)
COLD, HAZE = (0x17, 0x64, 0x8B), (0xC4, 0xDC, 0xE6)
RULE, INDIGO = (0xD2, 0xCB, 0xBA), (0x2B, 0x39, 0x85)
DPI = 150


def _at(hours: float) -> datetime:
    return START + timedelta(hours=hours)


@pytest.fixture
def plot() -> CorePlot:
    """A core that stays at 0 °C, half way between two marked temperatures."""
    curve = CoreCurve(
        points=tuple(CurvePoint(_at(hour), -4.0, 0.0, 4.0) for hour in range(101)),
        now=_at(300),
        now_words="Now 0 °C at the core",
        now_range="",
        threshold_c=-15.0,
        threshold_words="cold enough below −15 °C, hold 72 h",
        offset=120,
        dew_point_c=9.0,
        dew_words="dew point 9 °C",
        readings=((_at(30), 8.0),),
    )
    return CorePlot(
        curve=curve,
        temperatures=(AxisMark(-10.0, "−10 °C"), AxisMark(10.0, "10 °C")),
        days=(AxisMark(0.0, "Mon 12"), AxisMark(28.9, "Wed 14"), AxisMark(76.9, "Fri 16")),
        events=(AxisMark(60.0, "out of the freezer"), AxisMark(62.0, "lid off")),
        said=(),
    )


def _page(section: OutlineSection) -> tuple[np.ndarray, BytesIO]:
    out = BytesIO()
    write_record(RecordOutline("", "", (section,)), "A4", out)
    page = pypdfium2.PdfDocument(out.getvalue())[0]
    return page.render(scale=DPI / 72, rev_byteorder=True).to_numpy(), out


def _near(page: np.ndarray, color: tuple[int, int, int]) -> np.ndarray:
    """Where a colour lies; a hairline may cover half of a pixel and look paler."""
    return np.abs(page.astype(int) - color).max(axis=2) < (36 if color == RULE else 12)


def _long_rows(page: np.ndarray, color: tuple[int, int, int]) -> list[int]:
    """The rows of pixels in which a colour runs over most of the plot."""
    return [int(row) for row in np.flatnonzero(_near(page, color).sum(axis=1) > 600)]


def test_the_curve_lies_where_its_temperatures_are(plot: CorePlot) -> None:
    """A core at 0 °C is drawn half way between the hairlines of −10 and 10 °C."""
    page, _ = _page(OutlineSection("Load A", plots=(plot,)))

    lines = _long_rows(page, RULE)
    core = _long_rows(page, COLD)
    middle = (min(lines) + max(lines)) / 2
    assert max(lines) - min(lines) > 100
    assert np.mean(core) == pytest.approx(middle, abs=1.5)


def test_the_band_lies_about_the_curve(plot: CorePlot) -> None:
    """The band of ±4 °C covers two fifths of the way between hairlines 20 °C apart."""
    page, _ = _page(OutlineSection("Load A", plots=(plot,)))

    lines = _long_rows(page, RULE)
    band = _long_rows(page, HAZE)
    assert max(band) - min(band) == pytest.approx(0.4 * (max(lines) - min(lines)), abs=3)


def test_what_is_past_is_solid_and_what_is_to_come_is_dotted(plot: CorePlot) -> None:
    """A record made while the load is still in the freezer breaks the line at now."""
    page, _ = _page(OutlineSection("Load A", plots=(plot,)))
    half = replace(plot, curve=replace(plot.curve, now=_at(50)))
    half_page, _ = _page(OutlineSection("Load A", plots=(half,)))

    solid, dotted = (_near(each, COLD).sum() for each in (page, half_page))
    assert 0.6 * solid < dotted < 0.9 * solid


def test_air_and_surface_are_drawn_where_they_are_known(plot: CorePlot) -> None:
    """Air at 5 °C is a line a quarter of the way under the hairline of 10 °C; none without."""
    edge = (0x7A, 0x74, 0x64)
    with_air = replace(plot.curve, air=(AirStep(START, 5.0, in_freezer=True),))
    bare, _ = _page(OutlineSection("Load A", plots=(plot,)))
    page, _ = _page(OutlineSection("Load A", plots=(replace(plot, curve=with_air),)))

    lines = _long_rows(page, RULE)
    found = [
        [
            int(row)
            for row in np.flatnonzero(
                (np.abs(each.astype(int) - edge).max(axis=2) < 60).sum(1) > 600
            )
            if min(lines) < row < max(lines)
        ]
        for each in (bare, page)
    ]
    assert found[0] == []
    assert np.mean(found[1]) == pytest.approx(min(lines) + (max(lines) - min(lines)) / 4, abs=2)


def test_every_word_of_a_plot_is_on_paper(plot: CorePlot, text_of: TextOf) -> None:
    """Axes, threshold, dew point and what was done are named on the plot itself."""
    _, out = _page(OutlineSection("Load A", plots=(plot,)))

    (text,) = text_of(out)
    for words in ("−10 °C", "10 °C", "Wed 14", "Fri 16", "hold 72 h", "dew point 9 °C",
                  "out of the freezer", "lid off"):  # fmt: skip
        assert words.replace(" ", "") in text


def test_a_load_still_in_the_freezer_has_its_due_time_on_paper(
    plot: CorePlot, text_of: TextOf
) -> None:
    """The end of the cold is named, and marked on the core where no hold leads up to it."""
    curve = replace(
        plot.curve, now=_at(20), cold_done=_at(40), hold_words="dose complete Thu 09:05"
    )
    bare, _ = _page(OutlineSection("Load A", plots=(plot,)))
    page, out = _page(OutlineSection("Load A", plots=(replace(plot, curve=curve),)))

    (text,) = text_of(out)
    assert "dosecompleteThu09:05" in text
    assert not _near(bare, INDIGO).any()
    marked = np.flatnonzero(_near(page, INDIGO).any(axis=1))
    core = np.median(np.flatnonzero(_near(page, COLD).sum(axis=1) > 100))
    assert marked.min() < core < marked.max()


def test_words_of_a_plot_that_the_face_lacks_are_reported(plot: CorePlot) -> None:
    """A plot is looked over for characters that print as an empty box."""
    odd = replace(plot, events=(AxisMark(60.0, "出"),))

    report = write_record(
        RecordOutline("", "", (OutlineSection("Load A", plots=(odd,)),)), "A4", BytesIO()
    )

    assert report.unprintable == "出"


def test_a_plot_stays_with_its_heading(plot: CorePlot, text_of: TextOf) -> None:
    """Wherever a page ends, a heading is not parted from the plot under it."""
    for rows in range(20, 40):
        out = BytesIO()
        table = OutlineSection("Rows", (), ("a",), tuple((str(row),) for row in range(rows)))
        write_record(
            RecordOutline("", "", (table, OutlineSection("Load A", plots=(plot,)))), "A4", out
        )
        (page,) = [text for text in text_of(out) if "LoadA" in text]
        assert "outofthefreezer" in page


def test_bars_are_as_high_as_their_counts() -> None:
    """Twice as many pouches make a bar twice as high, each with its count and mass."""
    histogram = MassHistogram(
        title="Wheat, net mass in g",
        edges_g=(997.5, 998.5, 999.5, 1000.5),
        counts=(3, 0, 6),
        marks=(AxisMark(998.0, "998"), AxisMark(1000.0, "1000")),
        planned_g=1000.0,
        planned_words="planned 1000",
        said="",
    )

    page, out = _page(OutlineSection("Masses", histograms=(histogram,)))

    heights = _near(page, INDIGO).sum(axis=0)
    bars = sorted({int(height) for height in heights if height > 20})
    assert bars[-1] / bars[0] == pytest.approx(2.0, abs=0.1)
    text = "".join(pypdfium2.PdfDocument(out.getvalue())[0].get_textpage().get_text_bounded())
    for words in ("Wheat, net mass in g", "998", "planned 1000", "3", "6"):
        assert words in text


@pytest.mark.parametrize(("begins", "beside"), [(50.0, "left"), (20.0, "right"), (95.0, "left")])
def test_the_words_of_a_hold_keep_off_what_was_done(
    begins: float, beside: str, plot: CorePlot
) -> None:
    """Where the next event leaves no room over the hold, or the plot ends, they stand before it."""
    curve = replace(plot.curve, hold=(_at(begins), _at(begins + 4)), threshold_words="12 h of 72 h")
    page, out = _page(OutlineSection("", plots=(replace(plot, curve=curve),)))

    found = pypdfium2.PdfDocument(out.getvalue())[0].get_textpage()
    first, count = found.search("12 h of 72 h").get_next()
    left, right = found.get_charbox(first)[0], found.get_charbox(first + count - 1)[2]
    hold = np.flatnonzero(_near(page, INDIGO).any(axis=0)).min() * 72 / DPI
    assert (right < hold) if beside == "left" else (hold < left < hold + 10)
