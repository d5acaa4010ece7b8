"""The edge between text and plain floats in the unit their name says.

May import: nothing of the program. pint is spoken here only, and loaded when first needed.
"""

from __future__ import annotations

from packdesk.units.balance import figure_of_line
from packdesk.units.kinds import MINUS, NO_BREAK_SPACE, Dimension, System
from packdesk.units.pints import convert, registry
from packdesk.units.said import say
from packdesk.units.typed import NotUnderstood, parse

__all__ = [
    "MINUS",
    "NO_BREAK_SPACE",
    "Dimension",
    "NotUnderstood",
    "System",
    "convert",
    "figure_of_line",
    "parse",
    "registry",
    "say",
]
