"""The work before the freezer and after the iron: plan, labels, pails, seal checks, closing."""

from __future__ import annotations

from packdesk.present.cards import Control, WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.label_text import absorber_words
from packdesk.present.load_view import short_food
from packdesk.present.measures import Measures
from packdesk.present.path import lots_without_cold
from packdesk.session.commands import NoteLabelsPrinted
from packdesk.session.figures import AgreedLine
from packdesk.session.state import BookState, LabelsAsked, SessionState
from packdesk.session.terms import LotVerdict, Stage

_AGAIN = Control("Print again", icon="again", key="R", form="reprint", act="Make these again")
_OWN_STOCK = Control(
    "Measure a sheet", icon="rule", key="M", form="own_stock", act="Keep this sheet"
)
_PAPERS = Control("Other papers", icon="labels", key="A", form="papers", act="Make this paper")
_DESIGN = Control("Change the labels", icon="edit", key="D", form="design", act="Make them so")
_AT_PRINTER = (_PAPERS, _DESIGN, _OWN_STOCK)


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
            sentence="Look at what you bought, weigh it, enter it.",
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


def labelling_card(session: SessionState) -> WorkCard:
    """Say the work at the printer."""
    unlabelled = [p for p in session.working_pouches() if p.gas_tight and not p.labelled]
    any_made = any(pouch.labelled for pouch in session.pouches.values())
    beside = (_AGAIN, *_AT_PRINTER) if any_made else _AT_PRINTER
    if not unlabelled:
        return WorkCard(
            stage=Stage.LABELLING,
            sentence=(
                "Every sealed pouch has its label."
                if any_made
                else "No pouch is sealed yet; labels come after the seams."
            ),
            main=Control(
                "Go to pails" if any_made else "Go to sealing",
                "Space bar",
                icon="done",
                goto=Stage.AFTER if any_made else Stage.SEALING,
            ),
            seconds=beside,
        )
    count = len(unlabelled)
    return WorkCard(
        stage=Stage.LABELLING,
        sentence="Check which labels are gone, then make the PDF.",
        main=Control(
            f"Make {count} label{'s' if count > 1 else ''}",
            "Space bar",
            icon="labels",
            form="labels",
        ),
        seconds=beside,
        evidence=(
            "Print at 100 %, never “fit to page”.",
            "D changes what stands on the labels, M measures a sheet that is not in the list.",
        ),
    )


def came_out_card(made: LabelsAsked) -> WorkCard:
    """Ask how labels came out of the printer; only the answer goes on record."""
    count = len(made.pouches)
    none = Control("None did" if count > 1 else "It did not", icon="undo", key="N", form="none")
    some = Control("Some did not", icon="again", key="T", form="torn", act="The others are right")
    return WorkCard(
        stage=Stage.LABELLING,
        sentence="Print at 100 %. Did the labels come out right?",
        main=Control(
            f"All {count} came out right" if count > 1 else "It came out right",
            "Space bar",
            icon="done",
            command=NoteLabelsPrinted(
                made.pouches, made.stock, made.first, made.next_cell, made.reprint
            ),
        ),
        seconds=(some, none) if count > 1 else (none,),
        evidence=(
            "Until you answer, no pouch counts as labelled and no place on the sheet as used.",
            *made.remarks,
        ),
        short="Did the labels come out right?",
    )
