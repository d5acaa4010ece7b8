"""After the iron: how much goes into a pail, liners on their own, what changed by itself."""

from __future__ import annotations

from packdesk.present.chosen import Chosen
from packdesk.present.work import work_card
from packdesk.present.work_after import PAIL_HOLDS_L, turned_soft
from packdesk.session.commands import CheckSeals, StowPouches
from packdesk.session.terms import SealVerdict, Stage
from tests.script import SEALED, Script, tell


def card(told: Script):
    """The work after the iron as it stands."""
    return work_card(Stage.AFTER, told.desk.state, Chosen(), told.desk.now())


def test_no_more_goes_into_a_pail_than_it_takes() -> None:
    """Every pail offered holds what a pail takes, and all pouches find a place."""
    told = tell(SEALED)
    line = told.session.plan.lines[0]
    each_l = (line.fill_mass_g / line.bulk_density_g_per_cc + line.residual_gas_cc) / 1000.0
    offered = card(told).main.command
    assert isinstance(offered, StowPouches)
    assert 0 < len(offered.pouches) * each_l <= PAIL_HOLDS_L


def test_what_was_firm_and_is_soft_has_let_air_in() -> None:
    """Only a pouch that changed is called a leak, and setting it aside is offered."""
    told = tell(f"{SEALED}; stow 1-8 in pail 1; lid pail 1; +25 h")
    told.desk.submit(CheckSeals((1, 2), SealVerdict.TIGHT))
    told.desk.submit(CheckSeals((3,), SealVerdict.SOFT))
    assert turned_soft(told.session) == ()
    told.do("+7 d")
    told.desk.submit(CheckSeals((2, 3), SealVerdict.SOFT))
    assert [pouch.number for pouch in turned_soft(told.session)] == [2]
    said = card(told)
    assert said.evidence[0].startswith("Air got into pouch 2: firm before, soft now.")
    assert "aside" in {control.form for control in said.seconds}
