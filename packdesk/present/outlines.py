"""The session record as paper is handed it: sections of sentences, tables, plots, facts."""

from __future__ import annotations

from dataclasses import dataclass, field

from packdesk.present.curves import CoreCurve


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
