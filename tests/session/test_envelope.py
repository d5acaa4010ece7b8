"""What travels with every fact: its act, its stream, when it happened, what the clocks said."""

from __future__ import annotations

from datetime import timedelta

import pytest
from msgspec.structs import replace

from packdesk.instants import When
from packdesk.session import facts as f
from packdesk.session.case import Refusal
from packdesk.session.commands import AddNote, OpenSession
from packdesk.session.envelope import BOOK_STREAM, stream_of
from packdesk.session.fact import BookFact, Home
from packdesk.session.facts import KINDS
from packdesk.session.moments import reading_at
from tests.fakes.clock import DrivenClock
from tests.script import SHUT, TREATED, Script, tell
from tests.session.every_kind import example


def test_facts_of_one_command_share_an_act() -> None:
    """What one press caused carries one act, whichever stream each fact belongs to."""
    told = tell(f"{TREATED}; fill 8; packet 200x10")
    packet, round_ = told.last(f.PacketOpened), told.last(f.RoundStarted)

    assert packet.act == round_.act
    assert packet.id != round_.id
    assert packet.stream == BOOK_STREAM
    assert round_.stream == told.session.session


def test_each_command_has_an_act_of_its_own() -> None:
    """Two presses are two acts, though they say the same."""
    told = tell(f"{TREATED}; fill 1; fill 1")

    assert len({entry.act for entry in told.entries[-2:]}) == 2


@pytest.mark.parametrize("cls", KINDS.values(), ids=KINDS)
def test_belongs_to_the_book_or_to_the_session(cls: type[f.Fact], story: Script) -> None:
    """Facts of the book lie in the book's stream and say in which session they were noted."""
    for entry in story.entries:
        if type(entry.fact) is cls and cls is not f.FactVoided:
            outlives = issubclass(cls, BookFact)
            assert entry.stream == (BOOK_STREAM if outlives else story.session.session)
            if outlives:
                assert getattr(entry.fact, "session", None) == story.session.session


def test_a_voiding_lies_in_the_stream_of_what_it_voids() -> None:
    """Taking back a fact of the book is itself noted in the book."""
    session = tell().session.session
    voiding = example(f.FactVoided)

    assert stream_of(replace(voiding, of=Home.BOOK), session) == BOOK_STREAM
    assert stream_of(replace(voiding, of=Home.SESSION), session) == session


def test_happens_when_the_person_says() -> None:
    """An earlier time is kept as when it happened, beside when it was entered, with its "about"."""
    told = tell(TREATED).do("+1 h; about 40 min ago: fill 3")
    entry = told.entries[-1]

    assert entry.happened_at == told.clock.reading().utc - timedelta(minutes=40)
    assert entry.about_min == 15.0
    assert entry.recorded == told.clock.reading()
    assert told.session.pouches[1].filled_at == entry.happened_at


def test_happens_now_where_nothing_is_said() -> None:
    """Without a time a thing happens as it is entered, and that is exact."""
    told = tell("note: now")

    assert told.entries[-1].happened_at == told.clock.reading().utc
    assert told.entries[-1].about_min == 0.0


@pytest.mark.parametrize("ahead", [timedelta(seconds=1), timedelta(days=1)])
def test_never_happens_in_the_future(ahead: timedelta) -> None:
    """A time that is still to come is refused, be it ever so near, and nothing is recorded."""
    told = tell()
    before = told.entries

    answer = told.desk.submit(AddNote("early"), When(told.desk.now().utc + ahead))

    assert isinstance(answer, Refusal)
    assert "still to come" in answer.sentence
    assert told.entries == before


def test_a_session_may_have_begun_earlier() -> None:
    """A session opened at night and entered in the morning began at night."""
    told = Script()
    began = told.clock.reading().utc - timedelta(hours=9)

    told.desk.submit(OpenSession("Autumn", "metric", "K7M2"), When(began, 15.0))

    assert told.session.opened_at == began


def test_who_and_the_station_are_kept() -> None:
    """Every entry says who made it, at which station, numbered without gaps."""
    told = tell(SHUT)

    assert {entry.who for entry in told.entries} == {"sam"}
    assert {entry.station for entry in told.entries} == {told.record.station}
    numbers = sorted(entry.station_seq for entry in told.entries)
    assert numbers == list(range(1, len(numbers) + 1))


def test_all_clocks_are_carried_back_together() -> None:
    """For a thing entered later the steady clock is carried back by as much as the wall clock."""
    now = DrivenClock().reading()

    then = reading_at(now.utc - timedelta(minutes=5), now)

    assert then.utc == now.utc - timedelta(minutes=5)
    assert then.steady_s == now.steady_s - 300.0
    assert (then.boot, then.utc_offset_min) == (now.boot, now.utc_offset_min)
