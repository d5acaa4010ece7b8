"""Who works here: asked once at the start, and beside every entry from then on."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """The start page of an empty book."""
    found = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    yield found
    found.close()


def sign(bench: Bench, name: str) -> None:
    """Type a name where it is asked for, and leave the field."""
    box = bench.window.start.name.box
    bench.window.start.scroll.ensureWidgetVisible(box)
    bench.click(box)
    box.selectAll()
    bench.type(name) if name else bench.key(Qt.Key.Key_Delete)
    bench.key(Qt.Key.Key_Tab)


def begin(bench: Bench) -> None:
    """Start a session."""
    bench.fill_in("name", "Autumn wheat")
    bench.press_main()


def test_a_name_stands_in_every_entry_from_then_on(bench: Bench) -> None:
    """The name typed at the start is kept, said back, and recorded with the opening."""
    sign(bench, "Mara")
    begin(bench)

    assert [entry.who for entry in bench.desk.entries] == ["Mara"]
    assert bench.tools.choices.settings.text("name") == "Mara"
    assert "Entries from now on say that Mara made them." in bench.window.notices.sentences


def test_the_name_may_stay_empty(bench: Bench) -> None:
    """Whoever gives no name works on without."""
    begin(bench)

    assert [entry.who for entry in bench.desk.entries] == [""]


def test_the_name_can_be_changed_and_taken_away(bench: Bench) -> None:
    """Another person takes over in the middle of a session; later nobody is named."""
    sign(bench, "Mara")
    begin(bench)
    bench.window.show_start()
    assert bench.window.start.name.text == "Mara"

    sign(bench, "Ines")
    bench.walk.received()
    assert bench.desk.entries[-1].who == "Ines"

    sign(bench, "")
    assert bench.desk.who == ""
