"""All running clocks, the most urgent on top; what gives way when the height is short."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from packdesk.present.cards import ClockRow
from packdesk.ui.icons import Icon
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.clock_card import ClockCard
from packdesk.ui.widgets.empty_state import EmptyFace, EmptyState
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from packdesk.ui.widgets.themed import Themed

NO_CLOCKS = EmptyFace(
    "No clock runs here",
    "The first one starts when a pail goes into the freezer.",
    Icon.COLD,
)
GAP = 14


class ClocksColumn(Themed):
    """The right-hand column: cards in the order given, and the way into the far view.

    The first cards are full (one, two when wide, one under a band), the rest small. In a short
    window the notes go first, then the small cards lose all but name and time; after that they
    scroll.

    Signals:
        afar_asked: the person wants to read from two metres away.
    """

    afar_asked = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent, ground="cloth", fills_ground=True)
        self._rows: tuple[ClockRow, ...] = ()
        self._under_band = False
        self._cards: list[ClockCard] = []
        self._empty = EmptyState(theme, self)
        self._why = ""
        self._empty.show_face(NO_CLOCKS)
        self.afar = SecondControl(theme, self, ground="cloth")
        self.afar.acted.connect(self.afar_asked)
        self._small = QWidget()
        self._small_box = QVBoxLayout(self._small)
        self._small_box.setContentsMargins(0, 0, 0, 0)
        self._small_box.addStretch(1)
        self._scroll = QScrollArea(self)
        self._scroll.setWidget(self._small)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setAccessibleName("More clocks")
        self._scroll.viewport().setAutoFillBackground(False)
        self._small.setAutoFillBackground(False)
        self._full_box = QVBoxLayout()
        self._column = QVBoxLayout(self)
        self._column.addLayout(self._full_box)
        self._column.addWidget(self._empty)
        self._column.addWidget(self._scroll, 1)
        self._column.addWidget(self.afar)
        self.setAccessibleName("Clocks")
        self._arrange()

    @property
    def cards(self) -> tuple[ClockCard, ...]:
        """The cards on show, most urgent first."""
        return tuple(self._cards)

    def show_rows(
        self, rows: tuple[ClockRow, ...], *, under_band: bool = False, why: str = ""
    ) -> None:
        """Show the clocks, most urgent first; under a band only the first is full.

        While there is none, `why` says what starts the next one.
        """
        regroup = len(rows) != len(self._rows) or under_band != self._under_band
        regroup = regroup or why != self._why
        self._why = why
        self._rows = rows
        self._under_band = under_band
        if regroup:
            self._arrange()
        else:
            self._fill()

    def restyle(self) -> None:
        """Lay the column out for another step or palette."""
        super().restyle()
        self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fill()

    def _arrange(self) -> None:
        """Make as many cards as there are clocks and put them into the two boxes."""
        layout = self.theme.layout
        margin = self.theme.whole(layout.clocks_margin)
        self.setFixedWidth(self.theme.whole(layout.clocks_width))
        self._column.setContentsMargins(margin, margin, margin, margin)
        gap = self.theme.whole(12 if layout.rail else GAP)
        for box in (self._column, self._full_box, self._small_box):
            box.setSpacing(gap)
        for card in self._cards:
            # Not by takeAt: the place taken out lives on in Python, and while it does the card's
            # new place is never told of another height. Cards would then lie over each other.
            self._full_box.removeWidget(card)
            self._small_box.removeWidget(card)
        while len(self._cards) > len(self._rows):
            card = self._cards.pop()
            card.hide()  # a shown widget without a parent would be a window of its own
            card.setParent(None)
            card.deleteLater()
        while len(self._cards) < len(self._rows):
            self._cards.append(ClockCard(self.theme, self))
        full_count = 1 if self._under_band else layout.full_cards
        for place, card in enumerate(self._cards):
            if place < full_count:
                self._full_box.addWidget(card)
            else:
                self._small_box.insertWidget(place - full_count, card)
        self._empty.setVisible(not self._rows)
        self._empty.show_face(replace(NO_CLOCKS, why=self._why or NO_CLOCKS.why))
        self.afar.show_face(
            SecondFace("From afar" if layout.rail else "Read from afar", "F", Icon.AFAR)
        )
        self._fill()

    def _fill(self) -> None:
        full_count = 1 if self._under_band else self.theme.layout.full_cards
        for note, tight in ((True, False), (False, False), (False, True)):
            for place, (card, row) in enumerate(zip(self._cards, self._rows, strict=True)):
                card.show_row(row, full=place < full_count, note=note, tight=tight)
            if self._wanted_height() <= self.height():
                break
        margins = self._column.contentsMargins()
        width = self.width() - margins.left() - margins.right()
        for card in self._cards:
            # Said outright: a change of height asked for during a layout goes unheard.
            card.setFixedHeight(card.heightForWidth(width))
        # Only a column that scrolls is a stop for the Tab key.
        scrolls = self._wanted_height() > self.height()
        self._scroll.setFocusPolicy(
            Qt.FocusPolicy.StrongFocus if scrolls else Qt.FocusPolicy.NoFocus
        )

    def _wanted_height(self) -> int:
        margins = self._column.contentsMargins()
        width = self.width() - margins.left() - margins.right()
        gap = self._column.spacing()
        cards = sum(card.heightForWidth(width) + gap for card in self._cards)
        return margins.top() + cards + self.afar.sizeHint().height() + margins.bottom()
