"""Cards for pails, two to a page, for the lid or the side; nothing is cut, small print is last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import BinaryIO, NamedTuple

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas

from packdesk.paper.blank_pdf import blank_pdf
from packdesk.paper.delivery import deliver
from packdesk.paper.fit import tied, wrap
from packdesk.paper.fonts import BOLD, REGULAR, SEMIBOLD, lacking, printable, rise
from packdesk.paper.page_sizes import MM, page_size_mm
from packdesk.paper.qr import QUIET_MODULES, QrCode, qr_code
from packdesk.present.label_design import LEAST_MODULE_MM
from packdesk.present.papers import PailCard, PailFood

_EDGE_MM = 13.0
_CODE_MM = 36.0
"""Side of the code with its quiet zone, unless its modules would then be too small to read."""

_FEWEST_MODULES = 45
"""A code with fewer, quiet zone included, is set no larger for it."""

_NOTE_MM = 8.0
_TAKEN_OUT = "Taken out"
_SCALES = (1.0, 0.92, 0.84, 0.76, 0.7)
_GAP = 7.0
_RULE, _CUT = HexColor("#1A2040"), HexColor("#A0A0A0")


@dataclass(frozen=True, slots=True)
class PailReport:
    """What was written: cards (a pail with very much in it takes several), pages, empty boxes."""

    cards: int
    pages: int
    unprintable: str = ""


class _Text(NamedTuple):
    """One text of a card: its face, its size on an ordinary card, the space above it (pt)."""

    words: str
    face: str = REGULAR
    size: float = 11.0
    above: float = 2.0


class _Placed(NamedTuple):
    """A line of text, its baseline this far below where its block begins."""

    text: str
    face: str
    size: float
    down: float


class _Block(NamedTuple):
    """Lines that stay together, and how high they stand."""

    lines: tuple[_Placed, ...]
    height: float


def write_pail_cards(cards: Sequence[PailCard], page: str, out: Path | BinaryIO) -> PailReport:
    """Write `cards` on pages called `page` ("A4" or "Letter"), two to a page with a line to cut.

    A card with more than half a page takes another one, numbered. Raises `ValueError` when there
    is none or the page is unknown and `Trouble` when the file cannot be written.
    """
    if not cards:
        raise ValueError("No pail has a pouch in it yet, so there is no card to make.")
    size_mm = page_size_mm(page)
    content = BytesIO()
    canvas = blank_pdf(content, size_mm, "Pail cards")
    width, half = size_mm[0] * MM, size_mm[1] * MM / 2
    drawn = [part for card in cards for part in _Card(card, width, half).parts()]
    for place, part in enumerate(drawn):
        if place and place % 2 == 0:
            canvas.showPage()
        canvas.saveState()
        canvas.translate(0, half if place % 2 else 2 * half)
        if place % 2:
            _draw_cut(canvas, width)
        _draw_part(canvas, part, width, half)
        canvas.restoreState()
    canvas.save()
    deliver(content.getvalue(), out)
    words = " ".join(word for card in cards for word in _words(card))
    return PailReport(len(drawn), -(-len(drawn) // 2), lacking(words))


class _Part(NamedTuple):
    """What one card of a pail holds: its head beside the code, then its blocks from there down.

    `pinned`: the last block stands at the foot of the card, under a twin seam.
    """

    head: _Block
    code: QrCode
    blocks: tuple[_Block, ...]
    pinned: bool


class _Card:
    """Sets one pail's card: as large as fits on half a page, else smaller, else on several."""

    def __init__(self, card: PailCard, width: float, half: float) -> None:
        self._card = card
        self._code = qr_code(card.code)
        self._width = width - 2 * _EDGE_MM * MM
        self._room = half - 2 * _EDGE_MM * MM

    def parts(self) -> tuple[_Part, ...]:
        """The card or cards of this pail."""
        for scale in _SCALES:
            head = self._head(scale, "")
            found = self._flow(scale, head)
            if len(found) == 1:
                return (_Part(head, self._code, found[0], pinned=True),)
        smallest = _SCALES[-1]
        of = len(self._flow(smallest, self._head(smallest, ", card 10 of 10")))
        heads = [self._head(smallest, f", card {number} of {of}") for number in range(1, of + 1)]
        flowed = self._flow(smallest, max(heads, key=lambda head: head.height))
        return tuple(
            _Part(head, self._code, blocks, pinned=False)
            for head, blocks in zip(heads, flowed, strict=True)
        )

    def _flow(self, scale: float, head: _Block) -> list[tuple[_Block, ...]]:
        """Foods and foot below the head, over as many cards as they take; every line is kept."""
        room = self._room - max(head.height, _code_room(self._code))
        blocks = [*(self._food(food, scale) for food in self._card.foods), self._foot(scale)]
        cards: list[list[_Block]] = [[]]
        used = 0.0
        for piece in (piece for block in blocks for piece in _pieces(block, room)):
            if cards[-1] and used + piece.height > room:
                cards.append([])
                used = 0.0
            cards[-1].append(piece)
            used += piece.height
        return [tuple(card) for card in cards]

    def _head(self, scale: float, numbered: str) -> _Block:
        card = self._card
        return _set(
            (
                _Text(card.pail + numbered, BOLD, 34.0 if not numbered else 22.0, 0.0),
                _Text(card.session, REGULAR, 12.0),
                _Text(card.packed, REGULAR, 12.0),
                _Text(card.checked, REGULAR, 12.0),
                _Text(card.swollen, BOLD, 12.0),
                _Text(card.allergens, BOLD, 12.0),
            ),
            scale,
            self._width - _code_room(self._code),
        )

    def _food(self, food: PailFood, scale: float) -> _Block:
        return _set(
            (
                _Text(food.food, BOLD, 18.0, _GAP),
                _Text(f"{food.amount}; {food.best_quality}", SEMIBOLD, 12.0),
                _Text(f"Pouches {food.pouches}", REGULAR, 11.0),
            ),
            scale,
            self._width,
        )

    def _foot(self, scale: float) -> _Block:
        card = self._card
        return _set(
            (
                _Text(card.mass, SEMIBOLD, 12.0, _GAP + 4.0),
                _Text(card.lifting, SEMIBOLD, 12.0),
                *(_Text(words, SEMIBOLD, 11.0) for words in card.food_cautions),
                _Text(" ".join(card.cautions), REGULAR, 10.5),
            ),
            scale,
            self._width,
        )


