"""From sacks and a date to a plan: pouches, absorbers, pails, freezer loads and a calendar.

May import: physics, catalog, settings, units, instants.

What cannot be planned comes back as a value with kind words (``plan.Unfit``); a figure that makes
no sense is refused with ``physics.ranges.OutOfRange``. Nothing here is stored: the person agrees to
a plan and the session copies its figures.
"""
