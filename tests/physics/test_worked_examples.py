"""The worked examples in the physics' docstrings."""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
from types import ModuleType

import pytest

from packdesk import physics

MODULES = [
    importlib.import_module(f"{physics.__name__}.{found.name}")
    for found in pkgutil.iter_modules(physics.__path__)
]
FORMULA_MODULES = (
    "air", "pouch", "oxygen", "leakage", "uptake", "absorber", "moisture", "quality_life",
    "heat", "cold_kill", "freezer", "lid_on",
)  # fmt: skip


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.__name__.rpartition(".")[2])
def test_worked_examples_come_out_as_printed(module: ModuleType) -> None:
    """Every example in a docstring gives the answer that stands beside it."""
    outcome = doctest.testmod(module)

    assert outcome.failed == 0


def public_formulae() -> list[tuple[str, str]]:
    """Every public function of the formula modules with its docstring."""
    return [
        (f"{module.__name__.rpartition('.')[2]}.{name}", inspect.getdoc(function) or "")
        for module in MODULES
        if module.__name__.rpartition(".")[2] in FORMULA_MODULES
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if function.__module__ == module.__name__ and not name.startswith("_")
    ]


@pytest.mark.parametrize(
    ("name", "text"), public_formulae(), ids=[name for name, _ in public_formulae()]
)
def test_a_formula_says_its_parts_in_their_order(name: str, text: str) -> None:
    """A formula tells what it answers, its symbols, source, example and limits, in that order."""
    places = [text.find(part) for part in ("Symbols:", "Source:", "Example:", ">>>", "Limits:")]

    assert places[0] > 0, name
    assert places == sorted(places), name
