"""Turns a quantity that a person typed into a plain float, or says kindly why not."""

from __future__ import annotations

import re
import unicodedata
from difflib import get_close_matches

from packdesk.units.kinds import KINDS, MINUS, SMALLER_PART, SPELLINGS, Dimension, Unit


class NotUnderstood(ValueError):
    """What was typed cannot be taken; the message says what, which figure, and the cure."""


_TERM = re.compile(
    r"""\s*(?P<sign>[-+−–]?)\s*(?P<number>[\d.,]*\d[\d.,]*)\s*
    (?P<unit>cm3|°\s*[^\W\d_]+|[^\W\d_]+|′′|["'′%])?(?:[.,]{1,2}(?!\d))?\s*""",
    re.VERBOSE,
)
_GROUPED = re.compile(r"(?<=\d)\u202f(?=\d{3}(?!\d))")
"""The narrow space that some languages put between thousands, and between nothing else."""

_LOOK_ALIKES = str.maketrans({"º": "°", "˚": "°", "٫": "."})


def parse(
    text: str,
    dimension: Dimension,
    default_unit: str,
    within: tuple[float, float] | None = None,
) -> float:
    """The quantity that a person typed, in the base unit of `dimension`.

    `default_unit` is taken where no unit is typed. `within` are the least and most allowed, in
    the base unit; without it the usual bounds of the dimension hold. A comma and a point both
    mark decimals; what could be read as tenfold or thousandfold is refused, not guessed. Raises
    `NotUnderstood`.
    """
    kind = KINDS[dimension]
    bounds = within or (kind.least, kind.most)
    typed = _tidied(text)
    terms = _terms(typed, dimension)
    if len(terms) > 1:
        large, value = _two_parts(typed, terms, dimension)
        return _within(typed, value, bounds, kind.units[large], large)
    sign, number, word = terms[0].group("sign", "number", "unit")
    below_zero = sign not in ("", "+")
    if below_zero and not kind.signed:
        raise NotUnderstood(
            f"“{typed}” is below zero. Write {dimension.with_article} without a minus."
        )
    symbol = _symbol(word, typed, dimension) if word else default_unit
    unit = kind.units[symbol]
    shown = _number(number, typed) * (-1 if below_zero else 1)
    if _may_be_grouped(number) and bounds[0] <= unit.to_base(shown * 1000) <= bounds[1]:
        decimals = f"{shown:g}" if number.endswith("0") else f"{shown}0"
        raise NotUnderstood(
            f"“{typed}” can mean {decimals} {symbol} or {shown * 1000:.0f} {symbol}. "
            "Write it one of these ways."
        )
    return _within(typed, unit.to_base(shown), bounds, unit, symbol)


def _within(
    typed: str, value: float, bounds: tuple[float, float], unit: Unit, symbol: str
) -> float:
    least, most = bounds
    if value > most:
        beyond, bound = "more than can be here: at most", most
    elif value < least:
        beyond, bound = "less than can be here: at least", least
    else:
        return value
    figure = f"{unit.from_base(bound):.4g}".replace("-", MINUS)
    raise NotUnderstood(
        f"“{typed}” is {beyond} {figure} {symbol}. Check the unit and the decimal mark."
    )


def _tidied(text: str) -> str:
    """`text` in ordinary digits and letters, one space at most between words."""
    plain = _GROUPED.sub("", text).translate(_LOOK_ALIKES)
    plain = unicodedata.normalize("NFKC", plain)
    digits = (str(unicodedata.decimal(each)) if each.isdecimal() else each for each in plain)
    return " ".join("".join(digits).split())


def _terms(typed: str, dimension: Dimension) -> list[re.Match[str]]:
    """The numbers of `typed`, each with its unit; at least one."""
    wanted = f"Write {dimension.with_article}, such as {KINDS[dimension].examples}"
    if not typed:
        raise NotUnderstood(f"Nothing is typed. {wanted}.")
    terms = []
    position = 0
    while position < len(typed):
        term = _TERM.match(typed, position)
        if term is None:
            raise NotUnderstood(
                f"“{typed}” is not {dimension.with_article}. {wanted}; fractions as decimals."
            )
        terms.append(term)
        position = term.end()
    return terms


def _symbol(word: str, typed: str, dimension: Dimension) -> str:
    """The symbol of the unit spelt `word`, if it is one of `dimension`."""
    units = KINDS[dimension].units
    folded = word.replace(" ", "").casefold()
    symbol = SPELLINGS.get(folded, "")
    if symbol in units:
        return symbol
    for other, kind in KINDS.items():
        if symbol in kind.units:
            raise NotUnderstood(
                f"“{typed}” is {other.with_article}, but {dimension.with_article} is wanted, "
                f"such as {KINDS[dimension].examples}."
            )
    known = [spelling for spelling, meant in SPELLINGS.items() if meant in units]
    close = get_close_matches(folded, known, n=1)
    cure = f"Did you mean {SPELLINGS[close[0]]}?" if close else f"Known are {', '.join(units)}."
    raise NotUnderstood(f"“{typed}” has “{word}”, which is not a unit of {dimension}. {cure}")


def _number(number: str, typed: str) -> float:
    if number.count(".") + number.count(",") > 1:
        raise NotUnderstood(
            f"“{typed}” has more than one decimal mark. Write thousands without marks, "
            "such as 1250.5."
        )
    return float(number.replace(",", "."))


def _may_be_grouped(number: str) -> bool:
    """Whether the mark in `number` may as well stand between thousands, as in 1,250."""
    return re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", number) is not None


def _two_parts(typed: str, terms: list[re.Match[str]], dimension: Dimension) -> tuple[str, float]:
    """The larger unit of a quantity in two units, such as 2 lb 8 oz, and its value."""
    words = [term["unit"] for term in terms if term["unit"] and not term["sign"]]
    symbols = [_symbol(word, typed, dimension) for word in words]
    if len(words) != len(terms) or len(terms) != 2 or SMALLER_PART.get(symbols[0]) != symbols[1]:
        raise NotUnderstood(
            f"“{typed}” has more than one number. Write one number and one unit, such as "
            f"{KINDS[dimension].examples}."
        )
    large, small = (KINDS[dimension].units[symbol] for symbol in symbols)
    count, rest = (_number(term["number"], typed) for term in terms)
    full = large.size / small.size
    if count % 1 or rest >= full:
        raise NotUnderstood(
            f"“{typed}” is unclear: before {symbols[1]}, {symbols[0]} must be whole, and "
            f"{symbols[1]} below {full:g}. Write it in one unit."
        )
    return symbols[0], large.to_base(count) + small.to_base(rest)
