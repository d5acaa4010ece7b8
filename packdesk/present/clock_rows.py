"""Running clocks in words and bars, the most urgent first, and the band of those that rang."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta

from packdesk.instants import (
    Reading,
    clock_set_words,
    day_and_time,
    local,
    span,
    time_of_day,
)
from packdesk.present.cards import AlarmBand, ClockRow, Urgency
from packdesk.present.label_text import food_title
from packdesk.present.liners import named_apart
from packdesk.present.load_view import short_food
from packdesk.sentences import capital
from packdesk.session.clocks import Clock, ClockKind, Standing, running, standing
from packdesk.session.figures import Span
from packdesk.session.state import SessionState
from packdesk.session.terms import OpenLimit

SOON_S = 600.0
SOON_FRACTION = 0.85

WEEKDAY_WITHIN = timedelta(days=6)
"""So far from today a weekday names one day only; further away the date is said."""

_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_ORDER = {Urgency.LATE: 0, Urgency.SOON: 1, Urgency.MET: 2, Urgency.CALM: 3}


def clock_rows(session: SessionState, now: Reading) -> tuple[ClockRow, ...]:
    """Say every running clock of `session`, late ones first, then by what remains."""
    found = [(clock, standing(clock, now)) for clock in running(session)]
    rows = [(_row(clock, stands, now), stands.remaining_s) for clock, stands in found]
    rows.sort(key=lambda each: (_ORDER[each[0].urgency], each[1]))
    return tuple(row for row, _ in rows)


def urgency(clock: Clock, stands: Standing) -> Urgency:
    """How a clock stands: an at-least clock is never late, only met."""
    if stands.due:
        return Urgency.MET if clock.at_least else Urgency.LATE
    passed = stands.passed_s / clock.runs_s if clock.runs_s > 0 else 1.0
    if not clock.at_least and (stands.remaining_s < SOON_S or passed > SOON_FRACTION):
        return Urgency.SOON
    return Urgency.CALM


def _row(clock: Clock, stands: Standing, now: Reading) -> ClockRow:
    state = urgency(clock, stands)
    due = local(stands.due_at, now.offset_min_at)
    today = local(now.utc, now.offset_min_at).date()
    return ClockRow(
        clock=clock.clock,
        name=clock_name(clock),
        tag=clock.subject if clock.kind in (ClockKind.COLD, ClockKind.THAW) else "",
        time_of_day=f"{due:%H:%M}",
        day=day_words(due.date(), today),
        meaning="taken as due" if _unknown(clock, stands) else _meaning(clock, state),
        remaining=_remaining(clock, stands, state, now),
        fraction=max(0.0, stands.passed_s / clock.runs_s) if clock.runs_s > 0 else 1.0,
        at_least=clock.at_least,
        urgency=state,
        note=_note(clock, stands, now),
    )


def day_words(due: date, today: date) -> str:
    """Say a day: nothing for today, the weekday within the week, else the date."""
    if due == today:
        return ""
    name = _DAYS[due.weekday()]
    if abs(due - today) <= WEEKDAY_WITHIN:
        return name
    return f"{name[:3]} {due.day} {_MONTHS[due.month - 1]}"


def clock_name(clock: Clock) -> str:
    """Name a clock by the thing it waits for."""
    match clock.kind:
        case ClockKind.COLD:
            return f"{food_title(short_food(clock.name))} cooling"
        case ClockKind.THAW:
            return f"{food_title(short_food(clock.name))} warming"
        case ClockKind.PACKET:
            return f"{_source(clock)} open{' again' if clock.again else ''}"
        case ClockKind.PRESSED_SHUT:
            if clock.gap:
                return f"{clock.count} with a gap in {'its' if clock.count == 1 else 'the'} seam"
            return f"{clock.count} shut, no seam yet"
        case ClockKind.SEAL_CHECK:
            return f"Check {clock.count} {'seam' if clock.count == 1 else 'seams'}"


def _source(clock: Clock) -> str:
    """Name where the absorbers lie open: what a round was started from, or pouches open again."""
    if clock.open_pouches:
        which = named_apart(clock.open_pouches, clock.liners)
        return capital(which)
    return f"{'Jar' if clock.name.startswith('R') else 'Packet'} {clock.name}"


def _waiting(clock: Clock) -> str:
    """Name the pouch that has waited longest for its seam."""
    return f"{'Liner' if clock.liners else 'Pouch'} {clock.subject}"


def _meaning(clock: Clock, state: Urgency) -> str:
    if state is Urgency.LATE:
        return "was due"
    if clock.gap:
        return "close by"
    if clock.open_pouches:
        return "seal by" if clock.liners == clock.open_pouches else "shut by"
    return {
        ClockKind.COLD: "cold enough",
        ClockKind.THAW: "lid off from",
        ClockKind.PACKET: "use by",
        ClockKind.PRESSED_SHUT: "seal by",
        ClockKind.SEAL_CHECK: "look from",
    }[clock.kind]


def _remaining(clock: Clock, stands: Standing, state: Urgency, now: Reading) -> str:
    words = span(stands.remaining_s)
    if _unknown(clock, stands):
        return "time unknown"
    if state is Urgency.LATE:
        return f"{words} over"
    if state is Urgency.MET:
        return f"ready since {_when(stands, now)}"
    return words if clock.at_least else f"{words} left"


def _when(stands: Standing, now: Reading) -> str:
    return instants_in_words((stands.due_at,), now)[0]


def instants_in_words(instants: Sequence[datetime], now: Reading) -> tuple[str, ...]:
    """Say instants alike: time of day if all are today's, with the weekday, or with the date."""
    offset_min = now.offset_min_at
    today = local(now.utc, offset_min).date()
    away = max(abs(local(at, offset_min).date() - today) for at in instants)
    if not away:
        return tuple(time_of_day(at, offset_min) for at in instants)
    if away <= WEEKDAY_WITHIN:
        return tuple(day_and_time(at, offset_min) for at in instants)
    return tuple(_far_off(local(at, offset_min), today) for at in instants)


