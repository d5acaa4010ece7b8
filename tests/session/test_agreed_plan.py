"""What was worked out, copied for good when a person agrees to it."""

from __future__ import annotations

from msgspec.structs import fields

from packdesk.catalog.read import read_catalog
from packdesk.planning.plan import LineRequest, PlannedLine, Site, plan_line
from packdesk.session.agreed_plan import agreed_line
from packdesk.session.figures import AgreedLine

SHELF = read_catalog()[0]


def test_words_and_choices_of_a_plan_line_are_copied_unchanged() -> None:
    """All that is no measured figure stands in the agreed line as it was offered."""
    request = LineRequest(
        1, SHELF.foods["nonfat_dry_milk"], "lot 1", 5e3, SHELF.pouches["zip-203x254"]
    )
    planned = plan_line(request, SHELF, Site())
    assert isinstance(planned, PlannedLine)

    agreed = agreed_line(planned)

    assert agreed.refill_mass_g is None, "no count was revised yet"
    for name in (field.name for field in fields(AgreedLine) if field.name != "refill_mass_g"):
        offered = getattr(planned, name)
        if not isinstance(offered, float):
            assert getattr(agreed, name) == offered, name
