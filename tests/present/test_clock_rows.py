"""Clocks in words: their order, how urgent they are, and what is said when clocks disagree."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from packdesk.present.cards import ClockRow, Urgency
from packdesk.present.clock_rows import alarm_band, between, clock_rows
from packdesk.session.figures import Span
from tests.fakes.clock import START, DrivenClock
from tests.script import SEALED, SHUT, TREATED, Script, tell

ROUND = f"{TREATED}; fill 8; packet 200x10"


def rows(told: Script) -> tuple[ClockRow, ...]:
    """The rows as they stand now."""
    return clock_rows(told.session, told.desk.now())


def the_row(told: Script) -> ClockRow:
    """The one row there is."""
    (row,) = rows(told)
    return row


@pytest.mark.parametrize(
    ("minutes", "urgency", "meaning", "remaining", "fraction"),
    [
        (0, Urgency.CALM, "use by", "20 min left", 0.0),
        (9, Urgency.CALM, "use by", "11 min left", 0.45),
        (11, Urgency.SOON, "use by", "9 min left", 0.55),
        (20, Urgency.LATE, "was due", "0 s over", 1.0),
        (26, Urgency.LATE, "was due", "6 min over", 1.3),
    ],
)
def test_a_packet_grows_urgent(
    minutes: int, urgency: Urgency, meaning: str, remaining: str, fraction: float
) -> None:
    """From calm over soon to late, with the time of day it was due kept all along."""
    row = the_row(tell(f"{ROUND}; +{minutes} min"))

    assert (row.urgency, row.meaning, row.remaining) == (urgency, meaning, remaining)
    assert row.fraction == pytest.approx(fraction)
    assert (row.name, row.time_of_day, row.day) == ("Packet P1 open", "19:20", "")
    assert not row.at_least


def test_an_at_least_clock_is_met_and_never_late() -> None:
    """Days after its time a look at the seams is ready, not late."""
    told = tell(f"{SEALED}; +3 d")
    row = the_row(told)

    assert row.urgency is Urgency.MET
    assert row.meaning == "look from"
    assert row.remaining == "ready since Sat 19:04"
    assert row.at_least


def test_a_load_is_told_with_its_band() -> None:
    """The likely time stands large, the band beside it."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat")
    row = the_row(told)

    assert (row.name, row.tag, row.meaning) == ("Wheat cooling", "A", "cold enough")
    assert row.day == "Wednesday"
    assert row.note.startswith("between Tue ")
    assert row.urgency is Urgency.CALM


def test_the_most_urgent_comes_first() -> None:
    """Late ones first, then those soon due, then what is met, then what can wait."""
    told = tell(
        f"{SEALED}; +25 h; set aside 1-3: dust; return 1-3; take R1; place 2; +55 min;"
        "packet 200x2; place 1; +12 min; packet 100x3; +4 min"
    )

    assert [(row.name, row.urgency) for row in rows(told)] == [
        ("3 shut, no seam yet", Urgency.LATE),
        ("Packet P2 open", Urgency.SOON),
        ("Check 5 seams", Urgency.MET),
        ("Packet P3 open", Urgency.CALM),
    ]


@pytest.mark.parametrize(("steps", "day"), [("+0 s", "Saturday"), ("+1 d", "")])
def test_another_day_is_named(steps: str, day: str) -> None:
    """Within the week the day of the week is said, today's not."""
    assert the_row(tell(f"{SEALED}; {steps}")).day == day


def test_a_day_far_away_is_said_as_a_date() -> None:
    """A look in half a year is not «on Friday»."""
    row = the_row(tell(f"{SEALED}; +1 d; check 1-8 snug; +7 d; check 1-8 snug"))

    assert row.day == "Sat 29 May"


def test_a_wall_clock_that_was_set_is_told() -> None:
    """The clock ran on rightly, and the note says why its time of day is another."""
    told = tell(f"{ROUND}; +5 min")
    told.clock.step_wall(hours=2)
    row = the_row(told)

    assert row.remaining == "15 min left"
    assert row.time_of_day == "21:20"
    assert row.note == "the computer's clock was set forward 2 h; not counted"
    told.do("note: the clock was wrong")
    assert the_row(told).note == row.note


def test_a_change_of_season_moves_the_time_of_day_only() -> None:
    """When the local time goes an hour back the packet is due an hour earlier by the wall."""
    told = tell(f"{ROUND}; +5 min")
    told.clock.change_season(-60)
    row = the_row(told)

    assert (row.time_of_day, row.remaining) == ("18:20", "15 min left")
    assert row.note == "the cap of common practice"


