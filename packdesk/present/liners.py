"""How liners are spoken of: by their own name, with what they weigh before anybody lifts one."""

from __future__ import annotations

import re
from collections.abc import Iterable

from packdesk.present.measures import Measures
from packdesk.present.pail_card import lifting_note
from packdesk.sentences import capital
from packdesk.session.figures import AgreedLine
from packdesk.session.numbers import named
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState

_POUCH = re.compile(r"\b([Pp])ouch(?:e(s))?\b")


def called(line: AgreedLine | None, numbers: Iterable[int]) -> str:
    """Say which pouches of a plan line: `pouches 1 to 8`, but `liner 9` where they are liners."""
    words = named(numbers)
    if line is None or not line.liner:
        return words
    return as_liners(words)


def called_are(line: AgreedLine | None, numbers: Iterable[int]) -> str:
    """Start a sentence about pouches of a plan line: `Pouches 1 to 8 are`, `Liner 9 is`."""
    words = called(line, numbers)
    verb = "is" if words.startswith(("pouch ", "liner ")) else "are"
    return f"{capital(words)} {verb}"


def named_apart(numbers: Iterable[int], liners: Iterable[int]) -> str:
    """Say which pouches, those of `liners` by their own name: `pouch 3 and liners 9 and 10`."""
    numbers, of_them = tuple(numbers), set(liners)
    pouches = [number for number in numbers if number not in of_them]
    apart = [number for number in numbers if number in of_them]
    told = ([named(pouches)] if pouches else []) + ([as_liners(named(apart))] if apart else [])
    return " and ".join(told)


def as_liners(words: str) -> str:
    """The words with liners in the place of the pouches that they speak of first."""
    return _POUCH.sub(
        lambda found: f"{'L' if found[1] == 'P' else 'l'}iner{found[2] or ''}", words, 1
    )


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
