"""What nature does: air, pouches, oxygen, absorbers, heat, cold and keeping, as pure functions.

May import numpy, scipy and the foundation (units, instants, resources); never another room.

Numbers are plain floats (or numpy arrays of them) in the unit that the name ends in. Every public
formula's docstring has five parts in one order: what it answers; each symbol with its unit and
allowed range; the source; a worked example from that source or an independent calculation; limits.
An input outside its range is refused with ``ranges.OutOfRange``, never silently clamped.

Provenance in docstrings: a figure is followed by the publication it comes from. "Common practice,
no source" marks a habit of the trade; "from memory" marks a figure of a named publication that
could not be seen again.
"""
