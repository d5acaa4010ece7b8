"""The finished words and figures the window's zones are handed: path, work, clocks, tally, alarm.

Views format nothing and compute nothing. Curves have their own module, and so have papers.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID

from packdesk.session.commands import Command
from packdesk.session.terms import Stage


class Mark(StrEnum):
    """How far a stage has come, for its knot on the path."""

    DONE = "done"
    PARTLY = "partly"
    NOW = "now"
    NEXT = "next"


class Urgency(StrEnum):
    """How a clock stands: an at-least clock that is met is calm, never late."""

    CALM = "calm"
    SOON = "soon"
    LATE = "late"
    MET = "met"


class CellState(StrEnum):
    """The drawing a pouch cell shows; each state is the one before with a mark more."""

    PLANNED = "planned"
    FILLED = "filled"
    ABSORBERS_IN = "absorbers_in"
    PRESSED_SHUT = "pressed_shut"
    SEALED = "sealed"
    LABELLED = "labelled"
    STOWED = "stowed"
    SEAL_CHECKED = "seal_checked"
    SET_ASIDE = "set_aside"


@dataclass(frozen=True, slots=True)
class Control:
    """One thing that can be done: what will then be true, and how it is done.

    A control carries a finished `command`, or the name of the `form` whose typed figures
    complete it, or the stage it leads to (`goto`). `missing` says what is lacking, or from
    when it will be: the control then shows itself as not yet, and pressing it goes to the form.
    `icon` names a drawing; `cell` the pouch state it brings about. `act` is what the main control
    says while the form of a second control is filled in (empty: the label itself), `title` the
    sentence above that form (empty: the card's own).
    """

    label: str
    hint: str = ""
    icon: str = ""
    cell: CellState | None = None
    key: str = ""
    command: Command | None = None
    form: str = ""
    goto: Stage | None = None
    missing: str = ""
    act: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True)
class WorkCard:
    """The work at one stage: what to do next, the main control, at most two beside it.

    `evidence` are sentences that say why; `caution` is shown wherever somebody may be hurt.
    `short` is the sentence in fewer words, for reading from afar; empty where it is short already.
    `amiss` are for what went wrong: they stand at the foot of the page. `foremost` are sentences
    that must not be missed: they stand above all else below the controls. `standing` is what
    never scrolls away: how far the work has come, and where it leads.
    """

    stage: Stage
    sentence: str
    main: Control
    seconds: tuple[Control, ...] = ()
    evidence: tuple[str, ...] = ()
    caution: str = ""
    short: str = ""
    amiss: tuple[Control, ...] = ()
    foremost: tuple[str, ...] = ()
    standing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StageRow:
    """One row of the path: the stage, its progress in words, and which loads stand there."""

    stage: Stage
    name: str
    progress: str
    mark: Mark
    loads: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ClockRow:
    """One running clock in words and one bar.

    `fraction` is the part of its time that has passed (0 to 1, more when late); `at_least`
    tells which way the bar runs; `tag` is a load's letter or empty.
    """

    clock: str
    name: str
    tag: str
    time_of_day: str
    day: str
    meaning: str
    remaining: str
    fraction: float
    at_least: bool
    urgency: Urgency
    note: str = ""

    @property
    def short_day(self) -> str:
        """The day where room is scarce: «Wed» for Wednesday; a date stays as it is."""
        return self.day if " " in self.day else self.day[:3]


@dataclass(frozen=True, slots=True)
class PouchCell:
    """One pouch against the plan; `number` is None while it is only planned.

    `absorbers` are in it, or will be: none in a food such as salt, more than one where a packet
    is doubted. `more`: a sign that stands for so many pouches that are not drawn.
    """

    number: int | None
    state: CellState
    label: str
    in_hand: bool = False
    marginal: bool = False
    add_one: bool = False
    liner: bool = False
    pail: str = ""
    absorbers: int = 1
    more: int = 0


@dataclass(frozen=True, slots=True)
class TallyLine:
    """One plan line of the tally: the food, its counts in words, a cell for each pouch."""

    line: int
    food: str
    words: str
    cells: tuple[PouchCell, ...]


@dataclass(frozen=True, slots=True)
class TallyBoard:
    """The bottom of the window: the lines, the last entry, what Undo takes back, when saved."""

    lines: tuple[TallyLine, ...]
    last_entry: str
    undo: str
    saved: str


@dataclass(frozen=True, slots=True)
class AlarmBand:
    """The band across the top: what and how late, what ends it, and whether the sound stopped.

    `session` is the one it belongs to, where that is not the one in hand.
    """

    headline: str
    cure: str
    sound_stopped: str
    clocks: tuple[str, ...]
    session: UUID | None = None


@dataclass(frozen=True, slots=True)
class PacketTimes:
    """An open packet in time (all instants aware, in one zone), and the words under them.

    `done` are the pouches already shut, `forecast` those still to come at this pace: none while
    the pace is a guess; the `last` of them is told all the same.
    """

    opened: datetime
    now: datetime
    due: datetime
    opened_words: str
    now_words: str
    due_words: str
    done: tuple[datetime, ...] = ()
    forecast: tuple[datetime, ...] = ()
    last: datetime | None = None
