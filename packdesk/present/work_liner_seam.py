"""The seam of a liner: all but a gap, the air drawn off, the gap closed; over a powder no gap."""

from __future__ import annotations

from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.cautions import IRON_CAUTION
from packdesk.present.liners import called, lifting_caution, line_of
from packdesk.present.measures import Measures
from packdesk.sentences import capital
from packdesk.session.commands import DrawOffAir, SealPouches
from packdesk.session.figures import AgreedLine
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState
from packdesk.session.terms import Stage

_POWDER = (
    "Wipe the seam band first: flour in a seam leaks. Leave no gap: never draw air off over a "
    "powder."
)
_LIFTED_OR_NOT = "Lift it out onto the counter, or work in its pail with the rim standing free."


def liner_card(
    session: SessionState, line: AgreedLine, pouch: Pouch, *seconds: Control
) -> WorkCard:
    """A liner stands open with its absorbers in: its seam comes before all else."""
    which, numbers = called(line, (pouch.number,)), (pouch.number,)
    caution = f"{IRON_CAUTION} {lifting_caution(line, Measures(session.units))}"
    if line.dusty:
        return WorkCard(
            stage=Stage.SEALING,
            sentence=f"Press the air out of {which} by hand and seal it all along, two seams.",
            main=Control(
                f"{capital(which)} is sealed",
                "Space bar",
                cell=CellState.SEALED,
                command=SealPouches(numbers, seams=2),
            ),
            seconds=seconds,
            evidence=(
                _POWDER,
                _LIFTED_OR_NOT,
            ),
            caution=caution,
        )
    return WorkCard(
        stage=Stage.SEALING,
        sentence=f"Seal {which} all along but for a gap, as wide as the hose.",
        main=Control(
            "All but a gap is sealed",
            "Space bar",
            icon="lid",
            command=SealPouches(numbers, seams=1, gap_left=True),
        ),
        seconds=(
            Control("No gap is left", icon="done", key="N", command=SealPouches(numbers, seams=2)),
            *seconds,
        ),
        evidence=("Wipe the seam band first. A short ruler under the seam keeps it flat.",),
        caution=caution,
    )


def gap_card(session: SessionState, gaps: tuple[Pouch, ...]) -> WorkCard:
    """A seam with a gap in it: draw off the air, close the gap at once."""
    numbers = tuple(pouch.number for pouch in gaps)
    lines = [line for pouch in gaps if (line := line_of(session, pouch)) is not None]
    dusty = any(line.dusty for line in lines)
    drawn = all(pouch.drawn_off for pouch in gaps)
    which = called(lines[0] if lines else None, numbers)
    if dusty:
        sentence = f"Close the gap of {which} now; never draw air off over a powder."
    elif drawn:
        sentence = f"Close the gap of {which} at once, with a second seam below the first."
    else:
        sentence = f"Draw the air off {which} until it lies close, then close the gap at once."
    lifting = [lifting_caution(line, Measures(session.units)) for line in lines if line.liner]
    return WorkCard(
        stage=Stage.SEALING,
        sentence=sentence,
        main=Control(
            "The gap is closed" if len(numbers) == 1 else "The gaps are closed",
            "Space bar",
            cell=CellState.SEALED,
            command=SealPouches(numbers, seams=2),
        ),
        seconds=()
        if dusty or drawn
        else (Control("Air is drawn off", icon="done", key="D", command=DrawOffAir(numbers)),),
        evidence=(_gap_words(dusty=dusty, drawn=drawn),),
        caution=" ".join((IRON_CAUTION, *dict.fromkeys(lifting))),
    )


def _gap_words(*, dusty: bool, drawn: bool) -> str:
    if dusty:
        return "Wipe the powder off the open part first: flour in a seam leaks."
    if drawn:
        return "The hose is out: hold the gap flat, so that no air comes back in."
    return "Hold the hose outside the seam, so that no grain is drawn into it."
