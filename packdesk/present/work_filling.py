"""The work at the scale: fill the next pouch, make ready, open a packet, shut what needs none."""

from __future__ import annotations

from dataclasses import replace

from packdesk.instants import Reading
from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.cautions import ABSORBER_CAUTION
from packdesk.present.chosen import Chosen
from packdesk.present.elsewhere import elsewhere
from packdesk.present.filling_words import (
    coming_words,
    fill_words,
    lost_words,
    over_words,
    passed_over,
    rest_words,
    revision,
    short_words,
)
from packdesk.present.in_hand import fill_loads, line_in_hand, lot_is_ready
from packdesk.present.liners import called
from packdesk.present.mass_question import doubt_of, question_card
from packdesk.present.packet_words import OPEN_PACKET
from packdesk.present.ready_check import OPEN_CHECK, TEST_ALARM, ready_card
from packdesk.present.short_pouches import asked_words, asking, back_words, short_numbers
from packdesk.present.shut_up import shut_up_control
from packdesk.present.too_many import too_many
from packdesk.present.words import loads_named
from packdesk.present.work_remainder import other_rating_card
from packdesk.present.work_reopened import reopened_card
from packdesk.present.work_round import for_the_iron, gap_first, round_card, to_the_iron
from packdesk.present.work_sealing import wanting_a_seam
from packdesk.sentences import capital
from packdesk.session.book_state import BookState
from packdesk.session.commands import FillPouches, ShutPouches
from packdesk.session.decide_packing import open_pouches
from packdesk.session.figures import AgreedLine
from packdesk.session.jar_first import jar_that_suits
from packdesk.session.lacking import lacking, lying_in_turn
from packdesk.session.load_left import opened_loads
from packdesk.session.numbering import next_numbers
from packdesk.session.numbers import listed
from packdesk.session.open_again import jar_for_one_more, wanting_one_more
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState
from packdesk.session.still_to_come import next_mass_g, still_to_come
from packdesk.session.tally import LineTally
from packdesk.session.terms import Stage

_TO_THE_IRON = Control("Go to the iron", icon="done", key="G", goto=Stage.SEALING)
_GOES_NOWHERE = Control(
    "Food lost",
    icon="edit",
    key="L",
    form="lost",
    act="This much goes into no pouch",
    title="Say how much food goes into no pouch, lost or put aside, and why.",
)
_BESIDE_THE_SCALE = (
    Control(
        "Empty pouch",
        icon="weigh",
        key="E",
        form="tare",
        act="So an empty one weighs",
        title="Put one empty pouch on the scale and enter what it shows.",
    ),
    _GOES_NOWHERE,
    Control(
        "Reject",
        icon="aside",
        key="R",
        form="aside",
        act="Set these aside",
        title="Say which pouches leave the work, and why.",
    ),
)
"""What happens at the scale now and then: by its key, not to be read each time."""


