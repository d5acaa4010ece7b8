from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from packdesk.record.book import Book
from tests.fakes.memory_book import MemoryBook
from tests.record.contract import RecordBookContract
from tests.record.drafts import STATION


class TestBook(RecordBookContract):
    @pytest.fixture
    def book(self, tmp_path: Path) -> Iterator[Book]:
        with Book.open(tmp_path / "record.packdesk", STATION) as book:
            yield book


class TestMemoryBook(RecordBookContract):
    @pytest.fixture
    def book(self) -> MemoryBook:
        return MemoryBook(STATION)
