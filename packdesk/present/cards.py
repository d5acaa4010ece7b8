"""The finished words and figures a view is handed; views format nothing and compute nothing."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum

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
    says while the form of a second control is filled in; the label itself, if empty.
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


@dataclass(frozen=True, slots=True)
class WorkCard:
    """The work at one stage: what to do next, the main control, at most two beside it.

    `evidence` are sentences that say why; `caution` is shown wherever somebody may be hurt.
    `short` is the sentence in fewer words, for reading from afar; empty where it is short already.
    `amiss` are for what went wrong: they stand at the foot of the page.
    """

    stage: Stage
    sentence: str
    main: Control
    seconds: tuple[Control, ...] = ()
    evidence: tuple[str, ...] = ()
    caution: str = ""
    short: str = ""
    amiss: tuple[Control, ...] = ()


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

    `bare`: a food such as salt, shut up without an absorber.
    """

    number: int | None
    state: CellState
    label: str
    in_hand: bool = False
    marginal: bool = False
    add_one: bool = False
    liner: bool = False
    pail: str = ""
    bare: bool = False


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
    """The band across the top: what and how late, what ends it, and whether the sound stopped."""

    headline: str
    cure: str
    sound_stopped: str
    clocks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """One instant of a core-temperature plot: likely value and band (°C), likely surface."""

    at: datetime
    low_c: float
    likely_c: float
    high_c: float
    surface_c: float | None = None


@dataclass(frozen=True, slots=True)
class AirStep:
    """From `at` on, air at `temp_c` around a load, in the freezer or in the room."""

    at: datetime
    temp_c: float
    in_freezer: bool


@dataclass(frozen=True, slots=True)
class CurveEvent:
    """What happens to a load at an instant, or most likely then; `words` name it.

    `early` and `late` are the ends of its band where it is only reckoned.
    """

    at: datetime
    words: str
    early: datetime | None = None
    late: datetime | None = None


@dataclass(frozen=True, slots=True)
class CoreRow:
    """One row of the plot as a table: when, what happens, the core with its band, what is round it.

    `at` and `now` are for sorting and for marking the row of this very moment.
    """

    at: datetime
    when: str
    what: str
    core: str
    band: str
    surface: str
    air: str
    now: bool = False

    @property
    def cells(self) -> tuple[str, ...]:
        """The row as it is read from left to right."""
        return (self.when, self.what, self.core, self.band, self.surface, self.air)


@dataclass(frozen=True, slots=True)
class CoreCurve:
    """All that a core-temperature plot shows; times are UTC, `utc_offset_min` makes them local.

    Past points are drawn solid, future ones dotted. `hold` is the stretch the core is cold
    enough, `lid_off` the instants between which the lid may come off; `hold_words` name the end
    of the hold. `air` is what surrounds the load step by step, `freezer_words` and `room_words`
    name it, `events` everything with a time, due or done. The screen begins at `shown_from`: of a
    load that warms the thaw is looked at, not the days before. Figures are °C whatever
    the words say; `fahrenheit`: the axis is to be read in °F, as the words are.
    """

    points: tuple[CurvePoint, ...]
    now: datetime
    now_words: str
    now_range: str
    threshold_c: float
    threshold_words: str
    utc_offset_min: int
    hold: tuple[datetime, datetime] | None = None
    dew_point_c: float | None = None
    dew_words: str = ""
    lid_off: tuple[datetime, datetime] | None = None
    lid_words: str = ""
    readings: tuple[tuple[datetime, float], ...] = ()
    fahrenheit: bool = False
    hold_words: str = ""
    hold_of_h: float = 0.0
    wall_readings: tuple[tuple[datetime, float], ...] = ()
    air: tuple[AirStep, ...] = ()
    freezer_words: str = ""
    room_words: str = ""
    events: tuple[CurveEvent, ...] = ()
    shown_from: datetime | None = None


