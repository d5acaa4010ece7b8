"""A finished paper on the page: its pages as they will be printed, and where it may go."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QRectF, QSize, Qt, QUrl, Signal
from PySide6.QtGui import QDesktopServices, QImage, QPainter
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from packdesk.desk.ports import PagePicture, Papers, Trouble
from packdesk.ui.icons import Icon
from packdesk.ui.pages.words import Words, let_grow
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from packdesk.ui.widgets.strokes import draw_outline
from packdesk.ui.widgets.themed import Themed

PICTURE_WIDTH, LEAST_HEIGHT, PAPER_EDGE = 300, 250, 4
SHARPNESS = 2
"""How many times finer than it is shown a page is drawn, so that it stays sharp when scaled."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A finished file: what a printer calls its pages, and whether it has pages to be seen."""

    file: Path
    name: str
    page: str = ""
    printed: bool = True


def open_on_desktop(file: Path) -> None:
    """Show a file in the program that the person's desktop opens it with."""
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(file)))


def ask_where(parent: QWidget, suggested: Path) -> Path | None:
    """Ask with the system's own window where a copy shall lie; None when it was left."""
    found, _ = QFileDialog.getSaveFileName(parent, "Save as", str(suggested))
    return Path(found) if found else None


class PagePreview(Themed):
    """One page of a paper, as large as there is room for, on the sheet of the page."""

    def __init__(
        self,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        least_height: int = LEAST_HEIGHT,
    ) -> None:
        super().__init__(theme, parent, ground="sheet")
        self._least_height = least_height
        self._image: QImage | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.restyle()

    @property
    def image(self) -> QImage | None:
        """The page shown."""
        return self._image

    def show_picture(self, picture: PagePicture | None) -> None:
        """Show a page, or nothing."""
        if picture is None:
            self._image = None
            self.setAccessibleName("")
        else:
            self._image = QImage(
                picture.pixels,
                picture.width_px,
                picture.height_px,
                picture.stride,
                QImage.Format.Format_RGB32,
            ).copy()
            self.setAccessibleName(f"Page {picture.page + 1} of {picture.pages} as printed")
        self.setVisible(picture is not None)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.whole(PICTURE_WIDTH), self.theme.whole(self._least_height))

    def restyle(self) -> None:
        super().restyle()
        self.setMinimumWidth(self.theme.whole(PICTURE_WIDTH))
        self.setMinimumHeight(self.theme.whole(self._least_height))

    def draw(self, painter: QPainter) -> None:
        if self._image is None:
            return
        theme, edge = self.theme, self.theme.px(PAPER_EDGE)
        size = self._image.size().scaled(
            QSize(int(self.width() - edge - 1), int(self.height() - edge - 1)),
            Qt.AspectRatioMode.KeepAspectRatio,
        )
        page = QRectF(0.5, 0.5, size.width(), size.height())
        painter.fillRect(page.translated(edge, edge), theme.color("rule"))
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(page, self._image)
        draw_outline(painter, page, 0, theme.px(1.2), theme.color("edge"))


class PaperShelf(Themed):
    """A finished paper: look at its pages, save a copy, open it elsewhere, print it.

    Signals:
        said: a sentence about what was done.
        failed: a `Trouble`, and what to call to try again.
    """

    said = Signal(str)
    failed = Signal(object, object)
    ask_where: Callable[[QWidget, Path], Path | None] = staticmethod(ask_where)
    open_file: Callable[[Path], None] = staticmethod(open_on_desktop)

    def __init__(self, theme: Theme, tap_clock: Callable[[], float] | None = None) -> None:
        super().__init__(theme, ground="sheet")
        self._papers: Papers | None = None
        self._paper: Paper | None = None
        self._page, self._pages = 0, 0
        self.printer = ""
        self.preview = PagePreview(theme)
        self._where = Words(theme, Role.NOTE, weight=Weight.REGULAR)
        self._which = Words(theme, Role.BODY)
        clock = {} if tap_clock is None else {"clock": tap_clock}
        faces = (
            (SecondFace("Print", "P", Icon.LABELS), self.print_out),
            (SecondFace("Open", "O", Icon.AFAR), self.open),
            (SecondFace("Save as…", "S", Icon.DONE), self.save),
            (SecondFace("Next page", "G", Icon.AGAIN), self.turn),
        )
        self.controls: dict[str, SecondControl] = {}
        self._acts = {face.key: act for face, act in faces}
        for face, act in faces:
            control = SecondControl(theme, **clock)
            control.show_face(face)
            control.acted.connect(act)
            let_grow(control)
            self.controls[face.key] = control
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.whole(24))
        row.addWidget(self.preview, 1)
        right = QVBoxLayout()
        right.setSpacing(theme.whole(8))
        for widget in (self._which, *self.controls.values(), self._where):
            right.addWidget(widget)
        right.addStretch(1)
        row.addLayout(right, 1)
        self.hide()

    @property
    def paper(self) -> Paper | None:
        """The paper that lies here."""
        return self._paper

    def show_paper(self, paper: Paper | None, papers: Papers | None = None) -> None:
        """Lay a paper here, or take it away."""
        self._paper, self._papers, self._page = paper, papers, 0
        self.setVisible(paper is not None)
        if paper is None:
            return
        self._where.say(f"It lies in {paper.file}.")
        self.controls["P"].setVisible(paper.printed)
        self._draw_page()

    def press_key(self, key: str) -> bool:
        """Press the control that has this key; whether one that can be seen has it."""
        control = self.controls.get(key)
        if self._paper is None or control is None or control.isHidden():
            return False
        self._acts[key]()
        return True

    def turn(self) -> None:
        """Show the next page, after the last one the first."""
        if self._pages:
            self._page = (self._page + 1) % self._pages
            self._draw_page()

    def open(self) -> None:
        """Open the paper in the program that the desktop has for it."""
        if self._paper is not None:
            type(self).open_file(self._paper.file)
            self.said.emit(f"{self._paper.name} goes to the program that opens such files.")

    def save(self) -> None:
        """Put a copy where the person wants it."""
        paper = self._paper
        if paper is None or self._papers is None:
            return
        out = type(self).ask_where(self, Path.home() / paper.file.name)
        if out is not None:
            self._try(lambda: self._copied(paper, out))

    def print_out(self) -> None:
        """Print the paper at actual size; where the system cannot, open it instead."""
        paper, papers = self._paper, self._papers
        if paper is not None and papers is not None:
            self._try(
                lambda: self.said.emit(papers.print_out(paper.file, paper.page, self.printer))
            )

    def _copied(self, paper: Paper, out: Path) -> None:
        self._papers.copy(paper.file, out)
        self.said.emit(f"{paper.name}: a copy lies in {out}.")

    def _draw_page(self) -> None:
        paper, papers = self._paper, self._papers
        self._pages = 0
        if paper is None or papers is None or not paper.printed:
            self.preview.show_picture(None)
            self._which.say(paper.name if paper is not None else "")
        else:
            width = self.theme.whole(PICTURE_WIDTH) * SHARPNESS
            try:
                picture = papers.page_picture(paper.file, self._page, width)
            except Trouble as trouble:
                self.preview.show_picture(None)
                self._which.say(str(trouble))
            else:
                self._pages = picture.pages
                self.preview.show_picture(picture)
                self._which.say(f"{paper.name}: page {self._page + 1} of {picture.pages}")
        self.controls["G"].setVisible(self._pages > 1)

    def _try(self, act: Callable[[], None]) -> None:
        try:
            act()
        except Trouble as trouble:
            self.failed.emit(trouble, lambda: self._try(act))
