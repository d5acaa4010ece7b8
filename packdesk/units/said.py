"""Turns a plain float into text with its unit, and with no more digits than are known."""

from __future__ import annotations

from math import floor, isfinite, log10

from packdesk.units.kinds import KINDS, MINUS, NO_BREAK_SPACE, Dimension, System, Unit

_OUNCE = KINDS[Dimension.MASS].units["oz"]


def say(value: float, dimension: Dimension, system: System, known_to: float) -> str:
    """`value` (in the base unit of `dimension`) as text, such as "1.25 kg", "2 lb 12 oz", "−18 °C".

    `known_to` (above 0, in the base unit; for temperatures a difference) is how finely the value
    is known: no digit is shown that stands for less. Raises `ValueError` for what is no number.
    """
    if not (isfinite(value) and isfinite(known_to) and known_to > 0):
        raise ValueError(f"cannot say {value!r} known to {known_to!r}")
    kind = KINDS[dimension]
    symbols = kind.shown[system]
    settled = abs(round(value / known_to) * known_to)
    symbol = next((each for each in symbols if settled >= kind.units[each].size), symbols[-1])
    if symbol == "lb" and known_to <= _OUNCE.size:
        return _say_pounds(value, known_to)
    unit = kind.units[symbol]
    return _written(unit.from_base(value), _places(unit, known_to)) + NO_BREAK_SPACE + symbol


def _say_pounds(mass_g: float, known_to_g: float) -> str:
    """A mass of at least a pound in pounds and ounces, rounded before it is split."""
    places = _places(_OUNCE, known_to_g)
    pounds, ounces = divmod(round(abs(mass_g) / _OUNCE.size, places), 16)
    sign = MINUS if mass_g < 0 else ""
    return (
        f"{sign}{pounds:.0f}{NO_BREAK_SPACE}lb{NO_BREAK_SPACE}"
        f"{_written(ounces, places)}{NO_BREAK_SPACE}oz"
    )


def _places(unit: Unit, known_to: float) -> int:
    """How many decimals of `unit` may be shown; below 0, how many zeros must end the figure."""
    return floor(log10(unit.size / known_to) + 1e-9)


def _written(number: float, places: int) -> str:
    text = f"{round(number, places):.{max(places, 0)}f}"
    if float(text) == 0:
        text = text.removeprefix("-")
    return text.replace("-", MINUS)
