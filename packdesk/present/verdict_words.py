"""Whether the absorbers in pouches are enough, in words: the figures, and what follows from them.

Loads numpy once there is a verdict to be said.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from packdesk.present.liners import called, called_are
from packdesk.session.figures import AgreedLine
from packdesk.session.lacking import lacking
from packdesk.session.packing_room import planned_room_c
from packdesk.session.pouch import Pouch
from packdesk.session.state import Plan, Round, SessionState
from packdesk.session.verdicts import Enough, PouchVerdict, verdict

DRAWN_DOWN = 0.001
"""Where the oxygen of a pouch counts as gone: 0.1 % of its gas."""

_WORST_FIRST = (Enough.ADD_ONE, Enough.MARGINAL, Enough.ENOUGH)


@dataclass(frozen=True, slots=True)
class JudgedGroup:
    """Pouches of one line with one verdict; `worst` is the one with the least to spare.

    `lost` says what became of its absorbers before they came to what they have, as far as known;
    `standing_open` that all of them stand open, so that nothing is to be opened for one more.
    """

    line: AgreedLine
    found: Enough
    numbers: tuple[int, ...]
    worst: PouchVerdict
    best: PouchVerdict
    lost: str = ""
    standing_open: bool = False


def judged(
    session: SessionState, pouches: Iterable[Pouch], at: datetime
) -> tuple[JudgedGroup, ...]:
    """Gather pouches that have all their absorbers by line and verdict, what needs help first."""
    plan = session.plan
    if plan is None:
        return ()
    found: dict[tuple[int, Enough], list[tuple[Pouch, PouchVerdict]]] = {}
    for pouch in pouches:
        line = plan.line(pouch.line)
        if line is None or lacking(line, pouch):
            continue
        each = verdict(line, pouch, plan, at)
        if each is not None and each.verdict is not Enough.NOT_NEEDED:
            found.setdefault((pouch.line, each.verdict), []).append((pouch, each))
    groups = []
    for word in _WORST_FIRST:
        for (number, verdict_word), members in sorted(found.items()):
            line = plan.line(number)
            if verdict_word is word and line is not None:
                members.sort(key=lambda member: member[1].low_cc - member[1].need_cc)
                (tired, worst), (_, best) = members[0], members[-1]
                numbers = tuple(sorted(pouch.number for pouch, _ in members))
                lost = _lost(session, line, tired, worst)
                standing_open = not any(pouch.closed for pouch, _ in members)
                groups.append(JudgedGroup(line, word, numbers, worst, best, lost, standing_open))
    return tuple(groups)


def verdict_sentences(
    session: SessionState, pouches: Iterable[Pouch], at: datetime
) -> tuple[str, ...]:
    """One sentence for each group: how they stand, the figures, why."""
    return tuple(said(group, session.plan) for group in judged(session, pouches, at))


def said(group: JudgedGroup, plan: Plan | None) -> str:
    """How a group stands in one sentence, with the figures and why."""
    worst = group.worst
    figures = f"{_cc(worst.low_cc, worst.likely_cc)} left for {worst.need_cc:.0f} cc of oxygen"
    lost = group.lost
    which = called_are(group.line, group.numbers)
    if group.found is Enough.ENOUGH:
        return f"{which} well supplied: {figures}{lost}. {_sealed_well(group, plan)}"
    stays = _stays(group, plan)
    if group.found is Enough.MARGINAL:
        return f"{which} marginal: {figures}{lost}. {stays} One sound absorber more makes sure."
    return f"{which} short of absorber: {figures}{lost}. {stays} {_cure(group)}"


def _cure(group: JudgedGroup) -> str:
    if group.standing_open:
        return "Add one more."
    it = called(group.line, group.numbers) if len(group.numbers) < 4 else "them"
    return f"Open {it} again and add one more."


def _cc(low: float, likely: float) -> str:
    few, many = f"{low:.0f}", f"{likely:.0f}"
    return f"{many} cc" if few == many else f"{few} to {many} cc"


def _lost(session: SessionState, line: AgreedLine, tired: Pouch, worst: PouchVerdict) -> str:
    """What the air took of them, and when: the reason for figures below the rating."""
    parts = []
    rounds = [(p, session.rounds[p.round]) for p in tired.placed if p.round in session.rounds]
    lay_min = max(
        ((p.at - r.started.utc).total_seconds() / 60.0 for p, r in rounds if p.at is not None),
        default=0.0,
    )
    if lay_min >= 1.0:
        parts.append(f"{lay_min:.0f} min in the open packet")
    if worst.open_min >= 1.0:
        what = "liner" if line.liner else "pouch"
        parts.append(f"{worst.open_min:.0f} min in the open {what}")
    if worst.zip_min >= 1.0:
        parts.append(f"{worst.zip_min:.0f} min behind a zip")
    after = f", after {' and '.join(parts)}" if parts else ""
    weak = {r.round: r for _, r in rounds if r.capacity_low_cc < r.rating_cc}
    return after + "".join(f"; {_weak(round_)}" for round_ in weak.values())


def _weak(round_: Round) -> str:
    """Why absorbers had less than their rating from the first."""
    has = _cc(round_.capacity_low_cc, round_.capacity_likely_cc)
    if round_.source.startswith("R"):
        return f"one of jar {round_.source} had {has} when it was opened"
    return f"packet {round_.source} is doubted, one of it counts for {has}"


def _stays(group: JudgedGroup, plan: Plan | None) -> str:
    """How much oxygen would stay in the pouch if the absorbers are as tired as they may be."""
    from packdesk.physics import oxygen

    temp_c, pressure_pa = _air_of(plan)
    low, likely = (
        100.0
        * float(
            oxygen.residual_oxygen_fraction(
                group.worst.air_cc, max(0.0, cc), temp_c=temp_c, pressure_pa=pressure_pa
            )
        )
        for cc in (group.worst.likely_cc, group.worst.low_cc)
    )
    if likely < 0.05:
        what = "liner" if group.line.liner else "pouch"
        return f"The {what}'s air is dealt with, what leaks in over the years is not."
    if low < 0.05:
        return f"At worst {likely:.1f}\u00a0% of oxygen stays in the gas."
    return f"{low:.1f} to {likely:.1f}\u00a0% of oxygen would stay in the gas."


def _sealed_well(group: JudgedGroup, plan: Plan | None) -> str:
    """How long it takes behind a seam, and what is then to be seen of it."""
    from packdesk.physics import absorber, oxygen
    from packdesk.physics.uptake import PUBLISHED_UPTAKE

    line = group.line
    temp_c, pressure_pa = _air_of(plan)
    soon_h, late_h = (
        float(
            absorber.draw_down_hours(
                cc, air_cc, temp_c, DRAWN_DOWN, uptake_25_per_h=kappa, pressure_pa=pressure_pa
            )
        )
        for cc, air_cc, kappa in (
            (group.best.likely_cc, group.best.air_cc, PUBLISHED_UPTAKE.high),
            (group.worst.low_cc, group.worst.air_cc, PUBLISHED_UPTAKE.low),
        )
    )
    share = group.worst.air_cc / line.air_cc  # air and food of a weighed pouch go together
    shrinks = 100.0 * float(
        oxygen.shrinkage_fraction(
            group.worst.air_cc,
            group.worst.low_cc,
            solids_cc=share * line.fill_mass_g / line.solid_density_g_per_cc,
            temp_c=temp_c,
            pressure_pa=pressure_pa,
        )
    )
    return (
        f"Once sealed the oxygen is gone in {_length(soon_h, late_h)}, later where food lies "
        f"tight round the absorber; a {'liner' if line.liner else 'pouch'} gets {shrinks:.0f} % "
        "smaller at most."
    )


def _air_of(plan: Plan | None) -> tuple[float, float]:
    from packdesk.session.exposure import pressure_of

    return planned_room_c(plan), pressure_of(plan)


def _length(soon_h: float, late_h: float) -> str:
    """`10 to 40 h`, `1 to 4 d`; food around an absorber slows it, so the long end is open."""
    if late_h < 48.0:
        return f"about {soon_h:.0f} to {late_h:.0f} h"
    if late_h < 24.0 * 30.0:
        return f"about {max(1.0, soon_h / 24.0):.0f} to {late_h / 24.0:.0f} days"
    return "a week or more"
