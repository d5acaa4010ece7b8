"""Labels and their sheets, in words."""

from __future__ import annotations

from packdesk.present.measures import Measures
from packdesk.present.words.saying import words_of
from packdesk.session import facts as f
from packdesk.session.numbers import named


@words_of.register
def _(fact: f.LabelsMade, measures: Measures) -> str:
    again = "made again" if fact.reprint else "made"
    what = "Labels with numbers alone" if fact.line else "Labels"
    return f"{what} {again} for {named(fact.pouches)}, to be printed"


@words_of.register
def _(fact: f.LabelsPrinted, measures: Measures) -> str:
    again = "printed again" if fact.reprint else "printed"
    return f"Labels {again} for {named(fact.pouches)}"


@words_of.register
def _(fact: f.NumberLabelsPrinted, measures: Measures) -> str:
    again = "printed again" if fact.reprint else "printed"
    return f"Numbers alone {again} on labels for {named(fact.pouches)}, before filling"


@words_of.register
def _(fact: f.StockSheetUsed, measures: Measures) -> str:
    places = "1 place" if fact.cells == 1 else f"{fact.cells} places"
    return f"{places} used on the sheet of labels {fact.stock} on top"
