"""How liners are spoken of: by their own name, with what they weigh before anybody lifts one."""

from __future__ import annotations

from collections.abc import Iterable

from packdesk.present.measures import Measures
from packdesk.present.pail_card import lifting_note
from packdesk.session.figures import AgreedLine
from packdesk.session.numbers import named
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState


def called(line: AgreedLine | None, numbers: Iterable[int]) -> str:
    """Say which pouches of a plan line: `pouches 1 to 8`, but `liner 9` where they are liners."""
    words = named(numbers)
    if line is None or not line.liner:
        return words
    return words.replace("pouches", "liners", 1).replace("pouch", "liner", 1)


def line_of(session: SessionState, pouch: Pouch) -> AgreedLine | None:
    """The plan line that a pouch was filled for."""
    return session.plan.line(pouch.line) if session.plan is not None else None


def lifting_caution(line: AgreedLine, measures: Measures) -> str:
    """What to mind before a filled liner is lifted out of its pail."""
    return (
        f"A filled liner holds {measures.mass(line.fill_mass_g)}. "
        f"{lifting_note(line.fill_mass_g)} Or leave it in its pail: it need not come out. "
        "An open liner is a large mouth for the air; fold it over at once."
    )
