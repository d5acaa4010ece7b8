"""Where absorbers of one rating lie open in two places: which is taken from, and the other one."""

from __future__ import annotations

from packdesk.instants import Reading
from packdesk.present.cards import Control
from packdesk.session.commands import PlaceAbsorbers
from packdesk.session.figures import AgreedLine
from packdesk.session.lacking import lying_in_turn, others_of_rating
from packdesk.session.state import Round, SessionState

TAKE_FROM = "take_from"


def source_named(round_: Round) -> str:
    """«packet P2» or «jar R1»."""
    return f"{'jar' if round_.source.startswith('R') else 'packet'} {round_.source}"


def several(session: SessionState, round_: Round, now: Reading) -> bool:
    """Whether absorbers of the round's rating lie open in another place too."""
    return bool(others_of_rating(session, round_, now.utc))


def other_control(
    session: SessionState, line: AgreedLine, round_: Round, now: Reading
) -> tuple[Control, ...]:
    """The control that takes from the next place instead; none while there is only one."""
    turn = [r for r in lying_in_turn(session, now.utc) if r.rating_cc == round_.rating_cc]
    if len(turn) < 2:
        return ()
    after = turn[(turn.index(round_) + 1) % len(turn)]
    return (
        Control(
            f"Take from {after.source}",
            icon="packet",
            key="T",
            command=PlaceAbsorbers(line.line, 1, round=after.round),
            form=TAKE_FROM,
        ),
    )


def turn_words(session: SessionState, round_: Round, now: Reading) -> tuple[str, ...]:
    """Say which place is taken from and why, where there is more than one."""
    others = others_of_rating(session, round_, now.utc)
    if not others:
        return ()
    told = ", ".join(f"{other.left} in {source_named(other)}" for other in others)
    turn = lying_in_turn(session, now.utc)
    first = next(each for each in turn if each.rating_cc == round_.rating_cc)
    if first != round_:
        why = "you chose it"
    elif any(other.due < round_.due for other in others):
        weak = others[0].no_margin or others[0].more_each
        why = "one of the other is not enough" if weak else "the other's time is over"
    else:
        why = "its time is over first"
    here = f"Take from {source_named(round_)}, {round_.left} left: {why}."
    return (f"{here} Also open: {told}; T changes over.",)
