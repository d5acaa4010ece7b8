"""A finished paper on the page: its pages as they will be printed, and where it may go."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from PySide6.QtCore import QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QVBoxLayout, QWidget

from packdesk.desk.ports import PagePicture, Papers
from packdesk.ui.icons import Icon
from packdesk.ui.pages.long_job import LongJob, Threads, paper_thread, printing_threads
from packdesk.ui.pages.page_preview import PICTURE_WIDTH, PagePreview
from packdesk.ui.pages.words import Words, let_grow
from packdesk.ui.theme.measure import Role, Weight
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from packdesk.ui.widgets.themed import Themed

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


class PaperShelf(Themed):
    """A finished paper: look at its pages, save a copy, open it elsewhere, print it.

    Disk and printer are waited for beside the window.

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
        self._busy = False
        self.printer = ""
        self.preview = PagePreview(theme)
        self._where = Words(theme, Role.NOTE, weight=Weight.REGULAR)
        self._doing = Words(theme, Role.BODY)
        self._doing.say()
        self._which = Words(theme, Role.BODY)
        faces = (
            (SecondFace("Print", "P", Icon.LABELS), self.print_out),
            (SecondFace("Open", "O", Icon.AFAR), self.open),
            (SecondFace("Save as…", "S", Icon.DONE), self.save),
            (SecondFace("Next page", "G", Icon.AGAIN), self.turn),
        )
        self.controls: dict[str, SecondControl] = {}
        self._acts = {face.key: act for face, act in faces}
        for face, act in faces:
            control = SecondControl(theme, clock=tap_clock)
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
        for widget in (self._which, *self.controls.values(), self._doing, self._where):
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
        self._paper, self._papers, self._page, self._pages = paper, papers, 0, 0
        self.setVisible(paper is not None)
        if paper is None:
            return
        self._where.say(f"It lies in {paper.file}.")
        self.controls["P"].setVisible(paper.printed)
        self.controls["G"].hide()
        self.preview.show_picture(None)
        self._which.say(paper.name)
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
        paper, papers = self._paper, self._papers
        if paper is None or papers is None:
            return
        out = type(self).ask_where(self, Path.home() / paper.file.name)
        if out is None:
            return

        def copy() -> str:
            papers.copy(paper.file, out)
            return f"{paper.name}: a copy lies in {out}."

        self._do("Writing the copy.", copy, paper_thread, again=self.save)

    def print_out(self) -> None:
        """Print the paper at actual size."""
        paper, papers, printer = self._paper, self._papers, self.printer
        if paper is None or papers is None:
            return
        doing = "Handing it to the printer; that may take some seconds."

        def print_it() -> str:
            return papers.print_out(paper.file, paper.page, printer)

        self._do(doing, print_it, printing_threads, again=self.print_out)

    def _do(
        self,
        doing: str,
        act: Callable[[], str],
        threads: Callable[[], Threads],
        *,
        again: Callable[[], None],
    ) -> None:
        """Do it beside the window; pressed again meanwhile it is not done twice."""
        if self._busy:
            return
        self._busy = True
        self._doing.say(doing)
        job = LongJob(lambda _tell: act(), self, threads=threads)

        def ended() -> None:
            self._busy = False
            self._doing.say()
            job.deleteLater()

        def failed(error: Exception) -> None:
            ended()
            self.failed.emit(error, again)

        def done(words: str) -> None:
            ended()
            self.said.emit(words)

        job.done.connect(done)
        job.failed.connect(failed)
        job.start()

    def _draw_page(self) -> None:
        paper, papers, page = self._paper, self._papers, self._page
        if paper is None or papers is None or not paper.printed:
            return
        width = self.theme.whole(PICTURE_WIDTH) * SHARPNESS
        job = LongJob(lambda _tell: papers.page_picture(paper.file, page, width), self)

        def take(show: Callable[[Any], None]) -> Callable[[Any], None]:
            def taken(what: Any) -> None:
                job.deleteLater()
                if (self._paper, self._page) == (paper, page):
                    show(what)

            return taken

        job.done.connect(take(self._show_page))
        job.failed.connect(take(self._show_no_page))
        job.start()

    def _show_page(self, picture: PagePicture) -> None:
        self._pages = picture.pages
        self.preview.show_picture(picture)
        self._which.say(f"{self._paper.name}: page {picture.page + 1} of {picture.pages}")
        self.controls["G"].setVisible(picture.pages > 1)

    def _show_no_page(self, error: Exception) -> None:
        self.preview.show_picture(None)
        self._which.say(str(error))
