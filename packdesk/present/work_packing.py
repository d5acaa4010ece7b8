"""The work at the counter: fill, drop absorbers in and press shut, seal."""

from __future__ import annotations

from dataclasses import replace

from packdesk.instants import Reading, span
from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.load_view import short_food
from packdesk.present.measures import Measures
from packdesk.session.clocks import ClockKind, running, standing
from packdesk.session.commands import (
    CheckReady,
    DrawOffAir,
    FillPouches,
    PlaceAbsorbers,
    SealPouches,
    ShutPouches,
    ShutRemainder,
)
from packdesk.session.decide_packing import next_numbers, open_pouches
from packdesk.session.figures import AgreedLine
from packdesk.session.numbers import named
from packdesk.session.state import BookState, Pouch, Round, SessionState
from packdesk.session.tally import LineTally, tallies
from packdesk.session.terms import Stage

ABSORBER_CAUTION = (
    "Absorbers get warm; that is normal. They are not food: keep them from children and pets."
)
IRON_CAUTION = (
    "The iron burns: lay it on its heel, keep children away. Dry iron, a little above medium. "
    "Empty pouches and liners can suffocate a child."
)


LINER_CAUTION = (
    "A filled liner is heavy: leave it in its pail, or lift it with two people. "
    "Fold it over at once; an open liner is a large mouth for the air."
)


_SET_ASIDE = Control("Set aside", icon="aside", key="S", form="aside", act="Set these aside")


def line_in_hand(session: SessionState, chosen: Chosen) -> LineTally | None:
    """The plan line picked, or the first with something to do at the counter."""
    counted = tallies(session)
    picked = next((line for line in counted if line.line.line == chosen.line), None)
    if picked is not None:
        return picked
    for line in counted:
        if line.shut < line.filled:
            return line
    ready = [line for line in counted if line.to_fill and lot_is_ready(session, line.line.lot)]
    return ready[0] if ready else (counted[0] if counted else None)


def lines_offered(session: SessionState) -> tuple[AgreedLine, ...]:
    """The plan lines there is something to choose between: while a round is open, its own only."""
    plan = session.plan
    if plan is None:
        return ()
    if any(round_.left for round_ in session.rounds.values()):
        return tuple(line for line in plan.lines if open_pouches(session, line.line))
    return tuple(each.line for each in tallies(session) if each.to_fill or each.shut < each.filled)


def unbroken(words: str) -> str:
    """Words that stay on one line, such as the numbers of a run of pouches."""
    return words.replace(" to ", "\u00a0to\u00a0")


def meant(control: Control) -> int:
    """How many pouches the next press of `control` means; 0 when it counts none."""
    match control.command:
        case FillPouches(count=count) | PlaceAbsorbers(count=count):
            return count
        case SealPouches(pouches=pouches) | ShutPouches(pouches=pouches):
            return len(pouches)
        case _:
            return 0


def lot_is_ready(session: SessionState, lot: str) -> bool:
    """Whether a lot may be filled: a load of it is open, or it needs no cold."""
    return lot in session.bypassed or any(
        load.lot == lot and load.uncovered is not None for load in session.loads.values()
    )


def filling_card(book: BookState, session: SessionState, chosen: Chosen, now: Reading) -> WorkCard:
    """Say the work between the scale and the zip."""
    tally = line_in_hand(session, chosen)
    if tally is None:
        return _elsewhere("Agree the plan first; it says what to fill.", Stage.BEFORE)
    line = tally.line
    waiting = tuple(p for p in open_pouches(session, line.line) if not _for_the_iron(line, p))
    round_ = next((r for r in session.rounds.values() if r.left), None)
    if round_ is not None:
        return _round_card(session, line, waiting, round_, chosen, now)
    if tally.to_fill and not lot_is_ready(session, line.lot) and not waiting:
        return _elsewhere(
            f"Lot {line.lot} is not ready to fill; its load is still shut.",
            Stage.COLD_TREATMENT
            if any(load.taken_out is None for load in session.loads.values())
            else Stage.THAW_EQUILIBRATION,
        )
    if tally.to_fill:
        return _fill_card(session, tally, waiting, chosen)
    if waiting:
        return _shut_card(session, line, waiting)
    return _elsewhere("Every pouch is filled and shut.", Stage.SEALING)


