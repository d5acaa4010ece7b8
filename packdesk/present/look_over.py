"""What to look for in a lot that comes in, and what follows from it."""

from __future__ import annotations

RECEIVE = "Look at what you bought, weigh it, enter it."
LOOK_AGAIN = "Look at the lot again, and enter what you see."

LOOK_OVER = (
    "Look for live insects, webbing, damp and a torn sack; write down what you see.",
    "Insects are a matter of quality: keep the lot apart, and the cold sees to them.",
    "What is damp, musty or mouldy does not come in.",
)
