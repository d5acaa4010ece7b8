"""The far view: the count above all, and the clock drawn so that it is read from afar."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtGui import QImage

from packdesk.present.cards import ClockRow, Urgency
from packdesk.ui.far_view import MARGIN, FarFace, FarView, far_figures
from packdesk.ui.icons import Icon
from packdesk.ui.theme.faces import Faces
from packdesk.ui.theme.measure import Role
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.main_control import MainFace

CLOCK = ClockRow(
    "packet:1",
    "Packet P1 open",
    "",
    "15:30",
    "",
    "use by",
    "15 min left",
    0.6,
    False,
    Urgency.CALM,
)
FACE = FarFace(
    "Absorber in pouches 3 to 6, press out, shut.",
    "2 of 6 shut",
    MainFace("All 4 are shut", "Space bar, or type how many", icon=Icon.PACKET),
    CLOCK,
    "",
)
# As large as the view of a small laptop is, with and without the alarm band above it.
SIZES = [(1024, 576), (1093, 538), (1093, 614), (1366, 676), (1366, 768), (1920, 1080)]


def inked_rows(image: QImage, across: range, down: range, ground: str) -> list[tuple[int, int]]:
    """The runs of rows, first and last, in which something is darker or lighter than the ground."""

    def inked(x: int, y: int) -> bool:
        color = image.pixelColor(x, y)
        return abs(color.lightness() - plain) > 90

    plain = image.pixelColor(across.start, down.start).lightness()
    assert image.pixelColor(across.start, down.start).name() == ground
    runs: list[tuple[int, int]] = []
    for y in down:
        if any(inked(x, y) for x in across):
            first = runs.pop()[0] if runs and runs[-1][1] == y - 1 else y
            runs.append((first, y))
    return runs


def height(run: tuple[int, int]) -> int:
    """How many rows a run has."""
    return run[1] - run[0] + 1


@pytest.mark.parametrize("text_percent", [100, 130])
def test_the_count_is_higher_than_the_sentence(faces: Faces, text_percent: int) -> None:
    """At any size, and under the alarm band, how many are done is what is read from furthest."""
    theme = Theme(faces)
    theme.set_text_percent(text_percent)
    view = FarView(theme)
    view.show_face(replace(FACE, count="0 of 6 shut"))
    for size in SIZES:
        view.resize(*size)
        image = view.grab().toImage()
        left, main = theme.whole(MARGIN), view.main.geometry()
        first_letter = range(left, left + 40)  # the round of a 0 has no gap there
        ground = theme.color("cloth").name()
        *sentence, count = inked_rows(image, first_letter, range(4, main.top() - 2), ground)

        assert len(sentence) in (1, 2), size
        assert height(count) >= 1.4 * height(sentence[0]), size
        assert count[1] < main.top() - 10, size
    view.deleteLater()


@pytest.mark.parametrize("text_percent", [100, 130])
def test_the_words_of_the_main_control_stay_inside_it(faces: Faces, text_percent: int) -> None:
    """In a low window the label is smaller rather than its key being cut off at the edge."""
    theme = Theme(faces)
    theme.set_text_percent(text_percent)
    view = FarView(theme)
    view.show_face(FACE)
    for size in SIZES:
        view.resize(*size)
        main = view.main
        image = main.grab().toImage()
        words = range(theme.whole(160), main.width() // 2)
        inside = range(theme.whole(30), main.height() - 1)
        runs = inked_rows(image, words, inside, theme.color("indigo").name())

        assert len(runs) >= 2, size
        assert runs[-1][1] < main.height() - 6, size
    view.deleteLater()


def test_the_nearest_clock_is_drawn_to_be_read_from_afar(faces: Faces) -> None:
    """Its minutes stand there larger than any word, change with it, and turn brick when late."""
    theme = Theme(faces)
    view = FarView(theme)
    view.resize(1366, 768)
    card = range(round(1366 * 0.7), 1366 - theme.whole(MARGIN) - 12)

    def seen(clock: ClockRow | None) -> QImage:
        view.show_face(replace(FACE, clock=clock))
        top, bottom = theme.whole(36), view.main.geometry().top() - theme.whole(34)
        return view.grab().toImage().copy(card.start, top, len(card), bottom - top)

    calm = seen(CLOCK)
    ground = theme.color("sheet").name()
    runs = inked_rows(calm, range(calm.width()), range(calm.height()), ground)
    words = theme.metrics(Role.SAY).capHeight()
    assert max(map(height, runs)) >= 3 * words
    assert len(runs) == 4, "its name, its minutes, its bar and what is due when"
    fewer = seen(replace(CLOCK, remaining="14 min left"))
    assert fewer != calm
    assert seen(replace(CLOCK, name="Load B warming")) != calm
    late = seen(replace(CLOCK, urgency=Urgency.LATE))
    assert late.pixelColor(4, 4).name() == theme.color("brick").name()
    assert seen(None).pixelColor(4, 4).name() == theme.color("cloth").name()
    view.deleteLater()


@pytest.mark.parametrize(
    ("remaining", "figure", "beside"),
    [
        ("3 s left", "0:03", "left"),
        ("2 min 39 s left", "2:39", "left"),
        ("1 min", "1:00", ""),
        ("12 s over", "0:12", "over"),
        ("15 min left", "15\u00a0min", "left"),
        ("2 h 6 min left", "Thu 15:30", ""),
        ("time unknown", "Thu 15:30", ""),
        ("ready since 15:30", "Thu 15:30", ""),
    ],
)
def test_no_large_figure_stands_without_its_unit(remaining: str, figure: str, beside: str) -> None:
    """A second is not taken for a minute from afar, nor a time of another day for today's."""
    row = replace(CLOCK, remaining=remaining, day="Thursday")

    assert far_figures(row)[:2] == (figure, beside)


@pytest.mark.parametrize("late", ["1 h 20 min", "23 h 59 min", "2 d 6 h"])
def test_how_late_a_clock_is_is_read_large_and_whole(late: str) -> None:
    """Hours or days over, the length stands large, and when it was due below."""
    row = replace(CLOCK, meaning="was due", remaining=f"{late} over", urgency=Urgency.LATE)

    figure, rest, foot = far_figures(row)
    assert (figure.replace("\u00a0", " "), rest, foot) == (late, "over", "was due 15:30")
