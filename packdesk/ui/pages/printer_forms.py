"""What is measured of a printed alignment page, and how it is read and judged."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from packdesk.desk.ports import Choices
from packdesk.present.printer_trim import PrinterTrim, judge_rulers
from packdesk.settings.chosen import PrinterMeasure
from packdesk.ui.pages.form import HALF, Form
from packdesk.ui.pages.inputs import AtField, TypedInput
from packdesk.ui.theme.theme import Theme
from packdesk.units import NotUnderstood

USUAL_PRINTER = "usual"
"""Stands in a list for the printer that the system takes when none is named."""


@dataclass(frozen=True, slots=True)
class Millimetres:
    """Reads a length measured on paper, in mm, from `least` to `most`, with a sign or without."""

    what: str
    least: float
    most: float

    def __call__(self, text: str) -> float:
        """The millimetres; raises `NotUnderstood`."""
        typed = text.strip().removesuffix("mm").strip()
        bounds = f"Write {self.what} in mm, {self.least:g} to {self.most:g}."
        try:
            found = float(typed.replace("−", "-").replace(",", "."))
        except ValueError:
            raise NotUnderstood(f"“{text.strip()}” is not a length. {bounds}") from None
        if not math.isfinite(found) or not self.least <= found <= self.most:
            raise NotUnderstood(f"{typed} mm cannot be. {bounds}")
        return found


def measured_form(theme: Theme) -> Form:
    """The fields for two rulers and how far the crosses lie off the corners."""
    form = Form(theme, waits=True)
    for name, label, reader, hint in (
        ("across", "Ruler across, mm", Millimetres("the ruler", 50, 200), "such as 100"),
        ("down", "Ruler down, mm", Millimetres("the ruler", 50, 200), "such as 100"),
        ("right", "Crosses too far right, mm", Millimetres("it", -5, 5), "−0.5 is left"),
        ("low", "Crosses too low, mm", Millimetres("it", -5, 5), "−0.5 is too high"),
    ):
        if name == "right":
            form.new_row()
        form.add(name, TypedInput(theme, label, reader, hint=hint), HALF)
    return form


def keep_measured(typed: Mapping[str, Any], printer: str, stock: str, choices: Choices) -> str:
    """Keep what was measured of `printer` with `stock`; answer a sentence about it.

    Raises `AtField` beside a ruler that shows another scale: the lengths are kept, the offset
    stays as it was, and nothing is stretched to make up for it. `Trouble` when it cannot be kept.
    """
    across, down = typed["across"], typed["down"]
    settings = choices.settings
    old = settings.measure(printer, stock)
    moved = old.offset_mm if old is not None else (0.0, 0.0)
    verdict = judge_rulers(across, down)
    if not verdict.true:
        choices.keep(settings.with_measure(PrinterMeasure(printer, stock, across, down, *moved)))
        wrong = "across" if abs(across - 100) >= abs(down - 100) else "down"
        raise AtField(wrong, f"{verdict.sentence} {verdict.cure}")
    try:
        trim = PrinterTrim(printer, stock, *moved).corrected(typed["right"], typed["low"])
        found = PrinterMeasure(printer, stock, across, down, *trim.offset_mm)
    except ValueError as wrong_offset:
        raise AtField("right", str(wrong_offset)) from None
    choices.keep(settings.with_measure(found))
    return f"{verdict.sentence} {moved_words(found)}"


def moved_words(measure: PrinterMeasure) -> str:
    """How far prints are moved for a printer and a stock, in a sentence."""
    right, low = measure.offset_mm
    if not right and not low:
        return "Labels are printed where they belong, without being moved."
    ways = []
    if right:
        ways.append(f"{abs(right):g} mm to the {'right' if right > 0 else 'left'}")
    if low:
        ways.append(f"{abs(low):g} mm {'down' if low > 0 else 'up'}")
    return f"Labels are moved {' and '.join(ways)} on this printer."


def known_words(printer: str, stock: str, choices: Choices) -> str:
    """What is known of a printer with a stock, for the person about to print."""
    measure = choices.settings.measure(printer, stock)
    if measure is None:
        return "No alignment page was measured for this sheet yet: print one on plain paper (A)."
    verdict = judge_rulers(measure.across_mm, measure.down_mm)
    if not verdict.true:
        return f"{verdict.sentence} {verdict.cure}"
    return moved_words(measure)
