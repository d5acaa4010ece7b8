"""The command line, in-process, with a home folder of its own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pypdfium2
import pytest
from icalendar import Calendar

from packdesk.app.command_line import main
from packdesk.desk.desk import Desk
from packdesk.desk.ports import Tools

SAMPLES = Path(__file__).resolve().parents[2] / "sample_sessions"
WHEAT = SAMPLES / "autumn-wheat.jsonl"
RICE = SAMPLES / "winter-rice.jsonl"


@pytest.fixture(autouse=True)
def _home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PACKDESK_HOME", str(tmp_path / "home"))


def _text(pdf: Path) -> str:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return "\n".join(page.get_textpage().get_text_range() for page in document)
    finally:
        document.close()


def test_plan_says_pouches_absorbers_and_oxygen_of_each_food(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """`plan` says for each food how many pouches, how much oxygen, which absorbers."""
    assert main(["plan", str(WHEAT)]) == 0

    said = capsys.readouterr().out
    assert "Hard wheat, whole kernels" in said
    assert "30+ years" in said
    assert "23 × quart-size" in said
    assert "1 × 100 cc absorber" in said


def test_plan_as_json_carries_units_in_its_keys(capsys: pytest.CaptureFixture[str]) -> None:
    """`plan --json` answers an object whose figures say their unit in the key."""
    assert main(["plan", str(RICE), "--json"]) == 0

    found = json.loads(capsys.readouterr().out)
    rice = found["lines"][0]
    assert found["elevation_m"] == 1609.0
    assert rice["mass_g"] == pytest.approx(12 * 453.59237, abs=0.1)
    assert rice["oxygen_need_cc"] < rice["recommended_cc"] <= sum(rice["absorbers_cc"])


def test_calendar_is_written_for_what_is_still_to_come(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """`calendar` writes a file that a calendar reads; the sample still has seals to look at."""
    out = tmp_path / "wheat.ics"

    assert main(["calendar", str(WHEAT), "--out", str(out)]) == 0

    events = Calendar.from_ical(out.read_bytes()).walk("VEVENT")
    assert events
    assert any("seals" in str(event["SUMMARY"]) for event in events)
    count = "1 entry" if len(events) == 1 else f"{len(events)} entries"
    assert f"{count}: {out}" in capsys.readouterr().out


@pytest.mark.parametrize("sample", [WHEAT, RICE])
def test_labels_are_made_for_every_pouch_in_work(sample: Path, tmp_path: Path) -> None:
    """`labels` writes a PDF that names every pouch of the session."""
    out = tmp_path / "labels.pdf"

    assert main(["labels", str(sample), "--out", str(out), "--first", "3"]) == 0

    said = _text(out)
    code = "K7M2" if sample == WHEAT else "R4TN"
    count = 41 if sample == WHEAT else 13
    assert all(f"{code}-{number:03d}" in said for number in range(1, count + 1))


def test_single_labels_are_printed_again_with_the_same_numbers(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """`labels --pouches` makes only the ones named, as they were."""
    out = tmp_path / "labels.pdf"

    assert main(["labels", str(WHEAT), "--out", str(out), "--pouches", "3,7-9"]) == 0

    said = _text(out)
    assert [f"K7M2-{number:03d}" in said for number in range(1, 11)] == [
        number in (3, 7, 8, 9) for number in range(1, 11)
    ]
    assert "4 labels on 1 sheet" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("pouches", "words"),
    [
        ("40-43", "Pouches 42 and 43 are not in this session; it has pouches 1 to 41."),
        ("x", "“x” names no pouches. Write them as 3, 7-9."),
        ("9-7", "“9-7” names no pouches"),
    ],
)
def test_pouches_that_are_not_there_are_refused(
    pouches: str, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Numbers beyond the session, or no numbers at all, are told with what there is."""
    out = tmp_path / "labels.pdf"

    assert main(["labels", str(WHEAT), "--out", str(out), "--pouches", pouches]) == 1

    assert words in capsys.readouterr().err
    assert not out.exists()


def test_numbers_alone_are_printed_before_filling(tmp_path: Path) -> None:
    """`labels --numbers` makes labels with nothing on them but the pouch's number."""
    out = tmp_path / "labels.pdf"

    assert main(["labels", str(RICE), "--out", str(out), "--numbers", "--pouches", "1-3"]) == 0

    said = _text(out)
    assert "-003" in said
    assert "rice" not in said.lower().replace("winter rice", "")


