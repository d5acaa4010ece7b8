"""Paints all that happens at the printer: ``python tests/ui/look_labels.py OUTDIR [NAME...]``.

For looking, not for comparing. Papers are the real ones; what a scene spoils lies in its folder.
"""

from __future__ import annotations

import errno
import os
import sys
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).parents[2]))


import msgspec
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication

from packdesk.app.papers import PdfPapers
from packdesk.desk.desk import Desk
from packdesk.session import commands as c
from packdesk.session.terms import Stage
from packdesk.ui.pages.long_job import settle
from packdesk.ui.theme.choice import PaletteChoice
from packdesk.ui.theme.dress import Dress
from packdesk.ui.theme.faces import load_faces
from packdesk.ui.theme.theme import Theme
from packdesk.ui.window import Window
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, HandDrivenClock, Walk, catalog, tools

SEALED = (
    "opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered", "filled",
    "in_round", "all_shut", "sealed",
)  # fmt: skip
Scene = Callable[[Walk, Window], object]


def _at(walk: Walk, window: Window, *steps: str) -> None:
    for step in steps:
        getattr(walk, step)()
    window.show_stage(Stage.LABELLING)
    settle()


def _sealed(walk: Walk, window: Window) -> None:
    _at(walk, window, *SEALED)


def _used(walk: Walk, window: Window) -> None:
    _sealed(walk, window)
    window.page._start_at(8)


def _asked(walk: Walk, window: Window) -> None:
    _used(walk, window)
    _press(window)


def _press(window: Window) -> None:
    window.page.act()
    settle()


def _key(window: Window, key: str) -> None:
    window.page.press_key(key)
    settle()


def _type(window: Window, **typed: str) -> None:
    form = window.page.form_shown()
    for name, text in typed.items():
        box = form.inputs[name].box
        box.setText(text)
        form.inputs[name].edited.emit(text)
        form.inputs[name].committed.emit(text)
    settle()


def _torn(walk: Walk, window: Window) -> None:
    _asked(walk, window)
    _key(window, "T")
    _type(window, pouches="9")
    _press(window)


def _reprint(walk: Walk, window: Window) -> None:
    _sealed(walk, window)
    walk.labelled()
    _key(window, "R")
    _type(window, pouches="2, 4-5")


def _numbered(walk: Walk, window: Window) -> None:
    _at(walk, window, "opened", "received")
    walk.planned(numbered=True)


def _numbers_asked(walk: Walk, window: Window) -> None:
    _numbered(walk, window)
    _press(window)


def _numbers_ready(walk: Walk, window: Window) -> None:
    _numbered(walk, window)
    for _ in range(4):
        _press(window)


def _counted(walk: Walk, window: Window) -> None:
    _at(walk, window, "opened", "received", "planned")
    _key(window, "N")


def _design(walk: Walk, window: Window) -> None:
    _sealed(walk, window)
    _key(window, "D")


OWN = {
    "columns": "2", "rows": "4", "width": "96", "height": "66", "left": "7", "top": "14.5",
    "gap_across": "4", "gap_down": "1", "corner": "3",
}  # fmt: skip


def _own(walk: Walk, window: Window) -> None:
    _sealed(walk, window)
    _key(window, "M")
    _type(window, **OWN)


def _own_empty(walk: Walk, window: Window) -> None:
    _sealed(walk, window)
    _key(window, "M")


def _own_wrong(walk: Walk, window: Window) -> None:
    _sealed(walk, window)
    _key(window, "M")
    _type(window, **OWN)
    _type(window, rows="5")


def _papers(walk: Walk, window: Window) -> None:
    _sealed(walk, window)
    _key(window, "A")


def _paper(which: str) -> Scene:
    def scene(walk: Walk, window: Window) -> None:
        _sealed(walk, window)
        walk.labelled()
        walk.stowed()
        _key(window, "A")
        pick = window.page.forms["papers"].inputs["paper"]
        pick.box.setCurrentIndex(pick.box.findData(which))
        pick.chosen.emit(which)
        _press(window)

    return scene


def _measured(walk: Walk, window: Window) -> None:
    _paper("alignment")(walk, window)
    _press(window)


def _scale(walk: Walk, window: Window) -> None:
    _measured(walk, window)
    _type(window, across="97", down="97", right="1", low="1")
    _press(window)


def _refusing(number: int) -> Scene:
    """The system refuses every byte of a file with this error."""

    def scene(walk: Walk, window: Window) -> None:
        _used(walk, window)
        kept, os.fsync = os.fsync, _raises(number)
        try:
            _press(window)
        finally:
            os.fsync = kept

    return scene


def _raises(number: int) -> Callable[[int], None]:
    def refuse(_file: int) -> None:
        raise OSError(number, os.strerror(number))

    return refuse


def _glyph(walk: Walk, window: Window) -> None:
    _at(walk, window, *SEALED[:3])
    plan = walk.desk.state.session.plan
    wheat = msgspec.structs.replace(plan.line(1), food_name="小麦 hard wheat 🌾")
    walk.do(c.AgreePlan((wheat, plan.line(2)), False, 200.0, 21.0))
    _at(walk, window, *SEALED[3:])
    _press(window)


SCENES: dict[str, Scene] = {
    "sheet": _sealed,
    "used": _used,
    "asked": _asked,
    "torn": _torn,
    "reprint": _reprint,
    "numbers": _numbered,
    "numbers-asked": _numbers_asked,
    "numbers-ready": _numbers_ready,
    "counted": _counted,
    "design": _design,
    "own": _own,
    "own-empty": _own_empty,
    "own-wrong": _own_wrong,
    "papers": _papers,
    "pails": _paper("pails"),
    "run-sheet": _paper("run-sheet"),
    "record": _paper("record"),
    "alignment": _paper("alignment"),
    "measured": _measured,
    "scale": _scale,
    "full": _refusing(errno.ENOSPC),
    "read-only": _refusing(errno.EROFS),
    "glyph": _glyph,
}


def paint(name: str, folder: Path, size: tuple[int, int], palette: PaletteChoice, dress) -> None:
    """Bring a window into a scene and take its picture."""
    clock = HandDrivenClock()
    desk = Desk(MemoryBook(STATION), clock)
    with tempfile.TemporaryDirectory() as papers:
        real = PdfPapers(tuple(catalog().label_stocks.values()), Path(papers))
        window = Window(desk, tools(Path(papers), clock, real), dress._theme, stroke=lambda: None)
        window.resize(*size)
        window.show()
        QApplication.processEvents()
        SCENES[name](Walk(desk, clock), window)
        window.refresh()
        settle()
        QApplication.processEvents()
        window.grab().save(str(folder / f"{name}-{size[0]}-{palette.value}.png"))
        settle()
        window.close()
        window.deleteLater()
        # Two windows of unlike sizes on one theme would each lay it out anew for ever.
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def main(arguments: Sequence[str]) -> int:
    """Paint all scenes, or those named after the folder, at two sizes in two palettes."""
    folder = Path(arguments[0])
    folder.mkdir(parents=True, exist_ok=True)
    app = QApplication([])
    dress = Dress(app, Theme(load_faces()))
    names = [each for each in arguments[1:] if not each.startswith("--")] or list(SCENES)
    both = "--one" not in arguments
    for palette in (PaletteChoice.LIGHT, *((PaletteChoice.DARK,) if both else ())):
        dress.choose(palette)
        for size in ((1366, 768), *(((1920, 1080),) if both else ())):
            for name in names:
                paint(name, folder, size, palette, dress)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
