"""The ends of a round: an odd absorber, the other packet of a set, what is left into the jar."""

from __future__ import annotations

from collections.abc import Sequence

from packdesk.instants import Reading, span
from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.cautions import ABSORBER_CAUTION
from packdesk.present.liners import called
from packdesk.present.other_source import other_control, source_named
from packdesk.present.packet_words import PACKET_TITLE
from packdesk.present.shut_up import another_count
from packdesk.sentences import capital
from packdesk.session.clocks import ClockKind, running, standing
from packdesk.session.commands import PlaceAbsorbers, ShutRemainder
from packdesk.session.figures import AgreedLine
from packdesk.session.lacking import lacking, others_of_rating
from packdesk.session.pouch import Pouch
from packdesk.session.state import Round, SessionState
from packdesk.session.terms import Stage

_MISCOUNTED = (
    "If there are more or fewer in your hand, enter what you count: then look whether a pouch "
    "has none, or two."
)


def jar_card(
    session: SessionState, round_: Round, now: Reading, counted: int | None = None
) -> WorkCard:
    """Nothing lacks an absorber: what is left is shut up before it works on the room."""
    one = round_.left == 1
    what = "absorber" if one else f"{round_.left} absorbers"
    others = sum(other.left > 0 for other in session.rounds.values()) > 1
    left = f"left of {source_named(round_)}" if others else "left"
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Put the {what} {left} into the jar and screw its lid tight.",
        main=Control(
            "1 is in the jar" if one else f"{round_.left} are in the jar",
            "Space bar",
            icon="packet",
            command=ShutRemainder(round_.round),
        ),
        seconds=(another_count(round_, counted),),
        evidence=(limit_words(session, round_, now), _MISCOUNTED),
        caution=ABSORBER_CAUTION,
    )


def not_taken_words(line: AgreedLine, without: Sequence[Pouch], round_: Round) -> str:
    """«Pouches 1 to 4 take 100 cc each; those of jar R1 are of 200 cc.»"""
    which = capital(called(line, (pouch.number for pouch in without)))
    takes = "takes" if len(without) == 1 else "take"
    return (
        f"{which} {takes} {_ratings(line, without[0])}{'' if len(without) == 1 else ' each'}; "
        f"those of {source_named(round_)} are of {round_.rating_cc} cc."
    )


def _ratings(line: AgreedLine, pouch: Pouch) -> str:
    return " and ".join(f"{cc} cc" for cc in sorted(lacking(line, pouch), reverse=True))


def other_rating_card(line: AgreedLine, without: Sequence[Pouch], *seconds: Control) -> WorkCard:
    """What lies open is not what the pouches lack: the other packet of their set comes next."""
    wanted = _ratings(line, without[0])
    which = called(line, (pouch.number for pouch in without))
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Open a packet of {wanted} now: {which} {_wants(len(without))}.",
        main=Control(
            "The packet is open", "Space bar", icon="packet", form="packet", title=PACKET_TITLE
        ),
        seconds=seconds,
        caution=ABSORBER_CAUTION,
    )


def _wants(count: int) -> str:
    return "lacks it" if count == 1 else "lack it"


def odd_card(
    session: SessionState,
    line: AgreedLine,
    number: int,
    round_: Round,
    each: int,
    now: Reading,
    shut_up: Control,
) -> WorkCard:
    """Fewer are left than one pouch takes: they go in, the next packet gives the rest."""
    others = others_of_rating(session, round_, now.utc)
    rest = f"take the rest from {source_named(others[0])}" if others else "open the next packet"
    of = f" in {source_named(round_)}" if others else ""
    left = "1 absorber is" if round_.left == 1 else f"{round_.left} absorbers are"
    drop = "Drop it" if round_.left == 1 else "Drop them"
    which = called(line, (number,))
    return WorkCard(
        stage=Stage.FILLING,
        sentence=(f"Only {left} left{of}, {which} takes {each} more. {drop} in, then {rest}."),
        main=Control(
            f"{round_.left} {'is' if round_.left == 1 else 'are'} in {which}",
            "Space bar",
            cell=CellState.ABSORBERS_IN,
            command=PlaceAbsorbers(line.line, 1, round=round_.round),
        ),
        seconds=(*other_control(session, line, round_, now), shut_up),
        caution=ABSORBER_CAUTION,
    )


def limit_words(session: SessionState, round_: Round, now: Reading) -> str:
    """Say how much of a packet's time is left."""
    for clock in running(session):
        if clock.kind is ClockKind.PACKET and clock.subject == str(round_.round):
            stands = standing(clock, now)
            words = span(stands.remaining_s)
            if stands.unknown:
                return "Nobody knows how long the packet was open. Shut the last pouches now."
            if stands.due:
                return f"The packet is {words} past its time. Shut the last pouches now."
            return f"{words} left before the packet's time is over."
    return ""