def test_numbers_for_pouches_that_are_counted_are_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Pouches that are alike bear no number before filling, as in the window."""
    out = tmp_path / "labels.pdf"

    assert main(["labels", str(WHEAT), "--out", str(out), "--numbers"]) == 1

    assert "This plan works with counted pouches." in capsys.readouterr().err
    assert not out.exists()


def test_what_is_wrong_in_ones_own_catalogue_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A sheet of one's own with a wrong figure is not there, and the reason is said."""
    folder = tmp_path / "home" / "data" / "catalog"
    folder.mkdir(parents=True)
    (folder / "label_stock.toml").write_text("[tiny]\nname = 'Tiny'\ncolumns = 0\n", "utf-8")

    out = tmp_path / "labels.pdf"
    assert main(["labels", str(WHEAT), "--out", str(out), "--stock", "tiny"]) == 1

    said = capsys.readouterr().err
    assert "There is no label stock “tiny”" in said
    assert "label_stock.toml, tiny" in said


def test_pail_cards_are_made_for_every_pail(tmp_path: Path) -> None:
    """`pails` writes a card for each pail with its foods."""
    out = tmp_path / "pails.pdf"

    assert main(["pails", str(WHEAT), "--out", str(out)]) == 0

    said = _text(out)
    assert "Pail 1" in said
    assert "Pail 2" in said
    assert "Black beans" in said


