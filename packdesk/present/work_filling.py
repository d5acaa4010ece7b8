"""The work at the scale: fill the next pouch, make ready, open a packet, shut what needs none."""

from __future__ import annotations

from packdesk.instants import Reading
from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.cautions import ABSORBER_CAUTION, IRON_CAUTION
from packdesk.present.chosen import Chosen
from packdesk.present.elsewhere import elsewhere
from packdesk.present.liners import called
from packdesk.present.load_view import short_food
from packdesk.present.measures import Measures
from packdesk.present.work_round import for_the_iron, round_card, unbroken
from packdesk.session.commands import CheckReady, FillPouches, ShutPouches
from packdesk.session.decide_packing import open_pouches
from packdesk.session.figures import AgreedLine
from packdesk.session.numbering import next_numbers
from packdesk.session.state import BookState, Pouch, SessionState
from packdesk.session.tally import LineTally, tallies
from packdesk.session.terms import Stage

_TEST_ALARM = Control("Test the alarm", icon="ring", key="T", form="alarm_test")
"""Before a packet is open is the time to learn whether its alarm can be heard at the counter."""


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


def lot_is_ready(session: SessionState, lot: str) -> bool:
    """Whether a lot may be filled: a load of it is open, or it needs no cold."""
    return lot in session.bypassed or any(
        load.lot == lot and load.uncovered is not None for load in session.loads.values()
    )


def filling_card(book: BookState, session: SessionState, chosen: Chosen, now: Reading) -> WorkCard:
    """Say the work between the scale and the zip."""
    tally = line_in_hand(session, chosen)
    if tally is None:
        return elsewhere(Stage.FILLING, "Agree the plan first; it says what to fill.", Stage.BEFORE)
    line = tally.line
    waiting = tuple(p for p in open_pouches(session, line.line) if not for_the_iron(line, p))
    round_ = next((r for r in session.rounds.values() if r.left), None)
    if round_ is not None:
        return round_card(session, line, waiting, round_, chosen, now)
    if tally.to_fill and not lot_is_ready(session, line.lot) and not waiting:
        return elsewhere(
            Stage.FILLING,
            f"Lot {line.lot} is not ready to fill; its load is still shut.",
            Stage.COLD_TREATMENT
            if any(load.taken_out is None for load in session.loads.values())
            else Stage.THAW_EQUILIBRATION,
        )
    if tally.to_fill:
        return _fill_card(session, tally, waiting, chosen)
    if waiting:
        return _shut_card(session, line, waiting)
    return elsewhere(Stage.FILLING, "Every pouch is filled and shut.", Stage.SEALING)


def _fill_card(
    session: SessionState, tally: LineTally, waiting: tuple[Pouch, ...], chosen: Chosen
) -> WorkCard:
    line, measures = tally.line, Measures(session.units)
    count = min(chosen.count or 1, tally.to_fill)
    numbers = next_numbers(session, line.line, count)
    which = called(line, numbers)
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
            + ("in its pail, and leave room to fold." if line.liner else "and leave room to seal.")
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
    numbers = called(line, (pouch.number for pouch in waiting))
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
            seconds=(_TEST_ALARM,),
            evidence=(
                "Once a packet is open its absorbers work on the air of the room.",
                "Try a test seam on an offcut and pull at it before you cut the packet.",
            ),
            caution=IRON_CAUTION,
        )
    first = called(line, (waiting[0].number,))
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Look at the packet, cut it open, and start with {first}.",
        main=Control("The packet is open", "Space bar", icon="packet", form="packet"),
        seconds=(_TEST_ALARM,),
        evidence=(
            "The clock of the packet starts now.",
            "Shut up what is left in a jar before its time is over.",
        ),
        caution=ABSORBER_CAUTION,
    )
