"""The front of a session record and what went otherwise: what a reader must not miss."""

from __future__ import annotations

from dataclasses import replace

from msgspec.structs import replace as with_figures

from packdesk.present.record_deviations import ASKED, ASKED_BEFORE, QUESTIONED
from packdesk.present.record_outline import record_outline
from packdesk.session.commands import NoteFreezerReading
from packdesk.session.facts import LoadFrozen
from tests.present.record_reading import outline_of as _outline
from tests.present.record_reading import said as _said
from tests.present.record_reading import section as _section
from tests.script import SEALED, TREATED, tell

COLD = "receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +30 h; core A -8.5 C; +90 h"


def test_a_swollen_pouch_is_on_the_front_page() -> None:
    """It can hurt somebody: named, counted among the last look, and where it is not."""
    told = tell(
        f"{SEALED}; stow 1-8 in pail 1; +24 h; check 1-7 snug; check 8 swollen;"
        "set aside 3: dust in the seam; set aside 4: dust in the seam; empty 5: eaten"
    )
    outline = _outline(told)

    short = _said(_section(outline, "In short"))
    assert "of 7 pouches: 6 snug, 1 swollen." in short
    assert "K7M2-008 is swollen: never open it, discard it." in short
    assert "4 more set aside or emptied" in short
    assert "from K7M2-001 to K7M2-008" in short
    assert (
        "Set aside, not in a pail: K7M2-003 to 004 (dust in the seam; out of pail 1), "
        "K7M2-008 (swollen; out of pail 1)."
    ) in _said(_section(outline, "Where it lies"))


def test_a_session_whose_only_pouch_is_swollen_says_so() -> None:
    """Nothing in the work is not nothing filled."""
    told = tell("receive wheat 1 kg; bypass wheat: treated; agree wheat 1 x 1 kg, with 200; fill 1")
    told.do("ready; packet 200x1; place 1; seal 1; +24 h; check 1 swollen")

    short = _said(_section(_outline(told), "In short"))

    assert "No pouch has been filled" not in short
    assert "K7M2-001 is swollen" in short


def test_absorbers_without_a_margin_are_told_so() -> None:
    """A limit of nothing is no limit of 0 s: nothing was left to lose."""
    told = tell(
        f"{TREATED}; fill 8; ready; packet 200x10 slack oxygen; +70 min; place 7; jar; take R1;"
        "+1 min; place 1"
    )
    outline = _outline(told)

    assert "1 min with no margin left" in _said(_section(outline, "Rounds of absorbers"))
    assert "Round 2 started from R1, no margin left" in _said(_section(outline, "Every entry"))
    assert "lain open 1 min\nno margin was left" in _said(_section(outline, "What went otherwise"))


def test_departures_are_told_with_their_reasons() -> None:
    """Pouches set aside, a slack bag, a late round, an entry taken back: all are there."""
    told = tell(
        f"{TREATED}; fill 8; undo; fill 8; ready; packet 200x10 slack no oxygen; +25 min; place 8;"
        "jar; seal 1-8; set aside 3: dust in the seam; return 3; count 7 sealed"
    )

    said = _said(_section(_outline(told), "What went otherwise"))

    assert "Pouches 1 to 8 filled: taken back" in said
    assert "The bag of packet P1 was slack before it was opened" in said
    assert "the last absorber had lain open 25 min" in said
    assert "the limit was 20 min" in said
    assert "Pouch 3 set aside" in said
    assert "dust in the seam" in said
    assert "Pouch 3 back in work" in said


def test_a_session_without_departures_says_that() -> None:
    """Silence would not tell a stranger whether anything was looked for."""
    told = tell(
        "receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +120 h; out A 21 C 50 %; +60 h;"
        "open A; fill 8; ready; packet 200x10; +4 min; place 8; jar; seal 1-8; stow 1-8 in pail 1"
    )

    assert _section(_outline(told), "What went otherwise").sentences == (
        "Nothing that was recorded went otherwise than planned.",
    )


