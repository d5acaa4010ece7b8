"""The work before the freezer: look, weigh, enter, agree."""

from __future__ import annotations

from packdesk.present.cards import Control, WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.label_text import absorber_words
from packdesk.present.load_view import short_food
from packdesk.present.look_over import RECEIVE
from packdesk.present.measures import Measures
from packdesk.present.number_labels import lines_with_numbers
from packdesk.present.path import lots_without_cold
from packdesk.session.book_state import BookState
from packdesk.session.figures import AgreedLine
from packdesk.session.state import SessionState
from packdesk.session.terms import LotVerdict, Stage


def before_card(book: BookState, session: SessionState, chosen: Chosen) -> WorkCard:
    """Say the work before the cold: receive lots, put them into plan lines, agree.

    Without `chosen.lots` every accepted lot of the book is meant.
    """
    accepted = [lot.lot for lot in book.lots.values() if lot.verdict is LotVerdict.ACCEPTED]
    lots = [lot for lot in accepted if chosen.lots is None or lot in chosen.lots]
    add_lot = Control(
        "Receive a lot", icon="weigh", key="A", form="lot", act="This lot is received"
    )
    again = Control(
        "Look again", icon="again", key="L", form="again", act="This is how the lot looks"
    )
    apart = [lot for lot in book.lots.values() if lot.verdict is LotVerdict.QUARANTINED]
    quarantine = tuple(
        f"Lot {lot.lot}, {short_food(lot.food_name)}, stands apart in quarantine: "
        f"{lot.seen or 'nothing noted'}."
        for lot in apart
    )
    if not lots and session.plan is None:
        return WorkCard(
            stage=Stage.BEFORE,
            sentence=RECEIVE,
            main=Control(
                "This lot is received", "Space bar, with food and mass entered", icon="weigh",
                form="lot",
            ),
            evidence=(
                "Look for live insects, webbing, damp and a torn sack; write down what you see.",
                "One lot is one purchase of one food.",
                *quarantine,
            ),
            seconds=(again,) if apart else (),
        )  # fmt: skip
    if session.plan is None:
        return WorkCard(
            stage=Stage.BEFORE,
            sentence="Choose a pouch for each lot, then agree the plan.",
            main=Control("Agree this plan", "Space bar", icon="done", form="plan"),
            seconds=(add_lot, again),
            evidence=quarantine,
        )
    waiting = lots_without_cold(session)
    return WorkCard(
        stage=Stage.BEFORE,
        sentence=(
            "The plan is agreed. The cold comes next."
            if waiting
            else "The plan is agreed, and every lot is on its way."
        ),
        main=Control("Go to cold treatment", "Space bar", icon="done", goto=Stage.COLD_TREATMENT),
        evidence=(
            *quarantine,
            *(_agreed(line, Measures(session.units)) for line in session.plan.lines),
            *_numbers_words(session),
        ),
        seconds=(
            add_lot,
            Control("Change the plan", icon="edit", key="C", form="plan", act="Agree this plan"),
            again,
        ),
    )


def _agreed(line: AgreedLine, measures: Measures) -> str:
    """One line of the plan in a sentence."""
    pouches = "1 pouch" if line.count == 1 else f"{line.count} pouches"
    return (
        f"{pouches} of {measures.mass(line.fill_mass_g)} {short_food(line.food_name)}, "
        f"{absorber_words(line).lower()} in each."
    )


def _numbers_words(session: SessionState) -> tuple[str, ...]:
    """Where numbers are made for empty pouches, as long as some have none."""
    if not any(line.to_print for line in lines_with_numbers(session)):
        return ()
    return ("Numbers for the empty pouches can be printed now, under Labelling.",)
