"""The bottom of the window: a cell for each pouch against the plan, the last entry and Undo."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Signal
from PySide6.QtGui import QFontMetricsF, QPainter, QRegion
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.present.cards import TallyBoard, TallyLine
from packdesk.ui.icons import Icon
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.lettering import cut, draw_lines, draw_right, wrapped
from packdesk.ui.widgets.placed import Placed
from packdesk.ui.widgets.pouch_cells import PouchCells
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from packdesk.ui.widgets.tally_fit import CELL_GAP, TallyFit, fit_tally, stretch

NO_ENTRY = "Nothing is entered yet"
ENTRY_LINES = 2
WORDS_AIR = 10
NO_BOARD = TallyBoard((), "", "", "")


class TallyStrip(Placed):
    """Per plan line its food, counts in words and cells; at the right Undo and the saved time.

    Cells are fitted from 30 px down to 16, then into two rows; after that only the plan line in
    hand keeps its cells and the others are words. Of a line too long even for that the cells
    around the one in hand are shown; its words count them all.

    Signals:
        undo_asked: the last entry is to be taken back.
        pouch_chosen: a `PouchCell` of the tally was clicked or Enter pressed on it.
    """

    undo_asked = Signal()
    pouch_chosen = Signal(object)

    def __init__(self, theme: Theme, parent: QWidget | None = None, *, undo_key: str = "Backspace"):
        super().__init__(theme, parent, ground="cloth", fills_ground=True)
        self._board = NO_BOARD
        self._undo_key = undo_key
        self._runs: list[PouchCells] = []
        self._fit = TallyFit(23.0, 1, ())
        self.undo = SecondControl(theme, self, ground="cloth")
        self.undo.set_height(58)
        self.undo.acted.connect(self.undo_asked)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Tally")
        self.show_board(NO_BOARD)

    @property
    def runs(self) -> tuple[PouchCells, ...]:
        """The runs of cells, one a plan line; those told in words are hidden."""
        return tuple(self._runs)

    @property
    def fit(self) -> TallyFit:
        """How the cells were fitted into the width."""
        return self._fit

    def show_board(self, board: TallyBoard) -> None:
        """Show the tally."""
        self._board = board
        while len(self._runs) > len(board.lines):
            run = self._runs.pop()
            run.hide()
            run.setParent(None)
            run.deleteLater()
        while len(self._runs) < len(board.lines):
            run = PouchCells(self.theme, self, gap_px=self.theme.px(CELL_GAP), ground="cloth")
            run.chosen.connect(self.pouch_chosen)
            self._runs.append(run)
        for run, line in zip(self._runs, board.lines, strict=True):
            run.setAccessibleName(f"{line.food}: {line.words}")
        missing = "" if board.undo else "nothing yet"
        self.undo.show_face(SecondFace("Undo", self._undo_key, Icon.UNDO, missing))
        self.undo.setAccessibleName(board.undo or "Undo")
        self.undo.setToolTip(" ".join(part for part in (board.undo, board.last_entry) if part))
        self._place()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.whole(900), self._height())

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(480), self._height())

    def draw(self, painter: QPainter) -> None:
        theme = self.theme
        line = QRectF(0, 0, self.width(), theme.px(2))
        painter.fillRect(line, theme.color("ink"))
        side = self._undo_rect()
        bar = QRectF(side.left() - theme.px(15), theme.px(18), 1.2, self.height() - theme.px(36))
        painter.fillRect(bar, theme.color("rule"))
        for place, (left, width) in enumerate(self._columns()):
            self._draw_line(painter, self._board.lines[place], left, width, self._shows(place))
        self._draw_entry(painter, side)

    def _draw_line(
        self, painter: QPainter, line: TallyLine, left: float, width: float, with_cells: bool
    ) -> None:
        """Food and words above the cells, or wrapped below each other without them."""
        theme = self.theme
        step = theme.line(Role.NOTE)
        top = theme.px(14 if theme.layout.rail else 16)
        bold, plain = theme.font(Role.NOTE, Weight.SEMIBOLD), theme.font(Role.NOTE, Weight.REGULAR)
        food_width = theme.metrics(Role.NOTE, Weight.SEMIBOLD).horizontalAdvance(line.food)
        metrics = theme.metrics(Role.NOTE, Weight.REGULAR)
        at = QPointF(left, top)
        draw_lines(
            painter,
            [cut(line.food, theme.metrics(Role.NOTE, Weight.SEMIBOLD), width)],
            at,
            step,
            bold,
            theme.color("ink"),
        )
        start = left + food_width + theme.px(WORDS_AIR)
        if with_cells:
            words = [cut(line.words, metrics, left + width - start)]
            at = QPointF(start, top)
        else:
            words = wrapped(line.words, metrics, width)
            at = QPointF(left, top + step)
        draw_lines(painter, words, at, step, plain, theme.color("ink2"))

    def _draw_entry(self, painter: QPainter, side: QRect) -> None:
        theme = self.theme
        step = theme.line(Role.NOTE)
        font = theme.font(Role.NOTE, Weight.REGULAR)
        metrics = theme.metrics(Role.NOTE, Weight.REGULAR)
        width = self.width() - side.left() - theme.px(8)
        room = self.height() - side.bottom() - theme.px(4)
        top = side.bottom() + max((room - step * ENTRY_LINES) / 2, theme.px(2))
        saved, at = self._board.saved, QPointF(side.left(), top)
        lines = self.entry_lines(metrics, width)
        draw_lines(painter, lines, at, step, font, theme.color("ink"))
        below = top + step
        if len(lines) > 1:
            draw_right(painter, saved, side.left() + width, below, step, font, theme.color("ink2"))
        else:
            at = QPointF(side.left(), below)
            draw_lines(painter, [cut(saved, metrics, width)], at, step, font, theme.color("ink2"))

    def entry_lines(self, metrics: QFontMetricsF, width: float) -> list[str]:
        """The last entry in one line or two; when it was saved stands at the end of the second."""
        first, *more = wrapped(self._board.last_entry or NO_ENTRY, metrics, width)
        if not more:
            return [first]
        room = width - metrics.horizontalAdvance(self._board.saved) - self.theme.px(12)
        return [first, cut(" ".join(more), metrics, room)]

    def _undo_rect(self) -> QRect:
        theme = self.theme
        layout = theme.layout
        width = theme.whole(220 if layout.rail else 246)
        top = theme.whole(9 if layout.rail else 12)
        height = theme.whole(58 if not layout.rail else 57)
        return QRect(self.width() - width - theme.whole(layout.clocks_margin), top, width, height)

    def _columns(self) -> list[tuple[float, float]]:
        """Left edge and width of each plan line."""
        gap = self.theme.px(24)
        left, columns = self.theme.px(20), []
        for width in self._fit.widths:
            columns.append((left, width))
            left += width + gap
        return columns

    def _shows(self, place: int) -> bool:
        return place not in self._fit.in_words

    def _place(self) -> None:
        """Fit the cells into the width left of Undo and give the runs their places."""
        theme = self.theme
        self.setFixedHeight(self._height())
        self.undo.setGeometry(self._undo_rect())
        room = self._undo_rect().left() - theme.px(20 + 34)
        lines = self._board.lines
        in_hand = [_in_hand(line) for line in lines]
        line_in_hand = next((place for place, cell in enumerate(in_hand) if cell is not None), 0)
        self._fit = fit_tally(
            tuple(len(line.cells) for line in lines),
            room / theme.px(1),
            words_px=tuple(self._words_width(line) / theme.px(1) for line in lines),
            largest_px=theme.layout.tally_cell,
            in_hand=line_in_hand,
        ).scaled(theme.px(1))
        top = theme.px(14 if theme.layout.rail else 16) + theme.line(Role.NOTE) + theme.px(6)
        for place, (left, width) in enumerate(self._columns()):
            run = self._runs[place]
            cells = lines[place].cells
            shown = stretch(len(cells), in_hand[place] or 0, self._fit.most_cells)
            run.show_cells([cells[number] for number in shown])
            run.setVisible(self._shows(place))
            run.set_cell_px(self._fit.cell_px)
            height = run.heightForWidth(int(width) + 1)
            run.setGeometry(round(left), round(top), int(width) + 1, height)
        self._update_words()

    def _words_width(self, line: TallyLine) -> float:
        """How wide food and counts are beside each other, whole."""
        bold = self.theme.metrics(Role.NOTE, Weight.SEMIBOLD)
        plain = self.theme.metrics(Role.NOTE, Weight.REGULAR)
        words = plain.horizontalAdvance(line.words)
        return bold.horizontalAdvance(line.food) + self.theme.px(WORDS_AIR) + words

    def _update_words(self) -> None:
        """Paint anew what this widget writes itself; each cell knows when it has changed."""
        words = QRegion(self.rect())
        for run in self._runs:
            if self._shows(self._runs.index(run)):
                words -= QRegion(run.geometry())
        self.update(words)

    def _height(self) -> int:
        around = 9 + 57 + 4 if self.theme.layout.rail else 12 + 58 + 6
        needed = self.theme.px(around) + self.theme.line(Role.NOTE) * ENTRY_LINES
        return max(self.theme.whole(self.theme.layout.tally_height), round(needed))


def _in_hand(line: TallyLine) -> int | None:
    """The place of the cell in hand in a line, if it has one."""
    return next((place for place, cell in enumerate(line.cells) if cell.in_hand), None)
