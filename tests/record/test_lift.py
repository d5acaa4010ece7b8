from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import ClassVar

import pytest

from packdesk.record.book import Book
from packdesk.record.lift import LIFTS as SHIPPED
from packdesk.record.lift import Step, read_fact
from packdesk.session import facts
from packdesk.session.fact import Fact, FactUnreadable, UnknownFact
from tests.record.drafts import SESSION, STATION, draft


class PailWeighed(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """An invented kind in its third version."""

    v: ClassVar[int] = 3
    pail: str
    gross_mass_g: float
    scale: str


class FirstPailWeighed(Fact, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The same kind as it was first written."""

    kind: ClassVar[str] = "pail_weighed"
    number: int
    mass_kg: float


KINDS: dict[str, type[Fact]] = {"pail_weighed": PailWeighed}
LIFTS = {
    "pail_weighed": {
        1: lambda old: {"pail": f"P{old['number']}", "mass_kg": old["mass_kg"]},
        2: lambda old: {
            "pail": old["pail"],
            "gross_mass_g": old["mass_kg"] * 1000,
            "scale": "",
        },
    }
}


def reading(kind: str, v: int, text: str) -> Fact | UnknownFact:
    """Read with the invented kind and its steps."""
    return read_fact(kind, v, text, KINDS, LIFTS)


@pytest.mark.parametrize(
    ("v", "text"),
    [
        (1, '{"number":4,"mass_kg":9.5}'),
        (2, '{"pail":"P4","mass_kg":9.5}'),
        (3, '{"pail":"P4","gross_mass_g":9500.0,"scale":""}'),
    ],
)
def test_every_version_reads_as_the_newest(v: int, text: str) -> None:
    """Content of any version comes back as today's fact, lifted step by step."""
    assert reading("pail_weighed", v, text) == PailWeighed(pail="P4", gross_mass_g=9500.0, scale="")


def test_a_newer_version_stays_as_it_was_written() -> None:
    """A version from the future is unknown, not misread."""
    assert reading("pail_weighed", 4, "{}") == UnknownFact("pail_weighed", 4, "{}")


@pytest.mark.parametrize("text", ['{"mass_kg":9.5}', "[1]", "not JSON", '{"number":1}'])
def test_old_content_that_does_not_fit_is_said(text: str) -> None:
    """Old content that a step cannot take is unreadable, with kind and version named."""
    with pytest.raises(FactUnreadable, match="pail_weighed of version 1 cannot be lifted"):
        reading("pail_weighed", 1, text)


def missing_steps(
    kinds: Mapping[str, type[Fact]], lifts: Mapping[str, Mapping[int, Step]]
) -> list[tuple[str, int]]:
    """Every (kind, version) that was once written and has no step to the next version."""
    return [
        (kind, version)
        for kind, known in kinds.items()
        for version in range(1, known.v)
        if version not in lifts.get(kind, {})
    ]


def test_no_step_is_missing() -> None:
    """Every version of a fact that was ever written can be lifted to today's."""
    assert missing_steps(KINDS, LIFTS) == []
    assert missing_steps(facts.KINDS, SHIPPED) == []


def test_the_book_lifts_on_reading_and_keeps_what_was_written(tmp_path: Path) -> None:
    """From an old version the book answers today's fact, and keeps what was written."""
    path = tmp_path / "record.packdesk"
    then: dict[str, type[Fact]] = {"pail_weighed": FirstPailWeighed}
    old = FirstPailWeighed(number=4, mass_kg=9.5)
    with Book.open(path, STATION, reading=lambda *stored: read_fact(*stored, then)) as book:
        assert book.append([draft(1, old)])[0].fact == old

    with Book.open(path, STATION, reading=reading) as book:
        (entry,) = book.entries({SESSION})
        (link,) = book.links()
        assert book.verify().sound

    assert entry.fact == PailWeighed(pail="P4", gross_mass_g=9500.0, scale="")
    assert (link.row.v, link.row.payload) == (1, '{"mass_kg":9.5,"number":4}')
