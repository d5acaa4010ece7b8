"""The plain rule of the cold treatment: how cold a load's core is to be, and for how long.

It stands apart from the doses so that what only names it loads no numpy.
"""

from __future__ import annotations

RULE_AT_C = -15.0
RULE_HELD_H = 72.0
"""Extension services advise three to seven days at -18 °C counted from loading (HGA-00062, three to
four; a column of 2021, three to seven); counted from the core instead, at -15 °C or below for 72
hours, it is our proposal."""
