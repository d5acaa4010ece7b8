"""What the card on each pail says: what is inside, how heavy it is, how to lift it."""

from __future__ import annotations

from collections.abc import Sequence

from packdesk.catalog.pails import Pail as PailKind
from packdesk.instants import local
from packdesk.present.label_text import (
    allergen_words,
    best_quality,
    food_title,
    identities,
    label_caution,
    opener_words,
    packed_on,
    swollen_words,
)
from packdesk.present.measures import Measures
from packdesk.present.papers import PailCard, PailFood
from packdesk.session.figures import AgreedLine
from packdesk.session.net_mass import net_mass_g
from packdesk.session.pouch import Pouch
from packdesk.session.state import Pail, SessionState
from packdesk.units import NO_BREAK_SPACE, Dimension, System, say

LIFTED_ALONE_G = 12_000.0
"""What nearly all people may lift from the floor to a table: 12.1 kg by the NIOSH equation of 1994
for a pail (computed)."""

LIFTED_BY_TWO_G = 16_000.0
"""From here on two lift: about what a full pail of 19 L weighs (common practice)."""

ABSORBER_CAUTION = "Take the absorbers out before cooking. They are not food."
PAIL_CAUTION = "Keep the lid on: a small child can drown in a pail."
SWOLLEN_CAUTION = "Do not open a swollen pouch: discard it."


def pail_cards(session: SessionState, kind: PailKind) -> tuple[PailCard, ...]:
    """Say the card of every pail that has something in it; `kind` is what the pails are."""
    return tuple(_card(session, pail, kind) for pail in session.pails.values() if pail.pouches)


def _card(session: SessionState, pail: Pail, kind: PailKind) -> PailCard:
    measures = Measures(session.units)
    inside = [session.pouches[number] for number in pail.pouches]
    by_line = [
        (line, found)
        for line in (session.plan.lines if session.plan is not None else ())
        if (found := [pouch for pouch in inside if pouch.line == line.line])
    ]
    swollen = [p for p in session.pouches.values() if p.swollen and p.out_of == pail.pail]
    named = identities(session, (pouch.number for pouch in swollen))
    net_g = sum(_net_g(session, line, found) for line, found in by_line)
    empty_g = [session.tares.get(line.pouch, 0.0) * len(found) for line, found in by_line]
    gross_g = net_g + kind.empty_mass_g + sum(empty_g)
    days = sorted({packed_on(pouch) for pouch in inside})
    packed = f"Packed {days[0]}" if len(days) == 1 else f"Packed {days[0]} to {days[-1]}"
    foods = tuple(_food(session, line, found, measures) for line, found in by_line)
    lines = [line for line, _ in by_line]
    allergens = tuple(dict.fromkeys(each for line in lines for each in line.allergens))
    return PailCard(
        pail=f"Pail {pail.pail}",
        session=f"{session.name} ({session.code})",
        packed=packed,
        foods=foods,
        mass=(
            f"{measures.both_masses(net_g)} of food; with "
            f"{'pail and pouches' if all(empty_g) else 'the pail'} about "
            f"{_roughly(gross_g, System(session.units))}{_not_counted(lines, all(empty_g))}"
        ),
        lifting=lifting_note(gross_g),
        allergens=allergen_words(allergens),
        food_cautions=(
            *(said for line, found in by_line for said in _to_opener(session, line, found)),
            *dict.fromkeys(
                f"{food_title(line.food_name)}: {said}"
                for line in lines
                if (said := label_caution(line))
            ),
        ),
        cautions=(
            *([ABSORBER_CAUTION] if any(line.absorbers_cc for line in lines) else []),
            SWOLLEN_CAUTION,
            PAIL_CAUTION,
        ),
        checked=_checked([*inside, *swollen]),
        swollen=swollen_words(named, len(swollen)) if swollen else "",
        code="\n".join(
            (
                f"PAIL {pail.pail.upper()} {session.code}",
                packed.upper(),
                *([f"SWOLLEN, DISCARD UNOPENED: {named.upper()}"] if swollen else []),
                *map(_coded, foods),
            )
        ),
    )


def lifting_note(gross_g: float) -> str:
    """How something so heavy is lifted."""
    if gross_g >= LIFTED_BY_TWO_G:
        return "Heavy: two people lift it, close to the body."
    if gross_g > LIFTED_ALONE_G:
        return "Heavy for one: lift it close to the body, or with two."
    return "Lift it close to the body."


def _food(
    session: SessionState,
    line: AgreedLine,
    pouches: Sequence[Pouch],
    measures: Measures,
) -> PailFood:
    count = "1 pouch" if len(pouches) == 1 else f"{len(pouches)} pouches"
    first = min(packed_on(pouch) for pouch in pouches)
    return PailFood(
        food=food_title(line.food_name),
        amount=f"{count}, {measures.both_masses(_net_g(session, line, pouches))}",
        pouches=identities(session, (pouch.number for pouch in pouches)),
        best_quality=f"best until {best_quality(line, first)}",
    )


def _not_counted(lines: Sequence[AgreedLine], pouches_weighed: bool) -> str:
    """What of the load nobody weighed; the empty pouches where one of each kind was not."""
    absorbers = any(line.absorbers_cc for line in lines)
    left_out = [
        *([] if pouches_weighed else ["pouches"]),
        *(["absorbers"] if absorbers else []),
    ]
    return f", {' and '.join(left_out)} not counted" if left_out else ""


def _to_opener(session: SessionState, line: AgreedLine, pouches: Sequence[Pouch]) -> list[str]:
    """Which pouches of one food were not treated as advised, and what to look for in them."""
    alike: dict[str, list[int]] = {}
    for pouch in pouches:
        words = " ".join(opener_words(session, line, pouch))
        if words:
            alike.setdefault(words, []).append(pouch.number)
    return [f"{identities(session, numbers)}: {words}" for words, numbers in alike.items()]


def _coded(food: PailFood) -> str:
    words = f"{food.food}: {food.amount}, {food.best_quality}, {food.pouches}".upper()
    return words.replace(NO_BREAK_SPACE, " ").replace("–", "-")


def _net_g(session: SessionState, line: AgreedLine, pouches: Sequence[Pouch]) -> float:
    return sum(net_mass_g(session, line, pouch) for pouch in pouches)


def _roughly(mass_g: float, own: System) -> str:
    """To a tenth of a kilogram or a pound: not all of it is weighed."""
    other = System.US if own is System.METRIC else System.METRIC
    first, second = (say(mass_g, Dimension.MASS, system, 100.0) for system in (own, other))
    return f"{first} ({second})"


def _checked(pouches: Sequence[Pouch]) -> str:
    """When the seams were last looked at, and what stood out."""
    last = [pouch.checks[-1] for pouch in pouches if pouch.checks]
    if not last:
        return "Seams not checked yet"
    newest = max(last, key=lambda check: check.at)
    day = local(newest.at, newest.utc_offset_min).date()
    felt = sorted({str(check.verdict) for check in last})
    return f"Seams checked {day}: {', '.join(felt)}"
