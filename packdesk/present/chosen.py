"""What the person has picked to look at: a view's own choice, never recorded."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Chosen:
    """The load shown, the plan line in hand, how many pouches the next press means.

    Empty or None: the one whose turn it is. `lots` are those that go into the plan,
    `loads` those that the next pouch is filled from.
    """

    load: str = ""
    line: int | None = None
    count: int | None = None
    lots: tuple[str, ...] | None = None
    loads: tuple[str, ...] = ()
