"""What happened, and what may happen next: commands, facts, the rules between them, the fold.

May import: planning, physics, catalog, settings, units, instants. Pure: no clock, no file, no Qt.
"""
