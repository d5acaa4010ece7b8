"""The controls by which absorbers in the hand are counted and shut up, as reckoned or not."""

from __future__ import annotations

from packdesk.present.cards import Control
from packdesk.session.commands import ShutRemainder
from packdesk.session.state import Round, SessionState
from packdesk.session.terms import Stage

JAR, OVER = "jar", "over"
"""The forms that ask how many, in what, and where: of a round that lies open, of one used up."""

JAR_TITLE = "Count what you hold, and say what you put it into and where."
OVER_TITLE = "Count what you hold, say where you put it, then look whether a pouch has none."


def shut_up_control(round_: Round, counted: int | None, source: str = "") -> Control:
    """Shut up what is left of a round that goes on, with the count and the place."""
    return Control(
        f"{round_.left} {f'of {source}' if source else 'left'}: into a jar",
        icon="packet",
        key="C",
        form=JAR,
        command=ShutRemainder(round_.round),
        act=shut_up_words(round_.left, counted),
        title=JAR_TITLE,
    )


def another_count(round_: Round, counted: int | None) -> Control:
    """Beside the press that shuts up what is reckoned: another count, another place."""
    return Control(
        "Another count or place",
        icon="edit",
        key="W",
        form=JAR,
        command=ShutRemainder(round_.round),
        act=shut_up_words(round_.left, counted),
        title=JAR_TITLE,
    )


def over_control(session: SessionState, stage: Stage, counted: int | None) -> tuple[Control, ...]:
    """The round begun last is used up by reckoning: what is in the hand all the same is shut up."""
    if stage not in (Stage.FILLING, Stage.SEALING) or session.closed_at is not None:
        return ()
    last = session.rounds[max(session.rounds)] if session.rounds else None
    if last is None or last.shut_up or last.left:
        return ()
    return (
        Control(
            "Absorber left over",
            icon="packet",
            key="J",
            form=OVER,
            command=ShutRemainder(last.round, count=1),
            act=shut_up_words(1, counted),
            title=OVER_TITLE,
        ),
    )


def shut_up_words(reckoned: int, counted: int | None) -> str:
    """What the press says: so many are shut up, as counted or else as reckoned."""
    count = reckoned if counted is None else counted
    if not count:
        return "None is left"
    return "1 is put away" if count == 1 else f"{count} are put away"
