"""The mass in a line that a balance sends: its marks are read, its figure and unit handed on.

That a balance may send marks of two letters or one before or after the figure (at rest, gross,
net, not at rest, overload) is common practice, no source.
"""

from __future__ import annotations

import re

from packdesk.units.typed import NotUnderstood

AT_REST = frozenset({"ST", "S", "GS", "G", "GR", "GROSS", "NT", "N", "NET"})
"""Marks of a figure that can be taken: at rest, gross, net."""
NOT_AT_REST = frozenset({"US", "SD", "D", "?"})
NOT_A_FIGURE = frozenset({"OL", "OF", "UL"})
"""Marks of a pan that carries more, or less, than the balance can weigh."""
TARE = frozenset({"T", "TR", "PT", "TARE"})

_LINE = re.compile(
    r"(?P<head>[^\d+−–-]*)(?P<figure>[+−–-]?\s*[\d.,]*\d[\d.,]*\s*(?P<unit>[^\W\d_]*))(?P<tail>.*)",
    re.DOTALL,
)
_MARK = re.compile(r"[^\W\d_]+|\?")


def figure_of_line(text: str) -> str:
    """The figure with its unit in what a balance sent; `text` itself where it has no marks.

    Raises `NotUnderstood` for a line that says that it is no mass, or whose marks are not known.
    """
    line = _LINE.fullmatch(text)
    if line is None:
        _look_at(_MARK.findall(text), text)
        return text
    unit = line["unit"].upper()
    marks = _MARK.findall(line["head"]) + _second_unit_left_out(line["tail"])
    figure = line["figure"]
    if unit in AT_REST - {"G"} or unit in NOT_AT_REST:
        marks.append(unit)
        figure = figure[: -len(unit)]
    if not marks:
        return text if not line["head"].strip(" ,;:") else figure
    _look_at(marks, text)
    unknown = [mark for mark in marks if mark.upper() not in AT_REST]
    if unknown:
        raise NotUnderstood(
            f"“{text.strip()}” has “{unknown[0]}”, which is no known mark of a scale. Let the "
            "scale send its figure and unit alone, or type the mass."
        )
    return figure


def _second_unit_left_out(tail: str) -> list[str]:
    """The marks after a figure; none where another figure follows, as in 2 lb 8 oz."""
    return [] if re.search(r"\d", tail) else _MARK.findall(tail)


def _look_at(marks: list[str], text: str) -> None:
    said = {mark.upper() for mark in marks}
    sent = f"The scale sent “{' '.join(text.split())}”"
    if said & NOT_AT_REST:
        raise NotUnderstood(f"{sent}: not at rest yet. Wait until it stands still, then send.")
    if said & NOT_A_FIGURE:
        raise NotUnderstood(f"{sent}: more or less than it can weigh. Look at the pan, send again.")
    if said & TARE:
        raise NotUnderstood(f"{sent}: its tare, not a mass. Put the pouch on, then send.")