def test_an_unknown_pail_is_refused_with_those_there_are(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A kind of pail the catalogue lacks is refused, and the known ones are named."""
    out = tmp_path / "pails.pdf"

    assert main(["pails", str(WHEAT), "--out", str(out), "--pail", "tub"]) == 1
    assert "pail-19l" in capsys.readouterr().err


def test_the_run_sheet_is_made_of_a_session_file(tmp_path: Path) -> None:
    """`runsheet` writes what to do, with room to write."""
    out = tmp_path / "run.pdf"

    assert main(["runsheet", str(RICE), "--out", str(out)]) == 0

    said = _text(out)
    assert "Run sheet: Winter rice, oats and salt" in said
    assert "Seal checks" in said


def test_pouches_are_written_for_a_spreadsheet(tmp_path: Path) -> None:
    """`pouches` writes one line for each pouch, marked as UTF-8."""
    out = tmp_path / "pouches.csv"

    assert main(["pouches", str(RICE), "--out", str(out)]) == 0

    assert out.read_bytes().startswith(b"\xef\xbb\xbf")
    lines = out.read_text(encoding="utf-8-sig").splitlines()
    assert len(lines) == 14
    assert "R4TN-013" in lines[-1]


def test_the_alignment_page_is_made_for_a_stock(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """`alignment` writes the page of one stock; an offset beyond bounds is refused."""
    out = tmp_path / "alignment.pdf"
    asked = ["alignment", "--stock", "a4-3x7-64x38", "--out", str(out)]

    assert main([*asked, "--offset", "1.5", "-1"]) == 0
    assert "Alignment page" in _text(out)
    assert main([*asked, "--offset", "9", "0"]) == 1
    assert "right tray" in capsys.readouterr().err


def test_a_stock_of_ones_own_is_found(tmp_path: Path) -> None:
    """A label stock in the person's own catalogue is as good as a shipped one."""
    folder = tmp_path / "home" / "data" / "catalog"
    folder.mkdir(parents=True)
    own = '[mine]\nlike = "a4-3x7-64x38"\nname = "my sheet"\n'
    (folder / "label_stock.toml").write_text(own, encoding="utf-8")

    out = tmp_path / "labels.pdf"
    assert main(["labels", str(WHEAT), "--out", str(out), "--stock", "mine"]) == 0


def test_record_is_made_of_a_session_file(tmp_path: Path) -> None:
    """`record` writes the session record with its plan, loads and every entry."""
    out = tmp_path / "record.pdf"

    assert main(["record", str(WHEAT), "--out", str(out)]) == 0

    said = _text(out)
    assert "Autumn wheat and black beans" in said
    assert "Load A" in said
    assert "flour dust in the seam" in said


def test_an_unknown_stock_is_refused_with_those_there_are(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A label stock the catalogue lacks is refused, and the known ones are named."""
    status = main(["labels", str(WHEAT), "--out", str(tmp_path / "x.pdf"), "--stock", "a5"])

    assert status == 1
    assert "a4-3x7-64x38" in capsys.readouterr().err
    assert not (tmp_path / "x.pdf").exists()


def test_a_place_beyond_the_sheet_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A first place that the sheet does not have is refused with the places it has."""
    assert main(["labels", str(WHEAT), "--out", str(tmp_path / "x.pdf"), "--first", "22"]) == 1
    assert "places 1 to 21" in capsys.readouterr().err


def test_a_broken_file_is_refused_with_its_lines(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A session file with faults is refused, each fault with its line."""
    broken = tmp_path / "broken.jsonl"
    broken.write_text('{"packdesk_session":1}\n{"kind":"pouch_filled"}\n', encoding="utf-8")

    assert main(["plan", str(broken)]) == 1
    assert "Line 2" in capsys.readouterr().err


def test_a_missing_file_is_refused_in_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A session file that is not there is refused with what to do, not with a traceback."""
    assert main(["plan", str(tmp_path / "none.jsonl")]) == 1
    assert "none.jsonl" in capsys.readouterr().err


def test_wrong_usage_ends_with_status_two(capsys: pytest.CaptureFixture[str]) -> None:
    """A command that does not exist ends with exit status 2."""
    with pytest.raises(SystemExit) as ended:
        main(["pack"])

    assert ended.value.code == 2


def test_the_book_is_checked_copied_and_restored(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """`book verify`, `backup`, `restore` and `export` work on the person's own book."""
    assert main(["book", "import", str(WHEAT)]) == 0
    assert main(["book", "verify"]) == 0
    assert main(["book", "backup"]) == 0
    assert main(["book", "restore"]) == 0
    assert main(["book", "export", "--out", str(tmp_path / "all.jsonl")]) == 0
    assert (tmp_path / "all.jsonl").exists()


@pytest.mark.parametrize("act", [["verify"], ["backup"], ["export", "--out", "all.jsonl"]])
def test_where_no_book_lies_none_is_called_sound(
    act: list[str], capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """No empty book is made to answer; one copied beside its folder is pointed to."""
    home = tmp_path / "home"
    assert main(["book", *act]) == 1
    told = capsys.readouterr().err
    assert f"There is no record book at {home / 'data' / 'record.packdesk'}." in told
    assert "or open PackDesk to begin one" in told
    assert not (home / "data" / "record.packdesk").exists()

    home.mkdir(exist_ok=True)
    (home / "record.packdesk").touch()
    assert main(["book", *act]) == 1
    assert f"One lies in {home}: copy it and the files beside it into" in capsys.readouterr().err


def test_a_session_is_handed_over_from_book_to_book(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What `book export` wrote, `book import` takes into another book, once."""
    assert main(["book", "import", str(WHEAT)]) == 0
    assert "Took 50 entries" in capsys.readouterr().out
    out = tmp_path / "wheat.jsonl"
    assert (
        main(["book", "export", "--session", "Autumn wheat and black beans", "--out", str(out)])
        == 0
    )
    monkeypatch.setenv("PACKDESK_HOME", str(tmp_path / "another home"))
    capsys.readouterr()

    assert main(["book", "import", str(out)]) == 0
    assert main(["book", "import", str(out)]) == 0

    said = capsys.readouterr().out
    assert "Took 50 entries; 0 were there already." in said
    assert "Took 0 entries; 50 were there already." in said


def test_a_reader_that_has_gone_is_no_fault() -> None:
    """Piped into a program that stops reading, as `head` does, a command ends quietly."""
    read_end, write_end = os.pipe()
    os.close(read_end)
    try:
        done = subprocess.run(
            [sys.executable, "-m", "packdesk", "plan", str(WHEAT)],
            stdout=write_end,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    finally:
        os.close(write_end)

    assert (done.returncode, done.stderr) == (0, "")


def test_a_name_given_at_the_start_stands_in_later_runs_too(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """`--who` signs all that is entered from now on, until another name is given."""
    signed = []

    def window(desk: Desk, tools: Tools, **_: object) -> int:
        signed.append((desk.who, tools.choices.settings.text("name")))
        return 0

    monkeypatch.setattr("packdesk.ui.start.open_window", window)
    monkeypatch.setattr("packdesk.system.machine.lacks", lambda _: ())

    assert [main(["--who", "  Ada  "]), main([]), main(["--who", ""])] == [0, 0, 0]
    assert signed == [("Ada", "Ada"), ("Ada", "Ada"), ("", "")]


def test_what_is_no_name_is_refused_before_the_window_opens(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A name is one line of at most 60 letters."""
    monkeypatch.setattr("packdesk.system.machine.lacks", lambda _: ())
    assert main(["--who", "x" * 61]) == 1

    assert "at most 60 letters" in capsys.readouterr().err
