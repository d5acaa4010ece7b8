"""What a measured alignment page tells."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.present.printer_trim import PrinterTrim, judge_rulers


@pytest.mark.parametrize(("across", "down"), [(100.0, 100.0), (99.5, 100.5), (100.3, 99.6)])
def test_rulers_within_half_a_millimetre_are_right(across: float, down: float) -> None:
    """Half a millimetre in a hundred is what a person can measure."""
    verdict = judge_rulers(across, down)

    assert verdict.true
    assert verdict.cure == ""


@pytest.mark.parametrize(
    ("across", "down"), [(100.0, 100.6), (99.4, 100.0), (100.51, 100.51), (99.4, 99.4)]
)
def test_a_ruler_off_by_more_than_half_a_millimetre_is_not(across: float, down: float) -> None:
    """The next tenth beyond the limit is a scale error, with its cure, never one of 100 %."""
    verdict = judge_rulers(across, down)

    assert not verdict.true
    assert "“actual size”" in verdict.cure
    assert "about 100 %" not in verdict.sentence


def test_a_page_fitted_to_the_paper_is_explained() -> None:
    """Both rulers short by the same share: the page was scaled, and the cure is actual size."""
    verdict = judge_rulers(97.0, 97.0)

    assert not verdict.true
    assert verdict.sentence == (
        "The rulers measure 97 and 97 mm, not 100: the page was printed at about 97 % of its size."
    )
    assert "“actual size” or “100 %”" in verdict.cure
    assert "not stretched to make up for it" in verdict.cure


def test_a_page_stretched_one_way_is_explained() -> None:
    """One ruler right and one wrong is not scaling, and is told apart from it."""
    verdict = judge_rulers(100.0, 101.2)

    assert not verdict.true
    assert "101.2 mm down" in verdict.sentence
    assert "across" not in verdict.sentence
    assert "another tray" in verdict.cure


@pytest.mark.parametrize("length", [0.0, 10.0, 254.0, float("nan")])
def test_a_length_no_ruler_can_have_is_asked_again(length: float) -> None:
    """Ten centimetres typed as 10, or inches, are not taken for a scale error."""
    with pytest.raises(ValueError, match="should be 100"):
        judge_rulers(100.0, length)


def test_labels_move_the_other_way() -> None:
    """Crosses printed 1.5 mm too far right and 1 mm too high move labels left and down."""
    trim = PrinterTrim("kitchen", "a4-3x7-64x38").corrected(1.5, -1.0)

    assert trim.offset_mm == (-1.5, 1.0)


@given(
    old=st.tuples(st.floats(-2, 2), st.floats(-2, 2)),
    true=st.tuples(st.floats(-2, 2), st.floats(-2, 2)),
)
def test_a_second_measurement_corrects_the_first(
    old: tuple[float, float], true: tuple[float, float]
) -> None:
    """Measured on a page printed with an old trim, the new one puts the crosses on the corners."""
    off = (old[0] + true[0], old[1] + true[1])

    trim = PrinterTrim("kitchen", "stock", *old).corrected(*off)

    assert trim.offset_mm == pytest.approx((-true[0], -true[1]), abs=0.01)


@pytest.mark.parametrize("right", [5.5, -6.0, float("nan")])
def test_more_than_five_millimetres_is_a_sheet_lying_wrong(right: float) -> None:
    """An offset is bounded; beyond it the sheet is looked at, not the figures."""
    with pytest.raises(ValueError, match="right tray"):
        PrinterTrim("kitchen", "stock", right, 0.0)
