"""What labels say, judged on the sample sessions."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import UTC, date, datetime
from io import StringIO
from pathlib import Path

import msgspec
import pytest

from packdesk.app.session_files import Told
from packdesk.app.session_files import tell as told_by
from packdesk.present.label_text import (
    best_quality,
    food_title,
    label_texts,
    number_texts,
    numbers_to_come,
    quality_years,
)
from packdesk.present.pouch_table import pouch_csv
from packdesk.session.commands import FillPouches
from packdesk.session.facts import PouchesFilled
from packdesk.session.figures import AgreedLine
from packdesk.session.replay import offset_of
from packdesk.session.state import SessionState
from packdesk.ui.pages.typed_time import parse_time
from tests.fakes.clock import DrivenClock
from tests.present.record_reading import outline_of, said, section
from tests.script import TREATED, Script, tell

SAMPLES = Path(__file__).resolve().parents[2] / "sample_sessions"


@pytest.fixture(scope="module")
def wheat() -> Told:
    """The sample in which most pouches were not weighed."""
    return told_by(SAMPLES / "autumn-wheat.jsonl")


def _session(told: Told) -> SessionState:
    assert told.state.session is not None
    return told.state.session


def _line(told: Told, low: float, high: float) -> AgreedLine:
    plan = _session(told).plan
    assert plan is not None
    return msgspec.structs.replace(plan.lines[0], quality_years_low=low, quality_years_high=high)


def test_a_label_says_food_mass_dates_lot_and_absorbers(wheat: Told) -> None:
    """The label of a pouch that was weighed says all there is to know of it."""
    (label,) = label_texts(_session(wheat), (1,))

    assert label.food == "Hard wheat, whole kernels"
    assert label.mass.replace("\u00a0", " ") == "684 g (1 lb 8.1 oz)"
    assert label.packed == "Packed 2026-10-19"
    assert label.best_quality == "Best quality until 2056+"
    assert (label.identity, label.lot, label.pail) == ("Pouch K7M2-001", "Lot 2610-1", "Pail 1")
    assert label.absorbers == "1 × 100 cc absorber"
    assert label.allergens == "Contains: wheat"
    assert label.advice.startswith("Take the absorber out before cooking.")


def test_a_pouch_that_was_not_weighed_says_about(wheat: Told) -> None:
    """In counted working the mass of a single pouch is the plan's, and says so."""
    (label,) = label_texts(_session(wheat), (2,))

    assert label.mass.startswith("about ")
    assert "ABOUT 680 G" in label.code


def test_a_code_keeps_to_the_signs_that_take_least_room(wheat: Told) -> None:
    """Capitals, figures and the few signs of a code's short alphabet (ISO/IEC 18004, table 5)."""
    short = set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
    session = _session(wheat)
    assert session.plan is not None
    lines = tuple(
        msgspec.structs.replace(line, quality_years_low=10.0, quality_years_high=30.0)
        for line in session.plan.lines
    )

    for label in label_texts(replace(session, plan=replace(session.plan, lines=lines)), (1, 2, 40)):
        assert "BEST UNTIL 2036-2056" in label.code
        assert all(set(line) <= short for line in label.code.splitlines())


def test_a_label_made_again_has_the_same_words(wheat: Told) -> None:
    """A reprint of one pouch is what was printed for it among all of them."""
    every = label_texts(_session(wheat), tuple(range(1, 42)))

    assert label_texts(_session(wheat), (17,)) == (every[16],)


def test_advice_for_the_packer_is_not_on_the_label(wheat: Told) -> None:
    """What planning warns the packer of stays in the plan; the label has the food's own caution."""
    session = _session(wheat)
    assert session.plan is not None
    warned = tuple(
        msgspec.structs.replace(
            line, warnings=("Moist: germ of botulism.",), caution="Cook it.", label_caution=None
        )
        for line in session.plan.lines
    )
    session = replace(session, plan=replace(session.plan, lines=warned))

    (label,) = label_texts(session, (1,))

    assert label.caution == "Cook it."  # the plan is older than the label's own caution
    assert "botulism" not in " ".join((label.caution, label.advice, label.code))


@pytest.mark.parametrize(
    ("low", "high", "until", "years"),
    [
        (30.0, 30.0, "2056+", "30+"),
        (10.0, 30.0, "2036–2056", "10 to 30+"),
        (20.0, 20.0, "2046", "20"),
        (15.0, 25.0, "2041–2051", "15 to 25"),
        (0.5, 0.5, "2027-04", "0.5"),
        (0.5, 1.0, "2027-04 to 2027-10", "0.5 to 1"),
    ],
)
def test_best_quality_is_a_year_and_for_short_lives_a_month(
    low: float, high: float, until: str, years: str, wheat: Told
) -> None:
    """Nobody is promised more than thirty years, nor a year where months are meant."""
    line = _line(wheat, low, high)

    assert best_quality(line, date(2026, 10, 19)) == until
    assert quality_years(line) == years


