"""What the look at a packet of absorbers before it is cut says about what is in it."""

from __future__ import annotations

from collections.abc import Iterable

from packdesk.session.state import SessionState
from packdesk.session.terms import Feel, Indicator, PacketCondition

DOUBTED_SHARES = ((1.0, 1.0), (0.5, 1.0), (0.25, 0.5))
"""What share of its rating an absorber is taken to have, at least and likely, by the number of
signs of air in its packet: none, one, two (own judgement, no source)."""


def signs_of_air(condition: PacketCondition, indicator: Indicator) -> int:
    """How many signs there are that air got into a packet: a slack bag, an indicator that says so.

    An indicator that shows no oxygen speaks for a slack bag as for a tight one: many were never
    drawn in hard. Then the slackness is no sign.
    """
    slack = condition is PacketCondition.SLACK and indicator is not Indicator.NO_OXYGEN
    return int(slack) + int(indicator is Indicator.OXYGEN)


def spent(feel: Feel) -> bool:
    """Whether the absorbers are used up: their iron is one hard cake."""
    return feel is Feel.HARD


def packet_at_hand(session: SessionState, rating_cc: int, sizes: Iterable[int], pieces: int) -> int:
    """How many absorbers of a rating the next packet is taken to hold; 0 where nobody knows.

    As many as the last one opened in this session held, or else what the supplies list has: of the
    packets of `sizes` that were to be bought the one that does for `pieces`. For a rating that is
    not planned it is any of `sizes`.
    """
    from packdesk.planning.supplies import absorbers_wanted, packets  # loads numpy

    entered = [
        (round_.round, round_.count)
        for round_ in session.rounds.values()
        if round_.rating_cc == rating_cc and not round_.source.startswith("R")
    ]
    if entered:
        return max(entered)[1]
    planned, spares = absorbers_wanted(session.plan.lines if session.plan is not None else ())
    known = tuple(sizes)
    bought = packets(planned[rating_cc] + spares[rating_cc], known) if known else ()
    return packet_for((size for size, _ in bought) if bought else known, pieces)


def packet_for(sizes: Iterable[int], pieces: int) -> int:
    """The smallest of the packets of `sizes` that holds `pieces`; the largest where none does.

    0 where no size is known.
    """
    known = tuple(sizes)
    return min((size for size in known if size >= pieces), default=max(known, default=0))


def trusted_cc(
    rating_cc: int, condition: PacketCondition, indicator: Indicator
) -> tuple[float, float]:
    """What one absorber of a packet is taken to have when it is opened (cc of oxygen): low, likely.

    A doubtful packet is believed less: what it still has nobody can see.
    """
    low, likely = DOUBTED_SHARES[signs_of_air(condition, indicator)]
    return rating_cc * low, rating_cc * likely