def _far_off(there: datetime, today: date) -> str:
    """«Mon 26 April 08:12», with the year where it is another one."""
    day = f"{_DAYS[there.weekday()][:3]} {there.day} {_MONTHS[there.month - 1]}"
    year = f" {there.year}" if there.year != today.year else ""
    return f"{day}{year} {there:%H:%M}"


def _note(clock: Clock, stands: Standing, now: Reading) -> str:
    if stands.contradicted:
        return "the computer's clocks disagree; the safer one counts: check the time"
    if not stands.certain:
        return "by the wall clock alone: the computer was restarted"
    if abs(stands.wall_moved_s) >= 60.0:
        return f"{clock_set_words(stands.wall_moved_s)}; not counted"
    if clock.span is not None:
        return between(clock.span, now)
    if clock.kind is ClockKind.PACKET:
        return (
            "margin used up by then"
            if clock.limit is OpenLimit.MARGIN
            else "the cap of common practice"
        )
    if clock.kind is ClockKind.PRESSED_SHUT:
        if clock.gap:
            return "not gas-tight yet: close the gap at once"
        return "not gas-tight yet; longest waiting first"
    return "within two days of the seam" if clock.subject == "1" else "press, look for slack"


def between(band: Span, now: Reading) -> str:
    """Say the range of an uncertain instant: «between 11:05 and 12:10»."""
    early, late = instants_in_words((band.early, band.late), now)
    return f"about {early}" if early == late else f"between {early} and {late}"


