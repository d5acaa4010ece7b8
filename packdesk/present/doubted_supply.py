"""Absorbers that are not what their packet says: how many make sure, said before the first."""

from __future__ import annotations

from datetime import datetime

from packdesk.present.cards import Control, WorkCard
from packdesk.present.cautions import ABSORBER_CAUTION
from packdesk.present.other_source import source_named
from packdesk.session.commands import PlaceAbsorbers, ShutRemainder
from packdesk.session.figures import AgreedLine
from packdesk.session.state import Plan, Round
from packdesk.session.supply import lasting_low_cc
from packdesk.session.terms import Stage


def counted_on(line: AgreedLine, round_: Round, plan: Plan | None, at: datetime) -> str:
    """«1 absorber of packet P1 counts for 50 to 100 cc, for 42 cc at the end of its time; a pouch
    needs 115 cc.»"""
    low, likely = f"{round_.capacity_low_cc:.0f}", f"{round_.capacity_likely_cc:.0f}"
    has = likely if low == likely else f"{low} to {likely}"
    what = "liner" if line.liner else "pouch"
    left_cc = lasting_low_cc(plan, round_, at)
    then = "by now" if at > round_.due else "at the end of its time"
    return (
        f"1 absorber of {source_named(round_)} counts for {has} cc, for {left_cc:.0f} cc {then}; "
        f"a {what} needs {line.oxygen_need_cc:.0f} cc"
    )


def more_each_words(counts: str, planned: int, each: int) -> str:
    """Why more than planned go in, and what else can be done."""
    return (
        f"{counts}: {planned} {'is' if planned == 1 else 'are'} not enough, "
        f"{each} make sure. Or shut these up (C) and open another packet."
    )


def as_planned(command: PlaceAbsorbers, planned: int) -> Control:
    """The control for who puts in as many as planned nevertheless."""
    return Control(
        f"Only {planned} each",
        icon="done",
        key="N",
        command=command,
    )


def not_enough_card(
    line: AgreedLine, round_: Round, planned: int, count: int, counts: str
) -> WorkCard:
    """So little is in them that another packet is the way: these are shut up."""
    them = "the 1 left" if round_.left == 1 else f"the {round_.left}"
    return WorkCard(
        stage=Stage.FILLING,
        sentence=(
            f"Not enough for a {'liner' if line.liner else 'pouch'}: shut up {them} of "
            f"{source_named(round_)}, open another packet."
        ),
        main=Control(
            f"{round_.left} {'is' if round_.left == 1 else 'are'} in the jar",
            "Space bar",
            icon="packet",
            command=ShutRemainder(round_.round),
        ),
        seconds=(
            as_planned(
                PlaceAbsorbers(line.line, count, shut=not line.liner, round=round_.round), planned
            ),
        ),
        foremost=(f"{counts}.",),
        caution=ABSORBER_CAUTION,
    )