def _fill_card(
    session: SessionState, tally: LineTally, waiting: tuple[Pouch, ...], chosen: Chosen
) -> WorkCard:
    line, measures = tally.line, Measures(session.units)
    count = min(chosen.count or 1, tally.to_fill)
    numbers = next_numbers(session, count)
    which = named(numbers)
    verb = "is" if count == 1 else "are"
    is_last = count == 1 and tally.to_fill == 1
    mass_g = (line.last_fill_mass_g if is_last else None) or line.fill_mass_g
    seconds = []
    if tally.to_fill > count:
        seconds.append(
            Control(
                f"All {tally.to_fill} are filled",
                icon="add",
                key="A",
                command=FillPouches(line.line, tally.to_fill),
            )
        )
    if waiting and line.absorbers_cc:
        seconds.append(_ready(session, waiting))
    elif waiting:
        seconds.append(_shut_without(line, waiting))
    return WorkCard(
        stage=Stage.FILLING,
        sentence=(
            f"Fill {which} with {measures.mass(mass_g)} of {short_food(line.food_name)} "
            "and leave room to seal."
        ),
        main=Control(
            f"{which[0].upper()}{which[1:]} {verb} filled",
            "Space bar; Enter with a typed mass",
            cell=CellState.FILLED,
            command=FillPouches(line.line, count),
            form="fill",
        ),
        seconds=tuple(seconds),
        evidence=(
            f"{tally.filled} of {tally.planned} filled. Wipe the rims before they are shut.",
        ),
        caution=line.caution,
        short=f"{measures.mass(mass_g)} into {unbroken(which)}.",
    )


def _ready(session: SessionState, waiting: tuple[Pouch, ...]) -> Control:
    if session.ready_for:
        return Control("Open a packet", icon="packet", key="P", form="packet")
    return Control("Ready for a round", icon="done", key="P", command=CheckReady())


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
    numbers = named(pouch.number for pouch in waiting)
    if not line.absorbers_cc:
        return WorkCard(
            stage=Stage.FILLING,
            sentence=f"Press {numbers} shut; {line.food_name} needs no absorber.",
            main=_shut_without(line, waiting),
        )
    if not session.ready_for:
        return WorkCard(
            stage=Stage.FILLING,
            sentence=f"Have {numbers} open, rims wiped, the jar out and the iron hot.",
            main=Control(
                "Ready for a round",
                "Space bar",
                icon="done",
                command=CheckReady(),
            ),
            evidence=(
                "Once a packet is open its absorbers work on the air of the room.",
                "Try a test seam on an offcut and pull at it before you cut the packet.",
            ),
            caution=IRON_CAUTION,
        )
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Look at the packet, cut it open, and start with pouch {waiting[0].number}.",
        main=Control("The packet is open", "Space bar", icon="packet", form="packet"),
        evidence=(
            "The clock of the packet starts now.",
            "Shut up what is left in a jar before its time is over.",
        ),
        caution=ABSORBER_CAUTION,
    )


def _round_card(
    session: SessionState,
    line: AgreedLine,
    waiting: tuple[Pouch, ...],
    round_: Round,
    chosen: Chosen,
    now: Reading,
) -> WorkCard:
    shut_up = Control(
        f"Shut up {round_.left} left",
        icon="packet",
        key="C",
        command=ShutRemainder(round_.round),
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
    one_by_one = session.plan is not None and session.plan.numbered
    count = min(chosen.count or (1 if one_by_one else possible), possible)
    numbers = [pouch.number for pouch in lacking[:count]]
    drop = "1 absorber" if each == 1 else f"{each} absorbers"
    if line.liner and not line.zip:
        return _liner_card(line, numbers, drop, shut_up)
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


def _liner_card(line: AgreedLine, numbers: list[int], drop: str, shut_up: Control) -> WorkCard:
    """A liner is not shut by hand: the iron follows its absorbers at once."""
    which = named(numbers)
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Drop {drop} into {which}, fold over, and go to the iron at once.",
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
        evidence=(LINER_CAUTION,),
        caution=ABSORBER_CAUTION,
        short=f"{drop} in {unbroken(which)}, fold over.",
    )


def _for_the_iron(line: AgreedLine, pouch: Pouch) -> bool:
    """A liner with its absorbers in: open still, but nothing is left to do for it here."""
    return line.liner and not line.zip and bool(pouch.placed)


def _limit_words(session: SessionState, round_: Round, now: Reading) -> str:
    for clock in running(session):
        if clock.kind is ClockKind.PACKET and clock.subject == str(round_.round):
            stands = standing(clock, now)
            words = span(stands.remaining_s)
            if stands.due:
                return f"The packet is {words} past its time. Shut the last pouches now."
            return f"{words} left before the packet's time is over."
    return ""


