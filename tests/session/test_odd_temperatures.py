"""Temperatures that can hardly be meant: asked about with their cure, or refused in plain words."""

from __future__ import annotations

from dataclasses import replace

import msgspec
import pytest

from packdesk.session import commands as c
from packdesk.session import facts as f
from packdesk.session.case import Refusal
from packdesk.session.clocks import running
from packdesk.session.figures import KillFigures, Span
from packdesk.session.terms import Stands
from packdesk.units import NO_BREAK_SPACE
from tests.script import PAIL, Script, tell

PLANNED = "receive wheat 60 kg; agree wheat 8 x 1 kg"
FROZEN = f"{PLANNED}; freeze wheat"


def answer(told: Script, command: c.Command) -> Refusal:
    """What is answered to a command; an empty refusal where it is kept."""
    found = told.desk.submit(command)
    if not isinstance(found, Refusal):
        return Refusal("")
    return replace(found, sentence=plain(found.sentence))


def refused(told: Script, step: str) -> str:
    """The sentence a step is refused with."""
    return plain(told.refused(step))


def plain(sentence: str) -> str:
    """A sentence with plain blanks."""
    return sentence.replace(NO_BREAK_SPACE, " ")


def american() -> Script:
    """A session in which temperatures are typed in Fahrenheit."""
    told = Script()
    told.desk.submit(c.OpenSession("Autumn", "us", "K7M2"))
    return told


@pytest.mark.parametrize(
    ("rest_c", "cure"),
    [
        (0.0, "0 °F is −18 °C; was the thermometer in Fahrenheit?"),
        (5.0, "5 °F is −15 °C; was the thermometer in Fahrenheit?"),
        (-14.0, "Look again, set the freezer colder, or use the other one."),
    ],
)
def test_a_freezer_that_gets_nothing_cold_is_asked_about(rest_c: float, cure: str) -> None:
    """Food is not put into what cannot treat it without a question; kept, it stands on record."""
    told = tell(PLANNED)
    figures = msgspec.structs.replace(PAIL, freezer_temp_c=rest_c)
    freeze = c.FreezeLoad(told.lot_of("wheat"), "pail-19l", "pail", 8000.0, figures)

    asked = answer(told, freeze)

    assert asked.question
    assert "load A never reaches −15 °C at its core." in asked.sentence
    assert cure in asked.sentence
    assert not told.session.loads
    assert answer(told, replace(freeze, confirmed=True)).sentence == ""
    fact = told.last(f.LoadFrozen).fact
    assert isinstance(fact, f.LoadFrozen)
    assert fact.confirmed
    assert running(told.session) == ()


def test_a_weak_freezer_is_not_asked_about_where_the_dose_governs() -> None:
    """At −14 °C no core reaches the plain rule's line, but the insects get their dose."""
    told = tell(f"{PLANNED}; cold rule dose")
    larva = KillFigures(
        name="larva",
        temps_c=(-20.0, -15.0, -10.0),
        kill_hours=(24.0, 72.0, 140.0),
        grade="published",
        source="invented for this test",
    )
    figures = msgspec.structs.replace(PAIL, freezer_temp_c=-14.0, life_stages=(larva,))

    asked = answer(told, c.FreezeLoad(told.lot_of("wheat"), "pail-19l", "pail", 8000.0, figures))

    assert asked.sentence == ""
    assert [clock.subject for clock in running(told.session)] == ["A"]


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("out A 70 C", "70 °F is 21 °C; was the thermometer in Fahrenheit?"),
        ("out A 48 C", "A room temperature of 48 °C cannot be. Enter 0 to 45 °C."),
        ("out A 21 C 140 %", "Relative humidity lies between 1 and 100 %."),
        ("freezer 60 C", "A freezer's temperature of 60 °C cannot be."),
        ("core A 70 C", "70 °F is 21 °C; was the thermometer in Fahrenheit?"),
    ],
)
def test_what_cannot_be_is_refused_before_heat_is_reckoned(step: str, words: str) -> None:
    """The refusal speaks of the room or the probe and says the cure, not a formula's symbol."""
    told = tell(f"{FROZEN}; +130 h")

    said = refused(told, step)

    assert words in said
    assert "_" not in said


def test_a_room_read_in_fahrenheit_is_told_so_while_a_load_warms() -> None:
    """The cure is said even where the reading would move a lid's time."""
    told = tell(f"{FROZEN}; +130 h; out A 21 C; +1 h")

    assert "was the thermometer in Fahrenheit?" in refused(told, "room 70 C")


def test_an_odd_room_at_take_out_is_asked_about() -> None:
    """A room far from what it was is not taken for the one that decides about the lid."""
    told = tell(f"{FROZEN}; +130 h")

    asked = answer(told, told.order("out A 2 C"))

    assert asked.question
    assert "2 °C in the room is far from what is reckoned, about 21 °C." in asked.sentence
    assert told.session.loads["A"].taken_out is None
    told.do("out A 2 C, confirmed")
    fact = told.last(f.LoadTakenOut).fact
    assert isinstance(fact, f.LoadTakenOut)
    assert fact.confirmed


