"""The work at the printer: numbers before filling, labels after the seams, how they came out."""

from __future__ import annotations

from packdesk.present.cards import Control, WorkCard
from packdesk.present.label_job import printed
from packdesk.present.number_labels import LineNumbers, lines_with_numbers
from packdesk.session.numbers import named
from packdesk.session.state import LabelsAsked, SessionState
from packdesk.session.tally import tallies
from packdesk.session.terms import Stage

_AGAIN = Control("Print again", icon="again", key="R", form="reprint", act="Make these again")
_OWN_STOCK = Control(
    "Measure a sheet", icon="rule", key="M", form="own_stock", act="Keep this sheet"
)
_PAPERS = Control("Other papers", icon="labels", key="A", form="papers", act="Make this paper")
_DESIGN = Control("Change the labels", icon="edit", key="D", form="design", act="Make them so")
_NUMBERS = Control(
    "Numbers before filling", icon="labels", key="N", form="numbers", act="Make these numbers"
)
_NO_NUMBERS = Control(
    "Numbers before filling",
    icon="labels",
    key="N",
    missing="this plan counts its pouches; change it to numbered ones first",
)
_AT_FULL_SIZE = "Print at 100 %, never “fit to page”."
_BY_KEY = "D changes what stands on the labels, M measures a sheet that is not in the list."


def labelling_card(session: SessionState) -> WorkCard:
    """Say the work at the printer."""
    unlabelled = [p for p in session.working_pouches() if p.gas_tight and not p.labelled]
    lines = lines_with_numbers(session)
    any_made = any(pouch.labelled for pouch in session.pouches.values())
    beside = (
        *((_AGAIN,) if any_made else ()),
        *((_NUMBERS,) if lines else ()),
        _PAPERS,
        _DESIGN,
        _OWN_STOCK,
        *((_NO_NUMBERS,) if _counts_with_more_to_come(session) else ()),
    )
    if unlabelled:
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
            evidence=(_AT_FULL_SIZE, _BY_KEY),
        )
    if any_made:
        return WorkCard(
            stage=Stage.LABELLING,
            sentence="Every sealed pouch has its label.",
            main=Control("Go to pails", "Space bar", icon="done", goto=Stage.AFTER),
            seconds=beside,
        )
    if any(line.to_print for line in lines):
        return _numbers_card(session, lines)
    return WorkCard(
        stage=Stage.LABELLING,
        sentence="Labels come after the seams.",
        main=Control("Go to sealing", "Space bar", icon="done", goto=Stage.SEALING),
        seconds=beside,
        evidence=_about_numbers(session, lines),
    )


def _numbers_card(session: SessionState, lines: tuple[LineNumbers, ...]) -> WorkCard:
    """Offer the numbers while nothing is sealed: stuck on empty pouches they tell them apart."""
    return WorkCard(
        stage=Stage.LABELLING,
        sentence="Print numbers for the empty pouches.",
        main=Control("Make these numbers", "Space bar", icon="labels", form="numbers"),
        seconds=(_PAPERS, _DESIGN, _OWN_STOCK),
        evidence=(
            *_about_numbers(session, lines),
            "A number says which pouch it is. The label with everything comes after the seams.",
            f"{_AT_FULL_SIZE} {_BY_KEY}",
        ),
    )


def _about_numbers(session: SessionState, lines: tuple[LineNumbers, ...]) -> tuple[str, ...]:
    """Which numbers lie ready on labels, or why none can."""
    if _counts_with_more_to_come(session):
        return (
            "This plan counts its pouches, so no numbers are printed before filling.",
            "“Change the plan”, under Before, makes them numbered ones.",
        )
    ready = {
        line.food: tuple(number for number in line.to_come if number not in line.to_print)
        for line in lines
    }
    return tuple(
        f"Numbers lie ready on labels for {named(numbers)}, {food.lower()}."
        for food, numbers in ready.items()
        if numbers
    )


def _counts_with_more_to_come(session: SessionState) -> bool:
    plan = session.plan
    return plan is not None and not plan.numbered and any(t.to_fill for t in tallies(session))


def came_out_card(made: LabelsAsked) -> WorkCard:
    """Ask how labels came out of the printer; only the answer goes on record."""
    count = len(made.pouches)
    none = Control("None did" if count > 1 else "It did not", icon="undo", key="N", form="none")
    some = Control("Some did not", icon="again", key="T", form="torn", act="The others are right")
    until = (
        "Until you answer, no number counts as printed and no place on the sheet as used."
        if made.line
        else "Until you answer, no pouch counts as labelled and no place on the sheet as used."
    )
    what = "numbers" if made.line else "labels"
    return WorkCard(
        stage=Stage.LABELLING,
        sentence=f"Print at 100 %. Did the {what} come out right?",
        main=Control(
            f"All {count} came out right" if count > 1 else "It came out right",
            "Space bar",
            icon="done",
            command=printed(made, made.pouches),
        ),
        seconds=(some, none) if count > 1 else (none,),
        evidence=(until,),
        short=f"Did the {what} come out right?",
    )
