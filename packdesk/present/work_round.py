"""The work while a packet of absorbers lies open: which pouches next, and the jar at the end."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import takewhile

from packdesk.instants import Reading
from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.cautions import ABSORBER_CAUTION
from packdesk.present.chosen import Chosen
from packdesk.present.doubted_supply import (
    as_planned,
    counted_on,
    more_each_words,
    needs_more,
    not_enough_card,
)
from packdesk.present.far_words import unbroken
from packdesk.present.liners import called, lifting_caution
from packdesk.present.measures import Measures
from packdesk.present.other_source import TAKE_FROM, other_control, several
from packdesk.present.packet_words import OPEN_PACKET
from packdesk.present.shut_up import JAR, shut_up_control
from packdesk.present.too_many import at_most
from packdesk.present.work_remainder import (
    jar_card,
    not_taken_words,
    odd_card,
    other_rating_card,
)
from packdesk.present.work_reopened import open_now_card, reopened_card, short_of
from packdesk.session.commands import PlaceAbsorbers
from packdesk.session.decide_packing import open_pouches
from packdesk.session.figures import AgreedLine
from packdesk.session.lacking import lacking, lying_in_turn, round_in_hand
from packdesk.session.numbers import named
from packdesk.session.open_again import open_again, round_for_one_more, wanting_one_more
from packdesk.session.pouch import Pouch
from packdesk.session.round_size import one_by_one, still_in_time
from packdesk.session.state import Round, SessionState
from packdesk.session.supply import Supply, not_to_blame, still_wanted, supply
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
    shut_up = shut_up_control(round_, chosen.counted)
    wanting = wanting_one_more(session, line, now.utc)
    ready = to_the_iron(session, line, wanting, shut_up)
    if ready is not None:
        return ready
    if wanting or open_again(session, line):
        return _again_card(session, line, chosen, now)
    without = [pouch for pouch in waiting if lacking(line, pouch)]
    if not without:
        short = short_of(session, round_, now)
        if short is not None:
            return open_now_card(session, short, shut_up)
        return jar_card(session, round_, now, chosen.counted)
    round_ = round_in_hand(session, line, without, now.utc, chosen.round) or round_
    shut_up = shut_up_control(
        round_, chosen.counted, round_.source if several(session, round_, now) else ""
    )
    per_pouch = supply(session, line, without[0], round_, now.utc)
    if per_pouch.planned:
        return _placing_card(session, line, without, round_, per_pouch, shut_up, chosen, now)
    if not _wanted(session, round_) and not any(pouch.placed for pouch in without):
        why = not_taken_words(line, without, round_)
        return replace(jar_card(session, round_, now, chosen.counted), foremost=(why,))
    return other_rating_card(line, without, shut_up)


def _placing_card(
    session: SessionState,
    line: AgreedLine,
    without: list[Pouch],
    round_: Round,
    per_pouch: Supply,
    shut_up: Control,
    chosen: Chosen,
    now: Reading,
) -> WorkCard:
    """Absorbers of the round go into the next of the pouches, as far as they suffice."""
    doubted = not not_to_blame(round_, now.utc)
    if doubted:
        counts = counted_on(line, round_, per_pouch, now.utc) if per_pouch.more else ""
    else:
        counts = needs_more(session, line, without[0], per_pouch)
    alike = _alike(session, line, without, round_, per_pouch, now)
    as_it_was = as_planned(line, round_, per_pouch.planned, len(alike), chosen.count)
    if per_pouch.more and not per_pouch.taken(round_.left):
        return not_enough_card(session, line, round_, counts, as_it_was, chosen.counted, now)
    if round_.left < per_pouch.planned:
        return odd_card(session, line, without[0].number, round_, per_pouch.planned, now, shut_up)
    each = per_pouch.sure
    possible = min(len(alike), round_.left // each)
    count = min(chosen.count or _meant(session, line, round_, possible, now), possible)
    if line.liner and not line.zip:
        drop = _drop(session, line, round_, each, now)
        numbers = [pouch.number for pouch in alike[:count]]
        card = _liner_card(line, numbers, drop, round_, shut_up, Measures(session.units))
    else:
        card = _pouches_card(session, line, alike[:count], round_, each, shut_up, now)
    main = at_most(card.main, chosen.count, possible, len(alike), round_.left, each)
    card = replace(card, main=main)
    if not per_pouch.more:
        return card
    return _with_more(
        card, more_each_words(counts, per_pouch.planned, each, doubted=doubted), each, as_it_was
    )


def _pouches_card(
    session: SessionState,
    line: AgreedLine,
    pouches: list[Pouch],
    round_: Round,
    each: int,
    shut_up: Control,
    now: Reading,
) -> WorkCard:
    """`each` absorbers into each of the pouches, which are then shut, or get what else they lack.

    Where two places lie open, changing over stands before another count.
    """
    numbers, many = [pouch.number for pouch in pouches], len(pouches) > 1
    drop, choice = _drop(session, line, round_, each, now), several(session, round_, now)
    more = lacking(line, pouches[0]) - Counter({round_.rating_cc: each})
    lack = _lacking_words(session, round_, now)
    label = f"All {len(pouches)} are shut" if many else f"Pouch {numbers[0]} is shut"
    cell = CellState.PRESSED_SHUT if line.zip else CellState.SEALED
    if more:
        label, cell = f"{round_.rating_cc} cc is in", CellState.ABSORBERS_IN
    plain = drop == "1 absorber"
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Drop {drop} into {'each of ' if many else ''}{named(numbers)}, "
        f"{_and_then(line, more, many=many)}.",
        main=Control(
            label,
            "Space bar, or type how many",
            cell=cell,
            command=PlaceAbsorbers(line.line, len(pouches), round=round_.round),
            form="fewer",
        ),
        seconds=(
            *other_control(session, line, round_, now),
            *(() if choice else (_COUNT,)),
            shut_up,
            *((_COUNT,) if choice else ()),
            *((_ANOTHER,) if lack else ()),
        ),
        evidence=(*lack, *((_NONE_IN_HAND,) if round_.left == each else ())),
        caution=ABSORBER_CAUTION,
        short=(
            f"{'Absorber' if plain else drop} in {unbroken(named(numbers))}, "
            f"{'then the other' if more else 'press out, shut' if line.zip else 'press out, seal'}."
        ),
    )


def _drop(session: SessionState, line: AgreedLine, round_: Round, each: int, now: Reading) -> str:
    """What is dropped in: the rating is named where two are mixed, the place where two lie open."""
    drop = "1 absorber" if each == 1 else f"{each} absorbers"
    if len(set(line.absorbers_cc)) > 1:
        drop = f"{drop} of {round_.rating_cc} cc"
    return f"{drop} from {round_.source}" if several(session, round_, now) else drop


def _and_then(line: AgreedLine, more: Counter[int], *, many: bool) -> str:
    """What follows the absorbers: those of another rating, the zip, or the iron."""
    if more:
        return f"then {' and '.join(f'{count} of {cc} cc' for cc, count in more.items())}"
    if not line.zip:
        return "press the air out and seal at once"
    return "press the air out, shut them" if many else "press the air out and shut it"


def _alike(
    session: SessionState,
    line: AgreedLine,
    without: list[Pouch],
    round_: Round,
    per_pouch: Supply,
    now: Reading,
) -> list[Pouch]:
    """Those of the pouches that lack the same as the first, and take as many to make sure."""
    lacked = lacking(line, without[0])
    return list(
        takewhile(
            lambda pouch: supply(session, line, pouch, round_, now.utc).sure == per_pouch.sure,
            (pouch for pouch in without if lacking(line, pouch) == lacked),
        )
    )


def _again_card(session: SessionState, line: AgreedLine, chosen: Chosen, now: Reading) -> WorkCard:
    """Pouches that stand open again come first: their absorbers work on the air meanwhile."""
    lying = lying_in_turn(session, now.utc)
    round_ = round_for_one_more(session, line, now.utc, chosen.round)
    lies = round_ or lying[0]
    shut_up = shut_up_control(lies, chosen.counted, lies.source if len(lying) > 1 else "")
    return reopened_card(session, line, now, round_, shut_up)


def _with_more(card: WorkCard, why: str, each: int, plain: Control) -> WorkCard:
    """The card where more than planned go in, and why; or as planned, by a key."""
    command = card.main.command
    assert isinstance(command, PlaceAbsorbers), "the card places absorbers"
    return replace(
        card,
        main=replace(card.main, command=replace(command, each=each)),
        seconds=(plain, *sorted(card.seconds, key=lambda other: other.form not in _WAYS_OUT)),
        foremost=(why,),
    )


def _meant(
    session: SessionState, line: AgreedLine, round_: Round, possible: int, now: Reading
) -> int:
    """How many pouches a press means: those that fit into the packet's time; where none does, or
    once it is over, the one in hand."""
    if one_by_one(session, line):
        return 1
    return max(1, min(possible, still_in_time(session, line, round_, possible, now.utc)))


def _wanted(session: SessionState, round_: Round) -> bool:
    """Whether any pouch that stands open lacks what lies open."""
    lines = {line.line: line for line in session.plan.lines} if session.plan is not None else {}
    return any(
        lacking(lines[pouch.line], pouch)[round_.rating_cc] > 0
        for pouch in session.working_pouches()
        if not pouch.closed and pouch.line in lines
    )


_WAYS_OUT = (TAKE_FROM, JAR)
"""The forms by which absorbers that do not suffice are left alone: these come before a count."""
_NONE_IN_HAND = "None in your hand? C takes the count; then look whether a pouch has two."
_COUNT = Control("Another count", icon="edit", key="W", form="fewer")
_ANOTHER = replace(OPEN_PACKET, label="Open another")


def _lacking_words(session: SessionState, round_: Round, now: Reading) -> tuple[str, ...]:
    """How many absorbers the pouches that stand open lack beyond those that lie open."""
    short = still_wanted(session, open_pouches(session), round_.rating_cc, now.utc)
    if not short:
        return ()
    sound = "sound " if round_.capacity_low_cc < round_.rating_cc else ""
    few = f"1 {sound}absorber is" if short == 1 else f"{short} {sound}absorbers are"
    return (f"{few} lacking for what stands open; P opens a packet or jar.",)


def _liner_card(
    line: AgreedLine,
    numbers: list[int],
    drop: str,
    round_: Round,
    shut_up: Control,
    measures: Measures,
) -> WorkCard:
    """A liner is not shut by hand: the iron follows its absorbers at once."""
    which = called(line, numbers)
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Lay out {which}, drop {drop} in, fold over, and go to the iron at once.",
        main=Control(
            "Absorbers are in",
            "Space bar, or type how many",
            cell=CellState.ABSORBERS_IN,
            command=PlaceAbsorbers(line.line, len(numbers), shut=False, round=round_.round),
            form="fewer",
        ),
        seconds=(shut_up,),
        evidence=("Lift it out onto the counter, or work in its pail with the rim standing free.",),
        caution=f"{lifting_caution(line, measures)} {ABSORBER_CAUTION}",
        short=f"{drop} in {unbroken(which)}, fold over.",
    )


def to_the_iron(
    session: SessionState, line: AgreedLine, wanting: tuple[Pouch, ...], *seconds: Control
) -> WorkCard | None:
    """Liners with all in that stand open: their seam comes first; None where there is none.

    Those that are `wanting` an absorber more do not count.
    """
    ready = [
        pouch.number
        for pouch in session.working_pouches(line.line)
        if for_the_iron(line, pouch) and not pouch.closed and pouch not in wanting
    ]
    if not ready:
        return None
    its = "its" if len(ready) == 1 else "their"
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Go to the iron with {called(line, ready)} now; "
        f"{its} absorbers work on the open air.",
        main=Control("Go to sealing", "Space bar", icon="done", key="G", goto=Stage.SEALING),
        seconds=seconds,
        caution=lifting_caution(line, Measures(session.units)),
    )


def gap_first(session: SessionState, *seconds: Control) -> WorkCard | None:
    """A gap left in a seam is closed before anything else is begun; None where there is none."""
    gaps = [pouch for pouch in session.working_pouches() if pouch.gap_left]
    line = session.plan.line(gaps[0].line) if gaps and session.plan is not None else None
    if line is None:
        return None
    which = called(line, [pouch.number for pouch in gaps if pouch.line == line.line])
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Close the gap of {which} first: go to the iron now.",
        main=Control("Go to sealing", "Space bar", icon="done", key="G", goto=Stage.SEALING),
        seconds=seconds,
        caution=lifting_caution(line, Measures(session.units)),
        short=f"Close the gap of {unbroken(which)}.",
    )


def for_the_iron(line: AgreedLine, pouch: Pouch) -> bool:
    """A liner with its absorbers in: open still, but nothing is left to do for it here."""
    return line.liner and not line.zip and bool(pouch.placed)
