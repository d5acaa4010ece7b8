"""The plot of a load as rows."""

from __future__ import annotations

import pytest

from packdesk.instants import day_and_time, time_of_day
from packdesk.present.core_curve import core_curve
from packdesk.present.core_table import CORE_HEADER, core_rows
from packdesk.present.curves import CoreRow
from packdesk.present.measures import Measures
from tests.script import Script, tell

OFFSET_MIN = tell("").desk.now().utc_offset_min
FROZEN = "receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat"


def rows(told: Script, units: str = "metric", **how: bool) -> tuple[CoreRow, ...]:
    """The table of load A."""
    measures = Measures(units)
    curve = core_curve(told.session, told.session.loads["A"], told.desk.now(), measures)
    return core_rows(curve, measures, **how)


@pytest.fixture(scope="module")
def warming() -> Script:
    """A load read in the freezer, then out in a room whose humidity was read."""
    return tell(f"{FROZEN}; +20 h; core A -6 C; freezer -19 C; +100 h; out A 21 C 50 %; +6 h")


def plain(text: str) -> str:
    """The text with plain spaces."""
    return text.replace("\u00a0", " ")


def test_every_time_that_matters_has_a_row_in_order(warming: Script) -> None:
    """In, readings, cold, out, room, now and the lid, one after the other."""
    found = rows(warming)

    assert [row.at for row in found] == sorted(row.at for row in found)
    starts = (
        "into the freezer", "core read −6 °C", "freezer read −19 °C", "core at −15 °C",
        "out of the freezer", "now", "all food above",
    )  # fmt: skip
    for row, start in zip(found, starts, strict=True):
        assert plain(row.what).startswith(start)
        assert len(row.cells) == len(CORE_HEADER)


def test_what_is_only_reckoned_says_its_band(warming: Script) -> None:
    """The lid time stands between its early and its late end."""
    thaw = warming.session.loads["A"].thaw
    assert thaw is not None
    assert thaw.lid_off is not None
    lid = rows(warming)[-1]

    assert lid.at == thaw.lid_off.likely
    assert f"between {day_and_time(thaw.lid_off.early, OFFSET_MIN)} and " in lid.what
    assert lid.what.endswith(time_of_day(thaw.lid_off.late, OFFSET_MIN))


def test_each_row_says_core_band_surface_and_air(warming: Script) -> None:
    """Going in, all is as warm as the food was; coming out, the core is the freezer's."""
    first, out = rows(warming)[0], rows(warming)[4]

    assert [plain(cell) for cell in first.cells[2:]] == [
        "21 °C",
        "21 °C",
        "21 °C",
        "freezer −18 °C",
    ]
    assert plain(out.core) == "−19 °C"
    assert plain(out.air) == "room 21 °C"


def test_exactly_one_row_is_now_and_paper_can_go_without(warming: Script) -> None:
    """The row of this moment is marked; a finished record has none, and full dates."""
    assert [row.now for row in rows(warming)].count(True) == 1
    on_paper = rows(warming, dated=True, with_now=False)
    assert not any(row.now for row in on_paper)
    assert on_paper[0].when.startswith("20")


def test_speaks_the_units_of_the_session(warming: Script) -> None:
    """In US units every temperature is in °F."""
    said = " ".join(cell for row in rows(warming, "us") for cell in row.cells)

    assert "°F" in said
    assert "°C" not in said


def test_an_early_opening_says_so_and_why() -> None:
    """The row of the opening carries the reason."""
    told = tell(f"{FROZEN}; +110 h; out A 21 C; +2 h; open A: a mouse; +1 h")

    assert "opened early: a mouse" in [row.what for row in rows(told)]
