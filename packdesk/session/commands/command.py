"""What every command is."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Command:
    """An order; its subclasses are named in the imperative."""
