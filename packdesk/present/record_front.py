"""The record's first page: what there is, how it stands, and where it lies."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from packdesk.instants import local
from packdesk.present.label_text import (
    best_quality,
    food_title,
    identities,
    packed_on,
    swollen_words,
)
from packdesk.present.measures import Measures
from packdesk.present.outlines import OutlineSection
from packdesk.session.departures import departures
from packdesk.session.net_mass import net_mass_g
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState
from packdesk.session.tally import tallies
from packdesk.session.verdicts import Enough, verdict

BEST_SAID = (
    "Best until: the year to which good quality can be counted on, and the last to which it has "
    "been seen; + where nobody has looked longer."
)


def in_short(session: SessionState, measures: Measures) -> OutlineSection:
    """What a reader wants to know first, in a few sentences."""
    there = _still_there(session)
    if not there:
        none = "No pouch is left: what was filled was emptied again."
        said = none if session.pouches else "No pouch has been filled yet."
        return OutlineSection("In short", (said,))
    pouches = session.working_pouches()
    days = sorted({packed_on(pouch) for pouch in pouches or there})
    when = f"on {days[0]}" if len(days) == 1 else f"from {days[0]} to {days[-1]}"
    count = f"{len(pouches)} pouch{'es' if len(pouches) > 1 else ''}"
    foods = [
        f"{tally.filled} × {tally.line.food_name} "
        f"({measures.mass(net_total_g(session, session.working_pouches(tally.line.line)))})"
        for tally in tallies(session)
        if tally.filled
    ]
    first, last = (identities(session, (pouch.number,)) for pouch in (there[0], there[-1]))
    return OutlineSection(
        "In short",
        (
            f"{count} filled {when}{': ' if foods else ''}{', '.join(foods)}.",
            _standing(session, pouches),
            *_checked(there),
            *_swollen(session, there),
            *_against_advice(session, there),
            (
                f"Every pouch bears a code of its own, from {first} to {last}. The words of the "
                "trade are explained at the end of this record."
            ),
        ),
    )


def _still_there(session: SessionState) -> tuple[Pouch, ...]:
    """Pouches with food in them, those set aside among them: one may hurt somebody."""
    return tuple(pouch for _, pouch in sorted(session.pouches.items()) if not pouch.emptied)


def _standing(session: SessionState, pouches: Sequence[Pouch]) -> str:
    """How many are sealed, and whether their absorbers are enough."""
    sealed = sum(pouch.gas_tight for pouch in pouches)
    found: Counter[Enough] = Counter()
    for pouch in pouches:
        line = session.plan.line(pouch.line) if session.plan is not None else None
        judged = verdict(line, pouch, session.plan) if line is not None else None
        if judged is not None:
            found[judged.verdict] += 1
    words = {
        Enough.ENOUGH: ("has", "have", "enough absorber"),
        Enough.MARGINAL: ("has", "have", "an absorber that may fall short"),
        Enough.ADD_ONE: ("has", "have", "too little absorber"),
        Enough.NOT_NEEDED: ("needs", "need", "none"),
    }

    def count(many: int, verdict: Enough) -> str:
        one, more, what = words[verdict]
        return f"{many} {one if many == 1 else more} {what}"

    said = [f"{sealed} of {len(pouches)} are sealed"]
    said += [count(found[each], each) for each in Enough if found[each]]
    aside = sum(bool(pouch.aside) for pouch in session.pouches.values())
    said += [f"{aside} more set aside or emptied"] if aside else []
    return f"{'; '.join(said)}."


def _checked(pouches: Sequence[Pouch]) -> tuple[str, ...]:
    """How the seams felt when they were last looked at."""
    last = [pouch.checks[-1] for pouch in pouches if pouch.checks]
    if not last:
        return ("No seam has been checked yet.",)
    newest = max(last, key=lambda check: check.at)
    day = local(newest.at, newest.utc_offset_min).date()
    felt = Counter(str(check.verdict) for check in last)
    said = ", ".join(f"{count} {word}" for word, count in felt.items())
    return (f"At the last look at the seams, on {day}, of {len(last)} pouches: {said}.",)


def _swollen(session: SessionState, pouches: Sequence[Pouch]) -> tuple[str, ...]:
    """Which pouches nobody may open."""
    found = [pouch.number for pouch in pouches if pouch.swollen]
    said = swollen_words(identities(session, found), len(found))
    return (said,) if found else ()


def _against_advice(session: SessionState, pouches: Sequence[Pouch]) -> tuple[str, ...]:
    """Which pouches were not treated as advised, gathered by what was done."""
    alike: dict[str, list[int]] = {}
    for pouch in pouches:
        line = session.plan.line(pouch.line) if session.plan is not None else None
        told = departures(session, line, pouch) if line is not None else ()
        what = ", ".join(dict.fromkeys(each.short for each in told if each.short))
        if what:
            alike.setdefault(what, []).append(pouch.number)
    said = [f"{identities(session, numbers)} ({what})" for what, numbers in alike.items()]
    return (f"Not as advised: {'; '.join(said)}. See “What went otherwise”.",) if said else ()


def where_it_lies(session: SessionState, measures: Measures) -> OutlineSection:
    """Each pail with what is in it."""
    rows = []
    for pail in session.pails.values():
        for line in session.plan.lines if session.plan is not None else ():
            inside = [
                session.pouches[number]
                for number in pail.pouches
                if session.pouches[number].line == line.line
            ]
            if inside:
                first = min(packed_on(pouch) for pouch in inside)
                rows.append(
                    (
                        pail.pail,
                        food_title(line.food_name),
                        identities(session, (pouch.number for pouch in inside)),
                        measures.mass(net_total_g(session, inside)),
                        best_quality(line, first),
                        "on" if pail.lidded else "not on yet",
                    )
                )
    loose = [pouch.number for pouch in session.working_pouches() if not pouch.pail]
    return OutlineSection(
        "Where it lies",
        (
            *((BEST_SAID,) if rows else ()),
            *((f"Not in a pail: {identities(session, loose)}.",) if loose and rows else ()),
            *_set_aside(session),
        ),
        ("Pail", "Food", "Pouches", "Net mass", "Best until", "Lid") if rows else (),
        tuple(rows),
    )


def _set_aside(session: SessionState) -> tuple[str, ...]:
    """What is not among the others, and why; which pail it was taken out of."""
    alike: dict[str, list[int]] = {}
    for pouch in _still_there(session):
        if pouch.aside:
            out_of = f"; out of pail {pouch.out_of}" if pouch.out_of else ""
            alike.setdefault(f"{pouch.aside}{out_of}", []).append(pouch.number)
    said = [f"{identities(session, numbers)} ({why})" for why, numbers in alike.items()]
    return (f"Set aside, not in a pail: {', '.join(said)}.",) if said else ()


def net_total_g(session: SessionState, pouches: Sequence[Pouch]) -> float:
    """The food in `pouches` together, in g; what was not weighed as it was planned."""
    total = 0.0
    for pouch in pouches:
        line = session.plan.line(pouch.line) if session.plan is not None else None
        if line is not None:
            total += net_mass_g(session, line, pouch)
    return total
