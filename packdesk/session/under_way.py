"""What is still under way in a session, so that nothing that waits is closed away unseen."""

from __future__ import annotations

from packdesk.sentences import joined
from packdesk.session.numbers import listed
from packdesk.session.state import SessionState


def under_way(session: SessionState) -> tuple[str, ...]:
    """Say each thing that still waits for a hand: loads by where they are, pouches, pails."""
    cold = [load.load for load in session.loads.values() if load.taken_out is None]
    warming = [
        load.load
        for load in session.loads.values()
        if load.taken_out is not None and load.uncovered is None
    ]
    unsealed = [pouch.number for pouch in session.working_pouches() if not pouch.gas_tight]
    lidless = [pail.pail for pail in session.pails.values() if pail.pouches and not pail.lidded]
    return (
        *([f"{_named('Load', cold)} in the freezer."] if cold else []),
        *([f"{_named('Load', warming)} taken out and not opened yet."] if warming else []),
        *([f"{listed(unsealed)} without a seam all along."] if unsealed else []),
        *([f"{_named('Pail', lidless)} without a lid."] if lidless else []),
    )


def _named(what: str, names: list[str]) -> str:
    """Start a sentence about several of a kind: `Load A is`, `Loads A, B and C are`."""
    one = len(names) == 1
    return f"{what}{'' if one else 's'} {joined(names)} {'is' if one else 'are'}"