def test_food_that_was_lost_is_a_departure_with_its_reason() -> None:
    """Spilled food is told where the record says what went otherwise."""
    told = tell(f"{TREATED}; fill 7; lose 40 g of wheat: spilled")

    assert ("Wheat lost", "spilled") in [
        (what.split(" of ")[-1], why)
        for _, what, why in _section(_outline(told), "What went otherwise").rows
    ]


def test_everything_done_otherwise_is_told_with_its_reason() -> None:
    """A lot without cold, a doubtful packet, a miscounted jar, a pouch cut open, two exchanged."""
    told = tell(
        f"{TREATED}, numbered; fill 8; ready; packet 200x10 slack oxygen; place 7; jar 2; take R1;"
        "place 1; jar 1; seal 1-8; reopen 2: a thread in the seam; swap 4 and 5;"
    )

    rows = [row[1:] for row in _section(_outline(told), "What went otherwise").rows]

    assert ("Lot 2611-1 went without cold", "treated by the miller") in rows
    assert ("The indicator in packet P1 showed oxygen", "air had reached it") in rows
    assert ("Pouch 2 opened again", "a thread in the seam") in rows
    assert any(what.endswith("3 reckoned") for what, _ in rows)
    assert ("Pouches 4 and 5 had been mixed up: exchanged", "") in rows


def test_a_reading_kept_though_asked_about_is_told() -> None:
    """Somebody who was not there learns that it was far from what was reckoned."""
    told = tell(COLD)
    told.desk.submit(NoteFreezerReading(-5.0, confirmed=True))

    rows = [row[1:] for row in _section(_outline(told), "What went otherwise").rows]

    assert ("Freezer read −5 °C", ASKED) in [(what.replace("\xa0", " "), why) for what, why in rows]


def test_the_gravest_departures_are_on_the_front_page() -> None:
    """Which pouches were opened cold or hold what must not be sealed, before any table."""
    told = tell(
        "receive wheat 4 kg; receive nuts 1 kg; bypass nuts: roasted;"
        "agree wheat 4 x 1 kg & nuts 1 x 1 kg, never because for a week;"
        "freeze wheat 2 kg; freeze wheat 2 kg; +20 h; out A 21 C 50 %: in haste; +1 h;"
        "open A: guests; fill 2 of wheat from A; +120 h; out B 21 C 50 %; +60 h; open B;"
        "fill 2 of wheat from B; fill 1 of nuts"
    )

    assert (
        "Not as advised: K7M2-001 to 002 (cold ended early, opened too cold); "
        "K7M2-005 (food never to be sealed). See “What went otherwise”."
    ) in _said(_section(_outline(told), "In short"))


def test_a_load_that_never_got_cold_has_no_beginning_of_its_hold() -> None:
    """What had been reckoned for a time after the load was out again never came to pass."""
    told = tell(
        "receive wheat 1 kg; agree wheat 1 x 1 kg; freeze wheat; +20 h; out A 21 C 50 %: in haste;"
        "+1 h; open A: guests; fill 1"
    )
    outline = _outline(told)

    assert "the hold begins" not in _said(_section(outline, "Load A: Wheat"))
    assert "Load A opened, coldest food about" in _said(_section(outline, "What went otherwise"))
    assert "Wheat: the one pouch was not weighed; each is taken" in _said(
        _section(outline, "Masses")
    )


def test_a_packet_believed_less_is_said_to_be() -> None:
    """A stranger learns that half of the rating was taken off, not used up."""
    plain = tell(f"{TREATED}; fill 8; ready; packet 200x10; +4 min; place 8; jar")
    slack = tell(f"{TREATED}; fill 8; ready; packet 200x10 slack; +4 min; place 8; jar")

    assert "believed" not in _said(_section(_outline(plain), "Rounds of absorbers"))
    said = _said(_section(_outline(slack), "Rounds of absorbers"))
    assert "is believed to have 50 % of its rating when opened, with two signs 25 %" in said
    assert "Believed less for it: P1" in said


