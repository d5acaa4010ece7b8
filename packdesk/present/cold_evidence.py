"""What a load's cold rests on, in sentences: two rules side by side, readings, the freezer."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.instants import Reading
from packdesk.present.clock_rows import between, instants_in_words
from packdesk.present.measures import Measures
from packdesk.session.clocks import cold_done, governing
from packdesk.session.figures import ColdForecast, FreezerOutlook, Span
from packdesk.session.load import Load
from packdesk.session.load_story import story
from packdesk.session.packing_room import known_room_c
from packdesk.session.state import SessionState
from packdesk.session.terms import ColdRule

WIDENED_SAID = 1.5
"""From here on a band that readings widened is said to be wide."""

QUALITY = (
    "Insects spoil food but make nobody ill: this is advice. A load may come out early, "
    "for a reason."
)
WHY_PLAIN = (
    "The plain rule governs unless you choose: it asks more, whatever the insect; the dose rests "
    "on few measured kills."
)
WHY_NOT_DOSE = (
    "By your choice the dose governs. It rests on few measured kills; the plain rule asks more, "
    "whatever the insect."
)
COLDER = "Set the freezer colder or take other loads out."
LAG = "lag in the closed pail included"
CORE_READING = (
    "Core: by a probe wired in before the lid went on. Never open a warming pail to measure it."
)


@dataclass(frozen=True, slots=True)
class RuleChoice:
    """One of the two rules in words: its name, when it is complete, whether it governs."""

    rule: ColdRule
    name: str
    when: str
    governs: bool


def rule_choices(
    session: SessionState, load: Load, now: Reading, measures: Measures
) -> tuple[RuleChoice, ...]:
    """The plain rule and the dose side by side; none where no dose is reckoned."""
    forecast = load.forecast
    if not forecast.dose_stage:
        return ()
    treat = measures.temperature(forecast.treat_c)
    return (
        RuleChoice(
            ColdRule.PLAIN,
            f"Plain rule: {forecast.hold_h:.0f} h at {treat}",
            _complete(forecast.hold_done, now),
            session.cold_rule is ColdRule.PLAIN,
        ),
        RuleChoice(
            ColdRule.DOSE,
            "Dose of the toughest insect",
            _complete(forecast.dose_done, now),
            session.cold_rule is ColdRule.DOSE,
        ),
    )


def cold_evidence(
    session: SessionState, load: Load, now: Reading, measures: Measures
) -> tuple[str, ...]:
    """When the cold of a load is complete, what its last reading changed, how its freezer does."""
    forecast = load.forecast
    freezer = session.freezers.get(load.figures.freezer)
    said = [
        _of_governing(session, load, now, measures),
        labouring(freezer, now, measures),
        narrowed(session, load, now),
        widened(forecast),
        _dose_stage(session, load),
    ]
    return tuple(sentence for sentence in said if sentence)


def _dose_stage(session: SessionState, load: Load) -> str:
    """The life stage that the dose is reckoned for, and why the plain rule is the usual one."""
    stage = load.forecast.dose_stage
    if not stage:
        return ""
    why = WHY_NOT_DOSE if governing(session, load) is ColdRule.DOSE else WHY_PLAIN
    return f"Toughest life stage: {stage}. {why}"


def narrowed(session: SessionState, load: Load, now: Reading) -> str:
    """What the last reading made of the due time: how wide it was before it, and is since."""
    before = load.forecast_before
    if before is None:
        return ""
    was = before.dose_done if session.cold_rule is ColdRule.DOSE else before.hold_done
    found = cold_done(session, load)
    if was is None or found is None:
        return ""
    wide_h, is_h = (_width_h(span) for span in (was, found))
    if is_h < 0.8 * wide_h:
        return f"The last reading narrowed this from {wide_h:.0f} h to {is_h:.0f} h."
    moved_h = (found.likely - was.likely).total_seconds() / 3600.0
    if abs(moved_h) < 0.5:
        return "The last reading agrees with what was reckoned."
    way = "later" if moved_h > 0.0 else "sooner"
    return f"The last reading puts this {abs(moved_h):.0f} h {way}." if abs(moved_h) >= 1.0 else ""


def widened(forecast: ColdForecast) -> str:
    """That readings contradict the reckoning, so that they narrow no band."""
    if forecast.widened < WIDENED_SAID:
        return ""
    return (
        "A reading contradicts what is reckoned, so the range is kept wide. "
        "Look at the probe and at the freezer's door."
    )


def labouring(freezer: FreezerOutlook | None, now: Reading, measures: Measures) -> str:
    """That a freezer has more to do than it can, until when, and what warms in it."""
    if freezer is None or freezer.labours_until is None or freezer.labours_until <= now.utc:
        return ""
    air, frozen = (
        measures.temperature(each, 1.0)
        for each in (freezer.warmest_air_c, freezer.warmest_frozen_c)
    )
    (until,) = instants_in_words((freezer.labours_until,), now)
    return (
        f"The freezer labours: its air warms to about {air} and is at rest again about {until}; "
        f"food frozen in it warms to about {frozen}."
    )


def out_now(session: SessionState, load: Load, now: Reading, measures: Measures) -> tuple[str, ...]:
    """What the cold would come to if the closed pail came out now."""
    from packdesk.session.forecast import cold_if_out  # loads numpy

    found = cold_if_out(
        story(session, load),
        now.utc.replace(second=0, microsecond=0),
        known_room_c(session),
        load.forecast.treat_c,
    )
    needed_h = load.forecast.hold_h
    percent = min(100, int(100.0 * found.held_h / needed_h)) if needed_h > 0.0 else 100
    hold = f"{percent} % of the {needed_h:.0f} h"
    if found.dose is None:
        return (f"Taken out now: {hold} complete, {LAG}.", QUALITY)
    covered = "would be covered" if found.dose >= 1.0 else "would not be covered"
    dose = f"{min(100, int(100.0 * found.dose))} %"
    stage = f"the toughest life stage, {found.dose_stage}, {covered}"
    if governing(session, load) is ColdRule.DOSE:
        return (
            f"Taken out now: {dose} of the dose complete, {LAG}: {stage}.",
            f"By the plain rule {hold}.",
            QUALITY,
        )
    return (f"Taken out now: {hold} complete, {LAG}.", f"By dose {dose}: {stage}.", QUALITY)


def _complete(span: Span | None, now: Reading) -> str:
    return between(span, now) if span is not None else "not within ten days"


def _width_h(span: Span) -> float:
    return (span.late - span.early).total_seconds() / 3600.0


def _of_governing(session: SessionState, load: Load, now: Reading, measures: Measures) -> str:
    """When the cold is complete by the rule that governs, or what would bring it about."""
    forecast, done = load.forecast, cold_done(session, load)
    treat = measures.temperature(forecast.treat_c)
    if governing(session, load) is ColdRule.DOSE:
        if done is None:
            return f"The dose is not complete within ten days in this freezer. {COLDER}"
        return f"The dose of the toughest insect is complete {between(done, now)}."
    if forecast.cold_from is None:
        return f"With the freezer as it is the core does not reach {treat}. {COLDER}"
    if done is None:
        return f"The core reaches {treat} {between(forecast.cold_from, now)}."
    return f"{forecast.hold_h:.0f} h at the core are complete {between(done, now)}."
