"""Every pouch as a row of plain values, for a spreadsheet of the person's own."""

from __future__ import annotations

import csv
from io import StringIO

from packdesk.instants import local
from packdesk.present.label_text import absorber_words, best_range, identity, packed_on
from packdesk.session.departures import departures
from packdesk.session.net_mass import net_mass_g
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState
from packdesk.session.verdicts import verdict

COLUMNS = (
    "session", "pouch", "food", "lot", "loads", "net_mass_g", "weighed", "packed",
    "best_until_least", "best_until_most", "absorbers", "absorber_verdict", "oxygen_need_cc",
    "absorber_low_cc", "state", "pail", "last_seal_check", "seal", "allergens", "set_aside_for",
    "departures",
)  # fmt: skip
"""The header; figures carry their unit in its name, dates are ISO 8601."""

_FORMULA_SIGNS = ("=", "+", "-", "@", "＝", "＋", "－", "＠", "\t", "\r", "\n")
"""What begins a formula; the wide ones of East Asian keyboards do so in some spreadsheets too."""


def pouch_rows(session: SessionState) -> tuple[tuple[str, ...], ...]:
    """A row for every pouch, by number; as many cells as `COLUMNS`."""
    return tuple(_row(session, pouch) for _, pouch in sorted(session.pouches.items()))


def pouch_csv(session: SessionState) -> str:
    """The pouches as comma-separated values with a header, lines ended as RFC 4180 wants.

    A text that a spreadsheet would take for a formula is led by an apostrophe.
    """
    out = StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for row in pouch_rows(session):
        writer.writerow([_guarded(cell) for cell in row])
    return out.getvalue()


def _row(session: SessionState, pouch: Pouch) -> tuple[str, ...]:
    line = session.plan.line(pouch.line) if session.plan is not None else None
    found = verdict(line, pouch, session.plan) if line is not None else None
    packed = packed_on(pouch)
    least, most = best_range(line, packed) if line is not None else ("", "")
    last = pouch.checks[-1] if pouch.checks else None
    return (
        session.name,
        identity(session, pouch.number),
        line.food_name if line is not None else "",
        line.lot if line is not None else "",
        ", ".join(pouch.loads),
        f"{net_mass_g(session, line, pouch):.0f}" if line is not None else "",
        "yes" if pouch.net_mass_g is not None else "no",
        packed.isoformat(),
        least,
        most,
        absorber_words(line, pouch) if line is not None else "",
        str(found.verdict) if found is not None else "",
        f"{found.need_cc:.0f}" if found is not None else "",
        f"{found.low_cc:.0f}" if found is not None else "",
        "emptied" if pouch.emptied else str(pouch.stage),
        pouch.pail,
        local(last.at, last.utc_offset_min).date().isoformat() if last is not None else "",
        str(last.verdict) if last is not None else "",
        ", ".join(line.allergens) if line is not None else "",
        pouch.aside,
        "; ".join(each.words for each in departures(session, line, pouch)) if line else "",
    )


def _guarded(cell: str) -> str:
    return f"'{cell}" if cell.startswith(_FORMULA_SIGNS) else cell
