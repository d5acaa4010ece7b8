"""The record on paper, judged by its pages and their text."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import numpy as np
import pypdfium2
import pytest

from packdesk.desk.ports import Trouble
from packdesk.paper.session_record import write_record
from packdesk.present.outlines import OutlineLine, OutlineSection, RecordOutline

TextOf = Callable[[BytesIO], list[str]]
Pages = Callable[[BytesIO, int], list[np.ndarray]]

HEADER = ("Pouch", "Food", "Net mass")


def _outline(*sections: OutlineSection, title: str = "Autumn wheat (invented)") -> RecordOutline:
    return RecordOutline(title, "A sample, 2026-11-25", sections, "Record K7M2")


def _pouches(count: int) -> OutlineSection:
    rows = tuple((f"K7M2-{number:03d}", "Hard red wheat", "1.25 kg") for number in range(count))
    return OutlineSection("The pouches", ("Every pouch.",), HEADER, rows)


@pytest.mark.parametrize(("page", "points"), [("A4", (595.28, 841.89)), ("Letter", (612, 792))])
def test_the_page_is_the_one_asked_for(page: str, points: tuple[float, float]) -> None:
    """A4 (210 × 297 mm) and Letter (8.5 × 11 in) come out at their size."""
    out = BytesIO()

    write_record(_outline(_pouches(2)), page, out)

    (only,) = pypdfium2.PdfDocument(out.getvalue())
    assert only.get_size() == pytest.approx(points, abs=0.01)


def test_everything_told_is_on_paper(text_of: TextOf) -> None:
    """Title, headings, sentences, cells, facts, people and the foot line are all there."""
    out = BytesIO()
    facts = (
        OutlineLine("2026-11-21 21:30", "Load A put in the freezer at −19 °C.", "Anna"),
        OutlineLine("2026-11-25 14:02", "12 pouches filled.", "Béla", "mis-tap, it was 11"),
    )

    report = write_record(
        _outline(_pouches(3), OutlineSection("What happened", facts=facts)), "A4", out
    )

    (text,) = text_of(out)
    assert (report.pages, report.unprintable) == (1, "")
    for words in (
        "Autumn wheat (invented)", "A sample, 2026-11-25", "The pouches", "Every pouch.",
        *HEADER, "K7M2-002", "What happened", "2026-11-21 21:30",
        "Load A put in the freezer at −19 °C.", "Anna", "12 pouches filled.", "Béla",
        "mis-tap, it was 11", "Record K7M2", "page 1 of 1",
    ):  # fmt: skip
        assert words.replace(" ", "") in text


def test_a_long_table_repeats_its_header_on_every_page(text_of: TextOf) -> None:
    """Each page of a long table begins with the header, and no row is lost or doubled."""
    out = BytesIO()

    report = write_record(_outline(_pouches(150)), "Letter", out)

    texts = text_of(out)
    assert report.pages == len(texts) > 2
    assert all("PouchFoodNetmass" in text for text in texts)
    for number in range(150):
        assert sum(text.count(f"K7M2-{number:03d}") for text in texts) == 1


def test_pages_are_numbered_to_the_last(text_of: TextOf) -> None:
    """Every page says which one it is of how many, over the foot line of the record."""
    out = BytesIO()

    report = write_record(_outline(_pouches(150)), "A4", out)

    for number, text in enumerate(text_of(out), start=1):
        assert f"page{number}of{report.pages}" in text
        assert "RecordK7M2" in text


def test_voided_facts_are_struck_through(pages: Pages, text_of: TextOf) -> None:
    """A voided fact stays readable under a line, with its reason below it."""
    valid, voided = BytesIO(), BytesIO()
    words = "i i i i i i i i i i i i i i i i"

    write_record(_outline(OutlineSection("", facts=(OutlineLine("", words),))), "A4", valid)
    write_record(
        _outline(OutlineSection("", facts=(OutlineLine("", words, "", "mis-tap"),))), "A4", voided
    )

    assert words.replace(" ", "") in text_of(voided)[0]
    assert "Voided:mis-tap" in text_of(voided)[0]
    assert _longest_dark_run(pages(valid, 150)[0]) < 60 <= _longest_dark_run(pages(voided, 150)[0])


def test_markup_is_printed_as_it_stands(text_of: TextOf) -> None:
    """Tags and entities that a person types are text, wherever they stand."""
    odd = "<b>a</b>&deg;<br/>"
    out = BytesIO()
    section = OutlineSection(odd, (odd,), (odd,), ((odd,),), (OutlineLine(odd, odd, odd, odd),))

    write_record(RecordOutline(odd, odd, (section,), odd), "A4", out)

    # title, subtitle, heading, sentence, header, cell, four of the fact, foot
    assert text_of(out)[0].count(odd) == 11


def test_texts_of_any_length_are_set_whole(text_of: TextOf) -> None:
    """A note longer than a page goes on overleaf, in a fact, in a cell, as one word and as foot."""
    note = "Checked again. " * 600
    word = "x" * 4000
    out = BytesIO()
    section = OutlineSection(
        "Notes",
        (),
        ("Note", "Mark"),
        ((note, "1"), (word, "2")),
        (OutlineLine("then", note, word),),
    )

    write_record(RecordOutline("Long", "", (section,), "foot " * 80), "A4", out)

    texts = text_of(out)
    assert "".join(texts).count("Checked") == "".join(texts).count("again.") == 1200
    assert "".join(texts).count("x") == 8000
    assert all(text.count("foot") == 80 for text in texts)


def test_rows_of_any_length_are_set(text_of: TextOf) -> None:
    """Rows shorter or longer than the header keep all of their cells."""
    out = BytesIO()
    section = OutlineSection("Odd", (), ("a",), (("one",), ("two", "three", "four"), ()))

    write_record(_outline(section), "A4", out)

    assert all(word in text_of(out)[0] for word in ("one", "two", "three", "four"))


def test_quantities_line_up_on_the_right(pages: Pages) -> None:
    """In a column of quantities all rows end at the same place."""
    out = BytesIO()
    rows = (("9 kg",), ("11.35 kg",), ("1,234.5 kg",))
    write_record(RecordOutline("", "", (OutlineSection("", (), (), rows),)), "A4", out)

    page = pages(out, 200)[0]
    inked = page[: page.shape[0] // 2].min(axis=1) < 128
    ends = [np.nonzero(page[rows_].min(axis=0) < 100)[0].max() for rows_ in _bands(inked)]
    assert len(ends) >= 3
    texts = [end for end, band in zip(ends, _bands(inked), strict=True) if len(band) > 8]
    assert len(texts) == 3
    assert max(texts) - min(texts) <= 2


def test_headings_are_in_the_viewers_contents() -> None:
    """A reader can jump to each section from the list that viewers show."""
    out = BytesIO()

    write_record(_outline(_pouches(3), OutlineSection("Sources", ("A book.",))), "A4", out)

    contents = pypdfium2.PdfDocument(out.getvalue()).get_toc()
    assert [item.get_title() for item in contents] == ["The pouches", "Sources"]


def test_a_heading_is_not_left_alone_at_the_foot(text_of: TextOf) -> None:
    """A section that begins at the end of a page takes its heading along to the next."""
    for count in range(20, 45):
        out = BytesIO()
        write_record(_outline(_pouches(count), OutlineSection("Sources", ("A book.",))), "A4", out)
        (page,) = [text for text in text_of(out) if "Sources" in text]
        assert "Abook." in page


def test_a_table_begins_on_the_page_of_its_heading(text_of: TextOf) -> None:
    """Heading, sentence, header and first row stay together wherever the page ends."""
    looks = OutlineSection(
        "Seal checks", ("Tight turning soft is what matters. " * 4,) * 2, ("Felt",), (("firm",),)
    )
    for count in range(26, 34):
        out = BytesIO()
        write_record(_outline(_pouches(count), looks), "A4", out)
        (page,) = [text for text in text_of(out) if "Sealchecks" in text]
        assert "firm" in page


def test_characters_the_face_lacks_are_reported() -> None:
    """The report names what prints as an empty box."""
    report = write_record(_outline(OutlineSection("小麦", ("ok",))), "A4", BytesIO())

    assert report.unprintable == "小麦"


def test_equal_records_give_equal_bytes() -> None:
    """The same record makes the same file; its date is in its words alone."""
    first, second = BytesIO(), BytesIO()

    for out in (first, second):
        write_record(_outline(_pouches(40)), "A4", out)

    assert first.getvalue() == second.getvalue()


def test_a_record_that_cannot_be_written_is_a_trouble(tmp_path: Path) -> None:
    """A folder that is not there is told in words."""
    with pytest.raises(Trouble, match="its folder is not there"):
        write_record(_outline(), "A4", tmp_path / "gone" / "record.pdf")


def test_a_page_unheard_of_is_refused() -> None:
    """Only pages that are known can be printed on."""
    with pytest.raises(ValueError, match="Choose A4 or Letter"):
        write_record(_outline(), "Foolscap", BytesIO())


def _longest_dark_run(page: np.ndarray) -> int:
    """The longest unbroken dark stretch along any row of pixels."""
    longest = 0
    for row in page < 160:
        edges = np.flatnonzero(np.diff(np.concatenate(([0], row.view(np.int8), [0]))))
        longest = max(longest, *(edges[1::2] - edges[::2]), 0)
    return longest


def _bands(inked: np.ndarray) -> list[np.ndarray]:
    """The rows of pixels of each line of text."""
    rows = np.flatnonzero(inked)
    return np.split(rows, np.flatnonzero(np.diff(rows) > 1) + 1)
