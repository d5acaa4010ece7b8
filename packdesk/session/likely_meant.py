"""What was likely meant by a temperature that cannot be so: the other scale, or a sign left out."""

from __future__ import annotations

from packdesk.units import Dimension, System, say


def as_read(temp_c: float, units: str) -> str:
    """Say a temperature as a thermometer shows it: with tenths only where there are any."""
    tenths, whole = (
        say(temp_c, Dimension.TEMPERATURE, System(units), known_to_k) for known_to_k in (0.05, 0.5)
    )
    return whole if ".0" in tenths else tenths


def in_other_scale(temp_c: float, units: str) -> float:
    """What the figure that stands for `temp_c` would be (°C) if the other scale were meant."""
    if System(units) is System.METRIC:
        return (temp_c - 32.0) / 1.8
    return temp_c * 1.8 + 32.0


def likely_meant(temp_c: float, low_c: float, high_c: float, units: str) -> str:
    """What was likely meant by a figure that should lie between two: its other unit, its sign."""
    other_c = in_other_scale(temp_c, units)
    metric = System(units) is System.METRIC
    typed = f"{_number(temp_c)} °F" if metric else f"{_number(other_c)} °C"
    said = say(other_c, Dimension.TEMPERATURE, System(units), 0.5)
    if low_c <= other_c <= high_c:
        return f"{typed} is {said}; was the thermometer in {_SCALES[typed[-1]]}?"
    minus_c = -temp_c if metric else (-(temp_c * 1.8 + 32.0) - 32.0) / 1.8
    if low_c <= minus_c <= high_c:
        return f"Was {say(minus_c, Dimension.TEMPERATURE, System(units), 0.5)} meant?"
    return ""


_SCALES = {"F": "Fahrenheit", "C": "Celsius"}


def _number(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0").replace("-", "−")