def filling_card(book: BookState, session: SessionState, chosen: Chosen, now: Reading) -> WorkCard:
    """Say the work between the scale and the zip."""
    tally = line_in_hand(session, chosen)
    if tally is None:
        return elsewhere(Stage.FILLING, "Agree the plan first; it says what to fill.", Stage.BEFORE)
    line = tally.line
    waiting = tuple(p for p in open_pouches(session, line.line) if not for_the_iron(line, p))
    round_ = next(iter(lying_in_turn(session, now.utc)), None)
    lying = (shut_up_control(round_, chosen.counted),) if round_ is not None else ()
    gap = gap_first(session, *lying)
    if gap is not None:
        return gap
    if round_ is not None:
        return round_card(session, line, waiting, round_, chosen, now)
    wanting = wanting_one_more(session, line, now.utc)
    ready = to_the_iron(session, line, wanting)
    if ready is not None:
        return ready
    begun = tuple(pouch for pouch in waiting if pouch.placed)
    if begun or wanting:
        return _begun_card(book, session, line, begun, now)
    if tally.to_fill and not lot_is_ready(session, line.lot) and not waiting:
        return elsewhere(
            Stage.FILLING,
            f"Lot {line.lot} is not ready to fill; its load is still shut.",
            Stage.COLD_TREATMENT
            if any(load.taken_out is None for load in session.loads.values())
            else Stage.THAW_EQUILIBRATION,
        )
    if chosen.ready is not None and waiting and line.absorbers_cc and not session.ready_for:
        jar = jar_that_suits(book, session, line, now.utc)
        return ready_card(session, line, waiting, chosen.ready, jar)
    if tally.to_fill:
        if chosen.asked is not None and (doubt := doubt_of(session, line, chosen.asked)):
            return question_card(session, line, chosen.asked, doubt)
        return _fill_card(session, tally, waiting, chosen)
    if waiting:
        return _shut_card(session, line, waiting)
    revised, over = revision(session, line), still_to_come(session, line).left_over
    rest = rest_words(session, line)
    asks = asking(session, wanting_a_seam(session), now)
    short = sorted(short_numbers(asks))
    card = elsewhere(
        Stage.FILLING,
        "Every pouch is filled and shut."
        + (f" {listed(short)} short of absorber." if short else "")
        + (
            f" {over_words(session, line) or coming_words(session, line)}"
            if revised or rest
            else ""
        ),
        Stage.SEALING,
        tuple(each for each in (revised, _GOES_NOWHERE if over or rest else None) if each),
    )
    return replace(card, foremost=asked_words(session, asks))


def _fill_card(
    session: SessionState, tally: LineTally, waiting: tuple[Pouch, ...], chosen: Chosen
) -> WorkCard:
    line = tally.line
    count = min(chosen.count or 1, tally.to_fill)
    numbers = next_numbers(session, line.line, count)
    which = called(line, numbers)
    verb = "is" if count == 1 else "are"
    mass_g = next_mass_g(session, line) if count == 1 else line.to_hold_g
    loads = fill_loads(session, line, chosen, mass_g * count)
    revised = revision(session, line)
    # It needs an absorber, but a packet is not opened for it alone while others are filled.
    returned = tuple(pouch for pouch in open_pouches(session) if pouch.back_and_open)
    back = (back_words(line, returned),) if returned else ()
    seconds = [revised] if revised is not None else []
    if waiting and line.absorbers_cc:
        seconds.append(_ready(session))
    elif waiting:
        seconds.append(_shut_without(line, waiting))
    food_there = max(0, still_to_come(session, line).fills)
    all_ = min(tally.to_fill, food_there)
    if all_ > count:
        seconds.insert(
            0 if revised is None else len(seconds),
            Control(
                f"All {all_} are filled",
                icon="add",
                key="A",
                command=FillPouches(
                    line.line,
                    all_,
                    loads=fill_loads(session, line, chosen, all_ * line.to_hold_g),
                ),
            ),
        )
    at_the_iron = len(wanting_a_seam(session))
    if at_the_iron:
        seconds.append(_TO_THE_IRON)
    if waiting and line.absorbers_cc:
        seconds.append(TEST_ALARM)
    seconds.extend(_BESIDE_THE_SCALE)
    return WorkCard(
        stage=Stage.FILLING,
        sentence=fill_words(session, line, which, mass_g, count),
        main=too_many(
            Control(
                f"{capital(which)} {verb} filled",
                "Space bar; Enter with a typed mass" if food_there else "Enter with a typed mass",
                cell=CellState.FILLED,
                command=FillPouches(line.line, count, loads=loads),
                form="fill",
            ),
            chosen.count,
            tally.to_fill,
            f"The plan has {tally.to_fill} to fill yet",
        ),
        seconds=tuple(seconds),
        evidence=tuple(
            words
            for words in (
                *_out_of(session, line, loads),
                _iron_words(at_the_iron),
            )
            if words
        ),
        caution=line.caution,
        standing=(
            " ".join(
                words
                for words in (
                    coming_words(session, line),
                    lost_words(session, line),
                    passed_over(session, numbers[0]),
                )
                if words
            ),
        ),
        short=" ".join((short_words(session, line, which, mass_g), *back)),
        foremost=back,
    )


