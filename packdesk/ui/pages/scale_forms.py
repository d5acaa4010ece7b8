"""The forms at the scale: pouches filled, an empty pouch, food lost; and what they may come to."""

from __future__ import annotations

from collections.abc import Mapping

from packdesk.present.filling_words import mass_hint, mass_label
from packdesk.session.admit.filling import MOST_TARE_G
from packdesk.session.figures import AgreedLine
from packdesk.session.state import SessionState
from packdesk.ui.pages.form import HALF, THIRD, WHOLE, Form
from packdesk.ui.pages.inputs import TypedInput
from packdesk.ui.pages.typed import Quantity, Sentence, Whole, usual
from packdesk.ui.theme.theme import Theme
from packdesk.units import Dimension

LIGHT_FILL_G = 5000.0
"""Below this a metric kitchen scale shows grams."""
LEAST_SHARE, MOST_SHARE = 0.25, 2.0
"""A pouch weighing less or more of its agreed mass is a slip in unit or decimal mark."""
LEAST_LOST_G = 1.0


def scale_forms(theme: Theme) -> Mapping[str, Form]:
    """The forms by their names."""
    return {"fill": _fill_form(theme), "tare": _tare_form(theme), "lost": _lost_form(theme)}


def expect_masses(
    forms: Mapping[str, Form], session: SessionState, line: AgreedLine, units: str
) -> None:
    """Bounds that catch a slip in unit or decimal mark, wide enough for any real pouch of `line`.

    What the scale shows may be the food alone or the pouch with it.
    """
    mass = forms["fill"].inputs["mass"]
    mass.box.set_hint(mass_hint(session, line))
    mass.set_label(mass_label(session, line))
    tare_g = session.tares.get(line.pouch, 0.0)
    least_g = min(line.fill_mass_g, line.last_fill_mass_g or line.fill_mass_g) * LEAST_SHARE
    bounds_g = (least_g, line.fill_mass_g * MOST_SHARE + tare_g)
    grams = units == "metric" and line.fill_mass_g < LIGHT_FILL_G
    for form, name, within_g in (
        ("fill", "mass", bounds_g),
        ("lost", "mass", (LEAST_LOST_G, line.mass_g)),
        ("tare", "tare", (0.0, MOST_TARE_G)),
    ):
        quantity = usual(Dimension.MASS, units, within_g)
        if grams:
            quantity = Quantity(Dimension.MASS, "g", within_g)
        forms[form].inputs[name].expect(quantity)


def _fill_form(theme: Theme) -> Form:
    form = Form(theme, stays=True)
    form.add(
        "mass",
        TypedInput(
            theme,
            "Mass in the pouch, if weighed",
            usual(Dimension.MASS, "metric"),
            empty=None,
            counts=True,
        ),
        HALF,
    )
    count = TypedInput(theme, "How many at once", Whole("pouches"), empty=1, hint="1", counts=True)
    form.add("count", count, THIRD)
    return form


def _tare_form(theme: Theme) -> Form:
    form = Form(theme)
    form.add(
        "tare",
        TypedInput(theme, "An empty pouch weighs", usual(Dimension.MASS, "metric"), hint="0"),
        HALF,
    )
    return form


def _lost_form(theme: Theme) -> Form:
    form = Form(theme)
    form.add("mass", TypedInput(theme, "Food lost", usual(Dimension.MASS, "metric")), THIRD)
    why = Sentence("Say what became of it, such as spilled.")
    form.add("reason", TypedInput(theme, "What became of it", why, letters=True), WHOLE - THIRD)
    return form
