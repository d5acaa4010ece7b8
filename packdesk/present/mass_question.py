"""A mass unlike the others is asked about: a question, not a refusal."""

from __future__ import annotations

from dataclasses import replace

from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.filling_words import shown_words
from packdesk.present.liners import called
from packdesk.present.measures import Measures
from packdesk.session.commands import FillPouches
from packdesk.session.figures import AgreedLine
from packdesk.session.mass_doubt import MassDoubt, mass_doubt
from packdesk.session.numbering import next_numbers
from packdesk.session.state import SessionState
from packdesk.session.terms import Stage

WEIGH_AGAIN = "weigh_again"
"""The form of the control that takes the question away; the page answers it by itself."""


def net_of(session: SessionState, line: AgreedLine, command: FillPouches) -> float | None:
    """The food alone of what `command` tells (g); None where nothing was weighed."""
    if command.shown_g is not None:
        return command.shown_g - session.tares.get(line.pouch, 0.0)
    return command.net_mass_g


def doubt_of(session: SessionState, line: AgreedLine, command: FillPouches) -> MassDoubt | None:
    """What is to be asked about before `command` is kept; None for a mass that may well be."""
    net_g = net_of(session, line, command)
    return mass_doubt(session, line, net_g) if net_g is not None and net_g > 0.0 else None


def question_card(
    session: SessionState, line: AgreedLine, command: FillPouches, doubt: MassDoubt
) -> WorkCard:
    """Ask whether an unlikely mass is right; one press says yes, and that goes on record."""
    measures = Measures(session.units)
    said = measures.weighed(doubt.mass_g)
    more = "more" if doubt.mass_g > doubt.expected_g else "less"
    off = measures.mass(abs(doubt.mass_g - doubt.expected_g))
    which = called(line, next_numbers(session, line.line, command.count))
    than = _than(doubt)
    shown = shown_words(session, line, doubt.mass_g)
    right = shown_words(session, line, doubt.expected_g)
    return WorkCard(
        stage=Stage.FILLING,
        sentence=(
            f"Is {said}{f' ({shown})' if shown else ''} right for {which}? "
            f"That is {off} {more} than {than}."
        ),
        main=Control(
            f"Yes, it is {said}",
            "Space bar, or type a new mass",
            cell=CellState.FILLED,
            command=replace(command, confirmed=True),
        ),
        seconds=(Control("Weigh again", icon="weigh", key="W", form=WEIGH_AGAIN),),
        standing=(
            f"Expected: {measures.weighed(doubt.expected_g)} ± {measures.mass(doubt.within_g)}"
            + (f"; that is {right}." if right else "."),
        ),
        evidence=(
            *_left_out(doubt),
            "Look at the unit on the scale, its zero, and a scoop left on it.",
        ),
        short=f"Is {said} right?",
    )


def _than(doubt: MassDoubt) -> str:
    if not doubt.fellows:
        return "what is planned"
    if doubt.left_out:
        weighed = doubt.fellows + doubt.left_out
        return f"the middle of {doubt.fellows} of the {weighed} weighed before"
    return f"the middle of the {doubt.fellows} weighed before"


def _left_out(doubt: MassDoubt) -> tuple[str, ...]:
    if not doubt.fellows or not doubt.left_out:
        return ()
    verb = "is" if doubt.left_out == 1 else "are"
    return (f"{doubt.left_out} confirmed as unlike the others {verb} left out.",)
