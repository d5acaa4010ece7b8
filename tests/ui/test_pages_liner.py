from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.terms import PacketCondition, Stage
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock, agreed

LINER = "liner-508x762"


def at_the_liner(bench: Bench, food: str) -> None:
    """A liner is filled and its packet of absorbers open."""
    walk = bench.walk.opened()
    name = bench.tools.catalog.foods[food].name
    walk.do(c.ReceiveLot(food, name, 10_000.0))
    line = agreed(1, walk.lots[0], food, 10_000.0, LINER)
    walk.do(c.AgreePlan((line,), False, 0.0, 21.0))
    walk.do(c.BypassCold(walk.lots[0], "treated by the mill"))
    walk.do(c.FillPouches(1, 1))
    walk.do(c.CheckReady())
    rating = line.absorbers_cc[0]
    walk.do(c.OpenPacket(f"self-{rating}", rating, 10, PacketCondition.TIGHT, 21.0))
    bench.window.show_stage(Stage.FILLING)


@pytest.fixture
def bench(theme: Theme, tmp_path: Path) -> Iterator[Bench]:
    """A window on an empty book."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), tmp_path)
    yield bench
    bench.close()


def test_a_liner_is_sealed_but_for_a_gap_drawn_off_and_closed(bench: Bench) -> None:
    """Absorbers in, a seam with a gap, air drawn off, the gap closed: one press each."""
    at_the_liner(bench, "hard_wheat")
    assert bench.page.sentence.text.startswith("Lay out liner 1, drop ")
    assert "A filled liner holds 10.00\N{NO-BREAK SPACE}kg." in bench.page.caution.text
    bench.key(Qt.Key.Key_Space)
    assert bench.session.pouches[1].placed
    assert bench.session.pouches[1].sealed is None
    assert bench.page.sentence.text.startswith("Go to the iron with liner 1 now")
    bench.key(Qt.Key.Key_Space)
    assert bench.page.stage is Stage.SEALING
    bench.key(Qt.Key.Key_Space)
    bench.key("G")
    assert bench.session.pouches[1].gap_left
    bench.key("D")
    assert isinstance(bench.desk.entries[-1].fact, f.AirDrawnOff)
    assert bench.page.sentence.text.startswith("Close the gap of liner 1 at once")
    assert "Hold the hose" not in bench.page.evidence.text
    bench.key(Qt.Key.Key_Space)
    assert bench.session.pouches[1].gas_tight
    assert bench.session.pouches[1].seams == 2


def test_a_gap_is_not_forgotten_at_the_scale(bench: Bench) -> None:
    """Whatever else there is to do at the counter, the page leads back to the open gap, also from
    afar; what lies open can be put away on the way."""
    at_the_liner(bench, "hard_wheat")
    bench.walk.do(c.PlaceAbsorbers(1, 1, shut=False))
    bench.walk.do(c.SealPouches((1,), 1, gap_left=True))
    bench.window.show_stage(Stage.FILLING)
    assert bench.page.sentence.text == "Close the gap of liner 1 first: go to the iron now."
    assert [control.key for control in bench.page.card.seconds] == ["C"]
    bench.key(Qt.Key.Key_F)
    assert "Close the gap of liner 1" in bench.window.far.face.sentence.replace("\u00a0", " ")
    bench.key(Qt.Key.Key_F)
    bench.key(Qt.Key.Key_Space)
    assert bench.window.page.stage is Stage.SEALING
    bench.press_main()
    bench.window.show_stage(Stage.FILLING)
    assert "gap" not in bench.page.sentence.text


def test_no_air_is_drawn_off_over_a_powder(bench: Bench) -> None:
    """For flour neither a gap nor drawing off is offered nor spoken of; its liner is called one,
    may be left in its pail, and is sealed at once."""
    at_the_liner(bench, "white_flour")
    bench.key(Qt.Key.Key_Space)
    bench.window.show_stage(Stage.SEALING)
    words = [b.face.word for b in bench.page.seconds if b.isVisible()]
    assert bench.page.main.face.label == "Liner 1 is sealed"
    assert bench.page.sentence.text.endswith("liner 1 by hand and seal it all along, two seams.")
    assert "Air is drawn off" not in words
    assert "work in its pail with the rim standing free" in bench.page.evidence.text
    assert "A filled liner holds 10.00\N{NO-BREAK SPACE}kg." in bench.page.caution.text
    bench.key("I")
    for said in (bench.page.sentence.text, bench.page.evidence.text):
        assert "hose" not in said
        assert "Leave a gap" not in said
    bench.key(Qt.Key.Key_Space)
    assert bench.session.pouches[1].gas_tight


def test_the_picture_at_the_iron_shows_what_the_heading_names(bench: Bench) -> None:
    """With a liner to seal before two dozen pouches the picture begins with the liner, marks it
    alone and says how many are not drawn; the packet open beside it is shut up from here."""
    walk = bench.walk.opened()
    for food, mass in (("hard_wheat", 30_000.0), ("black_beans", 10_000.0)):
        walk.do(c.ReceiveLot(food, bench.tools.catalog.foods[food].name, mass))
    pouches = agreed(1, walk.lots[0], "hard_wheat", 30_000.0)
    liner = agreed(2, walk.lots[1], "black_beans", 10_000.0, LINER)
    walk.do(c.AgreePlan((pouches, liner), False, 0.0, 21.0))
    for lot in walk.lots:
        walk.do(c.BypassCold(lot, "treated by the mill"))
    walk.do(c.FillPouches(1, 24))
    walk.in_round(30).shut(24).jar_shut()
    walk.do(c.FillPouches(2, 1))
    rating = liner.absorbers_cc[0]
    walk.do(c.CheckReady())
    walk.do(c.OpenPacket(f"self-{rating}", rating, 10, PacketCondition.TIGHT, 21.0))
    walk.do(c.PlaceAbsorbers(2, 1, shut=False))
    bench.window.show_stage(Stage.SEALING)
    page = bench.page

    def marked() -> list[int]:
        return [v.cell.number for v in page._cells.views if v.cell.in_hand]

    assert page.sentence.text.startswith("Seal liner 25 all along but for a gap")
    assert page._cells.views[0].cell.number == 25
    assert marked() == [25]
    assert page._title.text == "Waiting for the iron: 25"
    assert [v.cell.more for v in page._cells.views if v.cell.more] == [6]

    bench.key("S")
    assert page.sentence.text.startswith("Say which pouches are set aside")
    assert marked() == []
    bench.fill_in("pouches", "3, 7")
    assert marked() == [3, 7]
    bench.key(Qt.Key.Key_Escape)

    left = bench.session.rounds[2].left
    assert page.standing.text.startswith("Dry iron")
    bench.key("C")
    assert page.standing.text == ""  # the form needs the room
    bench.fill_in("place", "pantry shelf")
    bench.key(Qt.Key.Key_Return)
    assert isinstance(bench.desk.entries[-1].fact, f.RemainderShut)
    assert bench.desk.entries[-1].fact.count == left
    assert "C" not in [control.key for control in page.card.seconds]


def test_a_liner_judged_short_is_not_sealed_by_the_space_bar(bench: Bench) -> None:
    """A liner whose absorbers lay too long in the open gets one more before any seam, with or
    without a gap, near and from afar."""
    at_the_liner(bench, "white_flour")
    bench.key(Qt.Key.Key_Space)
    bench.key(Qt.Key.Key_Space)
    bench.on(minutes=150)
    assert bench.page.stage is Stage.SEALING
    assert bench.page.sentence.text == "Not yet the iron: one absorber more into liner 1 first."
    bench.key("F")
    assert "one absorber more into liner 1 first" in bench.window.far.face.sentence
    bench.key(Qt.Key.Key_Space)
    assert bench.session.pouches[1].sealed is None
    assert bench.page.stage is Stage.FILLING
    bench.key(Qt.Key.Key_Space)
    assert len(bench.session.pouches[1].placed) == 2


def test_a_short_liner_with_a_gap_is_opened_again(bench: Bench) -> None:
    """A gap that stood open until the absorber was used up is not closed over it; N closes it all
    the same."""
    at_the_liner(bench, "hard_wheat")
    bench.key(Qt.Key.Key_Space)
    bench.key(Qt.Key.Key_Space)
    bench.key(Qt.Key.Key_Space)
    assert bench.session.pouches[1].gap_left
    bench.on(minutes=200)
    assert bench.page.sentence.text.startswith("Not yet the iron: open liner 1 again")
    bench.key(Qt.Key.Key_Space)
    assert bench.session.pouches[1].sealed is None
    bench.key("N")
    assert bench.session.pouches[1].gas_tight


def test_from_afar_no_second_seam_over_a_pouch_judged_short(bench: Bench) -> None:
    """Where the words on the desk say that a pouch is short, a press from afar leads to them."""
    walk = bench.walk.opened()
    name = bench.tools.catalog.foods["hard_wheat"].name
    walk.do(c.ReceiveLot("hard_wheat", name, 6_000.0))
    line = agreed(1, walk.lots[0], "hard_wheat", 6_000.0, "flat-254x406")
    walk.do(c.AgreePlan((line,), False, 0.0, 21.0))
    walk.do(c.BypassCold(walk.lots[0], "treated by the mill"))
    walk.do(c.FillPouches(1, 1))
    walk.do(c.CheckReady())
    rating = line.absorbers_cc[0]
    walk.do(c.OpenPacket(f"self-{rating}", rating, 10, PacketCondition.TIGHT, 21.0))
    bench.clock.on(hours=3)
    walk.do(c.PlaceAbsorbers(1, 1, each=1))
    walk.do(c.ShutRemainder(1))
    bench.window.show_stage(Stage.SEALING)
    assert "is short of absorber" in bench.page.card.foremost[0]
    bench.key("F")
    bench.key(Qt.Key.Key_Space)
    assert bench.session.pouches[1].seams == 1
    assert not bench.window.from_afar
