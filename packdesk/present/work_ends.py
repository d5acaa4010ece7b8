"""The work before the freezer and after the iron: plan, labels, pails, seal checks, closing."""

from __future__ import annotations

from packdesk.instants import Reading, day_and_time
from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.cautions import CHECK_CAUTION, PAIL_CAUTION
from packdesk.present.chosen import Chosen
from packdesk.present.label_job import MadeLabels
from packdesk.present.label_text import absorber_words
from packdesk.present.load_view import short_food
from packdesk.present.measures import Measures
from packdesk.present.path import lots_without_cold
from packdesk.session.clocks import ClockKind, running, standing
from packdesk.session.commands import CheckSeals, LidPail, NoteLabelsPrinted, StowPouches
from packdesk.session.figures import AgreedLine
from packdesk.session.numbers import named
from packdesk.session.state import BookState, Pouch, SessionState
from packdesk.session.terms import LotVerdict, SealVerdict, Stage

_ENTER_CHECK = Control("Enter a check", icon="edit", key="E", form="check", act="Enter this check")
_AGAIN = Control("Print again", icon="again", key="R", form="reprint", act="Make these again")
_PAPERS = Control("Other papers", icon="labels", key="A", form="papers", act="Make this paper")


def before_card(book: BookState, session: SessionState, chosen: Chosen) -> WorkCard:
    """Say the work before the cold: receive lots, put them into plan lines, agree.

    Without `chosen.lots` every accepted lot of the book is meant.
    """
    accepted = [lot.lot for lot in book.lots.values() if lot.verdict is LotVerdict.ACCEPTED]
    lots = [lot for lot in accepted if chosen.lots is None or lot in chosen.lots]
    add_lot = Control(
        "Receive a lot", icon="weigh", key="A", form="lot", act="This lot is received"
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
            ),
        )  # fmt: skip
    if session.plan is None:
        return WorkCard(
            stage=Stage.BEFORE,
            sentence="Choose a pouch for each lot, then agree the plan.",
            main=Control("Agree this plan", "Space bar", icon="done", form="plan"),
            seconds=(add_lot,),
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
        evidence=tuple(_agreed(line, Measures(session.units)) for line in session.plan.lines),
        seconds=(
            add_lot,
            Control("Change the plan", icon="edit", key="C", form="plan", act="Agree this plan"),
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
    beside = (_AGAIN, _PAPERS) if any_made else (_PAPERS,)
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
        evidence=("Print at 100 %, never “fit to page”.",),
    )


def came_out_card(made: MadeLabels) -> WorkCard:
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


def paper_card(name: str, remarks: tuple[str, ...]) -> WorkCard:
    """Say that another paper is made and lies there to be looked at."""
    return WorkCard(
        stage=Stage.LABELLING,
        sentence=f"{name}: made. Look, then print, save or open it.",
        main=Control("Done with this paper", "Space bar", icon="done", form="done"),
        evidence=("Nothing goes on record for this paper; it can be made again.", *remarks),
    )


def alignment_card() -> WorkCard:
    """Say what is done with a printed alignment page."""
    return WorkCard(
        stage=Stage.LABELLING,
        sentence="Print it at 100 % on plain paper, then measure it.",
        main=Control(
            "Enter what I measured", "Space bar", icon="rule", form="measured",
            act="This is what I measured",
        ),
        seconds=(Control("Later", icon="done", key="L", form="done"),),
        evidence=(
            "Each ruler is 100 mm long when the printer keeps to actual size.",
            "Hold page and label sheet to the light: the crosses belong on the label corners.",
        ),
    )  # fmt: skip


def after_card(session: SessionState, now: Reading) -> WorkCard:
    """Say the work after the labels: stow, lid, check seams, close."""
    close = Control(
        "Close the session", icon="done", key="X", form="close", act="The session is closed"
    )
    if session.closed_at is not None:
        return WorkCard(
            stage=Stage.AFTER,
            sentence="This session is closed. Its record and labels can be made again.",
            main=Control("Make the record", "Space bar", icon="labels", form="record"),
            seconds=(_ENTER_CHECK,),
            caution=CHECK_CAUTION,
        )
    record = Control("Make the record", icon="labels", key="R", form="record")
    loose = [p for p in session.working_pouches() if p.gas_tight and not p.pail]
    if loose:
        pail = _next_pail(session)
        numbers = tuple(pouch.number for pouch in loose)
        return WorkCard(
            stage=Stage.AFTER,
            sentence=f"Put {named(numbers)} into pail {pail}.",
            main=Control(
                f"{len(numbers)} are in pail {pail}",
                "Space bar",
                cell=CellState.STOWED,
                command=StowPouches(pail, numbers),
            ),
            seconds=(
                Control("Others", icon="edit", key="W", form="stow", act="These are in the pail"),
                record,
            ),
            evidence=("Rest sealed pouches a day before the lid goes on, if you can.",),
            caution=PAIL_CAUTION,
        )
    unlidded = [pail for pail in session.pails.values() if not pail.lidded and pail.pouches]
    if unlidded:
        pail_name = unlidded[0].pail
        return WorkCard(
            stage=Stage.AFTER,
            sentence=f"Put the lid on pail {pail_name} and press it down all around.",
            main=Control(
                f"Pail {pail_name} has its lid", "Space bar", icon="lid",
                command=LidPail(pail_name),
            ),
            seconds=(record,),
            caution=PAIL_CAUTION,
        )  # fmt: skip
    checks = sorted(
        (
            (clock, standing(clock, now))
            for clock in running(session)
            if clock.kind is ClockKind.SEAL_CHECK
        ),
        key=lambda each: each[1].remaining_s,
    )
    if not checks:
        return WorkCard(
            stage=Stage.AFTER,
            sentence="Nothing is sealed yet; pails and checks come after the seams.",
            main=Control("Go to filling", "Space bar", icon="done", goto=Stage.FILLING),
        )
    clock, stands = checks[0]
    pouches = checked_next(session, int(clock.subject))
    numbers = tuple(pouch.number for pouch in pouches)
    due = day_and_time(stands.due_at, now.utc_offset_min)
    return WorkCard(
        stage=Stage.AFTER,
        sentence=(
            f"Press {named(numbers)}. Enter any that changed by itself."
            if stands.due
            else f"The next look at the seams is due {due}."
        ),
        main=Control(
            f"All {len(numbers)} feel snug" if len(numbers) > 1 else "It feels snug",
            "Space bar" if stands.due else "",
            cell=CellState.SEAL_CHECKED,
            command=CheckSeals(numbers, SealVerdict.SNUG) if stands.due else None,
            form="" if stands.due else "check",
            missing="" if stands.due else f"Not yet: from {due}",
        ),
        seconds=(
            _ENTER_CHECK,
            close,
        ),
        evidence=("A soft pouch is not a failed one. The change from tight to soft is the leak.",),
        caution=CHECK_CAUTION,
    )


def checked_next(session: SessionState, step: int) -> tuple[Pouch, ...]:
    """The sealed pouches whose `step`-th check comes next."""
    return tuple(
        pouch
        for pouch in session.working_pouches()
        if pouch.gas_tight and len(pouch.checks) == step - 1
    )


def _next_pail(session: SessionState) -> str:
    """The pail being filled; a new number when every pail has its lid."""
    for pail in session.pails.values():
        if not pail.lidded:
            return pail.pail
    numbers = [int(pail) for pail in session.pails if pail.isdecimal()]
    return str(max(numbers, default=0) + 1)
