"""Which pouches may have no absorber, since more were left of their round than reckoned."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.session.pouch import Pouch
from packdesk.session.state import Round, SessionState


@dataclass(frozen=True, slots=True)
class InDoubt:
    """`round_.over` of `pouches` may have no absorber, until they were felt for it."""

    round_: Round
    pouches: tuple[Pouch, ...]

    @property
    def numbers(self) -> tuple[int, ...]:
        """The pouches by number."""
        return tuple(pouch.number for pouch in self.pouches)


def in_doubt(session: SessionState) -> tuple[InDoubt, ...]:
    """The rounds of which more absorbers were left than reckoned, with the pouches they went into.

    Only what is in work counts; a round none of whose pouches are is in no doubt.
    """
    found = (
        InDoubt(round_, served_by(session, round_.round))
        for _, round_ in sorted(session.rounds.items())
        if round_.over
    )
    return tuple(each for each in found if each.pouches)


def served_by(session: SessionState, round_: int) -> tuple[Pouch, ...]:
    """The pouches in work that have absorbers of a round in them, by number."""
    return tuple(
        pouch
        for pouch in session.working_pouches()
        if any(placed.round == round_ for placed in pouch.placed)
    )
