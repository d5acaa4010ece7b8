"""Sessions as text: what is written, what is read, and every way in which a file can be wrong."""

from __future__ import annotations

import gzip
import json
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import UUID

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.desk.ports import Trouble
from packdesk.record.book import Book
from packdesk.record.chain import START as CHAIN_START
from packdesk.record.chain import next_chain
from packdesk.record.rows import Link, Row, row_for
from packdesk.record.session_file import (
    FORMAT,
    FaultySessionFile,
    Header,
    SessionFile,
    read_session_file,
    read_session_text,
    write_session_file,
)
from packdesk.record.session_line import line_text
from packdesk.session.envelope import BOOK_STREAM
from packdesk.session.fact import UnknownFact
from tests.record.drafts import (
    LOT,
    OPENED,
    OTHER_SESSION,
    SESSION,
    STATION,
    draft,
    identity,
    note,
)

HEADER = Header(packdesk_session=FORMAT, session=SESSION, about="An invented session.")
NO_TIME = "this is no time with date and offset, such as 2026-11-25T09:16:00-05:00."
BY_HAND = f"""\
{{"packdesk_session": 1, "session": "{SESSION}", "about": "An invented session."}}
{{"kind": "note_added", "at": "2026-11-25T09:16:00-05:00", "data": {{"text": "first"}}}}

{{"kind": "lot_received", "v": 1, "at": "2026-11-25T09:20:00-05:00", "about_min": 15, "who": "sam",
 "data": {{"lot": "L1", "food": "wheat", "food_name": "Wheat", "mass_g": 22680,
          "supplier_lot": "A-17", "verdict": "accepted"}}}}
""".replace(",\n ", ", ")


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A book with two sessions and a lot."""
    with Book.open(tmp_path / "record.packdesk", STATION) as book:
        book.append([draft(1, OPENED), draft(2, LOT, who="kim é", about_min=15.0)])
        book.append([draft(3, session=OTHER_SESSION)])
        book.append([draft(4, note("tab\t, “quotes” and \\ backslash"))])
        yield book


def faults(text: str) -> list[str]:
    """What is said about a file with this content."""
    with pytest.raises(FaultySessionFile) as told:
        read_session_text(text.encode(), "session.jsonl")
    return [str(fault) for fault in told.value.faults]


def line(**fields: Any) -> str:
    """A line written by hand, correct but for the given fields; None leaves a field out."""
    correct = {"kind": "note_added", "at": "2026-11-25T09:16:00Z", "data": {"text": "x"}}
    return json.dumps({k: v for k, v in {**correct, **fields}.items() if v is not None})


def of_lines(*lines: str) -> str:
    """A file with a header and these lines."""
    return "\n".join(['{"packdesk_session":1}', *lines, ""])


def exported(book: Book, path: Path, *streams: UUID) -> SessionFile:
    """What is read after some streams of a book, or all of it, were written."""
    write_session_file(path, HEADER, book.links(streams or None))
    return read_session_file(path)


# --------------------------------------------------------------------------------------------
# Written by a book


def test_a_session_is_read_as_it_was_written(book: Book, tmp_path: Path) -> None:
    """Everything that the book knows of an entry is in its line."""
    file = exported(book, tmp_path / "session.jsonl", SESSION, BOOK_STREAM)

    entries = book.entries({SESSION, BOOK_STREAM})
    assert file.header == HEADER
    assert file.session == SESSION
    for got, entry in zip(file.lines, entries, strict=True):
        for name in ("id", "act", "stream", "happened_at", "about_min", "who", "fact", "recorded"):
            assert getattr(got, name) == getattr(entry, name), name
        assert got.utc_offset_min == entry.recorded.utc_offset_min
    assert list(file.links) == list(book.links({SESSION, BOOK_STREAM}))


def test_a_whole_book_is_read_as_it_was_written(book: Book, tmp_path: Path) -> None:
    """All streams fit into one file, packed or not."""
    for name in ("book.jsonl", "book.jsonl.gz"):
        assert list(exported(book, tmp_path / name).links) == list(book.links())
    assert gzip.decompress((tmp_path / "book.jsonl.gz").read_bytes()) == (
        (tmp_path / "book.jsonl").read_bytes()
    )


def test_times_are_written_as_the_wall_clock_showed_them(book: Book, tmp_path: Path) -> None:
    """A line says local time with its offset, and what stands first is what a person looks for."""
    exported(book, tmp_path / "session.jsonl", SESSION)

    first = (tmp_path / "session.jsonl").read_text().splitlines()[1]
    assert first.startswith(
        '{"kind":"session_opened","v":1,"at":"2026-11-25T14:01:00+01:00","about_min":0.0,"data":{'
    )


def test_the_chain_before_a_gap_is_written_once(book: Book, tmp_path: Path) -> None:
    """A line names the chain value before it only where the line before is not in the file."""
    exported(book, tmp_path / "session.jsonl", SESSION)

    lines = [json.loads(text) for text in (tmp_path / "session.jsonl").read_text().splitlines()]
    assert [("n" in each and each["n"], "prev" in each) for each in lines[1:]] == [
        (1, False),
        (4, True),
    ]


def test_spacing_and_order_of_a_stored_line_do_not_matter(book: Book, tmp_path: Path) -> None:
    """A file that another program spaced and ordered its own way still holds its chain."""
    path = tmp_path / "session.jsonl"
    exported(book, path)
    spaced = [
        json.dumps(dict(reversed(json.loads(text).items())), indent=None, separators=(" , ", " : "))
        for text in path.read_text().splitlines()
    ]

    file = read_session_text("\r\n".join(spaced).encode(), "spaced")

    assert list(file.links) == list(book.links())


@pytest.mark.parametrize(
    "change",
    [
        ('"who":"sam"', '"who":"kim"'),
        ('"boot":"boot-1"', '"boot":"boot-2"'),
        ('"at":"2026-11-25T14:01:00', '"at":"2026-11-25T14:01:01'),
        ("Invented winter wheat", "Invented summer wheat"),
    ],
)
def test_a_stored_line_that_was_changed_is_found_out(
    book: Book, tmp_path: Path, change: tuple[str, str]
) -> None:
    """Changing what a book wrote is reported with the line, and how to do it honestly."""
    path = tmp_path / "session.jsonl"
    exported(book, path)
    text = path.read_text().replace(*change, 1)

    assert faults(text) == [
        (
            "Line 2: it is not as it was recorded (its chain value is another). To enter it by"
            " hand, leave out chain."
        )
    ]


@given(
    st.dictionaries(st.text(), st.none() | st.integers() | st.text() | st.floats(allow_nan=False))
)
def test_what_a_newer_packdesk_wrote_comes_through(content: dict[str, Any]) -> None:
    """A stored line of a kind that is unknown here is kept, whatever its content, chain and all."""
    payload = msgspec.json.encode(content, order="sorted").decode()
    columns = row_for(draft(1), STATION, 1, 0, CHAIN_START)[:-1]
    columns = (*columns[:-3], "pail_painted", 3, payload)
    link = Link(CHAIN_START, Row(*columns, next_chain(CHAIN_START, columns)))
    text = f'{{"packdesk_session":1}}\n{line_text(link, with_prev=False)}\n'

    file = read_session_text(text.encode(), "newer")

    assert file.links == (link,)
    assert file.lines[0].fact == UnknownFact("pail_painted", 3, payload)


def test_a_half_stamped_line_says_what_it_lacks(book: Book, tmp_path: Path) -> None:
    """A line with a chain value needs all that was chained."""
    path = tmp_path / "session.jsonl"
    exported(book, path)
    header, first, *_ = path.read_text().splitlines()
    stored = json.loads(first)
    for name in ("act", "boot", "station"):
        del stored[name]

    assert faults(f"{header}\n{json.dumps(stored)}\n") == [
        "Line 2: a fact's line needs act.",
        "Line 2: a fact's line needs boot.",
        "Line 2: a fact's line needs station.",
    ]


def test_a_line_after_a_gap_needs_the_chain_before_it(book: Book, tmp_path: Path) -> None:
    """A stored line that cannot be checked is a fault."""
    path = tmp_path / "session.jsonl"
    exported(book, path)
    header, _, *rest = path.read_text().splitlines()

    assert faults("\n".join([header, *rest])) == [
        "Line 2: entry 1 is not in the file, so it needs prev."
    ]


def test_writing_is_whole_or_not_at_all(book: Book, tmp_path: Path) -> None:
    """When writing fails, a file of that name stays as it was, and nothing is left lying about."""
    path = tmp_path / "session.jsonl"
    exported(book, path)
    before = path.read_bytes()

    def breaking() -> Iterator[Any]:
        yield from book.links({SESSION})
        raise OSError(28, "No space left on device")

    with pytest.raises(Trouble, match=r"The disk that holds the session file .* is full"):
        write_session_file(path, HEADER, breaking())

    assert path.read_bytes() == before
    assert not path.with_name("session.jsonl.part").exists()


# --------------------------------------------------------------------------------------------
# Written by hand


def test_a_line_by_hand_needs_only_kind_time_and_content() -> None:
    """What a person leaves out is made up: ids of its own, the stream its fact belongs to."""
    file = read_session_text(BY_HAND.encode(), "by hand")

    first, lot = file.lines
    assert (first.fact, lot.fact) == (note("first"), LOT)
    assert (first.number, lot.number) == (2, 4)
    assert first.happened_at == datetime(2026, 11, 25, 14, 16, tzinfo=UTC)
    assert first.utc_offset_min == -300
    assert (first.stream, lot.stream) == (SESSION, BOOK_STREAM)
    assert (first.about_min, lot.about_min) == (0.0, 15.0)
    assert (first.who, lot.who) == ("", "sam")
    assert first.act == first.id != lot.id
    assert (first.row, first.recorded, file.links) == (None, None, ())


def test_made_up_ids_are_the_same_each_time() -> None:
    """Reading a file by hand again, longer or not, gives its lines the same ids."""
    twice = of_lines(line(), line(), line(data={"text": "y"}))
    header = f'{{"packdesk_session":1,"session":"{SESSION}"}}'
    texts = [twice.replace('{"packdesk_session":1}', header), ""]
    texts[1] = texts[0] + line(data={"text": "z"})

    short, long = (read_session_text(text.encode(), "by hand") for text in texts)

    assert [each.id for each in short.lines] == [each.id for each in long.lines][:3]
    assert len({each.id for each in long.lines}) == 4


def test_a_stored_line_without_its_chain_counts_as_by_hand(book: Book, tmp_path: Path) -> None:
    """A line from which chain was taken may be changed; its id and its times are kept."""
    path = tmp_path / "session.jsonl"
    exported(book, path)
    header, first, *_ = path.read_text().splitlines()
    edited = json.loads(first)
    del edited["chain"]
    edited["who"] = "kim"

    (got,) = read_session_text(f"{header}\n{json.dumps(edited)}".encode(), "edited").lines

    assert (got.id, got.who, got.row) == (identity(1), "kim", None)
    assert got.recorded == book.entries({SESSION})[0].recorded


def test_a_byte_order_mark_is_no_fault() -> None:
    """A file saved by an editor that marks its encoding is read like any other."""
    assert len(read_session_text(b"\xef\xbb\xbf" + BY_HAND.encode(), "marked").lines) == 2


# --------------------------------------------------------------------------------------------
# Faults


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", 'Line 1: a session file begins with its header, such as {"packdesk_session": 1}.'),
        (line(), 'Line 1: a session file begins with its header, such as {"packdesk_session": 1}.'),
        ("{}", 'Line 1: a header needs "packdesk_session": 1.'),
        ('{"packdesk_session":"1"}', "Line 1: packdesk_session: expected int, got str."),
        (
            '{"packdesk_session":7}',
            "Line 1: the file is of format 7, made by a newer PackDesk (this one knows 1).",
        ),
        (
            '{"packdesk_session":1,"sesion":""}',
            "Line 1: a header has no sesion (did you mean session?).",
        ),
        (of_lines("[]"), "Line 2: it is not an object in braces."),
        (of_lines(line(at=None)), "Line 2: a fact's line needs at."),
        (of_lines(line(at="9:16")), f"Line 2: at: {NO_TIME}"),
        (
            of_lines(line(at="2026-11-25T09:16:00")),
            f"Line 2: at: {NO_TIME}",
        ),
        (of_lines(line(about_min=-1)), "Line 2: about_min: expected float >= 0.0."),
        (of_lines(line(hlc=2**62)), f"Line 2: hlc: expected int <= {2**61}."),
        (of_lines(line(steady_s=1e300)), "Line 2: steady_s: expected float <= 1000000000000.0."),
        (of_lines(line(id="17")), "Line 2: id: invalid UUID."),
        (
            of_lines(line(knid="note_added")),
            "Line 2: a fact's line has no knid (did you mean kind?).",
        ),
        (
            of_lines(line(kind="note_aded")),
            "Line 2: there is no kind of fact called note_aded (did you mean note_added?).",
        ),
        (of_lines(line(kind="soup")), "Line 2: there is no kind of fact called soup."),
        (
            of_lines(line(v=2)),
            "Line 2: note_added of version 2 is newer than this PackDesk knows (1).",
        ),
        (
            of_lines(line(data={"txt": "x", "text": "x"})),
            "Line 2: note_added has no txt (did you mean text?).",
        ),
        (of_lines(line(data={})), "Line 2: note_added needs text."),
        (of_lines(line(data={"text": 5})), "Line 2: text: expected str, got int."),
        (of_lines(line(data=[])), "Line 2: data is not an object in braces."),
        (
            of_lines(line(kind="pouches_shut", data={"pouches": [1, "2"], "seal_within_min": 30})),
            "Line 2: pouches[1]: expected int, got str.",
        ),
    ],
)
def test_a_fault_is_said_with_its_line_and_the_nearest_word(text: str, said: str) -> None:
    """Each fault of a file has a sentence with its line, and a hint at what was perhaps meant."""
    assert faults(text) == [said]


def test_all_faults_are_said_at_once() -> None:
    """One reading of a file reports everything that is wrong with it, in the order of its lines."""
    text = of_lines(
        line(kind="note_aded", wh="sam"),
        line(),
        "{not JSON",
        line(data={"txt": 1}),
        line(id=str(identity(1))),
        line(id=str(identity(1)), data={"text": "again"}),
        line()[:-9],
    )

    said = faults(text)

    assert said[:2] == [
        "Line 2: a fact's line has no wh (did you mean who?).",
        "Line 2: there is no kind of fact called note_aded (did you mean note_added?).",
    ]
    assert said[2].startswith("Line 4: it is not JSON: ")
    assert said[3:6] == [
        "Line 5: note_added has no txt (did you mean text?).",
        "Line 5: note_added needs text.",
        "Line 7: it has the id of line 6.",
    ]
    assert said[6].startswith("Line 8: it is not JSON: ")
    assert len(said) == 7


def test_the_message_names_the_file_and_counts_the_faults() -> None:
    """What is shown to the person begins with the file and how much is wrong with it."""
    with pytest.raises(FaultySessionFile) as told:
        read_session_text(of_lines("[]", "[]").encode(), "kitchen.jsonl")

    assert str(told.value) == (
        "kitchen.jsonl cannot be read as a session file, 2 faults:\n"
        "  Line 2: it is not an object in braces.\n"
        "  Line 3: it is not an object in braces."
    )


def test_a_file_that_is_not_there_is_trouble(tmp_path: Path) -> None:
    """A file that cannot be reached is the machine's fault, not the file's."""
    with pytest.raises(Trouble, match=r"session file .*gone\.jsonl cannot be opened"):
        read_session_file(tmp_path / "gone.jsonl")


@pytest.mark.parametrize("content", [b"no packed file", gzip.compress(BY_HAND.encode())[:-20]])
def test_a_packed_file_that_is_broken_is_a_fault(tmp_path: Path, content: bytes) -> None:
    """A packed file that cannot be unpacked is said to be so."""
    path = tmp_path / "session.jsonl.gz"
    path.write_bytes(content)

    with pytest.raises(FaultySessionFile, match="It cannot be unpacked"):
        read_session_file(path)


def test_bytes_that_are_no_text_are_a_fault() -> None:
    """A file in another encoding is reported by line."""
    said = faults_of_bytes(of_lines(line()).encode() + b'{"kind": "\xff"}\n')

    assert len(said) == 1
    assert said[0].startswith("Line 3: it is not JSON: ")


def faults_of_bytes(content: bytes) -> list[str]:
    """What is said about a file with these bytes."""
    with pytest.raises(FaultySessionFile) as told:
        read_session_text(content, "bytes")
    return [str(fault) for fault in told.value.faults]
