"""What is worked out from a session is worked out once: a session is frozen, so it stays true."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:  # the state itself works things out once
    from packdesk.session.state import SessionState

T = TypeVar("T")


def once(work_out: Callable[[SessionState], T]) -> Callable[[SessionState], T]:
    """Keep the answer of `work_out` with the session it was worked out from.

    For functions of the session alone whose answers nobody changes. A changed session is another
    object, which begins with nothing kept.
    """

    @wraps(work_out)
    def kept(session: SessionState) -> T:
        if work_out not in session.worked_out:
            session.worked_out[work_out] = work_out(session)
        found: T = session.worked_out[work_out]
        return found

    return kept