@dataclass(frozen=True, slots=True)
class LabelText:
    """What one pouch label says, line by line, and what its code holds as plain text.

    What is empty is not printed; before filling that is all but identity, lot and code.
    """

    pouch: int
    food: str = ""
    mass: str = ""
    packed: str = ""
    best_quality: str = ""
    identity: str = ""
    lot: str = ""
    absorbers: str = ""
    allergens: str = ""
    caution: str = ""
    advice: str = ""
    code: str = ""


@dataclass(frozen=True, slots=True)
class OutlineLine:
    """One fact in the story of a session: when, what, who; voided ones carry the reason.

    `entered` says when a fact was written down, where that was later, and how sure its time is.
    """

    when: str
    words: str
    who: str = ""
    voided: str = ""
    entered: str = ""


@dataclass(frozen=True, slots=True)
class AxisMark:
    """One mark of an axis: where it stands in the plot's own unit, and what is written there."""

    at: float
    words: str


@dataclass(frozen=True, slots=True)
class CorePlot:
    """A core-temperature plot for paper: the curve, its axes in words, and all of it as sentences.

    `temperatures` mark °C, `days` and `events` hours since the first point; each day's words
    stand between its mark and the next one.
    """

    curve: CoreCurve
    temperatures: tuple[AxisMark, ...]
    days: tuple[AxisMark, ...]
    events: tuple[AxisMark, ...]
    said: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MassHistogram:
    """How the masses of weighed pouches lie: bars of equal width about round masses.

    `edges_g` has one more than `counts`; `marks` stand at masses in g, `planned_g` is what the
    pouches were to hold. `said` tells the same in words.
    """

    title: str
    edges_g: tuple[float, ...]
    counts: tuple[int, ...]
    marks: tuple[AxisMark, ...]
    planned_g: float
    planned_words: str
    said: str


@dataclass(frozen=True, slots=True)
class OutlineSection:
    """A headed part of the session record: sentences, a plot, rows of a small table, facts."""

    title: str
    sentences: tuple[str, ...] = ()
    header: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    facts: tuple[OutlineLine, ...] = ()
    plots: tuple[CorePlot, ...] = ()
    histograms: tuple[MassHistogram, ...] = ()


@dataclass(frozen=True, slots=True)
class RecordOutline:
    """The session record from title to sources, ready to be set on paper."""

    title: str
    subtitle: str
    sections: tuple[OutlineSection, ...] = field(default=())
    foot: str = ""


@dataclass(frozen=True, slots=True)
class PailFood:
    """One food in a pail: its name, how many pouches and how much, which ones, until when."""

    food: str
    amount: str
    pouches: str
    best_quality: str


@dataclass(frozen=True, slots=True)
class PailCard:
    """What the card on one pail says; `code` is the same as plain text for a phone."""

    pail: str
    session: str
    packed: str
    foods: tuple[PailFood, ...]
    mass: str
    lifting: str
    allergens: str
    cautions: tuple[str, ...]
    checked: str
    code: str


@dataclass(frozen=True, slots=True)
class RunBlank:
    """A place to write on; `written` is what the record knows already."""

    label: str
    written: str = ""


@dataclass(frozen=True, slots=True)
class RunStep:
    """One thing to do, with a box to check and places to write on."""

    words: str
    blanks: tuple[RunBlank, ...] = ()


@dataclass(frozen=True, slots=True)
class RunTable:
    """Rows to be filled in by hand; an empty cell is to be written in."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class RunPart:
    """One stage on the run sheet: what to know, what to do, what to write down."""

    title: str
    sentences: tuple[str, ...] = ()
    steps: tuple[RunStep, ...] = ()
    tables: tuple[RunTable, ...] = ()


@dataclass(frozen=True, slots=True)
class RunSheet:
    """The whole run on paper, for a counter without a computer."""

    title: str
    subtitle: str
    cautions: tuple[str, ...]
    parts: tuple[RunPart, ...]
    foot: str