def alarm_band(session: SessionState, now: Reading) -> AlarmBand | None:
    """The band across the top: clocks that are due and wait for the act that ends them.

    One whose ringing could not be put on record stands in it all the same.
    """
    found = ((clock, standing(clock, now)) for clock in running(session))
    due = sorted(
        ((clock, stands) for clock, stands in found if stands.due),
        key=lambda each: (each[0].at_least, each[1].remaining_s),
    )
    if not due:
        return None
    worst, stands = due[0]
    headline = _headline(worst, stands) if len(due) == 1 else f"{len(due)} clocks are due"
    first = "" if len(due) == 1 else f"{_headline(worst, stands)}. "
    rang = [session.alarms.get(clock.clock) for clock, _ in due]
    stopped = [each.silenced_at for each in rang if each is not None and each.silenced_at]
    return AlarmBand(
        headline=headline,
        cure=f"{first}{_cure(worst)} {_was_due(worst, stands, now)}",
        sound_stopped=(
            f"sound stopped {time_of_day(max(stopped), now.offset_min_at)}"
            if len(stopped) == len(due)
            else ""
        ),
        clocks=tuple(clock.clock for clock, _ in due),
    )


def _unknown(clock: Clock, stands: Standing) -> bool:
    """Whether a clock is taken as due because nobody knows how long it has run."""
    return stands.unknown and not clock.at_least


def _was_due(clock: Clock, stands: Standing, now: Reading) -> str:
    """When the clock was due and, where its headline does not say so, how long ago that is."""
    if _unknown(clock, stands):
        return "The computer's clocks disagree: check the time."
    late = "" if clock.kind is ClockKind.PACKET else ago(stands, ", ")
    they_were = "They were" if len(clock.open_pouches) > 1 else "It was"
    return f"{they_were} due at {_when(stands, now)}{late}."


def ago(stands: Standing, lead: str) -> str:
    """How long ago a clock was due; nothing for the first minute, which is no news."""
    late_s = -stands.remaining_s
    return f"{lead}{span(late_s)} ago" if late_s >= 60.0 else ""


def _headline(clock: Clock, stands: Standing) -> str:
    match clock.kind:
        case ClockKind.COLD:
            return f"Load {clock.subject} has been cold long enough"
        case ClockKind.THAW:
            return f"Load {clock.subject} is warm enough to open"
        case ClockKind.PACKET if stands.unknown:
            it_was = "they were" if len(clock.open_pouches) > 1 else "it was"
            return f"{_source(clock)}: nobody knows how long {it_was} open"
        case ClockKind.PACKET:
            return _past_its_time(clock, stands)
        case ClockKind.PRESSED_SHUT if stands.unknown:
            return f"{_waiting(clock)}: nobody knows how long it waited for its seam"
        case ClockKind.PRESSED_SHUT:
            return f"{_waiting(clock)} has waited too long for its seam"
        case ClockKind.SEAL_CHECK:
            many = f"{clock.count} seams are"
            return f"{'1 seam is' if clock.count == 1 else many} to be checked"


def _past_its_time(clock: Clock, stands: Standing) -> str:
    """«Packet P1 is 5 min past its time»; of pouches, that they are open again."""
    many = len(clock.open_pouches) > 1
    be = "may be" if stands.contradicted else "are" if many else "is"
    past = f"{span(stands.remaining_s)} past {'their' if many else 'its'} time"
    return f"{_source(clock)}{_standing_open(clock)} {be} {past}"


def _standing_open(clock: Clock) -> str:
    if not clock.open_pouches:
        return ""
    return ", open again," if clock.again else ", open,"


def _cure(clock: Clock) -> str:
    match clock.kind:
        case ClockKind.COLD:
            return f"Take load {clock.subject} out, lid on."
        case ClockKind.THAW:
            return f"Wipe load {clock.subject} and its rim dry, then open it."
        case ClockKind.PACKET if clock.open_pouches:
            if clock.liners == clock.open_pouches:
                return f"Seal {named_apart(clock.open_pouches, clock.liners)} now."
            return f"Shut {named_apart(clock.open_pouches, clock.liners)} now."
        case ClockKind.PACKET:
            return "Shut the pouch in your hand, then put the absorbers left into the jar."
        case ClockKind.PRESSED_SHUT:
            if clock.gap:
                return "Close the gap in its seam now."
            return "Seal the pouches that are shut, this one first."
        case ClockKind.SEAL_CHECK:
            return "Press each pouch and enter how it feels."
