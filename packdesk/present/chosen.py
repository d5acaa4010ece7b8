"""What the person has picked to look at: a view's own choice, never recorded."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.session.commands import FillPouches
from packdesk.session.terms import Feel, Indicator, PacketCondition, ReadyItem


@dataclass(frozen=True, slots=True)
class ReadyCheck:
    """A ready check that is under way: what is ticked so far, and how many people will work.

    `sounded`: the alarm was started, so that it can be said to be heard. `packets` are the sizes
    that packets of the absorbers wanted come in, `iron` how the film is ironed.
    """

    ticked: tuple[ReadyItem, ...] = ()
    sounded: bool = False
    hands: int = 1
    packets: tuple[int, ...] = ()
    iron: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Opening:
    """What is about to be opened, as picked so far: a jar by its name, or a packet as it looks."""

    jar: str = ""
    condition: PacketCondition = PacketCondition.NOT_SEEN
    indicator: Indicator = Indicator.NOT_SEEN
    feel: Feel = Feel.NOT_FELT


@dataclass(frozen=True, slots=True)
class Chosen:
    """The load shown, the plan line in hand, how many pouches the next press means.

    Empty or None: the one whose turn it is. `counted` absorbers are in the hand, as typed so far.
    `lots` are those that go into the plan, `loads` those
    that the next pouch is filled from, `round` the one absorbers are taken from where several lie
    open, `opening` what is about to be opened. `ready` is the check under way, `asked` the filling
    whose mass is asked about, `advice` whether the long advice is unfolded.
    """

    load: str = ""
    line: int | None = None
    count: int | None = None
    counted: int | None = None
    lots: tuple[str, ...] | None = None
    loads: tuple[str, ...] = ()
    round: int | None = None
    opening: Opening | None = None
    ready: ReadyCheck | None = None
    asked: FillPouches | None = None
    advice: bool = False
