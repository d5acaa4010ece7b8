"""Paints the window in its main states: ``python tests/ui/look_window.py OUTDIR [NAME...]``.

For looking, not for comparing: the pictures are read by a person beside the design's own.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).parents[2]))


from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication

from packdesk.desk.desk import Desk
from packdesk.session import commands as c
from packdesk.session.terms import PacketCondition, Stage
from packdesk.ui.pages.long_job import settle
from packdesk.ui.theme.choice import PaletteChoice
from packdesk.ui.theme.dress import Dress
from packdesk.ui.theme.faces import load_faces
from packdesk.ui.theme.theme import Theme
from packdesk.ui.window import Window
from tests.fakes.memory_book import MemoryBook
from tests.ui.look_amiss import AMISS_SCENES
from tests.ui.window_kit import STATION, HandDrivenClock, Walk, agreed, tools

Scene = Callable[[Walk, Window], object]


def _at(stage: Stage | None, *steps: str) -> Scene:
    def scene(walk: Walk, window: Window) -> None:
        for step in steps:
            getattr(walk, step)()
        if stage is not None:
            window.show_stage(stage)
        else:
            window.show_now()

    return scene


PLANNED = ("opened", "received", "planned")
OPEN = (*PLANNED, "frozen", "cold_enough", "taken_out", "uncovered")


def _round(walk: Walk, window: Window) -> None:
    _at(None, *OPEN, "filled", "in_round")(walk, window)
    walk.shut(2)
    walk.clock.on(minutes=3)
    window.show_stage(Stage.FILLING)


def _late(walk: Walk, window: Window) -> None:
    _round(walk, window)
    walk.clock.on(minutes=40)
    window.heartbeat.tick()


def _late_elsewhere(walk: Walk, window: Window) -> None:
    """A packet was left open in one session while another is begun."""
    _round(walk, window)
    window.submit(c.OpenSession("Winter rice", "metric", "R1C3"))
    walk.clock.on(minutes=45)
    for _ in range(3):
        window.heartbeat.tick()


def _packet(walk: Walk, window: Window) -> None:
    """The packet in the hand: slack, its indicator shows oxygen."""
    _at(Stage.FILLING, *OPEN, "filled", "made_ready")(walk, window)
    window.page.press_key("P")
    form = window.page.forms["packet"]
    form.inputs["bag"].buttons[1].click()
    form.inputs["indicator"].box.setCurrentIndex(2)
    form.inputs["indicator"].box.activated.emit(2)


def _jar(walk: Walk, window: Window) -> None:
    """All are shut, what is left is counted into a jar."""
    _round(walk, window)
    walk.shut(4)
    window.page.press_key("W")


def _shut_up(walk: Walk, window: Window) -> None:
    """Pouches still wait, and what is left is counted and shut up."""
    _round(walk, window)
    window.page.press_key("C")


def _over(walk: Walk, window: Window) -> None:
    """All absorbers were reckoned used up, one is in the hand."""
    _at(None, *OPEN, "filled")(walk, window)
    walk.in_round(6).shut(6)
    window.show_stage(Stage.SEALING)
    window.page.press_key("J")


def _tired(walk: Walk, window: Window) -> None:
    """Absorbers lay open for long: marginal, one pouch is open again."""
    _at(None, *OPEN, "filled", "in_round")(walk, window)
    walk.clock.on(minutes=150)
    walk.shut(6)
    walk.do(c.ReopenPouches((3,)))
    window.show_stage(Stage.FILLING)


def _doubted(walk: Walk, window: Window) -> None:
    """A packet with both signs of air lies open, nothing is placed yet."""
    _packet(walk, window)
    window.page.main.act()


def _too_weak(walk: Walk, window: Window) -> None:
    """Two of such absorbers are not enough for one pouch."""
    _packet(walk, window)
    window.page.forms["packet"].inputs["absorbers"].box.setText("2")
    window.page.main.act()


def _too_many(walk: Walk, window: Window) -> None:
    """More is typed than six absorbers of a doubted packet do for."""
    _doubted(walk, window)
    window.page.take_digits("9")
    window.page.act()


def _short(walk: Walk, window: Window) -> None:
    """Absorbers as planned from a doubted packet, one pouch open again, at the iron."""
    _doubted(walk, window)
    walk.shut(6)
    walk.do(c.ShutRemainder(1))
    walk.do(c.ReopenPouches((3,)))
    walk.clock.on(minutes=3)
    window.show_stage(Stage.SEALING)


def _counted(walk: Walk, window: Window) -> None:
    """At the iron, one pouch fewer on the counter than in the tally."""
    _at(Stage.SEALING, *OPEN, "filled", "in_round", "all_shut")(walk, window)
    walk.do(c.TakeCount(1, "pressed_shut", 5))


def _unfit(walk: Walk, window: Window) -> None:
    _at(None, "opened", "received")(walk, window)
    walk.do(c.ReceiveLot("peanuts", "peanuts, shelled", 2000.0))
    window.show_stage(Stage.BEFORE)
    plan = window.page.forms["plan"]
    plan.inputs["day"].box.setText("2026-10-25")
    plan.changed.emit()


def _labels(walk: Walk, window: Window) -> None:
    _at(None, *OPEN, "filled", "in_round")(walk, window)
    walk.shut(6)
    for step in ("jar_shut", "sealed"):
        getattr(walk, step)()
    window.show_stage(Stage.LABELLING)
    window.page._start_at(8)


def _after(walk: Walk, window: Window) -> None:
    _labels(walk, window)
    walk.labelled()
    window.show_stage(Stage.AFTER)


def _check(walk: Walk, window: Window) -> None:
    _after(walk, window)
    walk.stowed()
    walk.clock.on(hours=25)
    window.heartbeat.tick()
    window.page.open_form("check")


def _seal(walk: Walk, window: Window) -> None:
    _at(None, *OPEN, "filled", "in_round")(walk, window)
    walk.shut(6)
    walk.jar_shut()
    window.show_stage(Stage.SEALING)


def _weigh(walk: Walk, window: Window) -> None:
    """Six weighed at the scale, and an empty pouch taken off."""
    _at(Stage.FILLING, *OPEN)(walk, window)
    line = walk.desk.state.session.plan.lines[0]
    walk.do(c.WeighEmptyPouch(line.pouch, 18.0))
    for mass_g in (721.0, 714.0, 718.0, 725.0, 719.0, 716.0):
        walk.clock.on(seconds=40)
        walk.do(c.FillPouches(1, 1, shown_g=mass_g))
    window.refresh()


def _odd_mass(walk: Walk, window: Window) -> None:
    _weigh(walk, window)
    window.page.take_digits("807")
    window.page.act()


def _revise(walk: Walk, window: Window) -> None:
    _weigh(walk, window)
    walk.do(c.NoteFoodLost(1, 900.0, "the bowl fell"))
    window.refresh()


def _ready(walk: Walk, window: Window) -> None:
    _weigh(walk, window)
    window.page.press_key("P")
    for _ in range(2):
        window.page.act()


def _sealed(walk: Walk, window: Window) -> None:
    _seal(walk, window)
    walk.sealed()
    window.show_stage(Stage.SEALING)


def _advice(walk: Walk, window: Window) -> None:
    _seal(walk, window)
    walk.clock.on(minutes=12)
    window.refresh()
    window.page.press_key("I")


def _liner(walk: Walk, window: Window, *, gap: bool = False) -> None:
    walk.opened()
    walk.do(c.ReceiveLot("hard_wheat", "hard wheat, whole kernels", 14000.0))
    lot = walk.lots[0]
    walk.do(c.BypassCold(lot, "treated by the mill"))
    line = agreed(1, lot, "hard_wheat", 14000.0, "liner-508x762")
    walk.do(c.AgreePlan((line,), False, 200.0, 21.0))
    walk.do(c.FillPouches(1, 1))
    walk.do(c.CheckReady())
    rating = walk.desk.state.session.plan.lines[0].absorbers_cc[0]
    walk.do(c.OpenPacket(f"self-{rating}", rating, 10, PacketCondition.TIGHT, 21.0))
    walk.do(c.PlaceAbsorbers(1, 1, shut=False))
    if gap:
        walk.do(c.SealPouches((1,), seams=1, gap_left=True))
    window.show_stage(Stage.SEALING)


def _liner_gap(walk: Walk, window: Window) -> None:
    _liner(walk, window, gap=True)


def _void(walk: Walk, window: Window) -> None:
    _round(walk, window)
    window.show_story()
    window.page.open_form("void")


def _reading(walk: Walk, window: Window) -> None:
    _at(Stage.COLD_TREATMENT, *PLANNED, "frozen")(walk, window)
    walk.clock.on(hours=20)
    walk.do(c.NoteCoreReading("A", -3.0, confirmed=True))
    walk.clock.on(hours=12)
    walk.do(c.NoteCoreReading("A", -12.0, confirmed=True))
    window.refresh()


def _reading_form(walk: Walk, window: Window) -> None:
    _reading(walk, window)
    window.page.open_form("reading")
    window.page.forms["reading"].inputs["temp"].box.setText("1.250.3")
    window.page.act()


def _core(stage: Stage, *acts: str | c.Command | float, table: bool = False) -> Scene:
    """The core of load A after some steps, commands, and hours gone by."""

    def scene(walk: Walk, window: Window) -> None:
        _at(stage, *PLANNED)(walk, window)
        for act in acts:
            if isinstance(act, str):
                getattr(walk, act)()
            elif isinstance(act, float | int):
                walk.clock.on(hours=act)
            else:
                walk.do(act)
        window.show_stage(stage)
        window.page.choose(load="A")
        window.heartbeat.tick()
        if table:
            window.presses.press_letter("T")

    return scene


def _form_at_cold(form: str, *acts: str | c.Command | float) -> Scene:
    """A form of the page at the freezer, with a load in it."""

    def scene(walk: Walk, window: Window) -> None:
        _core(_COLD, *acts)(walk, window)
        window.page.open_form(form)
        if form == "take_out":
            window.page.act()  # the question why comes with the refusal

    return scene


def _no_cold(walk: Walk, window: Window) -> None:
    """A lot that needs no cold, or has no freezer."""
    _at(_COLD, *PLANNED)(walk, window)
    window.page.open_form("bypass")


def _full_freezer(walk: Walk, window: Window) -> None:
    """A third warm pail in a freezer that is busy already is asked about."""
    _at(_COLD, *PLANNED)(walk, window)
    for _ in range(3):
        window.page.open_form("freeze")
        window.page.forms["freeze"].inputs["mass"].box.setText("14")
        window.page.act()
        QApplication.processEvents()


_COLD, _THAW = Stage.COLD_TREATMENT, Stage.THAW_EQUILIBRATION
_READ = (c.NoteCoreReading("A", -5.0), 5, c.NoteCoreReading("A", -12.5), 1)
_OUT = ("frozen", 8, *_READ, 90, c.TakeLoadOut("A", 21.0, 0.5))
CORE_SCENES: dict[str, Scene] = {
    "core-cooling": _core(_COLD, "frozen", 9),
    "core-narrowed": _core(_COLD, "frozen", 8, *_READ),
    "core-holding": _core(_COLD, "frozen", 8, *_READ, 24),
    "core-done": _core(_COLD, "frozen", 8, *_READ, 80),
    "core-thawing": _core(_THAW, *_OUT, 8),
    "core-ready": _core(_THAW, *_OUT, 40),
    "core-early": _core(_THAW, *_OUT, 8, c.UncoverLoad("A", "needed the pail"), 2),
    "core-table": _core(_COLD, "frozen", 8, *_READ, 24, table=True),
    "cold-early": _form_at_cold("take_out", "frozen", 8, *_READ, 40),
    "cold-bypass": _no_cold,
    "cold-probe": _form_at_cold("reading", "frozen", 9),
    "cold-full": _full_freezer,
}


def _afar(walk: Walk, window: Window) -> None:
    _round(walk, window)
    window.afar.show_far()


def _afar_late(walk: Walk, window: Window) -> None:
    _late(walk, window)
    window.afar.show_far()


def _sessions(walk: Walk, window: Window) -> None:
    walk.opened()
    walk.desk.leave()
    walk.clock.on(days=3)
    walk.do(c.OpenSession("Rice for the winter", "metric", "B3B4"))
    window.show_start()


SCENES: dict[str, Scene] = {
    "afar": _afar,
    "afar-late": _afar_late,
    "sessions": _sessions,
    "seal": _seal,
    "weigh": _weigh,
    "odd-mass": _odd_mass,
    "revise": _revise,
    "ready": _ready,
    "sealed": _sealed,
    "seal-advice": _advice,
    "liner": _liner,
    "liner-gap": _liner_gap,
    "labels": _labels,
    "after": _after,
    "check": _check,
    "void": _void,
    "cold-curve": _reading,
    "cold-form": _reading_form,
    **CORE_SCENES,
    **AMISS_SCENES,
    "before-unfit": _unfit,
    "start": lambda walk, window: None,
    "before-empty": _at(Stage.BEFORE, "opened"),
    "before-plan": _at(Stage.BEFORE, "opened", "received"),
    "before-agreed": _at(Stage.BEFORE, *PLANNED),
    "cold-freeze": _at(Stage.COLD_TREATMENT, *PLANNED),
    "cold-reading": _at(Stage.COLD_TREATMENT, *PLANNED, "frozen"),
    "cold-due": _at(Stage.COLD_TREATMENT, *PLANNED, "frozen", "cold_enough"),
    "thaw": _at(Stage.THAW_EQUILIBRATION, *PLANNED, "frozen", "cold_enough", "taken_out"),
    "fill": _at(Stage.FILLING, *OPEN),
    "fill-some": _at(Stage.FILLING, *OPEN, "filled"),
    "round": _round,
    "late": _late,
    "late-elsewhere": _late_elsewhere,
    "packet": _packet,
    "jar": _jar,
    "shut-up": _shut_up,
    "over": _over,
    "tired": _tired,
    "doubted": _doubted,
    "too-weak": _too_weak,
    "too-many": _too_many,
    "short": _short,
    "counted": _counted,
    "story": lambda walk, window: (_round(walk, window), window.show_story()),
}


def paint(name: str, folder: Path, size: tuple[int, int], palette: PaletteChoice, dress) -> None:
    """Bring a window into a scene and take its picture."""
    clock = HandDrivenClock()
    desk = Desk(MemoryBook(STATION), clock)
    with tempfile.TemporaryDirectory() as papers:
        window = Window(desk, tools(Path(papers), clock), dress._theme, stroke=lambda: None)
        window.resize(*size)
        window.show()
        QApplication.processEvents()
        began = time.perf_counter()
        SCENES[name](Walk(desk, clock), window)
        window.refresh()
        settle()
        QApplication.processEvents()
        took = time.perf_counter() - began
        out = folder / f"{name}-{size[0]}-{palette.value}.png"
        window.grab().save(str(out))
        settle()
        window.close()
        window.deleteLater()
        # Two windows of unlike sizes on one theme would each lay it out anew for ever.
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        print(f"{out.name}  {took:.2f} s")


def main(arguments: Sequence[str]) -> int:
    """Paint all scenes, or those named after the folder, at one size and in one palette.

    `--size=1920x1080` and `--palette=dark` choose others; `--large` takes the largest text.
    """
    folder = Path(arguments[0])
    folder.mkdir(parents=True, exist_ok=True)
    app = QApplication([])
    theme = Theme(load_faces())
    dress = Dress(app, theme)
    if "--large" in arguments:
        theme.set_text_percent(130)
    told = dict(each[2:].split("=") for each in arguments if each.startswith("--") and "=" in each)
    width, height = told.get("size", "1366x768").split("x")
    palette = PaletteChoice(told.get("palette", PaletteChoice.LIGHT))
    dress.choose(palette)
    names = [each for each in arguments[1:] if not each.startswith("--")] or list(SCENES)
    for name in names:
        paint(name, folder, (int(width), int(height)), palette, dress)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