def test_a_record_in_us_units_says_its_room_in_them() -> None:
    """21 °C is 69.8 °F, by the definition of the two scales."""
    told = tell(SEALED)
    session = replace(told.session, units="us")
    outline = record_outline(
        replace(told.desk.state, session=session), told.entries, told.desk.now()
    )

    for title in ("Before anything is opened or eaten", "How the figures were worked out"):
        said = _said(_section(outline, title))
        assert "quality at about 70 °F" in said or "catalogue at about 70 °F" in said
        assert "21 °C" not in said


def test_absorbers_shut_in_at_once_without_a_margin_lay_open_for_no_time() -> None:
    """No “0 s with no margin left”: the margin alone is told."""
    told = tell(f"{TREATED}; fill 8; ready; packet 200x10 slack oxygen; +70 min; place 7; jar")
    told.do("take R1; place 1")

    row = _section(_outline(told), "Rounds of absorbers").rows[1]

    assert row[4] == "with no margin left"


def test_what_was_asked_about_and_done_all_the_same_is_told() -> None:
    """A mass unlike the others and a session closed with pouches open stand there with reasons."""
    told = tell(
        f"{TREATED}, numbered; fill 1 at 1000 g; fill 1 at 1001 g; fill 1 at 999 g;"
        "fill 1 showing 1400 g, it is right; close all the same: the iron broke"
    )

    rows = [row[1:] for row in _section(_outline(told), "What went otherwise").rows]

    assert (
        (
            "Session closed all the same. 4 of 8 pouches of Wheat filled; food for 4 more is left. "
            "Pouches 1 to 4 are without a seam all along"
        ),
        "the iron broke",
    ) in rows
    assert ("Pouch 4 filled, 1.400 kg", QUESTIONED) in [
        (what.replace("\xa0", " "), why) for what, why in rows
    ]


def test_a_load_put_in_all_the_same_is_told() -> None:
    """A load that was questioned for its height or heat is a departure, and its entry says so."""
    told = tell(COLD)
    entries = [
        replace(entry, fact=with_figures(entry.fact, confirmed=True))
        if isinstance(entry.fact, LoadFrozen)
        else entry
        for entry in told.entries
    ]
    outline = record_outline(told.desk.state, entries, told.desk.now())

    rows = [row[1:] for row in _section(outline, "What went otherwise").rows]
    assert ("Load A into the freezer: 8.00\xa0kg of Wheat", ASKED_BEFORE) in rows
    assert "of Wheat, asked and confirmed" in _said(_section(outline, "Every entry"))


def test_a_reason_against_advice_concerns_only_food_never_to_be_sealed() -> None:
    """Wheat sealed with such a reason is not told as food that must never be sealed."""
    told = tell(
        "receive wheat 1 kg; bypass wheat: treated; receive nuts 1 kg; bypass nuts: roasted;"
        "agree wheat 1 x 1 kg, with 200 & nuts 1 x 1 kg, never because for a week;"
        "fill 1 of wheat; fill 1 of nuts; ready; packet 200x1; place 1 of wheat;"
        "seal 1 because I like it; seal 2 because for a week"
    )

    assert [p.against_advice for p in told.session.pouches.values()] == ["", "for a week"]
    rows = [row[1:] for row in _section(_outline(told), "What went otherwise").rows]
    assert [what for what, _ in rows if "never to be sealed" in what] == [
        "Pouch 2 sealed, of a food never to be sealed"
    ]
    assert ("Nuts planned against advice. Too oily to seal", "for a week") in rows


def test_the_lid_comes_off_at_the_temperature_of_the_coldest_food() -> None:
    """What the fact keeps is the coldest food, not the middle; the record says which it means."""
    outline = _outline(tell(f"{COLD}; out A 21 C 45 %; +40 h; open A"))

    assert "with its coldest food at about" in _said(_section(outline, "Load A: Wheat"))
    assert "coldest food about" in _said(_section(outline, "Every entry"))
