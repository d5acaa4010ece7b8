"""Decisions at the counter beside the rounds: filling, pressing shut, sealing."""

from __future__ import annotations

from msgspec.structs import replace

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.case import Case, Refused
from packdesk.session.decide import facts_of, the_session
from packdesk.session.fact import Fact
from packdesk.session.figures import AgreedLine
from packdesk.session.load_left import opened_loads
from packdesk.session.net_mass import fill_sums, held_g, held_pouches
from packdesk.session.numbering import next_numbers
from packdesk.session.once import once
from packdesk.session.pouch import Pouch
from packdesk.session.round_size import round_size
from packdesk.session.state import SessionState
from packdesk.session.still_to_come import still_to_come

SEAL_WITHIN_MIN = 60.0
"""How long a zip may stand in for a seam (common practice, no source)."""

CLOSE_GAP_WITHIN_MIN = 10.0
"""A gap left for drawing off air is closed at once (common practice; the figure has no source)."""

SACK_MORE = 0.02
"""By this share a sack may hold more than it says, or scales may differ (own judgement)."""

HELD_LESS = 0.1
"""By this share unweighed pouches may hold less than they are taken for (own judgement)."""


def line_in(session: SessionState, number: int) -> AgreedLine:
    """The plan line of that number; refused when there is none."""
    line = session.plan.line(number) if session.plan is not None else None
    if line is None:
        raise Refused("Agree a plan with this food first.")
    return line


def open_pouches(session: SessionState, line: int | None = None) -> tuple[Pouch, ...]:
    """Filled pouches that are neither shut nor sealed, by number."""
    found = _open_pouches(session)
    return found if line is None else tuple(pouch for pouch in found if pouch.line == line)


@once
def _open_pouches(session: SessionState) -> tuple[Pouch, ...]:
    return tuple(pouch for pouch in session.working_pouches() if not pouch.closed)


