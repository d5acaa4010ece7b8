"""PackDesk: plan, time, count, label and record the putting-up of dry staples for decades.

The rooms and their order are drawn in DEVELOPERS.md; each room's first two lines say what it
answers and what it may import.
"""

__version__ = "0.1.0"
