"""Pouches opened again for one absorber more, driven by keys from the iron and back to it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.session import commands as c
from packdesk.session.terms import Indicator, PacketCondition, Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock

OPEN = ("opened", "received", "planned", "frozen", "cold_enough", "taken_out", "uncovered")
SPACE = Qt.Key.Key_Space


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """At the iron with four pouches that are short of absorber."""
    found = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    for step in OPEN:
        getattr(found.walk, step)()
    found.walk.filled(4).made_ready()
    rating = found.session.plan.lines[0].absorbers_cc[0]
    slack, oxygen = PacketCondition.SLACK, Indicator.OXYGEN
    found.walk.do(c.OpenPacket(f"self-{rating}", rating, 5, slack, 21.0, oxygen))
    found.clock.on(minutes=90)
    found.walk.do(c.PlaceAbsorbers(1, 4, each=1))
    found.walk.jar_shut()
    found.window.show_stage(Stage.SEALING)
    yield found
    found.close()


def test_the_space_bar_leads_from_the_iron_to_one_more_and_back(bench: Bench) -> None:
    """Nothing is shut without the absorber it was opened for, and the iron is reached at last."""
    assert bench.page.sentence.text.startswith("Not yet the iron: open pouches 1 to 4 again")
    bench.key(SPACE, times=2)
    page = bench.page
    assert page.sentence.text.startswith("Open a packet for pouches 1 to 4")
    assert page.main.face.label == "The packet is open"
    assert page.form_shown() is page.forms["packet"]
    bench.key("F")
    assert bench.window.far.face.sentence.endswith("1\u00a0to\u00a04: 1 more each.")
    assert bench.window.far.face.count == "4 open again"

    bench.key(SPACE)
    assert not bench.window.from_afar, "what goes on record of a packet is looked at"
    bench.key(SPACE)
    bench.key("F")
    assert page.count_afar == "0 of 4 shut"
    assert bench.window.far.face.sentence == "Pouch 1: 1 more in, shut."
    bench.key("F")
    bench.key(SPACE, times=4)
    assert [len(pouch.placed) for pouch in bench.session.pouches.values()] == [2] * 4
    assert page.count_afar == "4 of 4 shut"
    bench.key(SPACE)
    bench.key("G")
    assert bench.page.sentence.text == "Seal pouches 1 to 4, two seams each."
    assert "short" not in bench.page._foremost.text


def test_a_jar_is_offered_first_and_shut_without_is_one_key(bench: Bench) -> None:
    """A jar that suits stands in the form; what a person picks stays, and N shuts without."""
    rating = bench.session.plan.lines[0].absorbers_cc[0]
    bench.walk.do(c.OpenPacket(f"self-{rating}", rating, 5, PacketCondition.TIGHT, 21.0))
    bench.walk.jar_shut()
    bench.key(SPACE, times=2)
    form = bench.page.forms["packet"]
    assert bench.page.sentence.text.startswith("Open jar R2 for pouches 1 to 4")
    assert form.inputs["source"].key == "R2"

    bench.pick("source", "new")
    bench.on(minutes=1)
    assert form.inputs["source"].key == "new", "what a person chose stays"
    bench.page.focus_main()
    bench.key("N")
    assert all(pouch.closed for pouch in bench.session.pouches.values())
    bench.key(Qt.Key.Key_Backspace)
    assert bench.page.sentence.text.startswith("Open jar R2 for pouches 1 to 4")
    bench.page.focus_main()
    bench.pick("source", "R2")
    bench.page.focus_main()
    bench.key(SPACE)
    assert bench.session.rounds[3].source == "R2"
    assert bench.page.sentence.text.startswith("Drop 1 absorber more into pouch 1")