def _set(texts: Sequence[_Text], scale: float, width: float) -> _Block:
    """Texts below one another within `width`; empty ones take no room."""
    placed = []
    down = 0.0
    for text in texts:
        words = tied(printable(text.words))
        if not words:
            continue
        size = text.size * scale
        down += text.above * scale
        for line in wrap(words, text.face, width / size, break_words=True):
            down += rise(line) * size
            placed.append(_Placed(line, text.face, size, down))
            down += (1.22 - rise("")) * size
    return _Block(tuple(placed), down)


def _pieces(block: _Block, room: float) -> list[_Block]:
    """The block itself, or its lines over several where it alone is higher than a card."""
    if block.height <= room:
        return [block]
    pieces: list[_Block] = []
    lines: list[_Placed] = []
    start = end = 0.0
    for line in block.lines:
        bottom = line.down + 0.35 * line.size
        if lines and bottom - start > room:
            pieces.append(_Block(tuple(lines), end - start))
            lines, start = [], end
        lines.append(line._replace(down=line.down - start))
        end = bottom
    return [*pieces, _Block(tuple(lines), end - start)]


def _draw_part(canvas: Canvas, part: _Part, width: float, half: float) -> None:
    """Head at the top beside the code, foods below it, the foot under the twin seam."""
    edge = _EDGE_MM * MM
    down = edge
    _draw_block(canvas, part.head, edge, down)
    _draw_code(canvas, part.code, width - edge, down)
    down += max(part.head.height, _code_room(part.code))
    *foods, foot = part.blocks if part.pinned else (*part.blocks, _Block((), 0.0))
    for food in foods:
        _draw_block(canvas, food, edge, down)
        down += food.height
    if not part.pinned:
        return
    top = half - edge - foot.height
    _draw_notes(canvas, edge, width - edge, down, top)
    canvas.setStrokeColor(_RULE)
    canvas.setLineWidth(0.6)
    for below in (2.0, 3.7):
        canvas.line(edge, -top - below, width - edge, -top - below)
    _draw_block(canvas, foot, edge, top)


def _draw_block(canvas: Canvas, block: _Block, left: float, top: float) -> None:
    for line in block.lines:
        canvas.setFont(line.face, line.size)
        canvas.drawString(left, -top - line.down, line.text)


def _draw_notes(canvas: Canvas, left: float, right: float, top: float, foot: float) -> None:
    """Where there is room, lines on which to write what was taken out, and when."""
    step = _NOTE_MM * MM
    canvas.setStrokeColor(_CUT)
    canvas.setLineWidth(0.4)
    for line in range(1, int((foot - top) / step)):
        below = top + (line + 0.5) * step
        canvas.line(left, -below, right, -below)
        if line == 1:
            canvas.setFont(REGULAR, 9.0)
            canvas.drawString(left, -below + 2.0, _TAKEN_OUT)


def _code_room(code: QrCode) -> float:
    """How wide and high the code is with its quiet zone; a module never below 0.34 mm."""
    return max(_CODE_MM, (code.modules + 2 * QUIET_MODULES) * LEAST_MODULE_MM) * MM


def _draw_code(canvas: Canvas, code: QrCode, right: float, top: float) -> None:
    """The code in the upper right corner; the white of the card's edge is its quiet zone."""
    across = max(code.modules + 2 * QUIET_MODULES, _FEWEST_MODULES)
    side = code.modules * _code_room(code) / across
    canvas.addLiteral(code.operators(right - side, -top - side, side))


def _draw_cut(canvas: Canvas, width: float) -> None:
    canvas.setStrokeColor(_CUT)
    canvas.setLineWidth(0.4)
    canvas.setDash([2, 3])
    canvas.line(0, 0, width, 0)
    canvas.setDash()


def _words(card: PailCard) -> tuple[str, ...]:
    foods = (
        word
        for food in card.foods
        for word in (food.food, food.amount, food.pouches, food.best_quality)
    )
    return (
        card.pail, card.session, card.packed, card.mass, card.lifting, card.allergens,
        card.checked, card.swollen, *card.food_cautions, *card.cautions, *foods,
    )  # fmt: skip
