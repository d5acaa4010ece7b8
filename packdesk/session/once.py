"""What is worked out from a session is worked out once: a session is frozen, so it stays true."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, Concatenate, ParamSpec, TypeVar

if TYPE_CHECKING:  # the state itself works things out once
    from packdesk.session.state import SessionState

P = ParamSpec("P")
T = TypeVar("T")


def once(
    work_out: Callable[Concatenate[SessionState, P], T],
) -> Callable[Concatenate[SessionState, P], T]:
    """Keep the answers of `work_out` with the session they were worked out from.

    For functions of the session, and of frozen things beside it, whose answers nobody changes. A
    changed session is another object, which begins with nothing kept.
    """

    @wraps(work_out)
    def kept(session: SessionState, /, *beside: P.args, **named: P.kwargs) -> T:
        asked = (work_out, beside, tuple(named.items()))
        if asked not in session.worked_out:
            session.worked_out[asked] = work_out(session, *beside, **named)
        found: T = session.worked_out[asked]
        return found

    return kept
