"""One label: what stands where, and how much room each stock gives it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.paper.fonts import BOLD, REGULAR, SEMIBOLD, text_width
from packdesk.paper.page_sizes import MM
from packdesk.paper.pouch_label import Layout, lay_out
from packdesk.present.label_design import NUMBER_FIRST, STANDARD, LabelDesign, LabelField
from packdesk.present.papers import LabelText

MakeLabel = Callable[..., LabelText]
SIZES_MM = [(101.6, 50.8), (63.5, 38.1), (66.67, 25.4), (99.1, 67.7), (60.0, 90.0)]

each_size = pytest.mark.parametrize(("width_mm", "height_mm"), SIZES_MM)


@each_size
def test_the_food_is_the_largest_text(width_mm: float, height_mm: float, label: MakeLabel) -> None:
    """Whatever the stock, the food stands out, in the heaviest weight."""
    layout = _laid_out(label(food="Wheat"), width_mm, height_mm)

    food, *others = sorted(layout.lines, key=lambda line: line.size, reverse=True)
    assert (food.text, food.face) == ("Wheat", BOLD)
    assert food.size > max(line.size for line in (*others, layout.identity))


@each_size
def test_allergens_are_bold(width_mm: float, height_mm: float, label: MakeLabel) -> None:
    """Allergens are set heavier than the texts around them."""
    layout = _laid_out(label(), width_mm, height_mm)

    assert [line.face for line in layout.lines if "WHEAT" in line.text] == [BOLD]


@each_size
def test_no_text_is_smaller_than_six_points(
    width_mm: float, height_mm: float, label: MakeLabel
) -> None:
    """Print never becomes too small to read."""
    layout = _laid_out(label(), width_mm, height_mm)

    assert min(line.size for line in (*layout.lines, layout.identity)) >= 6.0


def test_an_empty_line_takes_no_room(label: MakeLabel) -> None:
    """A label without allergens and caution sets the rest larger."""
    full = _laid_out(label(caution="Keep below 20 °C."), 63.5, 38.1)
    bare = _laid_out(label(allergens=""), 63.5, 38.1)

    assert bare.identity.size > full.identity.size


def test_pouches_of_one_line_share_one_layout(label: MakeLabel) -> None:
    """Labels that differ only in identity and code are set alike."""
    assert _laid_out(label(1), 63.5, 38.1) == _laid_out(label(999), 63.5, 38.1)


def test_labels_that_differ_in_figures_stand_alike_and_keep_their_own(label: MakeLabel) -> None:
    """Every figure is as wide as any other, so masses move nothing; each says its own."""
    one = label(mass="1242 g (2 lb 12.9 oz)", absorbers="1 × 500 cc absorber", lot="Lot 2611-1")
    other = label(mass="1198 g (2 lb 10.3 oz)", absorbers="2 × 300 cc absorber", lot="Lot 9087-6")
    here, there = _laid_out(one, 63.5, 38.1), _laid_out(other, 63.5, 38.1)

    assert [replace(line, text="") for line in here.lines] == [
        replace(line, text="") for line in there.lines
    ]
    for made, said in ((here, one), (there, other)):
        printed = " ".join(line.text for line in made.lines)
        assert all(words in printed for words in (said.mass, said.absorbers, said.lot))


def test_a_tall_narrow_label_sets_everything_beside_or_below_the_code(label: MakeLabel) -> None:
    """On a label narrower than high no text runs into the code."""
    layout = _laid_out(label(), 45.0, 90.0)

    left, bottom, _ = layout.code
    for line in layout.lines:
        right = line.x + text_width(line.text, line.face) * line.size
        below = line.y - 0.76 * line.size > bottom
        assert below or right < left


def test_fields_stand_in_the_order_of_the_design(label: MakeLabel) -> None:
    """Fields moved above the seam, below it, or left out, are where the design has them."""
    design = LabelDesign(
        above=(LabelField.FOOD, LabelField.LOT, LabelField.PACKED),
        below=(LabelField.ALLERGENS, LabelField.IDENTITY, LabelField.CAUTION, LabelField.ADVICE),
    )

    layout = lay_out(label(food="Wheat"), 37, 99.1, 67.7, design)

    assert isinstance(layout, Layout)
    assert layout.seam is not None
    heights = {line.text: line.y for line in layout.lines}
    food, lot, packed = (
        heights["Wheat"],
        heights["Lot 2611-1"],
        heights["2026-11-25 packed"],
    )
    assert food < lot < packed < layout.seam[2] < heights["Contains WHEAT"]
    assert "1.25 kg" not in heights
    assert "1 × 500 cc oxygen absorber" not in heights


@each_size
def test_a_smaller_name_and_a_larger_code_are_as_asked(
    width_mm: float, height_mm: float, label: MakeLabel
) -> None:
    """A name scaled down is smaller than usual, and a module is as large as asked for."""
    usual = _laid_out(label(food="Wheat"), width_mm, height_mm)

    smaller = lay_out(label(food="Wheat"), 29, width_mm, height_mm, LabelDesign(food_scale=0.7))
    coded = lay_out(label(food="Wheat"), 29, width_mm, height_mm, LabelDesign(module_mm=0.4))

    assert isinstance(smaller, Layout)
    assert isinstance(coded, Layout)
    assert max(line.size for line in smaller.lines) < max(line.size for line in usual.lines)
    assert coded.code[2] / 29 / MM == pytest.approx(0.4)


def test_a_larger_name_gives_way_where_there_is_no_room(label: MakeLabel) -> None:
    """A name wished larger than the label has room for is set as large as usual."""
    wish = LabelDesign(food_scale=1.6)
    long = label(food="Hard wheat, whole kernels", advice="Take the absorber out. Do not eat it.")

    assert lay_out(long, 37, 66.67, 25.4, wish) == lay_out(long, 37, 66.67, 25.4)


def test_a_code_too_large_for_the_label_is_said(label: MakeLabel) -> None:
    """A module chosen larger than the label has room for is refused with the size it needs."""
    why = lay_out(label(), 37, 63.5, 38.1, LabelDesign(module_mm=0.9))

    assert isinstance(why, str)
    assert "37 × 37 modules of 0.9 mm" in why
    assert "40.5 mm" in why  # 37 modules and 4 on either side, 0.9 mm each


@pytest.mark.parametrize("design", [STANDARD, NUMBER_FIRST])
@each_size
def test_a_label_before_filling_shows_its_number_large(
    width_mm: float, height_mm: float, design: LabelDesign
) -> None:
    """With nothing but a number to say, the number is large and no seam parts it from nothing."""
    label = LabelText(pouch=7, identity="Pouch K7M2-007", code="POUCH K7M2-007")

    layout = lay_out(label, 21, width_mm, height_mm, design)

    assert isinstance(layout, Layout)
    assert (layout.lines, layout.seam) == ((), None)
    assert layout.identity.size >= 10.0


def test_all_figures_are_equally_wide() -> None:
    """One layout serves all numbers: in each face every figure is as wide as the nought."""
    for face in (REGULAR, SEMIBOLD, BOLD):
        assert {text_width(figure, face) for figure in "0123456789"} == {text_width("0", face)}


@given(
    food=st.text(min_size=1, max_size=60),
    caution=st.text(max_size=120),
    width_mm=st.floats(15.0, 140.0),
    height_mm=st.floats(15.0, 140.0),
)
def test_any_words_on_any_label_stay_inside_it_or_are_refused(
    food: str, caution: str, width_mm: float, height_mm: float
) -> None:
    """Whatever is typed, texts keep 3 mm from the edges and off the code, or a reason is given."""
    label = LabelText(
        1, food, "1 kg", "2026-11-25 packed", "Best to 2046", "Pouch A-1", "Lot 1", "1 × 100 cc",
        "Contains SOYA", caution, "Take out the absorber.", "A-1",
    )  # fmt: skip

    layout = lay_out(label, 21, width_mm, height_mm)

    if isinstance(layout, str):
        assert layout.startswith("the ")
        return
    code_left, code_bottom, side = layout.code
    assert side / 21 / MM >= 0.34 - 1e-9
    identity = text_width("Pouch A-1", SEMIBOLD) * layout.identity.size
    assert layout.identity.x + identity <= (width_mm - 3.0) * MM + 0.01
    for line in layout.lines:
        right = line.x + text_width(line.text, line.face) * line.size
        assert line.x >= 3.0 * MM - 0.01
        assert right <= (width_mm - 3.0) * MM + 0.01
        assert line.y <= (height_mm - 3.0) * MM
        assert right <= code_left or line.y - line.size > code_bottom


def _laid_out(label: LabelText, width_mm: float, height_mm: float) -> Layout:
    layout = lay_out(label, 37, width_mm, height_mm)
    assert isinstance(layout, Layout)
    return layout