def _iron_words(waiting: int) -> str:
    if not waiting:
        return ""
    return f"{waiting} {'waits' if waiting == 1 else 'wait'} for the iron; G goes there."


def _out_of(session: SessionState, line: AgreedLine, loads: tuple[str, ...]) -> tuple[str, ...]:
    """Say where the food is taken from, as far as that is known."""
    if not loads:
        return ()
    if len(loads) > 1:
        *emptied, last = loads
        return (f"Empty {loads_named(tuple(emptied))} first, then go on with load {last}.",)
    if len(opened_loads(session, line.lot)) > 1:
        return (f"Fill from load {loads[0]}; change it if that is wrong.",)
    return (f"Fill from load {loads[0]}.",)


def _begun_card(
    book: BookState,
    session: SessionState,
    line: AgreedLine,
    begun: tuple[Pouch, ...],
    now: Reading,
) -> WorkCard:
    """Absorbers work in pouches that stand open, and no packet lies open: nothing comes first."""
    without = tuple(pouch for pouch in begun if lacking(line, pouch))
    if without:
        return other_rating_card(line, without)
    jar = jar_for_one_more(book, session, line, now.utc)
    return reopened_card(session, line, now, jar=jar.remainder if jar is not None else "")


def _ready(session: SessionState) -> Control:
    if session.ready_for:
        return OPEN_PACKET
    return Control("Make ready", icon="done", key="P", form=OPEN_CHECK)


def _shut_without(line: AgreedLine, waiting: tuple[Pouch, ...]) -> Control:
    numbers = tuple(pouch.number for pouch in waiting)
    if line.zip:
        return Control(
            f"All {len(waiting)} are shut",
            icon="done",
            key="P",
            cell=CellState.PRESSED_SHUT,
            command=ShutPouches(numbers),
        )
    return Control("Go to sealing", icon="done", key="P", goto=Stage.SEALING)


def _shut_card(session: SessionState, line: AgreedLine, waiting: tuple[Pouch, ...]) -> WorkCard:
    """All are filled: make ready and open a packet, or shut them where none is needed."""
    numbers = called(line, (pouch.number for pouch in waiting))
    over, revised = over_words(session, line), revision(session, line)
    at_the_iron = len(wanting_a_seam(session))
    iron = (_TO_THE_IRON,) if at_the_iron else ()
    waits = (_iron_words(at_the_iron),) if at_the_iron else ()
    back = tuple(pouch for pouch in waiting if pouch.back_and_open)
    said = back_words(line, back) if back else over
    if not line.absorbers_cc:
        return WorkCard(
            stage=Stage.FILLING,
            sentence=f"{said} Press {numbers} shut; no absorber goes in.".lstrip(),
            main=_shut_without(line, waiting),
            seconds=tuple(
                each for each in (revised, *iron, *_BESIDE_THE_SCALE[1:]) if each is not None
            ),
            evidence=waits,
            standing=(coming_words(session, line),),
        )
    if not session.ready_for:
        return WorkCard(
            stage=Stage.FILLING,
            sentence=(
                f"{said or 'All are filled.'} {'Else make' if over and not back else 'Make'} ready "
                f"for a round with {numbers}."
            ),
            main=Control("Make ready", "Space bar", icon="done", form=OPEN_CHECK),
            seconds=tuple(
                each
                for each in (revised, *iron, TEST_ALARM, *_BESIDE_THE_SCALE[1:])
                if each is not None
            ),
            evidence=("Once a packet is open its absorbers work on the air of the room.", *waits),
            standing=(f"{coming_words(session, line)} {lost_words(session, line)}".rstrip(),),
        )
    first = called(line, (waiting[0].number,))
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Look at the packet: tight or slack? Cut it open and start with {first}.",
        main=Control("The packet is open", "Space bar", icon="packet", form="packet"),
        seconds=(*iron, TEST_ALARM),
        evidence=(
            "The clock of the packet starts now.",
            "What is left goes into the jar before its time is over.",
            *waits,
        ),
        caution=ABSORBER_CAUTION,
    )
