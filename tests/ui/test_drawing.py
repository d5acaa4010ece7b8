"""Words wrap without loss, icons are distinct, and the ribbon keeps its times in order."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QFontMetricsF, QImage, QPainter
from pytestqt.qtbot import QtBot

from packdesk.present.cards import PacketTimes
from packdesk.ui.icons import Icon, draw_icon
from packdesk.ui.theme.faces import Faces
from packdesk.ui.theme.measure import Measure, Role
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import wrapped
from packdesk.ui.widgets.packet_ribbon import PacketRibbon

OPENED = datetime(2026, 10, 18, 10, 31, tzinfo=UTC)


@given(
    text=st.text(st.characters(codec="ascii", min_codepoint=32, max_codepoint=126), max_size=60),
    width=st.floats(20, 600),
)
@settings(max_examples=60)
def test_wrapping_loses_nothing(faces: Faces, text: str, width: float) -> None:
    """The lines hold every character but the spaces they were broken at, each within the width,
    and none has room for the first word of the next."""
    metrics = QFontMetricsF(faces.font(Role.BODY, Measure()))

    lines = wrapped(text, metrics, width)

    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    for line in lines:
        fits = metrics.horizontalAdvance(line) <= width + 1e-6
        assert fits or len(line.strip()) <= 1 or line != line.strip()
    whole = text.split()
    for line, after in pairwise(lines):
        word = after.split(" ")[0]
        if word in whole:
            assert metrics.horizontalAdvance(f"{line} {word}") > width


def icon_picture(icon: Icon, size: int) -> QImage:
    """An icon in black on white."""
    image = QImage(size, size, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    draw_icon(painter, icon, QRectF(0, 0, size, size), QColor("black"))
    painter.end()
    return image


@pytest.mark.parametrize("size", [26, 32, 66])
def test_icons_are_distinct_and_inside_their_grid(theme: Theme, size: int) -> None:
    """No two icons are alike at the sizes in use, and each has ink."""
    pictures = {icon: icon_picture(icon, size) for icon in Icon}
    blank = QImage(size, size, QImage.Format.Format_RGB32)
    blank.fill(QColor("white"))

    for icon in Icon:
        assert pictures[icon] != blank
    for one, other in combinations(Icon, 2):
        assert pictures[one] != pictures[other]


def face(now_min: float) -> PacketTimes:
    """A packet of twenty minutes, so many minutes in."""
    return PacketTimes(
        OPENED,
        OPENED + timedelta(minutes=now_min),
        OPENED + timedelta(minutes=20),
        "10:31 packet opened",
        "now",
        "10:51 packet due",
    )


@pytest.mark.parametrize("now_min", [0, 11, 20, 26, 90])
def test_the_ribbon_holds_now_and_due(theme: Theme, qtbot: QtBot, now_min: float) -> None:
    """Opened, now and due lie on the strip in their order, however late it is."""
    ribbon = PacketRibbon(theme)
    qtbot.addWidget(ribbon)
    ribbon.show_face(face(now_min))
    strip = QRectF(0, 0, 742, 40)
    x = ribbon._scale(strip)
    shown = face(now_min)

    assert x(shown.opened) == 0
    assert (x(shown.now) < x(shown.due)) == (shown.now < shown.due)
    assert max(x(shown.now), x(shown.due)) < strip.right()


def test_no_line_ends_between_a_figure_and_its_unit(theme: Theme) -> None:
    """«practice cap in 15 min» is broken before the figure, never after it."""
    metrics = theme.metrics(Role.BODY)
    text = "margin used up in 1 h 34 min, practice cap in 15 min."
    for room in range(120, 520, 20):
        for line in wrapped(text, metrics, float(room))[:-1]:
            assert not line.rstrip().endswith(("in 1", "34", "15"))
