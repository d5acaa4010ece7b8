"""What to do next at each stage: the sentence, the main control, the evidence."""

from __future__ import annotations

from packdesk.instants import Reading
from packdesk.present.cards import Control, WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.work_after import after_card
from packdesk.present.work_cold import cold_card
from packdesk.present.work_ends import before_card, labelling_card
from packdesk.present.work_filling import filling_card
from packdesk.present.work_sealing import sealing_card
from packdesk.present.work_thaw import thaw_card
from packdesk.session.state import State
from packdesk.session.terms import Stage


def work_card(stage: Stage, state: State, chosen: Chosen, now: Reading) -> WorkCard:
    """Say the work at `stage`; `chosen` tells which load and plan line the person looks at."""
    session = state.session
    if session is None:
        return WorkCard(
            stage=Stage.BEFORE,
            sentence="Start with what you bought.",
            main=Control("Start a session", "Give it a name first", icon="add", form="session"),
            evidence=("A session is one packing project, from the plan to the last seal check.",),
        )
    match stage:
        case Stage.BEFORE:
            return before_card(state.book, session, chosen)
        case Stage.COLD_TREATMENT:
            return cold_card(state.book, session, chosen, now)
        case Stage.THAW_EQUILIBRATION:
            return thaw_card(session, chosen, now)
        case Stage.FILLING:
            return filling_card(state.book, session, chosen, now)
        case Stage.SEALING:
            return sealing_card(session, chosen, now)
        case Stage.LABELLING:
            return labelling_card(session)
        case Stage.AFTER:
            return after_card(session, now)
