"""How one fact is spelled as a line of a session file: the names, and what each may hold."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated
from uuid import UUID

import msgspec

from packdesk.record.chain import CHAIN_BYTES

# RFC 3339; the pattern is for readers of the schema, few of which check the format.
_TIME = r"^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]\d{2}:\d{2})$"

Aware = Annotated[datetime, msgspec.Meta(tz=True, extra_json_schema={"pattern": _TIME})]
_Chain = Annotated[str, msgspec.Meta(pattern=f"^[0-9a-f]{{{2 * CHAIN_BYTES}}}$")]
# So far below what a column holds that counting on from it never overflows.
_Count = Annotated[int, msgspec.Meta(ge=1, le=2**53)]
_Place = Annotated[int, msgspec.Meta(ge=-(2**61), le=2**61)]
_Minutes = Annotated[float, msgspec.Meta(ge=0, le=5_256_000)]
_Seconds = Annotated[float, msgspec.Meta(ge=-1e12, le=1e12)]


class Line(msgspec.Struct, kw_only=True, forbid_unknown_fields=True):
    """One fact, as a session file writes it. Written by hand, `kind`, `at` and `data` suffice."""

    kind: str
    v: _Count = 1
    at: Aware
    about_min: _Minutes = 0.0
    data: msgspec.Raw
    who: str = ""
    id: UUID | None = None
    act: UUID | None = None
    stream: UUID | None = None
    recorded: Aware | None = None
    steady_s: _Seconds | None = None
    boot: str | None = None
    station: UUID | None = None
    n: _Count | None = None
    hlc: _Place | None = None
    prev: _Chain | None = None
    chain: _Chain | None = None


class StampedLine(Line, kw_only=True, forbid_unknown_fields=True):
    """A line that a book wrote: it has a chain value, so it must have all that was chained."""

    id: UUID
    act: UUID
    stream: UUID
    recorded: Aware
    steady_s: _Seconds
    boot: str
    station: UUID
    n: _Count
    hlc: _Place
    chain: _Chain
