"""The work while a packet of absorbers lies open: which pouches next, and the jar at the end."""

from __future__ import annotations

from packdesk.instants import Reading, span
from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.cautions import ABSORBER_CAUTION
from packdesk.present.chosen import Chosen
from packdesk.present.liners import called, lifting_caution
from packdesk.present.measures import Measures
from packdesk.session.clocks import ClockKind, running, standing
from packdesk.session.commands import PlaceAbsorbers, ShutRemainder
from packdesk.session.figures import AgreedLine
from packdesk.session.numbers import named
from packdesk.session.state import Pouch, Round, SessionState
from packdesk.session.terms import Stage


def round_card(
    session: SessionState,
    line: AgreedLine,
    waiting: tuple[Pouch, ...],
    round_: Round,
    chosen: Chosen,
    now: Reading,
) -> WorkCard:
    """Say the work while a packet lies open: absorbers in, shut, and what is left into the jar."""
    shut_up = Control(
        f"Shut up {round_.left} left",
        icon="packet",
        key="C",
        command=ShutRemainder(round_.round),
    )
    at_the_iron = [p.number for p in session.working_pouches(line.line) if _open_at_iron(line, p)]
    if at_the_iron:
        which = called(line, at_the_iron)
        return WorkCard(
            stage=Stage.FILLING,
            sentence=f"Go to the iron with {which} now; its absorbers work on the open air.",
            main=Control("Go to sealing", "Space bar", icon="done", goto=Stage.SEALING),
            seconds=(shut_up,),
            caution=lifting_caution(line, Measures(session.units)),
        )
    lacking = [pouch for pouch in waiting if len(pouch.placed) < len(set(line.absorbers_cc))]
    if not lacking or not line.absorbers_cc:
        return WorkCard(
            stage=Stage.FILLING,
            sentence=f"Shut up the {round_.left} absorbers left in a full jar, lid tight.",
            main=Control(
                f"{round_.left} are in the jar",
                "Space bar",
                icon="packet",
                command=ShutRemainder(round_.round),
            ),
            evidence=(_limit_words(session, round_, now),),
            caution=ABSORBER_CAUTION,
        )
    each = max(1, line.absorbers_cc.count(round_.rating_cc))
    possible = max(1, min(len(lacking), round_.left // each))
    one_by_one = line.liner or (session.plan is not None and session.plan.numbered)
    count = min(chosen.count or (1 if one_by_one else possible), possible)
    numbers = [pouch.number for pouch in lacking[:count]]
    drop = "1 absorber" if each == 1 else f"{each} absorbers"
    if line.liner and not line.zip:
        return _liner_card(line, numbers, drop, shut_up, Measures(session.units))
    pressing = "press the air out and shut it" if count == 1 else "press the air out, shut them"
    if not line.zip:
        pressing = "press the air out and seal at once"
    label = f"Pouch {numbers[0]} is shut" if count == 1 else f"All {count} are shut"
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Drop {drop} into {'each of ' if count > 1 else ''}{named(numbers)}, {pressing}.",
        main=Control(
            label,
            "Space bar, or type another count",
            cell=CellState.PRESSED_SHUT if line.zip else CellState.SEALED,
            command=PlaceAbsorbers(line.line, count),
            form="fewer",
        ),
        seconds=(Control("Another count", icon="edit", key="W", form="fewer"), shut_up),
        evidence=() if round_.placed else (_limit_words(session, round_, now),),
        caution=ABSORBER_CAUTION,
        short=(
            f"{'Absorber' if each == 1 else drop} in {unbroken(named(numbers))}, "
            f"{'press, shut' if line.zip else 'press, seal'}."
        ),
    )


def _liner_card(
    line: AgreedLine, numbers: list[int], drop: str, shut_up: Control, measures: Measures
) -> WorkCard:
    """A liner is not shut by hand: the iron follows its absorbers at once."""
    which = called(line, numbers)
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Lay out {which}, drop {drop} in, fold over, and go to the iron at once.",
        main=Control(
            "Absorbers are in",
            "Space bar, or type another count",
            cell=CellState.ABSORBERS_IN,
            command=PlaceAbsorbers(line.line, len(numbers), shut=False),
            form="fewer",
        ),
        seconds=(
            Control("Go to sealing", icon="done", key="G", goto=Stage.SEALING),
            shut_up,
        ),
        evidence=("Lift it out onto the counter, or work in its pail with the rim standing free.",),
        caution=f"{lifting_caution(line, measures)} {ABSORBER_CAUTION}",
        short=f"{drop} in {unbroken(which)}, fold over.",
    )


def for_the_iron(line: AgreedLine, pouch: Pouch) -> bool:
    """A liner with its absorbers in: open still, but nothing is left to do for it here."""
    return line.liner and not line.zip and bool(pouch.placed)


def _open_at_iron(line: AgreedLine, pouch: Pouch) -> bool:
    return for_the_iron(line, pouch) and not pouch.closed


def _limit_words(session: SessionState, round_: Round, now: Reading) -> str:
    for clock in running(session):
        if clock.kind is ClockKind.PACKET and clock.subject == str(round_.round):
            stands = standing(clock, now)
            words = span(stands.remaining_s)
            if stands.due:
                return f"The packet is {words} past its time. Shut the last pouches now."
            return f"{words} left before the packet's time is over."
    return ""


def unbroken(words: str) -> str:
    """Words that stay on one line, such as the numbers of a run of pouches."""
    return words.replace(" to ", "\u00a0to\u00a0")
