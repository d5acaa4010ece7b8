"""Pouches as rows for a spreadsheet."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import date
from io import StringIO

import pytest

from packdesk.present.pouch_table import COLUMNS, pouch_csv
from tests.script import SEALED, Script, tell


def _read(told: Script, name: str | None = None) -> list[dict[str, str]]:
    session = told.session if name is None else replace(told.session, name=name)
    return list(csv.DictReader(StringIO(pouch_csv(session), newline="")))


def test_the_load_of_a_pouch_has_its_column() -> None:
    """A pouch that straddles two loads names both in the table."""
    told = tell(
        "receive wheat 2 kg; agree wheat 2 x 1 kg; freeze wheat 1 kg; freeze wheat 1 kg; +120 h;"
        "out A 21 C 50 %; out B 21 C 50 %; +60 h; open A; fill 1; open B; fill 1 from A, B"
    )

    assert [row["loads"] for row in _read(told)] == ["A", "A, B"]


@pytest.fixture(scope="module")
def stowed() -> Script:
    """Eight pouches in a pail; the last one went soft and another was set aside."""
    return tell(f"{SEALED}; stow 1-8 in pail 1; +24 h; check 1-7 snug; check 8 soft")


def test_every_pouch_is_a_row_with_plain_values(stowed: Script) -> None:
    """Figures are figures without units, dates are ISO 8601, words are the record's."""
    rows = _read(stowed)

    assert [row["pouch"] for row in rows] == [f"K7M2-{number:03d}" for number in range(1, 9)]
    first = rows[0]
    assert tuple(first) == COLUMNS
    assert (first["best_until_least"], first["best_until_most"]) == (
        str(date.fromisoformat(first["packed"]).year + 20),
        str(date.fromisoformat(first["packed"]).year + 30),
    )
    assert (first["net_mass_g"], first["weighed"]) == ("1000", "no")
    assert date.fromisoformat(first["packed"]) <= date.fromisoformat(first["last_seal_check"])
    assert (first["state"], first["pail"], first["seal"]) == ("seal_checked", "1", "snug")
    assert rows[7]["seal"] == "soft"
    assert (first["absorber_verdict"], first["oxygen_need_cc"]) == ("enough", "115")
    assert float(first["absorber_low_cc"]) > 115


def test_a_pouch_set_aside_says_why() -> None:
    """Pouches that left the work stay in the table with the reason."""
    told = tell(f"{SEALED}; set aside 2: torn; empty 3: moth")

    rows = _read(told)

    assert [(row["state"], row["set_aside_for"]) for row in rows[1:3]] == [
        ("set_aside", "torn"),
        ("emptied", "moth"),
    ]


@pytest.mark.parametrize(
    "odd", ["=1+1", "+A1", "-2", "@sum", "＝1", "＋A", "－2", "＠sum", "\tx", "\rx", "\nx"]
)
def test_what_looks_like_a_formula_is_kept_as_text(odd: str, stowed: Script) -> None:
    """A name that a spreadsheet would compute is led by an apostrophe, and is otherwise whole."""
    assert _read(stowed, odd)[0]["session"] == f"'{odd}"


@pytest.mark.parametrize("odd", ["Őszi, búza", 'a "b"', "two\nlines", "пшеница"])
def test_commas_quotes_and_any_script_come_back_as_they_were(odd: str, stowed: Script) -> None:
    """Read back as comma-separated values, every text is what it was."""
    assert _read(stowed, odd)[0]["session"] == odd


def test_a_session_without_pouches_has_a_header_alone() -> None:
    """An empty table still says what it would tell."""
    told = tell()

    assert pouch_csv(told.session) == ",".join(COLUMNS) + "\r\n"
