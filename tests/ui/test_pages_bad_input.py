"""Every field of every form is given what it must not take, one at a time, all else being right."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.session.terms import Stage
from packdesk.ui.pages.inputs import PickInput, TypedInput
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

LETTERS, NEGATIVE, ABSURD, EMPTY = "abc", "-5", "99999999", ""
FIGURES = (LETTERS, NEGATIVE, ABSURD, "1.2.3", "1,250.5", "5 ducks")
DEGREES = (LETTERS, ABSURD, "-300", "1.2.3", "20 kg")
COUNTS = (LETTERS, NEGATIVE, ABSURD, "1.5", "1,5", "0")
POUCHES = (LETTERS, NEGATIVE, "0", "5-3", "1.5", "two")
TIMES = (LETTERS, "25:00", "-5", "tomorrow 9:00", "99999999", "2026-13-40 10:00")
OPEN = ("opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered")


@dataclass(frozen=True)
class Case:
    """A form, how to come to it, what is right in its fields, and what is not."""

    form: str
    steps: tuple[str, ...]
    stage: Stage | None
    right: dict[str, str]
    wrong: dict[str, tuple[str, ...]]
    picks: dict[str, str] = field(default_factory=dict)
    options: dict[str, str] = field(default_factory=dict)
    opens: bool = False
    required: tuple[str, ...] = ()


CASES = (
    Case("session", (), None, {"name": "Wheat"}, {"name": ("   ", "x" * 61)}, required=("name",)),
    Case(
        "lot", ("opened",), Stage.BEFORE,
        {"mass": "5", "seen": "", "code": ""},
        {"mass": (*FIGURES, "0", "20 °C"), "seen": ("x" * 201,), "code": ("x" * 41,)},
        picks={"food": "lentils"}, required=("mass",),
    ),
    Case(
        "plan", ("opened", "received"), Stage.BEFORE,
        {"elevation": "200", "room": "21", "day": "", "fill 2610-1": "", "fill 2610-2": "600"},
        {
            "elevation": (LETTERS, ABSURD, "1.2.3", "5 kg"),
            "room": DEGREES,
            "day": (LETTERS, NEGATIVE, ABSURD, "2020-01-01", "2026-02-31"),
            "fill 2610-1": FIGURES,
            "fill 2610-2": FIGURES,
        },
        required=("elevation", "room"),
    ),
    Case(
        "freeze", ("opened", "received", "planned"), Stage.COLD_TREATMENT,
        {"mass": "5", "start": "20", "freezer": "-18", "when": ""},
        {
            "mass": (*FIGURES, "90"),
            "start": DEGREES,
            "freezer": (*DEGREES, "18"),
            "height": (*FIGURES, "3000 mm"),
            "capacity": FIGURES,
            "when": TIMES,
        },
        required=("mass", "start", "freezer"),
    ),
    Case(
        "reading", ("opened", "received", "planned", "frozen"), Stage.COLD_TREATMENT,
        {"temp": "-3", "when": ""}, {"temp": DEGREES, "when": TIMES},
        opens=True, required=("temp",),
    ),
    Case(
        "reading", ("opened", "received", "planned", "frozen"), Stage.COLD_TREATMENT,
        {"temp": "20", "damp": "50", "when": ""},
        {"damp": (LETTERS, NEGATIVE, ABSURD, "0", "1.2.3")},
        options={"where": "room"}, opens=True,
    ),
    Case(
        "take_out", ("opened", "received", "planned", "frozen"), Stage.COLD_TREATMENT,
        {"room": "20", "damp": "", "when": "", "reason": ""},
        {
            "room": DEGREES,
            "damp": (LETTERS, NEGATIVE, ABSURD, "1.2.3"),
            "when": TIMES,
            "reason": ("x" * 201,),
        },
        opens=True, required=("room",),
    ),
    Case(
        "bypass", ("opened", "received", "planned"), Stage.COLD_TREATMENT,
        {"reason": "salt"}, {"reason": ("  ", "x" * 201)}, opens=True, required=("reason",),
    ),
    Case(
        "reading",
        ("opened", "received", "planned", "frozen", "cold_enough", "taken_out"),
        Stage.THAW_EQUILIBRATION,
        {"temp": "20", "damp": "", "when": ""},
        {"temp": DEGREES, "damp": (LETTERS, NEGATIVE, ABSURD, "1.2.3"), "when": TIMES},
        opens=True, required=("temp",),
    ),
    Case(
        "early",
        ("opened", "received", "planned", "frozen", "cold_enough", "taken_out"),
        Stage.THAW_EQUILIBRATION,
        {"reason": "guests", "when": ""}, {"reason": ("  ", "x" * 201), "when": TIMES},
        opens=True, required=("reason",),
    ),
    Case(
        "fill", OPEN, Stage.FILLING,
        {"mass": "", "count": ""},
        {"mass": (*(t.replace(" ", "") for t in FIGURES), "1.25", "20°C"), "count": COUNTS},
    ),
    Case(
        "packet", (*OPEN, "filled", "made_ready"), Stage.FILLING,
        {"absorbers": "10", "room": "21"}, {"absorbers": COUNTS, "room": DEGREES},
        opens=True, required=("absorbers", "room"),
    ),
    Case(
        "fewer", (*OPEN, "filled", "in_round"), Stage.FILLING,
        {"count": "2"}, {"count": COUNTS}, opens=True, required=("count",),
    ),
    Case(
        "fewer", (*OPEN, "filled", "in_round", "all_shut"), Stage.SEALING,
        {"count": "2"}, {"count": COUNTS}, opens=True, required=("count",),
    ),
    Case(
        "aside", (*OPEN, "filled", "in_round", "all_shut"), Stage.SEALING,
        {"pouches": "2", "reason": "torn"}, {"pouches": POUCHES, "reason": ("  ",)},
        opens=True, required=("pouches", "reason"),
    ),
    Case(
        "return", (*OPEN, "filled", "in_round", "all_shut", "one_aside"), Stage.SEALING,
        {"pouches": "2"}, {"pouches": POUCHES}, opens=True, required=("pouches",),
    ),
    Case(
        "reprint", (*OPEN, "filled", "in_round", "all_shut", "sealed", "labelled"),
        Stage.LABELLING,
        {"pouches": "2"}, {"pouches": (*POUCHES, "77")}, opens=True, required=("pouches",),
    ),
    Case(
        "stow", (*OPEN, "filled", "in_round", "all_shut", "sealed"), Stage.AFTER,
        {"pouches": "2", "pail": "1"}, {"pouches": POUCHES, "pail": ("  ", "x" * 21)},
        opens=True, required=("pouches", "pail"),
    ),
    Case(
        "check", (*OPEN, "filled", "in_round", "all_shut", "sealed", "stowed"), Stage.AFTER,
        {"pouches": "2"}, {"pouches": POUCHES}, opens=True, required=("pouches",),
    ),
    Case(
        "close", (*OPEN, "filled", "in_round", "all_shut", "sealed", "stowed"), Stage.AFTER,
        {"remark": ""}, {"remark": ("x" * 201,)}, opens=True,
    ),
    Case("note", ("opened",), None, {"text": "hot day"}, {"text": ("  ", "x" * 401)},
         required=("text",)),
    Case("void", ("opened", "received"), None, {"reason": "wrong"}, {"reason": ("  ",)},
         opens=True, required=("reason",)),
    Case("count", ("opened", "received", "planned"), None, {"counted": "3"},
         {"counted": (LETTERS, NEGATIVE, ABSURD, "1.5", "1,5")}, opens=True,
         required=("counted",)),
)  # fmt: skip


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window on an empty book."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    yield bench
    bench.close()


def come_to(bench: Bench, case: Case) -> None:
    """Bring the window to the form of a case."""
    for step in case.steps:
        getattr(bench.walk, step)()
    if case.stage is not None:
        bench.window.show_stage(case.stage)
    elif case.steps:
        bench.window.show_story()
        bench.page.list.setCurrentRow(0)
    if case.opens and bench.page._opened != case.form:
        bench.page.open_form(case.form)
    assert bench.page.form_shown() is bench.page.forms[case.form]


def put_right(bench: Bench, case: Case) -> None:
    """Fill the form in as it should be."""
    for name, key in case.options.items():
        bench.option(name, key)
    for name, key in case.picks.items():
        bench.pick(name, key)
    for name, text in case.right.items():
        bench.input(name).box.setText(text)
        bench.input(name).show_objection(None)


def typed_into(bench: Bench) -> set[str]:
    """The fields of the form shown that can be typed into."""
    inputs = bench.page.form_shown().inputs
    return {n for n, i in inputs.items() if isinstance(i, TypedInput) and not i.isHidden()}


def tried(case: Case) -> set[str]:
    """The fields that the cases of this form try."""
    alike = [c for c in CASES if (c.form, c.stage) == (case.form, case.stage)]
    return {name for each in alike for name in each.wrong}


def ids(case: Case) -> str:
    """Name a case by its form and its page."""
    return f"{case.form}-{case.stage or 'window'}"


@pytest.mark.parametrize("case", CASES, ids=ids)
def test_bad_input_is_answered_beside_its_field_and_changes_nothing(
    bench: Bench, case: Case
) -> None:
    """Whatever a field cannot take is said in words beside it; it stays typed, nothing is kept."""
    come_to(bench, case)
    put_right(bench, case)
    assert typed_into(bench) <= tried(case), "a field of this form is never tried"
    wrong = {name: (*texts, *((EMPTY,) if name in case.required else ()))
             for name, texts in case.wrong.items()}  # fmt: skip
    before = len(bench.desk.entries)
    for name, texts in wrong.items():
        for text in texts:
            put_right(bench, case)
            item = bench.input(name)
            bench.fill_in(name, text)
            bench.key(Qt.Key.Key_Return)
            said = f"{case.form}.{name} took {text!r}"
            if text.strip().isdigit() and name == "pouches" and item.refusal.objection is None:
                # A number of the right kind that no pouch has: the whole order is refused.
                assert bench.page.refusal.objection is not None, said
            else:
                assert item.refusal.objection is not None, said
                assert item.refusal.objection.what.strip().endswith((".", "”", ":")), said
                assert item.refusal.isVisible(), said
            assert item.text == text, said
            assert len(bench.desk.entries) == before, said


def test_both_decimal_marks_mean_the_same(bench: Bench) -> None:
    """1,5 and 1.5 are the same mass, and so is 1.5 kg."""
    bench.walk.opened()
    bench.window.show_stage(Stage.BEFORE)
    masses = []
    for text in ("1,5", "1.5", "1.5 kg", "1500 g"):
        bench.fill_in("mass", text)
        masses.append(bench.input("mass").value())
    assert masses == [1500.0] * 4


def test_nothing_chosen_is_answered_beside_the_list(bench: Bench) -> None:
    """A lot without a food asks for the food beside the list, and nothing is kept."""
    bench.walk.opened()
    bench.window.show_stage(Stage.BEFORE)
    bench.fill_in("mass", "5")
    before = len(bench.desk.entries)
    bench.key(Qt.Key.Key_Return)
    food = bench.input("food")
    assert isinstance(food, PickInput)
    assert "Nothing is chosen." in food.refusal.objection.what
    assert len(bench.desk.entries) == before
    assert bench.input("mass").text == "5"


def test_a_figure_that_could_mean_two_things_is_not_guessed(bench: Bench) -> None:
    """1.250 kg could be 1,250 kg: the field asks which."""
    bench.walk.opened()
    bench.window.show_stage(Stage.BEFORE)
    bench.fill_in("mass", "1.250")
    bench.key(Qt.Key.Key_Return)
    assert "can mean" in bench.input("mass").refusal.objection.what
