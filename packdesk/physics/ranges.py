"""How a physical input outside its range is refused: with its symbol, its value and its range."""

from __future__ import annotations

import math
from typing import overload

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
"""An ensemble of values."""

Quantity = float | Floats
"""One value, or an ensemble of them."""


class OutOfRange(ValueError):
    """A physical input that lies outside the range its formula is good for.

    ``symbol`` is the parameter's name as the formula spells it, ``value`` the offending figure (of
    an ensemble: the first one that offends), ``low`` and ``high`` the inclusive range (either may
    be infinite) and ``unit`` the unit all three are in, empty for a pure number. A view builds its
    own sentence from these; ``str()`` gives a plain one.
    """

    def __init__(self, symbol: str, value: float, low: float, high: float, unit: str = "") -> None:
        super().__init__(symbol, value, low, high, unit)
        self.symbol = symbol
        self.value = value
        self.low = low
        self.high = high
        self.unit = unit

    def __str__(self) -> str:
        unit = f" {self.unit}" if self.unit else ""
        if math.isinf(self.high):
            allowed = f"at least {self.low:g}{unit}"
        elif math.isinf(self.low):
            allowed = f"at most {self.high:g}{unit}"
        else:
            allowed = f"from {self.low:g} to {self.high:g}{unit}"
        return f"{self.symbol} is {self.value:.10g}{unit}; allowed is {allowed}"


@overload
def within(symbol: str, value: float, low: float, high: float, unit: str = "") -> float: ...
@overload
def within(
    symbol: str, value: Quantity, low: Quantity, high: Quantity, unit: str = ""
) -> Quantity: ...
def within(symbol: str, value: Quantity, low: Quantity, high: Quantity, unit: str = "") -> Quantity:
    """Hand back ``value`` if every figure in it lies in ``low`` to ``high``, both included.

    One value comes back as a plain float, an ensemble as a float64 array; a bound may itself be an
    ensemble of the same shape. What is not a number (NaN) is refused like any other figure outside
    the range; an infinite figure is refused even where the range is open on that side.
    """
    figures = np.asarray(value, dtype=np.float64)
    inside = np.isfinite(figures) & (figures >= low) & (figures <= high)
    if not np.all(inside):
        offenders, lows, highs = np.broadcast_arrays(figures, low, high)
        first = int(np.argmin(inside))
        raise OutOfRange(
            symbol, float(offenders.flat[first]), float(lows.flat[first]),
            float(highs.flat[first]), unit,
        )  # fmt: skip
    return figures.item() if figures.ndim == 0 else figures


def plain(result: Quantity) -> Quantity:
    """Hand a single result back as a plain Python float and an ensemble as it is.

    numpy's own scalars would pass for floats until a record tries to write them.
    """
    return result if isinstance(result, np.ndarray) and result.ndim else float(result)
