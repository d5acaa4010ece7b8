"""What a pouch label says; the same words stand in the code that a phone shows as plain text."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import date, timedelta

from packdesk.instants import local
from packdesk.present.measures import Measures
from packdesk.present.papers import LabelText
from packdesk.sentences import capital
from packdesk.session.departures import departures
from packdesk.session.figures import AgreedLine
from packdesk.session.lacking import absorbers_in
from packdesk.session.net_mass import net_mass_g
from packdesk.session.numbering import numbers_by_line
from packdesk.session.numbers import runs
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState

ADVICE = "Take the absorber out before cooking. Do not eat it."
ADVICE_ON_MORE = "Take the absorbers out before cooking. Do not eat them."
SEALED_AGAINST_ADVICE = "Sealed against advice, not for storage: eat it soon, or discard it."
"""On the label of a food that the catalogue marks never to be sealed."""

LONGEST_YEARS = 30.0
"""The longest storage anyone has studied; beyond it a label says 30+."""

MONTHS_BELOW_YEARS = 3.0
"""A food that keeps for less is dated to the month."""


def label_texts(session: SessionState, numbers: tuple[int, ...]) -> tuple[LabelText, ...]:
    """Say the label of each of the pouches `numbers` of `session`."""
    measures = Measures(session.units)
    found = []
    for number in numbers:
        pouch = session.pouches[number]
        line = session.plan.line(pouch.line) if session.plan is not None else None
        if line is not None:
            found.append(_label(session, line, pouch, measures))
    return tuple(found)


def number_texts(session: SessionState, numbers: tuple[int, ...]) -> tuple[LabelText, ...]:
    """Say labels that go on before filling: identity alone; food and mass follow by hand."""
    return tuple(
        LabelText(
            pouch=number,
            identity=f"Pouch {identity(session, number)}",
            lot=session.name,
            code=f"POUCH {identity(session, number)}",
        )
        for number in numbers
    )


def numbers_to_come(session: SessionState) -> tuple[int, ...]:
    """The numbers that the pouches still to be filled will have, in ascending order."""
    return tuple(sorted(number for each in numbers_by_line(session).values() for number in each))


def identity(session: SessionState, number: int) -> str:
    """Name a pouch for good: the session's code and its number, as `K7M2-017`."""
    return f"{session.code}-{number:03d}"


def identities(session: SessionState, numbers: Iterable[int]) -> str:
    """Name pouches in ascending order, runs of neighbours together: `K7M2-001 to 012, 014`."""
    said: list[str] = []
    for first, last in runs(numbers):
        name = identity(session, first) if not said else f"{first:03d}"
        said.append(name if first == last else f"{name} to {last:03d}")
    return ", ".join(said)


def swollen_words(named: str, count: int) -> str:
    """What to do with the `count` pouches `named`, found swollen: `K7M2-008 is swollen: ...`."""
    one = count == 1
    return (
        f"{named} {'is' if one else 'are'} swollen: never open {'it' if one else 'them'}, discard "
        f"{'it' if one else 'them'}."
    )


def packed_on(pouch: Pouch) -> date:
    """The day a pouch was filled, by the clock on the wall there and then."""
    return local(pouch.filled_at, pouch.filled_offset_min).date()


def best_quality(line: AgreedLine, packed: date) -> str:
    """Until when the food is at its best in a cool, dry, dark place.

    `2036–2056`: to be counted on until the first year, and at most seen until the last; of months
    `2026-11 to 2027-10`, of one year `2046`.
    """
    least, most = best_range(line, packed)
    if least == most:
        return least
    of_years = least.isdigit() and most.isdigit()
    return f"{least}–{most}" if of_years else f"{least} to {most}"


def best_range(line: AgreedLine, packed: date) -> tuple[str, str]:
    """Until when the food is at its best, at least and at most: years, or months if they are few.

    Where nobody has studied longer storage both are the same, as `2056+`.
    """
    low, high = line.quality_years_low, line.quality_years_high
    if low >= LONGEST_YEARS:
        beyond = f"{packed.year + int(LONGEST_YEARS)}+"
        return beyond, beyond
    return _until(packed, low, low), _until(packed, min(high, LONGEST_YEARS), low)


