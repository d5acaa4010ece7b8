"""The work at the iron: which seams next, gaps in liners, pouches set aside and brought back."""

from __future__ import annotations

from packdesk.instants import Reading
from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.cautions import IRON_CAUTION, LINER_CAUTION
from packdesk.present.chosen import Chosen
from packdesk.present.elsewhere import elsewhere
from packdesk.present.work_round import for_the_iron
from packdesk.session.commands import DrawOffAir, SealPouches
from packdesk.session.numbers import named
from packdesk.session.state import Pouch, SessionState
from packdesk.session.tally import tallies
from packdesk.session.terms import Stage

_SET_ASIDE = Control("Set aside", icon="aside", key="S", form="aside", act="Set these aside")


def sealing_card(session: SessionState, chosen: Chosen, now: Reading) -> WorkCard:
    """Say the work at the iron: longest waiting first."""
    waiting = wanting_a_seam(session)
    if not waiting:
        counted = tallies(session)
        if any(line.sealed for line in counted):
            back = _bring_back(session)
            seconds = (_SET_ASIDE, back) if back is not None else (_SET_ASIDE,)
            return elsewhere(
                Stage.SEALING, "Every filled pouch is sealed.", Stage.LABELLING, seconds
            )
        return elsewhere(Stage.SEALING, "No pouch waits for the iron yet.", Stage.FILLING)
    gaps = tuple(pouch for pouch in waiting if pouch.gap_left)
    if gaps:
        return _gap_card(session, gaps)
    count = min(chosen.count or len(waiting), len(waiting))
    numbers = tuple(pouch.number for pouch in waiting[:count])
    planned = session.plan.lines if session.plan is not None else ()
    here = {pouch.line for pouch in waiting[:count]}
    dusty = any(line.dusty for line in planned if line.line in here)
    evidence = ["A good pouch need not pull tight: only about a fifth of its gas is oxygen."]
    if dusty:
        evidence.insert(0, "Wipe the seam band first: flour in a seam leaks.")
    label = f"Pouch {numbers[0]} is sealed" if count == 1 else f"All {count} are sealed"
    return WorkCard(
        stage=Stage.SEALING,
        sentence=f"Seal {named(numbers)}, two seams each.",
        main=Control(
            label,
            "Space bar, or type another count",
            cell=CellState.SEALED,
            command=SealPouches(numbers, seams=2),
            form="fewer",
        ),
        seconds=(
            _SET_ASIDE,
            _leave_a_gap(session, waiting[:count])
            or _bring_back(session)
            or Control("Another count", icon="edit", key="W", form="fewer"),
        ),
        evidence=tuple(evidence),
        caution=IRON_CAUTION,
    )


def _leave_a_gap(session: SessionState, pouches: tuple[Pouch, ...]) -> Control | None:
    """Liners may be seamed but for a gap, to draw the air off; powders never."""
    for pouch in pouches:
        line = session.plan.line(pouch.line) if session.plan is not None else None
        if line is None or not line.liner or line.dusty or pouch.sealed is not None:
            return None
    numbers = tuple(pouch.number for pouch in pouches)
    return Control(
        "A gap is left", icon="lid", key="G", command=SealPouches(numbers, seams=1, gap_left=True)
    )


def _gap_card(session: SessionState, gaps: tuple[Pouch, ...]) -> WorkCard:
    """A seam with a gap in it: draw off the air, close the gap at once."""
    numbers = tuple(pouch.number for pouch in gaps)
    planned = session.plan.lines if session.plan is not None else ()
    here = {pouch.line for pouch in gaps}
    dusty = any(line.dusty for line in planned if line.line in here)
    draw_off = Control("Air is drawn off", icon="done", key="D", command=DrawOffAir(numbers))
    which = named(numbers)
    return WorkCard(
        stage=Stage.SEALING,
        sentence=(
            f"Close the gap of {which}; never draw air off over a powder."
            if dusty
            else f"Draw the air off {which}, then close the gap at once."
        ),
        main=Control(
            "The gap is closed" if len(numbers) == 1 else "The gaps are closed",
            "Space bar",
            cell=CellState.SEALED,
            command=SealPouches(numbers, seams=2),
        ),
        seconds=() if dusty else (draw_off,),
        evidence=("Hold the hose outside the seam, so that no grain is drawn into it.",),
        caution=f"{IRON_CAUTION} {LINER_CAUTION}",
    )


def _bring_back(session: SessionState) -> Control | None:
    """The way back into work, while pouches with food in them stand aside."""
    if not any(pouch.aside and not pouch.emptied for pouch in session.pouches.values()):
        return None
    return Control("Bring back", icon="again", key="B", form="return", act="These are back in work")


def wanting_a_seam(session: SessionState) -> tuple[Pouch, ...]:
    """The pouches that wait for the iron, the longest waiting first."""
    return tuple(
        sorted(
            (pouch for pouch in session.working_pouches() if _wants_a_seam(session, pouch)),
            key=lambda pouch: pouch.shut.utc if pouch.shut is not None else pouch.filled_at,
        )
    )


def _wants_a_seam(session: SessionState, pouch: Pouch) -> bool:
    """Shut without a seam, or a first seam without a second, or a gap left."""
    if pouch.pail:
        return False
    if pouch.sealed is not None:
        return pouch.gap_left or pouch.seams < 2
    line = session.plan.line(pouch.line) if session.plan is not None else None
    ready = line is not None and (
        (not line.absorbers_cc and not line.zip) or for_the_iron(line, pouch)
    )
    return pouch.shut is not None or ready
