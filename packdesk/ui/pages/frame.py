"""How a page is laid out: a fixed sentence and main control over what scrolls."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar, Protocol

from PySide6.QtCore import QEvent, QObject, QPoint, Qt, QTimer
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from packdesk.ui.pages.amiss_row import AmissRow
from packdesk.ui.pages.further import Further
from packdesk.ui.pages.words import Caution, Words, let_grow
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.main_control import MainControl
from packdesk.ui.widgets.refusal import Refusal
from packdesk.ui.widgets.second_control import SecondControl
from packdesk.ui.widgets.themed import Themed


class GivesWay(Protocol):
    """What may be drawn lower where room is scarce."""

    @property
    def gives_way(self) -> bool:
        """Whether it does."""

    def give_way(self, less: bool) -> None:
        """Take less room, or as much as is usual."""

    def room_given(self) -> int:
        """How many px that gives."""


class PageFrame(Themed):
    """The parts every page has, and their places at each step of the window's width.

    Sentence, main control, at most two beside it, `standing` words, a third control and the
    refusal stand still; a foreword (what to know before a form is filled in), forms, evidence and
    caution scroll under them in `body`. What is beyond three controls unfolds at its top.
    Where `evidence_gives_way`, its last sentences go into its tooltip before anything has to
    scroll; the first one stays.
    """

    evidence_gives_way: ClassVar[bool] = False
    caution_first: ClassVar[bool] = False
    """Whether the caution stands above the evidence, where that is long and may scroll away."""

    def __init__(self, theme: Theme, tap_clock: Callable[[], float] | None = None) -> None:
        super().__init__(theme, ground="sheet", fills_ground=True)
        self.stage_words = Words(theme, Role.NOTE, weight=Weight.SEMIBOLD)
        self.sentence = Words(theme, Role.SAY)
        self.main = MainControl(theme, clock=tap_clock)
        self.seconds = [SecondControl(theme, clock=tap_clock) for _ in range(2)]
        self.refusal = Refusal(theme)
        self.standing = Words(theme, Role.BODY)
        self.further = Further(theme, self, tap_clock)
        self.third = self.further.third
        for widget in (*self.seconds, self.refusal):
            let_grow(widget)
        self.foreword = Words(theme, Role.BODY, weight=Weight.REGULAR)
        self.evidence = Words(theme, Role.BODY, weight=Weight.REGULAR)
        self.caution = Caution(theme)
        self._evidence: tuple[str, ...] = ()
        self.giving_way: tuple[GivesWay, ...] = ()
        """What takes less room, in this order, before the caution would scroll away. Where that
        is not enough, the caution stands above the rest."""
        self._above_caution: QWidget | None = None
        self._caution_risen = False
        self.amiss_row = AmissRow(theme, tap_clock)
        self.amiss_row.hide()
        self._arrange()

    def _arrange(self) -> None:
        self._column = QVBoxLayout(self)
        self._column.addWidget(self.stage_words)
        self._column.addWidget(self.sentence)
        self._acts = QHBoxLayout()
        self._acts.addWidget(self.main, 1, Qt.AlignmentFlag.AlignTop)
        self._side = QWidget()
        self._side_box = QVBoxLayout(self._side)
        self._side_box.setContentsMargins(0, 0, 0, 0)
        for second in self.seconds:
            self._side_box.addWidget(second)
        self._side_box.addStretch(1)
        self._acts.addWidget(self._side, 0, Qt.AlignmentFlag.AlignTop)
        self._column.addLayout(self._acts)
        self._lower = QHBoxLayout()
        self._lower.addWidget(self.standing, 1, Qt.AlignmentFlag.AlignTop)
        corner = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop
        self._lower.addWidget(self.third, 0, corner)
        self._column.addLayout(self._lower)
        self._column.addWidget(self.refusal)
        self.scroll = QScrollArea()
        self.scroll.setWidgetResizable(True)
        self.scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        self.scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.scroll.viewport().setAutoFillBackground(False)
        self._below = Themed(self.theme, ground="sheet")
        self.body = QVBoxLayout(self._below)
        self.scroll.setWidget(self._below)
        self._below.setAutoFillBackground(False)
        self._column.addWidget(self.scroll, 1)
        self.scroll.viewport().installEventFilter(self)
        self.restyle()

    def say_evidence(self, *sentences: str) -> None:
        """Say why, as far as there is room."""
        self._evidence = tuple(sentence for sentence in sentences if sentence)
        self._fit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """See to the evidence when its room changes."""
        if event.type() == QEvent.Type.Resize and watched is self.scroll.viewport():
            self._fit()
        return False

    def bring_into_sight(self, form: QWidget, field: QWidget) -> None:
        """Scroll, once all has its place, as little off the top as lets `form` be seen.

        Of a form that is higher than the room there is, down to `field`.
        """
        QTimer.singleShot(0, self, lambda: self._scroll_to(form, field))

    def _scroll_to(self, form: QWidget, field: QWidget) -> None:
        if not (form.isVisible() and self._below.isAncestorOf(field)):
            return
        air, room = self.theme.whole(6), self.scroll.viewport().height()
        top = field.mapTo(self._below, QPoint(0, 0)).y() - air
        foot = form.mapTo(self._below, QPoint(0, form.height())).y() + air
        self.scroll.verticalScrollBar().setValue(min(max(foot - room, 0), top))

    def _fit(self) -> None:
        shown = self._evidence
        self.evidence.say(*shown)
        self._make_room()
        if not self.evidence_gives_way:
            return
        room = self.scroll.viewport().height()
        while len(shown) > 1 and self._least_height() > room:
            shown = shown[:-1]
            self.evidence.say(*shown)
        self.evidence.setToolTip("\n".join(self._evidence[len(shown) :]))
        self._below.setMinimumHeight(self._least_height())

    def _make_room(self) -> None:
        """Let as much give way as it takes to see all down to the caution, and no more."""
        if not self.giving_way:
            return
        wanted = self._height_to_caution() - self.scroll.viewport().height()
        wanted += sum(each.room_given() for each in self.giving_way if each.gives_way)
        for each in self.giving_way:
            room = each.room_given()
            each.give_way(wanted > 0 and room > 0)
            wanted -= room
        self._let_caution_rise(wanted > 0)

    def _let_caution_rise(self, rises: bool) -> None:
        if rises != self._caution_risen:
            self._caution_risen = rises
            self.body.removeWidget(self.caution)
            above = self.foreword if rises else self._above_caution
            assert above is not None, "noted when the page was finished"
            self.body.insertWidget(self.body.indexOf(above) + 1, self.caution)

    def _height_to_caution(self) -> int:
        """What all takes down to the caution, were it at its usual place."""
        last = self._above_caution if self._caution_risen else self.caution
        margins, height = self.body.contentsMargins(), 0
        width = self.scroll.viewport().width() - margins.right()
        for place in range(self.body.count()):
            item = self.body.itemAt(place)
            if not item.isEmpty():
                tall = item.hasHeightForWidth()
                height += item.heightForWidth(width) if tall else item.sizeHint().height()
                height += self.body.spacing()
            if item.widget() is last:
                break
        return margins.top() + height - self.body.spacing()

    def _least_height(self) -> int:
        """What forms, evidence and caution take at least, wrapped at the width there is."""
        if not self.body.hasHeightForWidth():
            return self.body.minimumSize().height()
        return self.body.minimumHeightForWidth(self.scroll.viewport().width())

    def finish(self, *, stretch: bool = True) -> None:
        """Put evidence, caution and the place for what went wrong under what `build` put there."""
        self.body.insertWidget(0, self.further.rows)
        self.body.insertWidget(1, self.foreword)
        self.foreword.say()
        self.standing.say()
        told = (self.evidence, self.caution)
        for words in reversed(told) if self.caution_first else told:
            if words is self.caution:
                self._above_caution = self.body.itemAt(self.body.count() - 1).widget()
            self.body.addWidget(words)
        self.body.addWidget(self.amiss_row)
        if stretch:
            self.body.addStretch(1)

    def place_lower(self) -> None:
        """Keep a finger's distance above a third control, and only there."""
        theme = self.theme
        apart = theme.whole(theme.layout.target_gap) - self._column.spacing()
        above = apart if self.third.isVisibleTo(self) else 0
        self._lower.setContentsMargins(0, above, theme.whole(6), 0)

    def restyle(self) -> None:
        super().restyle()
        theme = self.theme
        layout = theme.layout
        margin = theme.whole(layout.work_margin)
        ring = theme.whole(6)
        if not layout.rail:
            self.stage_words.say()
        top = theme.whole(14 if layout.rail else 22)
        self._column.setContentsMargins(margin, top, margin - ring, theme.whole(8))
        self._column.setSpacing(theme.whole(8 if layout.rail else 12))
        self._acts.setSpacing(theme.whole(layout.target_gap))
        self._acts.setContentsMargins(0, 0, ring, 0)
        self._lower.setSpacing(theme.whole(layout.target_gap))
        self.place_lower()
        self._side_box.setSpacing(theme.whole(layout.main_height - 2 * layout.second_height))
        self._side.setFixedWidth(theme.whole(layout.second_width))
        for second in (*self.seconds, self.third):
            second.setFixedWidth(theme.whole(layout.second_width))
        self.body.setContentsMargins(0, theme.whole(6), ring, ring)
        self.body.setSpacing(theme.whole(12))