@facts_of.register
def _(command: c.FillPouches, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    line = line_in(session, command.line)
    if command.count < 1:
        raise Refused("Count at least one pouch.")
    assert session.plan is not None, "a line was found in it"
    net_g, tare_g = command.net_mass_g, None
    if command.shown_g is not None:
        tare_g = session.tares.get(line.pouch) or None
        net_g = round(command.shown_g - (tare_g or 0.0), 3)
    if net_g is not None and tare_g is not None and net_g <= 0.0:
        raise Refused(
            f"The scale shows {command.shown_g:g} g, the empty pouch alone weighs {tare_g:g} g. "
            "Fill it, or weigh an empty pouch anew."
        )
    if net_g is None:
        _food_is_there(session, line, command.count)
    opened = opened_loads(session, line.lot, case.when.at)
    only = (opened[0].load,) if len(opened) == 1 else ()
    return (
        f.PouchesFilled(
            line=line.line,
            pouches=next_numbers(session, line.line, command.count),
            net_mass_g=net_g,
            told_apart=session.plan.numbered,
            tare_g=tare_g,
            confirmed=command.confirmed and net_g is not None,
            loads=command.loads or only,
            utc_offset_min=_other_offset(case),
        ),
    )


def _food_is_there(session: SessionState, line: AgreedLine, count: int) -> None:
    """What is not weighed holds what is left by reckoning, so that there must be some for each.

    Refused here and not in the rule book: what is on record already stays there.
    """
    coming = still_to_come(session, line)
    most = coming.fills
    beyond_plan = len(session.working_pouches(line.line)) + count > line.count
    if count <= most or beyond_plan:
        return
    if not most:
        raise Refused(
            f"By reckoning no {line.food_name} is left. Weigh what is in the pouch and type its "
            "mass."
        )
    raise Refused(
        f"By reckoning what is left of {line.food_name} goes into {most} "
        f"{'pouch' if most == 1 else 'pouches'}. Weigh the others, or fill {most}."
    )


def _can_be_lost(session: SessionState, line: AgreedLine, lost_g: float) -> None:
    """What is lost was not in a pouch: of what is left, or of what unweighed pouches hold less.

    Refused here and not in the rule book, as above. More than the food there is the rule book's.
    """
    held = held_pouches(session, line)
    if not held or lost_g > line.mass_g:
        return
    sums = fill_sums(session, line)
    left_g = max(0.0, sums.left_g)
    unweighed_g = sum(held_g(pouch, sums.each_g) for pouch in held if pouch.net_mass_g is None)
    if lost_g - left_g > HELD_LESS * unweighed_g + SACK_MORE * line.mass_g:
        raise Refused(
            f"By reckoning only {left_g:.0f} g of {line.food_name} are not in a pouch. Reject a "
            "pouch that was not filled, or whose food was lost (R at the scale)."
        )


def _other_offset(case: Case) -> int | None:
    """The local offset when the thing happened, if the clocks have been changed since."""
    then = case.when.utc_offset_min
    return then if then != case.now.utc_offset_min else None


@facts_of.register
def _(command: c.WeighEmptyPouch, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    lines = session.plan.lines if session.plan is not None else ()
    name = next((line.pouch_name for line in lines if line.pouch == command.pouch), "")
    if not name:
        raise Refused("No food of the plan goes into such a pouch. Choose one of the plan's.")
    return (f.EmptyPouchWeighed(pouch=command.pouch, pouch_name=name, tare_g=command.tare_g),)


@facts_of.register
def _(command: c.NoteFoodLost, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    line = line_in(session, command.line)
    _can_be_lost(session, line, command.mass_g)
    return (
        f.FoodLost(
            line=line.line,
            food_name=line.food_name,
            mass_g=command.mass_g,
            reason=command.reason.strip(),
        ),
    )


@facts_of.register
def _(command: c.RevisePlan, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    line = line_in(session, command.line)
    plan = session.plan
    assert plan is not None, "a line was found in it"
    coming = still_to_come(session, line)
    revised = replace(line, count=command.count, last_fill_mass_g=None)
    if command.count == coming.total:
        # The pouches to come are filled like those that the count was reckoned from.
        each_g, last_g = round(coming.each_g, 1), coming.last_mass_g
        refill_g = each_g if each_g != line.fill_mass_g else None
        revised = replace(revised, refill_mass_g=refill_g, last_fill_mass_g=last_g)
    return (
        f.PlanAgreed(
            lines=tuple(revised if each.line == line.line else each for each in plan.lines),
            numbered=plan.numbered,
            elevation_m=plan.elevation_m,
            packing_temp_c=plan.packing_temp_c,
            pack_at=plan.pack_at,
        ),
    )


@facts_of.register
def _(command: c.CheckReady, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    waiting = open_pouches(session)
    if not waiting:
        raise Refused("No filled pouch stands open. Fill some before opening a packet.")
    size = round_size(session, line_in(session, waiting[0].line), command.hands)
    return (
        f.ReadyChecked(
            pouches=tuple(pouch.number for pouch in waiting),
            checked=command.checked,
            hands=command.hands,
            pace_s=size.pace.each_s,
            measured=size.pace.measured,
            limit_min=size.limit_min,
            most_in_time=size.most_in_time,
        ),
    )


@facts_of.register
def _(command: c.ShutPouches, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.PouchesShut(pouches=command.pouches, seal_within_min=SEAL_WITHIN_MIN),)


@facts_of.register
def _(command: c.SealPouches, case: Case) -> tuple[Fact, ...]:
    session = the_session(case)
    never = [line.line for line in session.plan.lines if line.never] if session.plan else []
    concerned = any(p.line in never for n in command.pouches if (p := session.pouches.get(n)))
    if command.gap_left:
        _no_gap_over_a_powder(session, command.pouches)
    return (
        f.PouchesSealed(
            pouches=command.pouches,
            seams=command.seams,
            gap_left=command.gap_left,
            close_within_min=CLOSE_GAP_WITHIN_MIN if command.gap_left else 0.0,
            against_advice=command.against_advice.strip() if concerned else "",
        ),
    )


def _no_gap_over_a_powder(session: SessionState, pouches: tuple[int, ...]) -> None:
    """Refused here and not in the rule book: a gap that is on record already stays there."""
    for number in pouches:
        pouch = session.pouches.get(number)
        line = session.plan.line(pouch.line) if session.plan is not None and pouch else None
        if line is not None and line.dusty:
            raise Refused(
                f"Leave no gap in a liner of {line.food_name}: air is never drawn off over a "
                "powder. Press it out by hand and seal all along, two seams."
            )


@facts_of.register
def _(command: c.DrawOffAir, case: Case) -> tuple[Fact, ...]:
    the_session(case)
    return (f.AirDrawnOff(pouches=command.pouches),)
