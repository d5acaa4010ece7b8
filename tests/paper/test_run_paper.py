"""The run sheet on paper, judged by its pages."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from typing import NoReturn

import numpy as np
import pytest

from packdesk.paper.run_paper import write_run_sheet
from packdesk.present.papers import RunBlank, RunPart, RunSheet, RunStep, RunTable

TextOf = Callable[[BytesIO], list[str]]
Pages = Callable[[BytesIO, int], list[np.ndarray]]


def _sheet(*parts: RunPart, foot: str = "Enter it afterwards.") -> RunSheet:
    return RunSheet("Run sheet: Autumn", "Packing session K7M2", ("The iron burns.",), parts, foot)


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_everything_told_is_on_paper(page: str, text_of: TextOf) -> None:
    """Title, cautions, sentences, steps, blanks, tables and the foot line are all there."""
    out = BytesIO()
    part = RunPart(
        "Filling",
        ("Fill to the mark.",),
        (RunStep("23 × wheat", (RunBlank("begun", "09:20"), RunBlank("done"))),),
        (RunTable(("Pouch", "Mass"), (("K7M2-001", ""), ("", ""))),),
    )

    report = write_run_sheet(_sheet(part), page, out)

    (text,) = text_of(out)
    assert (report.pages, report.unprintable) == (1, "")
    for words in ("Run sheet: Autumn", "Packing session K7M2", "The iron burns.", "Filling",
                  "Fill to the mark.", "23 × wheat", "begun", "09:20", "done", "Pouch", "Mass",
                  "K7M2-001", "Enter it afterwards.", "page 1 of 1"):  # fmt: skip
        assert words.replace(" ", "") in text


def test_a_step_has_a_box_and_lines_to_write_on(pages: Pages) -> None:
    """Beside the words stand an empty square of 4 mm and a line for each blank."""
    out = BytesIO()
    blanks = (RunBlank(""), RunBlank(""))
    write_run_sheet(
        RunSheet("", "", (), (RunPart("", steps=(RunStep("", blanks),)),), ""), "A4", out
    )

    page = pages(out, 300)[0][: 300 * 4] < 160
    runs = [_runs(row) for row in page]
    dots = 300 / 25.4
    lines = [run for row in runs for run in row if abs(run - 24.0 * dots) < 4]
    edges = [run for row in runs for run in row if abs(run - 4.0 * dots) < 5]
    assert len(lines) >= 2
    assert len(edges) >= 2


def test_rows_leave_room_for_handwriting(pages: Pages) -> None:
    """An empty row is at least 7 mm high."""
    out = BytesIO()
    table = RunTable(("When", "What"), (("", ""),) * 4)

    write_run_sheet(RunSheet("", "", (), (RunPart("", tables=(table,)),), ""), "A4", out)

    page = pages(out, 200)[0] < 200
    ruled = np.flatnonzero(page.sum(axis=1) > 1000)
    starts = ruled[np.flatnonzero(np.diff(ruled, prepend=-10) > 3)]
    assert len(starts) == 6
    assert min(np.diff(starts[1:])) * 25.4 / 200 >= 7.0


def test_a_long_table_goes_on_overleaf_with_its_header(text_of: TextOf) -> None:
    """A hundred pouches take several pages; each begins with the header, none is lost."""
    out = BytesIO()
    rows = tuple((f"K7M2-{number:03d}", "") for number in range(100))

    report = write_run_sheet(
        _sheet(RunPart("Filling", tables=(RunTable(("Pouch", "Mass"), rows),))), "A4", out
    )

    texts = text_of(out)
    assert report.pages == len(texts) > 2
    assert all("PouchMass" in text for text in texts)
    assert all(sum(text.count(row[0]) for text in texts) == 1 for row in rows)


def test_markup_is_printed_as_it_stands(text_of: TextOf) -> None:
    """Nothing typed is taken for an instruction."""
    odd = "<b>a</b>&deg;"
    out = BytesIO()
    part = RunPart(odd, (odd,), (RunStep(odd, (RunBlank(odd, odd),)),), (RunTable((odd,), ()),))

    write_run_sheet(RunSheet(odd, odd, (odd,), (part,), odd), "A4", out)

    assert text_of(out)[0].count(odd) == 10


def test_what_cannot_be_printed_is_reported() -> None:
    """Characters the face lacks are named."""
    assert write_run_sheet(_sheet(RunPart("小麦")), "A4", BytesIO()).unprintable == "小麦"


def test_progress_may_stop_the_work() -> None:
    """What the listener raises comes back to the caller, and nothing is written."""
    out = BytesIO()

    def stop(page: int, of: int) -> NoReturn:
        raise InterruptedError

    with pytest.raises(InterruptedError):
        write_run_sheet(_sheet(), "A4", out, progress=stop)

    assert out.getvalue() == b""


def _runs(row: np.ndarray) -> list[int]:
    """How long each unbroken dark stretch of a row is."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int8), [0]))))
    return list(edges[1::2] - edges[::2])
