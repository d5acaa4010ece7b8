"""Clocks stand in their order, the urgent ones large, and give way without losing words."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from packdesk.present.cards import ClockRow, Urgency
from packdesk.ui.theme.measure import Role
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.clock_card import ClockCard
from packdesk.ui.widgets.clocks_column import ClocksColumn
from packdesk.ui.widgets.empty_state import EmptyState
from packdesk.ui.widgets.full_card import FullCard
from packdesk.ui.widgets.small_card import SmallCard

PACKET = ClockRow(
    "p2", "Packet 2 open", "", "10:51", "", "use by", "9 min left", 0.55, False, Urgency.CALM,
    "close it up or use it up by then",
)  # fmt: skip
THAW = ClockRow(
    "c", "Black beans warming", "C", "11:30", "", "lid off from", "48 min", 0.85, True,
    Urgency.CALM, "between 11:05 and 12:10",
)  # fmt: skip


def shot(card: ClockCard) -> QImage:
    """The card's picture."""
    return card.grab().toImage()


@pytest.fixture
def card(theme: Theme, qtbot: QtBot) -> ClockCard:
    """A full card of the middle arrangement."""
    card = ClockCard(theme)
    qtbot.addWidget(card)
    card.show_row(PACKET)
    card.resize(272, card.heightForWidth(272))
    return card


def test_cards_have_their_designed_heights(card: ClockCard) -> None:
    """A full card with a note is 198 px high and a small one 112, to within 2 px."""
    full = card.heightForWidth(272)
    card.show_row(PACKET, full=False)

    assert full == pytest.approx(198, abs=2)
    assert card.heightForWidth(272) == 112


def test_a_card_says_all_it_shows(card: ClockCard) -> None:
    """The accessible name holds name, load, meaning, time, what remains and the note."""
    card.show_row(THAW)

    for part in ("Black beans warming", "load C", "lid off from", "11:30", "48 min", "between"):
        assert part in card.accessibleName()


def test_late_is_a_solid_card(card: ClockCard, theme: Theme) -> None:
    """A late clock turns the whole card brick; a calm one is sheet."""
    corner = (260, 20)
    calm = shot(card).pixelColor(*corner)
    card.show_row(replace(PACKET, urgency=Urgency.LATE, fraction=1.2))

    assert calm == theme.color("sheet")
    assert shot(card).pixelColor(*corner) == theme.color("brick")


def test_soon_is_a_block_at_the_left(card: ClockCard, theme: Theme) -> None:
    """A clock that is soon due has a wheat block at the left and stays a light card."""
    card.show_row(replace(PACKET, urgency=Urgency.SOON))
    picture = shot(card)

    assert picture.pixelColor(5, 100) == theme.color("wheat")
    assert picture.pixelColor(260, 20) == theme.color("sheet")


