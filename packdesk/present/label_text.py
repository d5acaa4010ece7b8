"""What a pouch label says; the same words stand in the code that a phone shows as plain text."""

from __future__ import annotations

from packdesk.instants import Reading, local
from packdesk.present.cards import LabelText
from packdesk.present.measures import Measures
from packdesk.session.figures import AgreedLine
from packdesk.session.net_mass import net_mass_g
from packdesk.session.state import Pouch, SessionState

ADVICE = "Take the absorber out before cooking. Do not eat it."
LONGEST_YEARS = 30.0
"""The longest storage anyone has studied; beyond it a label says 30+."""


def label_texts(
    session: SessionState, numbers: tuple[int, ...], now: Reading
) -> tuple[LabelText, ...]:
    """Say the label of each of the pouches `numbers` of `session`."""
    measures = Measures(session.units)
    found = []
    for number in numbers:
        pouch = session.pouches[number]
        line = session.plan.line(pouch.line) if session.plan is not None else None
        if line is not None:
            found.append(_label(session, line, pouch, measures, now))
    return tuple(found)


def identity(session: SessionState, number: int) -> str:
    """Name a pouch for good: the session's code and its number, as `K7M2-017`."""
    return f"{session.code}-{number:03d}"


def packed_on(pouch: Pouch, utc_offset_min: int) -> str:
    """The day a pouch was filled, as ISO 8601."""
    return f"{local(pouch.filled_at, utc_offset_min):%Y-%m-%d}"


def best_quality(line: AgreedLine, packed_year: int) -> str:
    """The years until which the food is at its best in a cool, dry, dark place."""
    low, high = line.quality_years_low, line.quality_years_high
    if low >= LONGEST_YEARS:
        return f"{packed_year + int(LONGEST_YEARS)}+"
    first, last = packed_year + int(low), packed_year + int(min(high, LONGEST_YEARS))
    plus = "+" if high > LONGEST_YEARS else ""
    return f"{first}{plus}" if first == last else f"{first} to {last}{plus}"


def _label(
    session: SessionState, line: AgreedLine, pouch: Pouch, measures: Measures, now: Reading
) -> LabelText:
    mass_g = net_mass_g(session, line, pouch)
    mean = "" if pouch.net_mass_g is not None else "about "
    packed = packed_on(pouch, now.utc_offset_min)
    best = best_quality(line, int(packed[:4]))
    name = identity(session, pouch.number)
    return LabelText(
        pouch=pouch.number,
        food=line.food_name,
        mass=f"{mean}{measures.both_masses(mass_g)}",
        packed=f"Packed {packed}",
        best_quality=f"Best quality until {best}",
        identity=f"Pouch {name}",
        lot=f"Lot {line.lot}",
        absorbers=absorber_words(line),
        allergens=f"Contains: {', '.join(line.allergens)}" if line.allergens else "",
        caution=line.caution,
        advice=ADVICE if line.absorbers_cc else "",
        code="\n".join(
            (
                f"POUCH {name}",
                f"{line.food_name.upper()} {mean.upper()}{mass_g:.0f} G",
                f"PACKED {packed}",
                f"BEST UNTIL {best.upper()}",
                f"LOT {line.lot}",
            )
        ),
    )


def absorber_words(line: AgreedLine) -> str:
    """Say what lies in each pouch: `1 × 200 cc absorber`."""
    if not line.absorbers_cc:
        return "No absorber"
    ratings = sorted(set(line.absorbers_cc), reverse=True)
    parts = [f"{line.absorbers_cc.count(rating)} × {rating} cc" for rating in ratings]
    return f"{' + '.join(parts)} absorber{'s' if len(line.absorbers_cc) > 1 else ''}"
