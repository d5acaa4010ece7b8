"""What is put right afterwards: pouches opened again, two that had been mixed up."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

from packdesk.session import facts as f
from packdesk.session.apply.change import applied, each_pouch, in_session, the_session, turned
from packdesk.session.envelope import Entry
from packdesk.session.moments import reading_at
from packdesk.session.pouch import Closure, Pouch
from packdesk.session.state import State


@applied.register
def _(fact: f.PouchesReopened, state: State, entry: Entry) -> State:
    at = reading_at(entry.happened_at, entry.recorded)

    def opened(pouch: Pouch) -> Pouch:
        return replace(
            turned(pouch, at, Closure.OPEN),
            shut=None,
            seal_within_min=0.0,
            sealed=None,
            seams=0,
            gap_left=False,
            drawn_off=False,
            checks=(),
            earlier_checks=(*pouch.earlier_checks, *pouch.checks),
        )

    return each_pouch(state, fact.pouches, opened)


@applied.register
def _(fact: f.PouchesSwapped, state: State, entry: Entry) -> State:
    pouches = dict(the_session(state).pouches)
    first, second = pouches[fact.first], pouches[fact.second]
    pouches[fact.first] = _with_the_record_of(first, second)
    pouches[fact.second] = _with_the_record_of(second, first)
    return in_session(state, pouches=MappingProxyType(pouches))


def _with_the_record_of(pouch: Pouch, other: Pouch) -> Pouch:
    """The pouch with what was noted of the other one while they were filled and shut.

    Its number, its pail and how it felt are its own; a label that says another mass is void.
    """
    alike = (pouch.line, pouch.net_mass_g) == (other.line, other.net_mass_g)
    return replace(
        other,
        number=pouch.number,
        pail=pouch.pail,
        checks=pouch.checks,
        earlier_checks=pouch.earlier_checks,
        labelled=pouch.labelled and alike,
    )
