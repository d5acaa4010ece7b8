"""Sets labels and records on paper, and a calendar file: what the screen says, to take along.

May import: desk and everything below. The only room that speaks reportlab
and icalendar; import it late.
"""
