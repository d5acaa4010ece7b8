"""Absorbers that are not what their packet says: how many make sure, said before the first."""

from __future__ import annotations

from datetime import datetime

from packdesk.instants import Reading
from packdesk.present.cards import Control, WorkCard
from packdesk.present.cautions import ABSORBER_CAUTION
from packdesk.present.liners import called
from packdesk.present.measures import Measures
from packdesk.present.other_source import other_control, source_named
from packdesk.present.shut_up import another_count
from packdesk.present.too_many import at_most
from packdesk.sentences import capital
from packdesk.session.commands import PlaceAbsorbers, ShutRemainder
from packdesk.session.figures import AgreedLine
from packdesk.session.lacking import others_of_rating
from packdesk.session.pouch import Pouch
from packdesk.session.state import Round, SessionState
from packdesk.session.supply import Supply
from packdesk.session.terms import Stage


def counted_on(line: AgreedLine, round_: Round, per_pouch: Supply, at: datetime) -> str:
    """«1 absorber of packet P1 counts for 50 to 100 cc, for 42 cc at the end of its time; a pouch
    needs 115 cc.»"""
    low, likely = f"{round_.capacity_low_cc:.0f}", f"{round_.capacity_likely_cc:.0f}"
    has = likely if low == likely else f"{low} to {likely}"
    what = "liner" if line.liner else "pouch"
    then = "by now" if at > round_.due else "at the end of its time"
    # What falls short by less than what rounding hides would look as if it were enough.
    enough_cc = round(per_pouch.planned * per_pouch.low_cc) + round(per_pouch.beside_cc)
    points = 1 if enough_cc >= round(per_pouch.need_cc) else 0
    beside = (
        f", its others count for {per_pouch.beside_cc:.{points}f} cc" if per_pouch.beside_cc else ""
    )
    left = f"{per_pouch.low_cc:.{points}f} cc"
    counts = f"counts for {has} cc, for {left} {then}"
    if round_.capacity_low_cc >= round_.rating_cc:
        counts = f"had {has} cc when it was opened, and may have {left} by now"
    return (
        f"1 absorber of {source_named(round_)} {counts}; "
        f"a {what} needs {per_pouch.need_cc:.{points}f} cc{beside}"
    )


def needs_more(session: SessionState, line: AgreedLine, pouch: Pouch, per_pouch: Supply) -> str:
    """«Pouch 2 holds 900 g and needs 107 cc», where the packet is sound and more go in."""
    told = called(line, (pouch.number,))
    holds = (
        f" holds {Measures(session.units).mass(pouch.net_mass_g)} and"
        if pouch.net_mass_g is not None and pouch.net_mass_g > line.fill_mass_g
        else ""
    )
    need_cc, has_cc = round(per_pouch.need_cc), round(per_pouch.beside_cc)
    beside = f", what else goes into it counts for {has_cc} cc by then" if has_cc else ""
    if pouch.placed and has_cc:
        beside = f", what is in it counts for {has_cc} cc when the packet's time is over"
    return f"{capital(told)}{holds} needs {need_cc} cc{beside}"


def more_counted_on(round_: Round, per_pouch: Supply, at: datetime) -> str:
    """«1 absorber of packet P1 is counted on for 42 cc at the end of its time, 73 cc
    are lacking: 1 more is not enough.»"""
    lacks_cc = per_pouch.need_cc - per_pouch.beside_cc
    points = 1 if round(per_pouch.low_cc) >= round(lacks_cc) else 0
    then = "by now" if at > round_.due else "at the end of its time"
    return (
        f"1 absorber of {source_named(round_)} is counted on for {per_pouch.low_cc:.{points}f} cc "
        f"{then}, {lacks_cc:.{points}f} cc are lacking: 1 more is not enough."
    )


def more_each_words(counts: str, planned: int, each: int, *, doubted: bool = True) -> str:
    """Why more than planned go in, and what else can be done where the packet is `doubted`."""
    told = f"{counts}: {planned} {'is' if planned == 1 else 'are'} not enough, {each} make sure."
    return f"{told} Or put these into a jar (C) and open another packet." if doubted else told


def as_planned(
    line: AgreedLine, round_: Round, planned: int, alike: int, asked: int | None
) -> Control:
    """The control for who puts in as many as planned nevertheless, into as many of the `alike`
    pouches as were `asked` for, or as there are absorbers."""
    possible = max(1, min(alike, round_.left // planned))
    control = Control(
        f"Only {min(planned, round_.left)} each",
        icon="done",
        key="N",
        command=PlaceAbsorbers(
            line.line,
            min(asked or alike, possible),
            shut=not line.liner or line.zip,
            round=round_.round,
        ),
    )
    return at_most(control, asked, possible, alike, round_.left, planned)


def not_enough_card(
    session: SessionState,
    line: AgreedLine,
    round_: Round,
    counts: str,
    plain: Control,
    counted: int | None,
    now: Reading,
) -> WorkCard:
    """So little is in them that another packet is the way: these are shut up."""
    them = "the 1 left" if round_.left == 1 else f"the {round_.left}"
    others = others_of_rating(session, round_, now.utc)
    then = f"take from {source_named(others[0])}" if others else "open another packet"
    return WorkCard(
        stage=Stage.FILLING,
        sentence=(
            f"Not enough for a {'liner' if line.liner else 'pouch'}: put {them} of "
            f"{source_named(round_)} into the jar, then {then}."
        ),
        main=Control(
            f"{round_.left} {'is' if round_.left == 1 else 'are'} in the jar",
            "Space bar",
            icon="packet",
            command=ShutRemainder(round_.round),
        ),
        seconds=(
            another_count(round_, counted),
            plain,
            *other_control(session, line, round_, now),
        ),
        foremost=(f"{counts}.",),
        caution=ABSORBER_CAUTION,
    )
