"""A sheet of labels as measured so far, in its true proportions; what leaves the page is marked."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPainterPath
from PySide6.QtWidgets import QSizePolicy

from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.label_sheet_view import PAPER_EDGE
from packdesk.ui.widgets.strokes import draw_hatch, draw_outline, rounded
from packdesk.ui.widgets.themed import Themed

ROUNDING_MM = 0.25
MOST_BEYOND = 1.25
"""So much wider or higher than the page is drawn at most, where labels leave it."""


@dataclass(frozen=True, slots=True)
class MeasuredFace:
    """A page and the labels on it in mm: left, top, width, height of each, and their corners."""

    page_mm: tuple[float, float]
    labels_mm: tuple[tuple[float, float, float, float], ...] = ()
    radius_mm: float = 0.0

    @property
    def beyond(self) -> tuple[bool, ...]:
        """Which labels leave the page."""
        width, height = self.page_mm
        return tuple(
            x + w > width + ROUNDING_MM or y + h > height + ROUNDING_MM
            for x, y, w, h in self.labels_mm
        )


class MeasuredSheetView(Themed):
    """The page with its labels; those that leave the page are hatched."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, ground="sheet")
        self._face = MeasuredFace((210.0, 297.0))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    @property
    def face(self) -> MeasuredFace:
        """What is shown."""
        return self._face

    def show_face(self, face: MeasuredFace) -> None:
        """Show a sheet."""
        self._face = face
        width, height = face.page_mm
        count, beyond = len(face.labels_mm), sum(face.beyond)
        off = f", {beyond} of them beyond the page" if beyond else ""
        self.setAccessibleName(f"A page of {width:g} by {height:g} mm with {count} labels{off}")
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.whole(200), self.theme.whole(280))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.whole(140), self.theme.whole(200))

    def draw(self, painter: QPainter) -> None:
        theme, face, edge = self.theme, self._face, self.theme.px(PAPER_EDGE)
        (width, height), mm = face.page_mm, self._scale()
        page = QRectF(0.5, 0.5, width * mm, height * mm)
        painter.fillRect(page.translated(edge, edge), theme.color("rule"))
        painter.fillRect(page, theme.color("paper"))
        draw_outline(painter, page, 0, theme.px(1.2), theme.color("edge"))
        fine = theme.color("indigo" if theme.tokens.name == "light" else "onpaper")
        for (x, y, w, h), beyond in zip(face.labels_mm, face.beyond, strict=True):
            box = QRectF(0.5 + x * mm, 0.5 + y * mm, w * mm, h * mm)
            radius = face.radius_mm * mm
            if not beyond:
                draw_outline(painter, box, radius, theme.px(1.6), fine)
                continue
            on_paper, off_paper = QPainterPath(), QPainterPath()
            on_paper.addRect(page)
            off_paper.addRect(QRectF(self.rect()))
            # The paper is light in every palette, the sheet beside it is not.
            for part, color in (
                (on_paper, theme.color("brick") if theme.tokens.name == "light" else fine),
                (off_paper.subtracted(on_paper), theme.color("brick")),
            ):
                painter.save()
                painter.setClipPath(part)
                draw_hatch(painter, rounded(box, radius), color, theme.px(1.2), theme.px(8))
                draw_outline(painter, box, radius, theme.px(2), color)
                painter.restore()

    def _scale(self) -> float:
        """Pixels for a millimetre: page and labels as large as there is room for."""
        face, edge = self._face, self.theme.px(PAPER_EDGE)
        width, height = face.page_mm
        far_x = max((x + w for x, _, w, _ in face.labels_mm), default=0.0)
        far_y = max((y + h for _, y, _, h in face.labels_mm), default=0.0)
        wide = min(max(width, far_x), width * MOST_BEYOND)
        high = min(max(height, far_y), height * MOST_BEYOND)
        return min((self.width() - edge - 1) / wide, (self.height() - edge - 1) / high)