def test_what_falls_due_after_the_clocks_change_is_told_by_the_new_time() -> None:
    """On the eve of summer time a clock of Sunday shows what the kitchen clock will show then."""
    summer_time = datetime(2026, 3, 29, 1, 0, tzinfo=UTC)
    clock = DrivenClock(
        datetime(2026, 3, 28, 11, 0, tzinfo=UTC), place=lambda at: 60 if at < summer_time else 120
    )
    told = tell(f"{SEALED}", clock=clock)
    (row,) = rows(told)

    due = told.desk.now().utc + timedelta(hours=24)

    assert row.time_of_day == f"{due + timedelta(hours=2):%H:%M}"
    assert row.day == "Sunday"


def test_a_restart_is_told() -> None:
    """After a restart the note says on what the figure stands."""
    told = tell(ROUND)
    told.clock.reboot(minutes=5)

    assert the_row(told).note == "by the wall clock alone: the computer was restarted"
    assert the_row(told).remaining == "15 min left"


def test_clocks_that_disagree_are_told() -> None:
    """A packet whose age nobody knows is late at once, and the note says to check the time."""
    told = tell(ROUND)
    told.clock.step_wall(hours=-3)
    told.clock.reboot(minutes=5)
    row = the_row(told)

    assert row.urgency is Urgency.LATE
    assert "disagree" in row.note
    assert "check the time" in row.note
    assert (row.meaning, row.remaining) == ("taken as due", "time unknown")
    band = alarm_band(told.session, told.desk.now())
    assert band is not None
    assert band.headline == "Packet P1: nobody knows how long it was open"
    assert band.cure.endswith("The computer's clocks disagree: check the time.")


def test_a_pouch_opened_again_is_named_not_the_packet_in_its_jar() -> None:
    """Its absorber works on the open air: clock and alarm lead to the pouch that is to be shut."""
    told = tell(f"{ROUND}; place 8; jar; reopen 3; +25 min")
    row = next(each for each in rows(told) if each.clock == "packet:1")
    assert row.name == "Pouch 3 open again"

    band = alarm_band(told.session, told.desk.now())
    assert band is not None
    assert band.headline == "Pouch 3, open again, is 5 min past its time"
    assert band.cure.startswith("Shut pouch 3 now.")

    later = next(each for each in rows(told.do("shut 3; reopen 1-4")) if each.clock == "packet:1")
    assert (later.name, later.meaning) == ("Pouches 1 to 4 open again", "shut by")
    late = alarm_band(told.do("+25 min").session, told.desk.now())
    assert late is not None
    assert "Shut pouches 1 to 4 now. They were due at" in f"{late.headline} {late.cure}"


def test_a_liner_opened_again_is_sealed_and_called_a_liner() -> None:
    """Nothing but heat closes it: clock, alarm and a gap left too long say liner and seal."""
    told = tell("receive wheat 16 kg; bypass wheat; agree wheat 1 x 16 kg, liner, with 2000")
    told.do("fill 1; packet 2000x1; place 1, open")
    assert (the_row(told).name, the_row(told).meaning) == ("Liner 1 open", "seal by")
    told.do("seal 1, gap left; +11 min")
    band = alarm_band(told.session, told.desk.now())
    assert band is not None
    assert band.headline == "Liner 1 has waited too long for its seam"

    row = the_row(told.do("reopen 1; +25 min"))
    assert (row.name, row.meaning) == ("Liner 1 open again", "was due")
    late = alarm_band(told.session, told.desk.now())
    assert late is not None
    assert late.headline == "Liner 1, open again, is 5 min past its time"
    assert late.cure.startswith("Seal liner 1 now.")


def test_the_band_says_how_late() -> None:
    """What has been due for a day is not left to be worked out from the time it was due."""
    told = tell(f"{SEALED}; +40 h")
    band = alarm_band(told.session, told.desk.now())

    assert band is not None
    assert band.cure.endswith("It was due at Sat 19:04, 16 h ago.")


def test_two_clocks_that_disagree_tell_what_may_be() -> None:
    """Where the runs of the machine have no name the later of two answers is only possible."""
    told = tell(ROUND, clock=DrivenClock(boot=""))
    told.clock.step_wall(hours=2)
    band = alarm_band(told.session, told.desk.now())

    assert band is not None
    assert band.headline == "Packet P1 may be 1 h 40 min past its time"


def test_what_waits_for_the_iron_is_one_row() -> None:
    """Eight pouches pressed shut are one row with their number."""
    told = tell(f"{SHUT}; jar")
    row = the_row(told)

    assert row.name == "8 shut, no seam yet"
    assert (row.meaning, row.time_of_day) == ("seal by", "20:04")


