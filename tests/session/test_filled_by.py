"""What a change of the plan leaves alone: the lines that pouches were filled by."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.admit import objection
from packdesk.session.filled_by import settled
from packdesk.session.lacking import absorbers_in
from packdesk.session.net_mass import net_mass_g
from packdesk.session.still_to_come import still_to_come
from tests.script import SEALED, TREATED, tell


@pytest.mark.parametrize(
    ("steps", "count", "mass_g"),
    [
        ("fill 3", 3, 3000.0),
        ("fill 1 at 900 g; fill 1 at 950 g; fill 1 at 1000 g; fill 1", 4, 3800.0),
        ("fill 3; lose 200 g: spilled", 3, 3200.0),
        ("fill 3; set aside 3: torn", 2, 3000.0),
        ("fill 3; empty 3: torn", 2, 2000.0),
    ],
)
def test_a_settled_line_has_what_its_pouches_took(steps: str, count: int, mass_g: float) -> None:
    """The line ends with what is filled: no pouch is to come, no food left, no mass told anew."""
    told = tell(f"{TREATED}; {steps}")
    line = told.session.plan.lines[0]
    held = {p.number: net_mass_g(told.session, line, p) for p in told.session.pouches.values()}

    found = settled(told.session, line)

    assert (found.count, found.mass_g) == (count, pytest.approx(mass_g))
    told.desk.submit(c.AgreePlan((found,), False, 300.0, 21.0))
    assert told.session.plan.lines == (found,)
    coming = still_to_come(told.session, found)
    assert (coming.to_fill, coming.more) == (0, 0)
    assert held == {
        p.number: net_mass_g(told.session, found, p) for p in told.session.pouches.values()
    }


def test_an_emptied_line_may_be_planned_anew() -> None:
    """Where every pouch was emptied again nothing holds the line to its pouch."""
    told = tell(f"{TREATED}; fill 2; empty 1-2: too small; agree wheat 4 x 2 kg")
    assert told.session.plan.lines[0].fill_mass_g == 2000.0


def test_a_plan_on_record_is_taken_as_it_is() -> None:
    """An older record that told filled pouches otherwise loads; a label says what went in."""
    told = tell(SEALED)
    line = replace(told.session.plan.lines[0], fill_mass_g=1700.0, absorbers_cc=(300,))
    fact = f.PlanAgreed(lines=(line,), numbered=False, elevation_m=0.0, packing_temp_c=21.0)

    assert not objection(told.desk.state, fact, told.desk.now().utc)
    assert absorbers_in(line, told.session.pouches[1]) == {200: 1}


def test_a_plan_that_pouches_were_filled_by_is_not_voided_for_another() -> None:
    """Without it the plan before would tell of pouches that were never filled by it."""
    told = tell(f"{TREATED}; agree wheat 4 x 2 kg")
    newer = told.last(f.PlanAgreed).id
    told.do("fill 1")

    refused = told.desk.submit(c.VoidFact(newer, "mistaken"))

    assert "Change the plan instead" in refused.sentence
    told.do("undo")
    told.desk.submit(c.VoidFact(newer, "mistaken"))
    assert told.session.plan.lines[0].fill_mass_g == 1000.0
