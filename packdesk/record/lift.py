"""How a fact that an older PackDesk wrote becomes one of today; what is stored stays as it is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import msgspec

from packdesk.session.fact import Fact, FactUnreadable, UnknownFact, fact_from_text
from packdesk.session.facts import KINDS

Step = Callable[[dict[str, Any]], dict[str, Any]]
"""Turns the content of version n into the content of version n + 1, and touches nothing else."""

LIFTS: Mapping[str, Mapping[int, Step]] = {}
"""For each kind, and each version of it that is no longer written, the step to the next version."""


def read_fact(
    kind: str,
    v: int,
    text: str,
    kinds: dict[str, type[Fact]] = KINDS,
    lifts: Mapping[str, Mapping[int, Step]] = LIFTS,
) -> Fact | UnknownFact:
    """Read stored content as the fact it is, lifted step by step where it is of an old version.

    A kind or version that this PackDesk does not know comes back as `UnknownFact`. Raises
    `FactUnreadable` when the content does not fit its kind or a step is missing.
    """
    known = kinds.get(kind)
    if known is None or v >= known.v:
        return fact_from_text(kinds, kind, v, text)
    try:
        content = msgspec.json.decode(text, type=dict[str, Any])
        for version in range(v, known.v):
            content = lifts[kind][version](content)
    except (msgspec.DecodeError, LookupError, TypeError, ValueError) as fault:
        raise FactUnreadable(f"{kind} of version {v} cannot be lifted: {fault!r}") from fault
    lifted = msgspec.json.encode(content).decode()
    return fact_from_text(kinds, kind, known.v, lifted)
