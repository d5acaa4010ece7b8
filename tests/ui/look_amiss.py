"""Scenes in which something is over, or went otherwise: closed, voided, swollen, apart, never."""

from __future__ import annotations

from packdesk.session import commands as c
from packdesk.session.terms import LotVerdict, SealVerdict, Stage
from packdesk.ui.window import Window
from tests.ui.window_kit import Walk, catalog

WHEAT, PEANUTS = "hard_wheat", "peanuts"


def _stowed(walk: Walk) -> None:
    """Six pouches of wheat lie in their pail, its lid on."""
    walk.opened().received().planned().frozen().cold_enough().taken_out().uncovered()
    walk.filled().in_round().shut(6).jar_shut().sealed().labelled().stowed()


def _looked_at(walk: Walk, window: Window, number: int, verdict: SealVerdict) -> None:
    walk.do(c.CheckSeals((number,), verdict))
    window.show_stage(Stage.AFTER)
    window.heartbeat.tick()


def _swollen(walk: Walk, window: Window) -> None:
    """The first look finds a pouch swollen."""
    _stowed(walk)
    walk.clock.on(hours=25)
    _looked_at(walk, window, 3, SealVerdict.SWOLLEN)


def _swollen_form(walk: Walk, window: Window) -> None:
    """A swollen pouch is about to be entered."""
    _stowed(walk)
    walk.clock.on(hours=25)
    window.show_stage(Stage.AFTER)
    window.heartbeat.tick()
    window.page.open_form("check")
    form = window.page.forms["check"]
    form.inputs["pouches"].box.insert("3")
    form.inputs["verdict"].buttons[3].click()


def _soft(walk: Walk, window: Window) -> None:
    """A week later a pouch that was snug is soft."""
    _stowed(walk)
    walk.checked()
    walk.clock.on(days=7)
    _looked_at(walk, window, 2, SealVerdict.SOFT)


def _closed(walk: Walk, window: Window) -> None:
    """The session is closed."""
    _stowed(walk)
    walk.checked()
    walk.do(c.CloseSession("larger pouches the next time", confirmed=True))
    window.show_now()


def _apart(walk: Walk, window: Window) -> None:
    """The only lot stands apart in quarantine."""
    walk.opened()
    name = catalog().foods[WHEAT].name
    seen = (LotVerdict.QUARANTINED, "webbing at the seam")
    walk.do(c.ReceiveLot(WHEAT, name, 9000.0, "W-0926", *seen))
    window.show_stage(Stage.BEFORE)


def _apart_again(walk: Walk, window: Window) -> None:
    """The lot that stands apart is looked at again."""
    _apart(walk, window)
    window.page.open_form("again")


def _never(walk: Walk, window: Window) -> None:
    """Peanuts are to be planned."""
    walk.opened()
    walk.do(c.ReceiveLot(PEANUTS, catalog().foods[PEANUTS].name, 2000.0))
    window.show_stage(Stage.BEFORE)


def _never_reason(walk: Walk, window: Window) -> None:
    """A reason to put the peanuts up all the same is typed."""
    _never(walk, window)
    plan = window.page.forms["plan"]
    (reason,) = (each for name, each in plan.inputs.items() if name.startswith("reason"))
    reason.box.insert("eaten within a month")
    plan.changed.emit()


def _never_seal(walk: Walk, window: Window) -> None:
    """A pouch of peanuts waits for the iron, a reason is typed."""
    _never_reason(walk, window)
    window.page.act()
    walk.do(c.BypassCold(walk.lots[0], "roasted"))
    walk.do(c.FillPouches(1, 1))
    walk.do(c.ShutPouches((1,)))
    window.show_stage(Stage.SEALING)
    window.page.forms["never"].inputs["reason"].box.insert("the jar is broken")


def _closing(walk: Walk, window: Window) -> None:
    """The window is about to be closed while a packet lies open."""
    walk.opened().received().planned().frozen().cold_enough().taken_out().uncovered()
    walk.filled().in_round().shut(2)
    window.show_now()
    window.closing.asks = True
    window.close()
    window.closing.asks = False


def _voided(walk: Walk, window: Window) -> None:
    """The story with a load that was voided, struck through."""
    walk.opened().received().planned().frozen()
    walk.do(c.VoidFact(walk.desk.entries[-1].id, "went into the other freezer"))
    window.show_story()


AMISS_SCENES = {
    "closing": _closing,
    "voided": _voided,
    "closed": _closed,
    "swollen": _swollen,
    "swollen-form": _swollen_form,
    "soft": _soft,
    "apart": _apart,
    "apart-again": _apart_again,
    "never-plan": _never,
    "never-reason": _never_reason,
    "never-seal": _never_seal,
}
"""By name, as `look_window` lists them."""
