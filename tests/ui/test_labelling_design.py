"""What stands on a label, where and how large, is a person's choice with a picture beside it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.present.label_design import STANDARD, LabelField
from packdesk.present.label_wish import design_in_words, design_of
from packdesk.session.terms import Stage
from packdesk.settings.chosen import Settings
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

SEALED = (
    "opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered",
    "filled", "in_round", "all_shut", "sealed",
)  # fmt: skip


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window at the printer, six pouches sealed, the form for the labels open."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    for step in SEALED:
        getattr(bench.walk, step)()
    bench.window.show_stage(Stage.LABELLING)
    bench.key("D")
    yield bench
    bench.close()


def test_labels_are_made_as_they_were_designed(bench: Bench) -> None:
    """Order, fields left away and size go into the settings and into the next labels."""
    bench.fill_in("above", "identity, food, mass")
    bench.fill_in("below", "packed, allergens, caution, advice")
    bench.fill_in("size", "120")
    bench.key(Qt.Key.Key_Return)
    bench.key(Qt.Key.Key_Space)
    made = bench.papers.how["design"]
    assert made.above == (LabelField.IDENTITY, LabelField.FOOD, LabelField.MASS)
    assert (LabelField.LOT in made.fields, made.food_scale) == (False, 1.2)
    assert design_of(bench.tools.choices.settings) == made


def test_the_picture_follows_what_is_typed(bench: Bench) -> None:
    """Each change that makes a design is drawn at once; an unfinished word keeps the last one."""
    assert bench.papers.looks[-1] == STANDARD
    bench.fill_in("above", "food")
    assert bench.papers.looks[-1].above == (LabelField.FOOD,)
    drawn = len(bench.papers.looks)
    bench.type(", ma")
    assert all(look.above == (LabelField.FOOD,) for look in bench.papers.looks[drawn:])
    assert bench.page.design.look.page.isVisible()
    assert bench.session.pouches[1].labelled is False


@pytest.mark.parametrize(
    ("field", "typed", "beside", "words"),
    [
        ("above", "colour", "above", "A label has no “colour”."),
        ("above", "mass", "above", "A label may not go without “food”"),
        ("above", "food, lot", "above", "“lot” is on the label twice."),
        ("size", "900", "size", "900 % cannot be here."),
    ],
)
def test_a_design_that_cannot_be_is_answered_at_its_field(
    bench: Bench, field: str, typed: str, beside: str, words: str
) -> None:
    """A wrong name, a warning left away or a size out of bounds changes nothing."""
    bench.fill_in(field, typed)
    bench.key(Qt.Key.Key_Return)
    objection = bench.input(beside).refusal.objection
    assert objection.what.startswith(words)
    assert bench.tools.choices.settings == Settings()


def test_a_design_broken_in_the_settings_is_told_and_not_used(bench: Bench) -> None:
    """Labels look as usual when the settings name no design that can be."""
    choices = bench.tools.choices
    bench.key(Qt.Key.Key_Escape)
    choices.keep(choices.settings.with_choice("label_fields", "mass | food"))
    said: list[str] = []
    bench.page.said.connect(said.append)
    bench.key(Qt.Key.Key_Space)
    assert bench.papers.how["design"] == STANDARD
    assert "Labels look as usual." in said[-1]


def test_the_words_of_a_design_are_read_as_the_same_design() -> None:
    """The usual design comes back from its words."""
    said = Settings().with_choice("label_fields", design_in_words(STANDARD))
    assert design_of(said) == STANDARD