def sealing_card(session: SessionState, chosen: Chosen, now: Reading) -> WorkCard:
    """Say the work at the iron: longest waiting first."""
    waiting = wanting_a_seam(session)
    if not waiting:
        counted = tallies(session)
        if any(line.sealed for line in counted):
            back = _bring_back(session)
            card = _elsewhere("Every filled pouch is sealed.", Stage.LABELLING)
            return replace(card, seconds=(_SET_ASIDE, back) if back is not None else (_SET_ASIDE,))
        return _elsewhere("No pouch waits for the iron yet.", Stage.FILLING)
    gaps = tuple(pouch for pouch in waiting if pouch.gap_left)
    if gaps:
        return _gap_card(session, gaps)
    count = min(chosen.count or len(waiting), len(waiting))
    numbers = tuple(pouch.number for pouch in waiting[:count])
    planned = session.plan.lines if session.plan is not None else ()
    here = {pouch.line for pouch in waiting[:count]}
    dusty = any(line.dusty for line in planned if line.line in here)
    evidence = ["A good pouch need not pull tight: only about a fifth of its gas is oxygen."]
    if dusty:
        evidence.insert(0, "Wipe the seam band first: flour in a seam leaks.")
    label = f"Pouch {numbers[0]} is sealed" if count == 1 else f"All {count} are sealed"
    return WorkCard(
        stage=Stage.SEALING,
        sentence=f"Seal {named(numbers)}, two seams each.",
        main=Control(
            label,
            "Space bar, or type another count",
            cell=CellState.SEALED,
            command=SealPouches(numbers, seams=2),
            form="fewer",
        ),
        seconds=(
            _SET_ASIDE,
            _leave_a_gap(session, waiting[:count])
            or _bring_back(session)
            or Control("Another count", icon="edit", key="W", form="fewer"),
        ),
        evidence=tuple(evidence),
        caution=IRON_CAUTION,
    )


def _leave_a_gap(session: SessionState, pouches: tuple[Pouch, ...]) -> Control | None:
    """Liners may be seamed but for a gap, to draw the air off; powders never."""
    for pouch in pouches:
        line = session.plan.line(pouch.line) if session.plan is not None else None
        if line is None or not line.liner or line.dusty or pouch.sealed is not None:
            return None
    numbers = tuple(pouch.number for pouch in pouches)
    return Control(
        "A gap is left", icon="lid", key="G", command=SealPouches(numbers, seams=1, gap_left=True)
    )


def _gap_card(session: SessionState, gaps: tuple[Pouch, ...]) -> WorkCard:
    """A seam with a gap in it: draw off the air, close the gap at once."""
    numbers = tuple(pouch.number for pouch in gaps)
    planned = session.plan.lines if session.plan is not None else ()
    here = {pouch.line for pouch in gaps}
    dusty = any(line.dusty for line in planned if line.line in here)
    draw_off = Control("Air is drawn off", icon="done", key="D", command=DrawOffAir(numbers))
    which = named(numbers)
    return WorkCard(
        stage=Stage.SEALING,
        sentence=(
            f"Close the gap of {which}; never draw air off over a powder."
            if dusty
            else f"Draw the air off {which}, then close the gap at once."
        ),
        main=Control(
            "The gap is closed" if len(numbers) == 1 else "The gaps are closed",
            "Space bar",
            cell=CellState.SEALED,
            command=SealPouches(numbers, seams=2),
        ),
        seconds=() if dusty else (draw_off,),
        evidence=("Hold the hose outside the seam, so that no grain is drawn into it.",),
        caution=f"{IRON_CAUTION} {LINER_CAUTION}",
    )


def _bring_back(session: SessionState) -> Control | None:
    """The way back into work, while pouches with food in them stand aside."""
    if not any(pouch.aside and not pouch.emptied for pouch in session.pouches.values()):
        return None
    return Control("Bring back", icon="again", key="B", form="return", act="These are back in work")


def wanting_a_seam(session: SessionState) -> tuple[Pouch, ...]:
    """The pouches that wait for the iron, the longest waiting first."""
    return tuple(
        sorted(
            (pouch for pouch in session.working_pouches() if _wants_a_seam(session, pouch)),
            key=lambda pouch: pouch.shut.utc if pouch.shut is not None else pouch.filled_at,
        )
    )


def _wants_a_seam(session: SessionState, pouch: Pouch) -> bool:
    """Shut without a seam, or a first seam without a second, or a gap left."""
    if pouch.pail:
        return False
    if pouch.sealed is not None:
        return pouch.gap_left or pouch.seams < 2
    line = session.plan.line(pouch.line) if session.plan is not None else None
    ready = line is not None and (
        (not line.absorbers_cc and not line.zip) or _for_the_iron(line, pouch)
    )
    return pouch.shut is not None or ready


def _elsewhere(sentence: str, goto: Stage) -> WorkCard:
    from packdesk.present.path import STAGE_NAMES

    return WorkCard(
        stage=Stage.FILLING,
        sentence=sentence,
        main=Control(f"Go to {STAGE_NAMES[goto].lower()}", "Space bar", icon="done", goto=goto),
    )