def test_the_reason_for_an_early_end_is_asked_for_before_the_room() -> None:
    """Who owes a reason is asked for it first, so that the question comes once."""
    told = tell(f"{FROZEN}; +20 h")

    assert "Say why it ends early" in refused(told, "out A 2 C")
    assert "far from what is reckoned" in refused(told, "out A 2 C: the freezer is needed")


@pytest.mark.parametrize(
    ("step", "asked"),
    [
        # The core is reckoned to be at about −12 °C by then, the wall at about −16.
        ("core A 10 C", "10 °F is −12 °C; was the thermometer in Fahrenheit?"),
        ("wall A 3 C", "3 °F is −16 °C; was the thermometer in Fahrenheit?"),
        ("core A -2 C", "at the core of load A is far from what is reckoned"),
        ("wall A -28 C", "at the wall of load A is far from what is reckoned"),
        ("freezer 0 C", "0 °F is −18 °C; was the thermometer in Fahrenheit?"),
        ("freezer -8 C", "in the freezer is far from what is reckoned, about −18 °C"),
        ("room 8 C", "in the room is far from what is reckoned, about 21 °C"),
    ],
)
def test_every_thermometer_is_asked_about(step: str, asked: str) -> None:
    """Core, wall, freezer and room: what is far from the reckoning is a question, then a fact."""
    told = tell(f"{FROZEN}; +26 h")

    said = refused(told, step)

    assert asked in said
    told.do(f"{step}, confirmed")


def test_celsius_in_an_american_freezer_is_asked_about() -> None:
    """At −4 °F a figure of −18 is only 8 K off, and just what it is in Celsius."""
    told = american().do(PLANNED)
    figures = msgspec.structs.replace(PAIL, freezer_temp_c=-20.0)
    told.desk.submit(c.FreezeLoad(told.lot_of("wheat"), "pail-19l", "pail", 8000.0, figures))
    told.do("+3 h")

    asked = answer(told, c.NoteFreezerReading((-18.0 - 32.0) / 1.8))

    assert asked.question
    assert "was the thermometer in Celsius?" in asked.sentence
    assert answer(told, c.NoteFreezerReading((-10.0 - 32.0) / 1.8)).sentence == ""


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ({"freezer_temp_c": -18.0}, "−18 °F is colder than a household freezer gets."),
        ({"start_temp_c": 21.0}, "21 °F in the food is far from what is reckoned, about 70 °F."),
    ],
)
def test_celsius_said_of_an_american_load_is_asked_about(
    said: dict[str, float], meant: str
) -> None:
    """A freezer and food much colder than they are would make a load done too early."""
    told = american().do(PLANNED)
    typed = {name: (figure - 32.0) / 1.8 for name, figure in said.items()}
    figures = msgspec.structs.replace(PAIL, **typed)

    asked = answer(told, c.FreezeLoad(told.lot_of("wheat"), "pail-19l", "pail", 8000.0, figures))

    assert asked.question
    assert meant in asked.sentence
    assert "was the thermometer in Celsius?" in asked.sentence


def test_an_american_session_is_refused_in_fahrenheit() -> None:
    """Figures come back in the unit they were typed in, as they were typed."""
    told = american().do(f"{PLANNED}; freeze wheat; +130 h; out A 21 C; +1 h")

    said = answer(told, c.NoteRoomReading((21.0 - 32.0) / 1.8)).sentence

    assert said == (
        "A room temperature of 21 °F cannot be. Enter 32 to 113 °F. "
        "21 °C is 70 °F; was the thermometer in Celsius?"
    )


def test_a_warm_probe_opens_no_warming_load() -> None:
    """Read warm where cold was reckoned, the lid stays on: the coldest food is elsewhere."""
    told = tell(f"{FROZEN}; +130 h; out A 21 C 55 %; +6 h")
    before = lid_off(told)

    told.do("core A 20 C, confirmed")

    assert "still too cold and would sweat" in refused(told, "open A")
    assert abs(lid_off(told).likely - before.likely) <= before.late - before.early


def lid_off(told: Script) -> Span:
    """When the lid of load A may come off."""
    thaw = told.session.loads["A"].thaw
    assert thaw is not None
    assert thaw.lid_off is not None
    return thaw.lid_off


@pytest.mark.parametrize(
    ("stands", "inside_mm", "asked"),
    [
        (Stands.FREE_AIR, 350.0, "With its lid on this stands 360 mm high"),
        (Stands.FREE_AIR, 365.0, ""),
        (Stands.STACKED, 700.0, "Two of these, one on the other, stand 720 mm high"),
        (Stands.STACKED, 725.0, ""),
    ],
)
def test_two_pails_stacked_need_twice_the_height(
    stands: Stands, inside_mm: float, asked: str
) -> None:
    """A pail, or two of them, higher than the freezer is inside is asked about."""
    told = tell(PLANNED)
    figures = msgspec.structs.replace(
        PAIL, stands=stands, container_height_mm=360.0, freezer_height_mm=inside_mm
    )

    found = answer(told, c.FreezeLoad(told.lot_of("wheat"), "pail-19l", "pail", 8000.0, figures))

    assert asked in found.sentence
    assert found.question == bool(asked)
