"""Labels with numbers alone, made before filling: for which foods, and which numbers."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.present.load_view import short_food
from packdesk.session.numbering import numbers_by_line, numbers_to_print
from packdesk.session.numbers import named
from packdesk.session.state import SessionState


@dataclass(frozen=True, slots=True)
class LineNumbers:
    """The numbers still to come on a plan line: `to_print` lie on no label yet."""

    line: int
    food: str
    to_come: tuple[int, ...]
    to_print: tuple[int, ...]


def lines_with_numbers(session: SessionState) -> tuple[LineNumbers, ...]:
    """The plan lines with pouches still to be filled; none where pouches are only counted."""
    if session.plan is None or not session.plan.numbered:
        return ()
    coming = numbers_by_line(session)
    return tuple(
        LineNumbers(
            line.line, short_food(line.food_name), numbers, numbers_to_print(session, line.line)
        )
        for line in session.plan.lines
        if (numbers := coming[line.line])
    )


def wanted_numbers(
    session: SessionState, line: int, named_ones: tuple[int, ...]
) -> tuple[tuple[int, ...], bool]:
    """Which numbers to print, and whether one of them is printed again.

    Without `named_ones` all that lie on no label yet. Raises `ValueError`, in words, for numbers
    that no pouch still to come on this line will have, and when there are none to print.
    """
    found = next((each for each in lines_with_numbers(session) if each.line == line), None)
    if found is None:
        raise ValueError("No pouch of this food is still to be filled. Choose another food.")
    strange = [number for number in named_ones if number not in found.to_come]
    if strange:
        raise ValueError(
            f"Pouch {strange[0]} is not one still to be filled with {found.food}. "
            f"Those are {named(found.to_come)}."
        )
    wanted = named_ones or found.to_print
    if not wanted:
        raise ValueError(
            "All of them lie on labels already. Write the numbers to print again, such as 3, 5."
        )
    return wanted, any(number not in found.to_print for number in wanted)