def bar_length(picture: QImage, color: QColor) -> int:
    """The longest run of a colour in the lower half of a picture."""
    best = 0
    for y in range(picture.height() // 2, picture.height()):
        run = 0
        for x in range(picture.width()):
            run = run + 1 if picture.pixelColor(x, y) == color else 0
            best = max(best, run)
    return best


def test_an_at_least_bar_fills_and_the_other_drains(card: ClockCard, theme: Theme) -> None:
    """With more time passed an "at least" bar is longer and a "no longer than" bar shorter."""
    indigo = theme.color("indigo")
    lengths = {}
    for at_least in (True, False):
        for fraction in (0.2, 0.8):
            card.show_row(replace(PACKET, at_least=at_least, fraction=fraction))
            lengths[at_least, fraction] = bar_length(shot(card), indigo)

    assert lengths[True, 0.8] > 2 * lengths[True, 0.2]
    assert lengths[False, 0.2] > 2 * lengths[False, 0.8]


def test_a_met_clock_is_calm_with_a_whole_bar(card: ClockCard, theme: Theme) -> None:
    """An "at least" clock that is met shows the whole bar and never turns brick."""
    card.show_row(replace(THAW, urgency=Urgency.MET, fraction=1.4, remaining="ready since 11:30"))
    picture = shot(card)

    assert bar_length(picture, theme.color("indigo")) > 200
    assert bar_length(picture, theme.color("brick")) == 0


@pytest.mark.parametrize("percent", [90, 100, 115, 130])
def test_a_card_grows_with_its_text(card: ClockCard, theme: Theme, percent: int) -> None:
    """No text size makes a card lower than its lines are together."""
    theme.set_text_percent(percent)
    lines = theme.measure.text_px

    assert card.heightForWidth(272) > 198 * 0.88 * percent / 100 - 20
    assert card.heightForWidth(272) >= sum(map(lines, type_roles(card)))


def type_roles(card: ClockCard) -> list:
    """The voices of a full card's four lines."""
    return [Role.BODY, Role.HEAD, Role.NOTE]


@pytest.mark.parametrize("width", [1093, 1366, 1920])
def test_a_time_of_another_day_is_not_taken_for_todays(
    card: ClockCard, theme: Theme, width: int
) -> None:
    """The day stands before the time at the left of the largest figures, at every step."""
    theme.fit_width(width)
    card.show_row(replace(THAW, tag=""))
    today = shot(card)
    card.show_row(replace(THAW, tag="", day="Thursday"))
    first = (14, 40, 60, 50)  # where the large figures begin

    assert FullCard(theme, card.row).due == "Thu 11:30"
    assert shot(card).copy(*first) != today.copy(*first)


def test_long_names_wrap(card: ClockCard) -> None:
    """A name too long for one line makes the card higher instead of being cut."""
    one_line = card.heightForWidth(272)
    card.show_row(replace(PACKET, name="Schwarze Bohnen aus dem zweiten Eimer"))

    assert card.heightForWidth(272) > one_line


@pytest.mark.parametrize("width", [150, 200])
def test_a_tight_card_still_says_what_its_time_means(
    card: ClockCard, theme: Theme, width: int
) -> None:
    """Where a name is cut it is cut in the food: cooling or warming stays."""
    row = replace(THAW, name="Hard wheat, whole kernels warming")
    card.show_row(row, full=False, tight=True)

    (name,) = SmallCard(theme, row, tight=True).setting(width).names

    assert name == "warming" if width == 150 else name.endswith("… warming")
    assert theme.metrics(Role.BODY).horizontalAdvance(name) <= width
    assert row.name in card.toolTip()


@pytest.mark.parametrize("remaining", ["9 min left", "43 min left"])
def test_a_narrow_card_says_what_its_time_means(theme: Theme, remaining: str) -> None:
    """In a narrow window too "seal by" stands by the time that is left, which is hardly smaller."""
    theme.fit_width(1093)
    card = FullCard(theme, replace(PACKET, remaining=remaining, meaning="seal by"))
    font, with_meaning = card.remaining_set(card.room(196))

    assert with_meaning
    assert font.pixelSize() >= 0.7 * theme.font(Role.HEAD).pixelSize() - 1


@pytest.mark.parametrize("percent", [100, 130])
def test_a_small_card_says_what_its_time_means(card: ClockCard, theme: Theme, percent: int) -> None:
    """Beside the time, or below it with large text: a time without it is a riddle."""
    theme.set_text_percent(percent)
    theme.fit_width(1366)
    row = replace(PACKET, name="4 shut, no seam yet", meaning="seal by", remaining="40 min left")
    setting = SmallCard(theme, row).setting(196 if theme.layout.rail else 272)

    assert setting.meaning or setting.meaning_below


@pytest.fixture
def column(theme: Theme, qtbot: QtBot) -> ClocksColumn:
    """A column as high as in a window of 768 px."""
    column = ClocksColumn(theme)
    qtbot.addWidget(column)
    column.resize(304, 648)
    column.show()
    return column


def rows(count: int) -> tuple[ClockRow, ...]:
    """So many clocks."""
    return tuple(replace(THAW, clock=f"c{n}", name=f"Load {n}", tag="") for n in range(count))


def test_the_first_clock_is_full_the_rest_small(column: ClocksColumn) -> None:
    """Cards keep the order given; only the first is full."""
    column.show_rows(rows(3))

    assert [card.row.clock for card in column.cards] == ["c0", "c1", "c2"]
    assert [card.full for card in column.cards] == [True, False, False]


def test_a_wide_window_shows_two_full(column: ClocksColumn, theme: Theme) -> None:
    """From 1600 px on two clocks are full, under a band only one."""
    theme.fit_width(1920)
    column.show_rows(rows(3))
    assert [card.full for card in column.cards] == [True, True, False]

    column.show_rows(rows(3), under_band=True)

    assert [card.full for card in column.cards] == [True, False, False]


def test_no_clocks_teach_how_one_starts(column: ClocksColumn) -> None:
    """Without clocks the column says what starts the first one, and with one it does not."""
    empty = column.findChild(EmptyState)
    assert empty.isVisible()
    assert "starts when a pail goes into the freezer" in empty.accessibleName()

    column.show_rows(rows(1))

    assert not empty.isVisible()


def test_notes_give_way_before_anything_scrolls(column: ClocksColumn) -> None:
    """In a shorter column the top card loses its note first."""
    column.show_rows(rows(3))
    roomy = column.cards[0].heightForWidth(272)
    column.resize(304, 540)
    column.show_rows(rows(3))

    assert column.cards[0].heightForWidth(272) < roomy


def test_many_clocks_scroll_and_can_be_reached_by_key(column: ClocksColumn) -> None:
    """Cards that do not fit scroll, and the scrolled part is then a tab stop with a name."""
    column.show_rows(rows(2))
    assert column._scroll.focusPolicy().value == 0

    column.show_rows(rows(9))

    assert column._scroll.focusPolicy().value != 0
    assert column._scroll.accessibleName() == "More clocks"


def test_reading_from_afar_is_asked_for(column: ClocksColumn, qtbot: QtBot) -> None:
    """The button at the foot of the column asks for the far view."""
    with qtbot.waitSignal(column.afar_asked):
        column.afar.click()


def test_cards_that_grow_push_the_others_down(theme: Theme, qtbot: QtBot) -> None:
    """After a clock has come and gone a card of more lines still lies over none below it, with one
    gap between the two."""
    column = ClocksColumn(theme)
    qtbot.addWidget(column)
    column.resize(304, 629)
    column.show()
    long = replace(PACKET, name="23 pouches shut and waiting, no seam yet")
    gaps = set()
    for rows in (
        (PACKET, THAW),
        (PACKET, THAW, THAW),
        (PACKET, THAW),
        (long, THAW),
        (PACKET, THAW),
    ):
        column.show_rows(rows)
        QApplication.processEvents()
        first, second = column.cards[:2]
        top = second.mapTo(column, QPoint(0, 0)).y()
        gaps.add(top - first.geometry().bottom())

    assert len(gaps) == 1
    assert min(gaps) > 0


def test_a_small_card_keeps_what_its_time_means(theme: Theme) -> None:
    """Beside a long name what the time means stands with it, an hour before as a minute before."""
    for left in ("59 min left", "1 h left"):
        row = replace(PACKET, name="4 shut, no seam yet", meaning="seal by", remaining=left)
        small = SmallCard(theme, row).setting(272)

        assert small.meaning == "seal by"
