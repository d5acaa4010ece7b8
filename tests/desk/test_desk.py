"""The desk: durable before shown, all or nothing, several sessions one after the other."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from uuid import UUID, uuid4

import pytest

from packdesk.desk.desk import Kept
from packdesk.desk.ports import Trouble
from packdesk.instants import When
from packdesk.session import facts as f
from packdesk.session.case import Refusal
from packdesk.session.commands import AddNote, OpenSession, ReceiveLot
from packdesk.session.envelope import BOOK_STREAM, Draft, Entry
from packdesk.session.state import State
from tests.script import SHUT, TREATED, Script, tell

FULL = Trouble("The disk is full.", "Free some space.")


def test_answers_what_was_kept() -> None:
    """A command that is followed answers its entries, as they are on record."""
    told = tell()

    answer = told.desk.submit(AddNote("said"))

    assert isinstance(answer, Kept)
    assert answer.entries == told.record.entries({told.session.session})[-1:]
    assert [entry.fact for entry in answer.entries] == [f.NoteAdded(text="said")]


def test_nothing_is_shown_before_it_is_durable() -> None:
    """While the record is being written the state is still the one before."""
    told = tell()
    before = told.desk.state
    seen: list[bool] = []
    append = told.record.append

    def watched(drafts: list[Draft]) -> object:
        seen.append(told.desk.state == before)
        return append(drafts)

    told.record.append = watched  # type: ignore[method-assign]
    told.desk.submit(AddNote("said"))

    assert seen == [True]
    assert told.session.notes == ("said",)


def test_trouble_changes_nothing() -> None:
    """When the record fails the state, the entries and the listeners stay as they were."""
    told = tell(f"{TREATED}; fill 8")
    heard: list[str] = []
    told.desk.subscribe(lambda: heard.append("change"))
    before = told.desk.state, told.entries
    told.record.trouble = FULL

    with pytest.raises(Trouble, match="The disk is full"):
        told.try_to("packet 200x10")

    assert (told.desk.state, told.entries) == before
    assert heard == []


def test_the_same_command_can_be_given_again_after_trouble() -> None:
    """Once there is room again the same press does what it would have done."""
    told = tell(f"{TREATED}; fill 8")
    told.record.trouble = FULL
    with pytest.raises(Trouble):
        told.try_to("packet 200x10")
    told.record.trouble = None

    told.do("packet 200x10")

    assert list(told.session.rounds) == [1]
    assert list(told.book.packets) == ["P1"]


def test_trouble_while_opening_leaves_the_open_session_open() -> None:
    """A new session that could not be written does not close the one at hand."""
    told = tell("note: one")
    before = told.desk.state, told.desk.session_id
    told.record.trouble = FULL

    with pytest.raises(Trouble):
        told.desk.submit(OpenSession("Winter", "metric", "R4TN"))

    assert (told.desk.state, told.desk.session_id) == before


def test_a_command_tried_again_comes_with_the_same_entries() -> None:
    """Given again with the same time after trouble, a command brings the same drafts."""
    told = tell("note: one")
    append, tried = told.record.append, []

    def watched(drafts: Sequence[Draft]) -> tuple[Entry, ...]:
        tried.append([draft.id for draft in drafts])
        return append(drafts)

    told.record.append = watched  # type: ignore[method-assign]
    when = When(told.desk.now().utc)
    told.record.trouble = FULL
    with pytest.raises(Trouble):
        told.desk.submit(AddNote("two"), when)
    told.record.trouble = None
    told.desk.submit(AddNote("two"), when)
    told.desk.submit(AddNote("two"), when)

    assert tried[0] == tried[1]
    assert tried[1] != tried[2]
    assert told.session.notes == ("one", "two", "two")


@pytest.mark.parametrize("readable", [True, False])
def test_what_was_saved_in_spite_of_trouble_is_not_doubled(readable: bool) -> None:
    """An entry that reached the disk although the record reported trouble counts once."""
    told = tell("note: one")
    append, entries = told.record.append, told.record.entries

    def saved_unheard(drafts: Sequence[Draft]) -> tuple[Entry, ...]:
        append(drafts)
        raise FULL

    def unreadable(streams: Collection[UUID]) -> tuple[Entry, ...]:
        raise FULL

    told.record.append = saved_unheard  # type: ignore[method-assign]
    if readable:
        assert isinstance(told.desk.submit(AddNote("two")), Kept)
    else:
        told.record.entries = unreadable  # type: ignore[method-assign]
        with pytest.raises(Trouble):
            told.desk.submit(AddNote("two"))
        told.record.append, told.record.entries = append, entries  # type: ignore[method-assign]
        assert isinstance(told.desk.submit(AddNote("two")), Kept)

    assert told.session.notes == ("one", "two")


def test_a_session_opened_in_spite_of_trouble_is_open() -> None:
    """A session whose opening reached the disk although trouble was reported is gone on with."""
    told = tell("note: one")
    append = told.record.append

    def saved_unheard(drafts: Sequence[Draft]) -> tuple[Entry, ...]:
        append(drafts)
        raise FULL

    told.record.append = saved_unheard  # type: ignore[method-assign]

    assert isinstance(told.desk.submit(OpenSession("Winter", "metric", "R4TN")), Kept)
    assert told.session.name == "Winter"


def test_a_refusal_records_nothing_and_calls_nobody() -> None:
    """What is refused leaves no trace but its answer."""
    told = tell(TREATED)
    heard: list[str] = []
    told.desk.subscribe(lambda: heard.append("change"))
    before = told.entries

    assert isinstance(told.try_to("fill 99"), Refusal)

    assert told.entries == before
    assert heard == []


def test_listeners_are_called_once_a_command() -> None:
    """However many facts a press makes, whoever listens hears of it once, when all is there."""
    told = tell(f"{TREATED}; fill 8")
    heard: list[int] = []
    told.desk.subscribe(lambda: heard.append(len(told.session.rounds)))

    told.do("packet 200x10")

    assert heard == [1]


def test_a_new_session_is_open_at_once() -> None:
    """Opening a session puts it on the desk, with the book beside it."""
    told = Script()
    told.desk.submit(ReceiveLot("wheat", "Wheat", 8000.0))

    told.do("session Autumn")

    assert told.session.name == "Autumn"
    assert told.desk.session_id == told.session.session
    assert list(told.book.lots) == ["2611-1"]


def test_sessions_are_listed_the_last_used_first() -> None:
    """Coming back to a session brings it to the top of the list."""
    autumn = tell("note: one")
    winter = tell(record=autumn.record, clock=autumn.clock)
    assert [head.session for head in winter.desk.sessions()] == [
        winter.session.session,
        autumn.session.session,
    ]

    autumn.do("note: two")

    assert autumn.desk.sessions()[0].session == autumn.session.session


def test_a_session_goes_on_exactly_where_it_was() -> None:
    """After another session, on another day, the first one stands as it was left."""
    told = tell(SHUT)
    first, state = told.session.session, told.session
    told.do("+1 d; session Winter; note: elsewhere")
    assert told.session.session != first

    told.desk.resume(first)

    assert told.session == state
    told.do("jar; seal 1-8")
    assert all(pouch.gas_tight for pouch in told.session.pouches.values())


def test_a_new_desk_goes_on_from_the_record_alone() -> None:
    """Nothing is needed but the book: a desk made anew shows the same."""
    told = tell(SHUT)

    again = Script(record=told.record, clock=told.clock)
    again.desk.resume(told.session.session)

    assert again.desk.state == told.desk.state
    assert again.entries == told.entries


def test_leaving_puts_the_session_away() -> None:
    """With the session away the book is still there, and work is refused."""
    told = tell(SHUT)
    heard: list[str] = []
    told.desk.subscribe(lambda: heard.append("change"))

    told.desk.leave()

    assert told.desk.session_id is None
    assert told.desk.state.session is None
    assert list(told.book.packets) == ["P1"]
    assert {entry.stream for entry in told.entries} == {BOOK_STREAM}
    assert heard == ["change"]
    assert isinstance(told.desk.submit(AddNote("said")), Refusal)


def test_sees_the_book_and_its_own_session_only() -> None:
    """Entries of another session are not on the desk."""
    told = tell("note: mine")
    mine = told.session.session
    told.do("session Winter; note: other")

    assert mine not in {entry.stream for entry in told.entries}
    assert told.session.notes == ("other",)


def test_a_session_that_is_not_in_the_book_is_empty() -> None:
    """Resuming what does not exist opens nothing, and nothing breaks."""
    told = tell()

    told.desk.resume(uuid4())

    assert told.desk.state == State(told.book)
    assert isinstance(told.desk.submit(AddNote("said")), Refusal)


def test_two_sessions_have_identities_of_their_own() -> None:
    """Sessions opened in the same second are two sessions."""
    told = tell()
    first = told.session.session

    told.do("session Autumn")

    assert told.session.session != first
    assert len(told.desk.sessions()) == 2


def test_entries_name_who_works_there_now() -> None:
    """An entry bears the name given last, not the one of when the desk was opened."""
    told = tell()
    told.desk.submit(AddNote("first"))
    told.desk.who = "Ines"
    told.desk.submit(AddNote("second"))

    assert [entry.who for entry in told.entries[-2:]] == ["sam", "Ines"]


def test_what_the_program_notes_by_itself_names_nobody() -> None:
    """An alarm that rang was entered by no person."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +200 h")

    assert told.desk.ring_due()

    assert told.last(f.AlarmRang).who == ""