def test_a_gap_in_a_seam_is_named_as_one() -> None:
    """A liner with a gap in its seam is not «shut, no seam yet», and is closed, not queued."""
    told = tell("receive wheat 16 kg; bypass wheat; agree wheat 1 x 16 kg, liner, with 2000")
    told.do("fill 1; packet 2000x1; place 1, open; seal 1, gap left")

    row = the_row(told)

    assert (row.name, row.meaning) == ("1 with a gap in its seam", "close by")
    assert row.note == "not gas-tight yet: close the gap at once"


def test_the_gap_of_a_liner_leaves_the_others_their_clock() -> None:
    """A liner with a gap has a time of its own; pouches in their zips keep theirs."""
    told = tell(
        "receive rice 8 kg; bypass rice; receive wheat 16 kg; bypass wheat; "
        "agree rice 8 x 1 kg & wheat 1 x 16 kg, liner, with 2000"
    )
    told.do("fill 8 of rice; packet 200x8; place 8 of rice")
    before = the_row(told)
    told.do("fill 1 of wheat; packet 2000x1; place 1 of wheat, open; seal 9, gap left")

    gap, zips = rows(told)

    assert (gap.name, gap.meaning) == ("1 with a gap in its seam", "close by")
    assert (zips.name, zips.meaning) == ("8 shut, no seam yet", "seal by")
    assert zips.time_of_day == before.time_of_day
    assert gap.clock != zips.clock


def test_a_jar_opened_again_is_named_so() -> None:
    """A round from a jar is not called a packet."""
    told = tell(f"{SEALED}; take R1")

    assert "Jar R1 open" in [row.name for row in rows(told)]


@pytest.mark.parametrize(
    ("early_h", "late_h", "said"),
    [
        (1, 2, "between 20:00 and 21:00"),
        (1, 1, "about 20:00"),
        (20, 30, "between Sat 15:00 and Sun 01:00"),
        (20, 200, "between Sat 21 Nov 15:00 and Sun 29 Nov 03:00"),
    ],
)
def test_a_band_is_said_as_briefly_as_it_can_be(early_h: int, late_h: int, said: str) -> None:
    """Today's times alone, within the week with the day, further away with the date."""
    machine = DrivenClock()
    now = machine.reading()
    machine.go(hours=early_h)
    early = machine.reading().utc
    machine.go(hours=late_h - early_h)
    late = machine.reading().utc

    assert now.utc == START
    assert between(Span(early=early, likely=early, late=late), now) == said


# The band of alarms -------------------------------------------------------------------------------


def test_there_is_no_band_before_an_alarm() -> None:
    """Nothing stands across the top while nothing has rung."""
    assert alarm_band(tell(ROUND).session, tell(ROUND).desk.now()) is None


def test_what_could_not_be_put_on_record_has_its_band() -> None:
    """A clock that is due stands in the band even if its ringing is not on record."""
    told = tell(f"{ROUND}; place 8; +23 min")

    band = alarm_band(told.session, told.desk.now())

    assert told.session.alarms == {}
    assert band is not None
    assert (band.clocks, band.sound_stopped) == (("packet:1",), "")


def test_the_band_stays_until_acted_on() -> None:
    """It says how late, what to do, that the sound was stopped; it goes when the work is done."""
    told = tell(f"{ROUND}; place 8; +23 min")
    told.desk.ring_due()
    band = alarm_band(told.session, told.desk.now())
    assert band is not None
    assert band.headline == "Packet P1 is 3 min past its time"
    assert "then put the absorbers left into the jar. It was due at 19:20." in band.cure
    assert band.sound_stopped == ""

    told.do("+2 min; silence packet:1")
    band = alarm_band(told.session, told.desk.now())
    assert band is not None
    assert band.headline == "Packet P1 is 5 min past its time"
    assert band.sound_stopped == "sound stopped 19:25"

    told.do("jar")
    assert alarm_band(told.session, told.desk.now()) is None


def test_several_alarms_are_one_band() -> None:
    """All that are due are counted and named by the worst; no-longer-than comes before at-least."""
    told = tell(f"{SEALED}; +25 h; take R1; +21 min")
    told.desk.ring_due()

    band = alarm_band(told.session, told.desk.now())

    assert band is not None
    assert band.headline == "2 clocks are due"
    assert band.clocks == ("packet:2", "seal_check:1")
    assert band.cure.startswith("Jar R1 is")


def test_one_seam_is_one() -> None:
    """A single pouch to be looked at is not spoken of as several."""
    told = tell(f"{SEALED}; set aside 2-8: torn; +25 h")
    assert the_row(told).name == "Check 1 seam"
    band = alarm_band(told.session, told.desk.now())
    assert band is not None
    assert band.headline == "1 seam is to be checked"