def _until(packed: date, years: float, least_years: float) -> str:
    if least_years >= MONTHS_BELOW_YEARS:
        return str(packed.year + int(years))
    return f"{packed + timedelta(days=365.25 * years):%Y-%m}"


def quality_years(line: AgreedLine) -> str:
    """How many years the food is at its best: `30+`, `10 to 30+`, `20`."""
    low, high = (
        f"{LONGEST_YEARS:.0f}+" if years >= LONGEST_YEARS else f"{years:g}"
        for years in (line.quality_years_low, line.quality_years_high)
    )
    return low if low == high else f"{low} to {high}"


def food_title(name: str) -> str:
    """A food's name as a label or a table begins with it: `Hard wheat, whole kernels`."""
    return capital(name)


def allergen_words(allergens: tuple[str, ...]) -> str:
    """Name what somebody may be allergic to; empty where nothing is."""
    return f"Contains: {', '.join(allergens)}" if allergens else ""


def _label(session: SessionState, line: AgreedLine, pouch: Pouch, measures: Measures) -> LabelText:
    mass_g = net_mass_g(session, line, pouch)
    mean = "" if pouch.net_mass_g is not None else "about "
    packed = packed_on(pouch)
    best = best_quality(line, packed)
    name = identity(session, pouch.number)
    return LabelText(
        pouch=pouch.number,
        food=food_title(line.food_name),
        mass=f"{mean}{measures.both_masses(mass_g, weighed=not mean)}",
        packed=f"Packed {packed}",
        best_quality=f"Best quality until {best}",
        identity=f"Pouch {name}",
        lot=f"Lot {line.lot}",
        pail=f"Pail {pouch.pail}" if pouch.pail else "",
        absorbers=absorber_words(line, pouch),
        allergens=allergen_words(line.allergens),
        caution=" ".join((*opener_words(session, line, pouch), label_caution(line))).strip(),
        advice=_advice(absorbers_in(line, pouch).total()),
        code="\n".join(
            (
                f"POUCH {name}",
                f"{_coded(line.food_name)} {mean.upper()}{mass_g:.0f} G",
                f"PACKED {packed}",
                f"BEST UNTIL {_coded(best)}",
                f"LOT {line.lot}",
                *dict.fromkeys(each.code for each in departures(session, line, pouch) if each.code),
            )
        ),
    )


def _coded(words: str) -> str:
    """Words as a code says them: in the few signs that it holds two to the room of three."""
    return words.upper().replace("–", "-").replace(",", "")


def opener_words(session: SessionState, line: AgreedLine, pouch: Pouch) -> tuple[str, ...]:
    """What whoever opens a pouch is to look for, as it was not treated as advised."""
    told = departures(session, line, pouch)
    return tuple(dict.fromkeys(each.opener for each in told if each.opener))


def label_caution(line: AgreedLine) -> str:
    """What whoever opens a pouch has to mind; empty where there is nothing."""
    said = line.caution if line.label_caution is None else line.label_caution
    return f"{SEALED_AGAINST_ADVICE} {said}".strip() if line.never else said


def absorber_words(line: AgreedLine, pouch: Pouch | None = None) -> str:
    """Say what is planned for each pouch, or lies in `pouch`: `1 × 200 cc absorber`."""
    found = Counter(line.absorbers_cc) if pouch is None else absorbers_in(line, pouch)
    if not found:
        return "No absorber"
    parts = [f"{count} × {rating} cc" for rating, count in sorted(found.items(), reverse=True)]
    return f"{' + '.join(parts)} absorber{'s' if found.total() > 1 else ''}"


def _advice(absorbers: int) -> str:
    if not absorbers:
        return ""
    return ADVICE if absorbers == 1 else ADVICE_ON_MORE