def test_labels_before_filling_have_numbers_only(wheat: Told) -> None:
    """Printed before filling, a label says which pouch it is and nothing that is not yet known."""
    (label,) = number_texts(_session(wheat), (7,))

    assert label.identity == "Pouch K7M2-007"
    assert label.code == "POUCH K7M2-007"
    assert (label.food, label.mass, label.packed, label.absorbers) == ("", "", "", "")


def test_numbers_to_come_go_on_from_the_last_pouch(wheat: Told) -> None:
    """The numbers still to be filled begin after the last one and end with the plan."""
    session = _session(wheat)
    half = replace(session, pouches={n: p for n, p in session.pouches.items() if n <= 30})

    assert numbers_to_come(session) == ()
    assert numbers_to_come(half) == tuple(range(31, 42))


def test_a_name_begins_with_a_capital_and_keeps_the_rest() -> None:
    """Only the first letter of a food's name is raised, in any script."""
    assert food_title("élesztő, DRY") == "Élesztő, DRY"
    assert food_title("") == ""


@pytest.mark.parametrize("said", ["", "May contain traces of wheat."])
def test_a_label_is_for_whoever_opens_the_pouch(wheat: Told, said: str) -> None:
    """What the packer was told does not stand on a label that has a caution of its own, or none."""
    session = _session(wheat)
    assert session.plan is not None
    lines = tuple(
        msgspec.structs.replace(line, caution="Put no absorber in.", label_caution=said)
        for line in session.plan.lines
    )
    session = replace(session, plan=replace(session.plan, lines=lines))

    (label,) = label_texts(session, (1,))

    assert label.caution == said


NEW_YEARS_EVE = datetime(2026, 12, 31, 23, 30, tzinfo=UTC)


def _packed(told: Script) -> str:
    (label,) = label_texts(told.session, (1,))
    return label.packed


def test_a_label_printed_after_a_journey_keeps_the_day_of_filling() -> None:
    """The packed date is that of the clock on the wall at the filling, not at the printer."""
    told = tell(f"{TREATED}; fill 1", clock=DrivenClock(NEW_YEARS_EVE, utc_offset_min=0))
    told.clock.change_season(by_min=120)

    assert _packed(told) == "Packed 2026-12-31"
    assert "PACKED 2026-12-31" in label_texts(told.session, (1,))[0].code


def test_a_filling_entered_after_the_clocks_changed_keeps_its_own_day() -> None:
    """Filled at 0:10 of the summer clock, entered by the winter clock: the day does not slip."""
    told = tell(TREATED, clock=DrivenClock(datetime(2026, 10, 24, 20, 0, tzinfo=UTC), 120))
    told.clock.change_season(by_min=-60)
    told.clock.go(hours=12)
    change = datetime(2026, 10, 25, 1, 0, tzinfo=UTC)
    when = parse_time("0:10", told.desk.now(), lambda at: 120 if at < change else 60)

    told.desk.submit(FillPouches(1), when)

    assert _packed(told) == "Packed 2026-10-25"
    filled = told.last(PouchesFilled).fact
    assert isinstance(filled, PouchesFilled)
    assert filled.utc_offset_min == 120
    assert offset_of([filled]) == 120


def test_a_filling_under_unchanged_clocks_says_no_offset_of_its_own() -> None:
    """Where the clocks were not changed since, the fact leaves the offset to its envelope."""
    told = tell(TREATED)
    told.desk.submit(FillPouches(1), parse_time("18:30", told.desk.now()))

    filled = told.last(PouchesFilled).fact
    assert isinstance(filled, PouchesFilled)
    assert filled.utc_offset_min is None


def test_labels_table_and_record_name_the_absorbers_that_are_in_a_pouch() -> None:
    """Where two went in for one, whoever opens it is told to take out two; a label is not void
    by what it says already, but by one more."""
    told = tell(f"{TREATED}; fill 8; ready; packet 200x10 slack oxygen; place 2, 2 each; place 2")
    told.do("seal 1-4; label 1-4; +10 min; reopen 3: gas; place in 3; jar 3; seal 3")

    labels = label_texts(told.session, (1, 3, 4, 5))
    assert [label.absorbers for label in labels] == [
        "2 × 200 cc absorbers",
        "2 × 200 cc absorbers",
        "1 × 200 cc absorber",
        "1 × 200 cc absorber",
    ]
    assert labels[0].advice == "Take the absorbers out before cooking. Do not eat them."
    assert labels[2].advice == "Take the absorber out before cooking. Do not eat it."
    assert [pouch.labelled for pouch in told.session.pouches.values()][:4] == [
        True, True, False, True,
    ]  # fmt: skip
    rows = list(csv.DictReader(StringIO(pouch_csv(told.session), newline="")))
    assert [row["absorbers"][0] for row in rows[:5]] == ["2", "2", "2", "1", "1"]
    outline = outline_of(told)
    (two, one, *_) = section(outline, "Pouches").rows
    assert (two[0], one[0]) == ("K7M2-001 to 003", "K7M2-004")
    assert "2 × 200 cc absorbers" in str(two)
    assert "200 cc" not in str(one)
    otherwise = said(section(outline, "What went otherwise"))
    assert "Pouches 1 and 2: 2 absorbers of 200 cc in each, 1 planned" in otherwise
