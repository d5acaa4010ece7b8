"""What comes into the open is named: a packet unseen, one that is hard, a jar of a doubted one."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt

from packdesk.session import commands as c
from packdesk.session.terms import Stage
from packdesk.ui.pages.inputs import OptionInput
from packdesk.ui.pages.options import OptionButton
from packdesk.ui.theme.theme import Theme
from tests.fakes.memory_book import MemoryBook
from tests.ui.window_kit import STATION, Bench, HandDrivenClock, agreed

SPACE = Qt.Key.Key_Space


def at_the_packet(theme: Theme, folder: Path) -> Bench:
    """A window at the packet: all three pouches are filled, all is made ready."""
    bench = Bench(theme, MemoryBook(STATION), HandDrivenClock(), folder)
    walk = bench.walk.opened().received()
    line = agreed(1, walk.lots[0], "hard_wheat", 3 * 700.0)
    walk.do(c.AgreePlan((line,), False, 200.0, 21.0))
    walk.do(c.BypassCold(walk.lots[0], "treated"))
    walk.filled(line.count).made_ready()
    bench.window.show_stage(Stage.FILLING)
    bench.settle()
    return bench


def click(options: OptionInput, key: str) -> None:
    """Click one of the choices."""
    next(each for each in options.findChildren(OptionButton) if each.option.key == key).click()


def test_a_packet_is_asked_for_written_off_and_a_jar_of_a_doubted_one_is_told(
    theme: Theme, tmp_path: Path
) -> None:
    """The planned packet is preset; a look not taken is said on the control; a hard packet is
    thrown away, and a hurried press more books none; a jar is opened by its name and its doubt."""
    bench = at_the_packet(theme, tmp_path)
    page, form = bench.page, bench.page.forms["packet"]
    try:
        assert page.sentence.text.startswith("Look at the packet: tight or slack?")
        assert page.main.face.label == "The packet is open"
        assert "Neither looked at nor felt, it counts as sound" in page.main.face.hint
        size = form.inputs["absorbers"].text

        click(form.inputs["feel"], "hard")
        bench.settle()
        assert page.main.face.label == "Throw it away"
        assert "throw this packet away" in page.sentence.text
        bench.key(SPACE)
        assert page.sentence.text.startswith("Packet P1 is written off. Feel the next one")
        assert page.main.face.label == "The next packet is open"
        bench.key(SPACE, times=2)
        assert not bench.session.rounds
        assert page.not_done.stands

        click(form.inputs["bag"], "slack")
        click(form.inputs["feel"], "soft")
        bench.settle()
        bench.key(SPACE)
        assert [str(round_.count) for round_ in bench.session.rounds.values()] == [size]
        assert "written off" not in page.sentence.text
        bench.walk.shut(3).jar_shut()
        bench.walk.do(c.SetAside((3,), "torn", emptied=True))
        bench.walk.filled(1).made_ready()
        bench.settle()

        assert page.sentence.text == "Open jar R1, and press at once: its clock starts then."
        assert page.main.face.label == "The jar is open"
        assert "of 300 cc left" in page._foremost.text or "of 200 cc left" in page._foremost.text
        assert "It is of packet P2. Air may have got into this packet" in page._foremost.text
        form.inputs["source"].box.setCurrentIndex(0)
        form.inputs["source"].box.activated.emit(0)
        bench.settle()
        assert page.main.face.label == "The packet is open"
    finally:
        bench.close()
