"""What to do next at each stage: the sentence, the main control, the evidence."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from packdesk.catalog.films import Film
from packdesk.instants import Reading
from packdesk.present.absorbers_felt import (
    doubt_words,
    felt_before,
    felt_card,
    nothing_first,
)
from packdesk.present.amiss import amiss_controls, count_words
from packdesk.present.cards import Control, WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.in_hand import line_in_hand
from packdesk.present.opening import opening_card
from packdesk.present.packet_words import doubted
from packdesk.present.shut_up import JAR, over_control
from packdesk.present.work_after import after_card
from packdesk.present.work_before import before_card
from packdesk.present.work_cold import cold_card
from packdesk.present.work_filling import filling_card
from packdesk.present.work_labelling import labelling_card
from packdesk.present.work_sealing import sealing_card
from packdesk.present.work_thaw import thaw_card
from packdesk.session.commands import SealPouches
from packdesk.session.in_doubt import in_doubt
from packdesk.session.state import SessionState, State
from packdesk.session.terms import Stage


def work_card(
    stage: Stage,
    state: State,
    chosen: Chosen,
    now: Reading,
    films: Mapping[str, Film] | None = None,
) -> WorkCard:
    """Say the work at `stage`; `chosen` tells which load and plan line the person looks at.

    Where the `films` are known, sealing says how hot the iron is to be.
    """
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
            return _at_the_counter(state, _filling_card(state, session, chosen, now), chosen)
        case Stage.SEALING:
            return _at_the_counter(state, sealing_card(session, chosen, now, films), chosen)
        case Stage.LABELLING:
            return felt_before(session, labelling_card(session))
        case Stage.AFTER:
            return felt_before(session, after_card(session, now))


def _filling_card(state: State, session: SessionState, chosen: Chosen, now: Reading) -> WorkCard:
    tally = line_in_hand(session, chosen)
    line = tally.line if tally is not None else None
    card = filling_card(state.book, session, chosen, now)
    return opening_card(card, state.book, session, line, chosen.opening, now)


def _at_the_counter(state: State, card: WorkCard, chosen: Chosen) -> WorkCard:
    """The card with what is doubted said first, and with what helps where something went wrong."""
    session = state.session
    assert session is not None, "there is work at the counter only in a session"
    lying = [round_.source for round_ in session.rounds.values() if round_.left]
    counted = count_words(session)
    said = (*(doubted(state.book, source) for source in lying),)
    felt = felt_card(session, card.stage, *(each for each in card.seconds if each.form == JAR))
    if felt is not None and not _goes_first(session, card):
        card = felt
    elif felt is not None:
        card = replace(card, foremost=(*doubt_words(session), *card.foremost))
    return replace(
        card,
        evidence=(*(words for words in said if words), *card.evidence),
        foremost=(*((counted,) if counted else ()), *card.foremost),
        amiss=(
            *over_control(session, card.stage, chosen.counted),
            *amiss_controls(session, card.stage, _line_at_hand(session, card, chosen)),
        ),
    )


def _goes_first(session: SessionState, card: WorkCard) -> bool:
    """Whether this work comes before pouches that may have no absorber are felt for theirs."""
    if card.stage is Stage.FILLING:
        return not nothing_first(session)
    match card.main.command:
        case SealPouches(pouches=numbers):
            return not any(set(numbers) & set(each.numbers) for each in in_doubt(session))
    return False


def _line_at_hand(session: SessionState, card: WorkCard, chosen: Chosen) -> int:
    """The plan line that is worked at: at the iron that of the pouch sealed next."""
    match card.main.command:
        case SealPouches(pouches=(first, *_)) if first in session.pouches:
            return session.pouches[first].line
    tally = line_in_hand(session, chosen)
    return tally.line.line if tally is not None else 1
