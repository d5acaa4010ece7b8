"""The session record in words, judged by what a stranger could read from it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from msgspec import structs

from packdesk.app.session_files import tell as read
from packdesk.catalog.read import read_catalog
from packdesk.present.record_deviations import ASKED, ASKED_BEFORE
from packdesk.present.record_outline import record_outline
from packdesk.session.commands import FreezeLoad, NoteCoreReading, VoidFact
from packdesk.session.terms import Probe
from tests.present.record_reading import outline_of as _outline
from tests.present.record_reading import said as _said
from tests.present.record_reading import section as _section
from tests.script import PAIL, SEALED, TREATED, Script, tell

SAMPLES = Path(__file__).resolve().parents[2] / "sample_sessions"
COLD = "receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +30 h; core A -8.5 C; +90 h"


@pytest.fixture(scope="module")
def sealed() -> Script:
    """Eight pouches sealed, stowed, and looked at twice; pouch 8 went soft."""
    return tell(
        f"{SEALED}; stow 1-5 in pail 1; stow 6-8 in pail 2; lid pail 1; +24 h;"
        "check 1-8 snug; +6 d; check 1-7 snug; +5 min; check 8 soft"
    )


def test_the_first_page_says_what_there_is_and_how_it_stands(sealed: Script) -> None:
    """Who reads no further knows how many pouches of what, whether sealed, how they felt."""
    said = _said(_section(_outline(sealed), "In short"))

    assert "8 pouches filled on" in said
    assert "8 × wheat (8.00 kg)".lower() in said.lower()
    assert "8 of 8 are sealed; 8 have enough absorber." in said
    assert "of 8 pouches: 7 snug, 1 soft." in said


def test_every_pail_is_told_with_its_pouches(sealed: Script) -> None:
    """Which pouches lie in which pail, how much it is, and whether its lid is on."""
    section = _section(_outline(sealed), "Where it lies")

    assert [(row[0], row[2], row[5]) for row in section.rows] == [
        ("1", "K7M2-001 to 005", "on"),
        ("2", "K7M2-006 to 008", "not on yet"),
    ]


def test_pouches_outside_a_pail_are_named() -> None:
    """What was not stowed is not passed over."""
    told = tell(f"{SEALED}; stow 1-5 in pail 1")

    assert "Not in a pail: K7M2-006 to 008." in _said(_section(_outline(told), "Where it lies"))


def test_seal_checks_are_gathered_by_time_and_feel(sealed: Script) -> None:
    """A row for pouches that felt alike at one look, with how they had felt before."""
    rows = _section(_outline(sealed), "Seal checks").rows

    assert [row[1:] for row in rows] == [
        ("K7M2-001 to 008", "snug", "–"),
        ("K7M2-001 to 007", "snug", "snug"),
        ("K7M2-008", "soft", "snug"),
    ]


def test_pouches_alike_share_a_row(sealed: Script) -> None:
    """Neighbours of which the same is known take one line, not one each."""
    rows = _section(_outline(sealed), "Pouches").rows

    assert [row[0] for row in rows] == ["K7M2-001 to 005", "K7M2-006 to 007", "K7M2-008"]


def test_a_load_is_told_with_readings_plot_and_figures() -> None:
    """A load says what was read as it was read, what was reckoned, and what that rests on."""
    told = tell(f"{COLD}; freezer -19 C; out A 21 C 45 %; +40 h; open A")

    section = _section(_outline(told), "Load A: Wheat")

    (plot,) = section.plots
    said = _said(section)
    assert "core read −8.5 °C" in [row[1].replace("\u00a0", " ") for row in section.rows]
    assert "chance of eight in ten" in said
    assert "conductivity 0.13 W/(m K)" in said
    assert [event.words for event in plot.events] == ["out of the freezer", "lid off"]
    assert len(plot.temperatures) <= 5
    assert plot.curve.lid_off is None


def test_a_load_still_under_way_says_so() -> None:
    """Before it is taken out, and before its lid is off, nothing is told as done."""
    told = tell(COLD)
    assert "It is still in the freezer." in _said(_section(_outline(told), "Load A: Wheat"))

    told.do("out A 21 C")
    assert "Its lid is still on." in _said(_section(_outline(told), "Load A: Wheat"))


def test_a_limit_below_a_minute_is_told_in_seconds() -> None:
    """200 cc for a need of 199 have 60 ln(200/199) / 0.506 = 0.6 min, which is not 0 min."""
    told = tell(
        "receive wheat 8 kg; bypass wheat: treated; agree wheat 8 x 1 kg, need 199 cc; fill 8; "
        "ready; packet 200x10; +1 min; place 8"
    )

    outline = _outline(told)

    assert "1 min of 36 s, margin" in _said(_section(outline, "Rounds of absorbers"))
    otherwise = _said(_section(outline, "What went otherwise"))
    assert "the last absorber had lain open 1 min\nthe limit was 36 s" in otherwise


def test_what_was_seen_is_told_once() -> None:
    """A lot looked at again has what was seen as the reason, not in both columns."""
    told = tell(
        "receive wheat 8 kg quarantined; look at wheat again: accepted, sieved twice;"
        "agree wheat 8 x 1 kg"
    )

    assert ("Lot 2611-1 looked at again: Wheat accepted", "sieved twice") in [
        row[1:] for row in _section(_outline(told), "What went otherwise").rows
    ]


def test_a_record_says_how_many_pouches_were_weighed() -> None:
    """Where masses are not measured, the record says so and how they are told."""
    weighed = tell(f"{TREATED}; fill 1 at 1002 g; fill 2")
    none = tell(f"{TREATED}; fill 2")

    assert "1 of 3 pouches was weighed" in _said(_section(_outline(weighed), "Masses"))
    assert "none of 2 pouches was weighed; each is taken to hold 1.00" in _said(
        _section(_outline(none), "Masses")
    )


def test_the_pouch_that_holds_what_was_left_is_told() -> None:
    """Of a plan that does not come out even the last pouch holds less, and the record says so."""
    told = tell("receive wheat 8 kg; bypass wheat; agree wheat 8 x 1 kg, last 0.9 kg; fill 8")

    assert "is taken to hold 1.00 kg, as planned, the last one 900 g, and told as “about”" in _said(
        _section(_outline(told), "Masses")
    )


def test_where_masses_were_left_out_the_mean_is_told_with_its_spread() -> None:
    """998, 1002 and 1006 g are 1002 g on average, 4 g apart as a standard deviation, by hand."""
    told = tell(f"{TREATED}, numbered; fill 1 at 998 g; fill 1 at 1002 g; fill 1 at 1006 g; fill 2")
    outline = _outline(told)

    said = _said(_section(outline, "Masses"))
    assert "3 of 5 pouches were weighed" in said
    assert "1.002 kg, the mean of those 3" in said
    assert "spread of 4 g (standard deviation)" in said
    assert "about 1.002 kg ± 4 g" in _said(_section(outline, "Pouches"))


def test_the_outcome_tells_how_much_food_was_put_up() -> None:
    """Beside what was planned stands how far the pouches came, and the food in them."""
    (row,) = _section(_outline(tell(f"{TREATED}; fill 3")), "Plan and outcome").rows

    assert row[-1].replace("\u00a0", " ").endswith("3 filled, 5 to fill; 3.00 kg")


@pytest.mark.parametrize("name", ["autumn-wheat", "winter-rice"])
def test_each_sample_shows_a_fact_struck_through(name: str) -> None:
    """What was voided stands among the entries with its reason, and among what went otherwise."""
    told = read(SAMPLES / f"{name}.jsonl")
    outline = record_outline(told.state, told.entries, told.last, read_catalog()[0])

    (gone,) = [fact for fact in _section(outline, "Every entry").facts if fact.voided]
    rows = _section(outline, "What went otherwise").rows
    assert gone.voided in [why for _, _, why in rows]


def test_exposure_is_told_against_its_limit() -> None:
    """A round says how long its absorbers lay open, of how long they might, and what was left."""
    told = tell(
        f"{TREATED}; fill 8; ready; packet 200x10 slack no oxygen; +4 min; place 8; +1 min; jar"
    )

    (row,) = _section(_outline(told), "Rounds of absorbers").rows

    assert row[0] == "1 from P1, bag slack"
    assert row[4] == "4 min of 20 min, practice cap"
    assert row[5].endswith(" cc")
    assert row[6] == "2"


def test_voided_entries_stay_in_the_story_with_their_reason() -> None:
    """What was taken back is told, struck through, and why."""
    told = tell(f"{TREATED}; fill 8; undo")

    facts = _section(_outline(told), "Every entry").facts

    assert [fact.words for fact in facts if fact.voided] == ["Pouches 1 to 8 filled"]


def test_what_was_entered_later_says_when() -> None:
    """A fact entered afterwards shows its own time, how sure it is, and when it was typed."""
    told = tell(f"{TREATED}; about 40 min ago: fill 8")

    (fact,) = (
        fact
        for fact in _section(_outline(told), "Every entry").facts
        if fact.words == "Pouches 1 to 8 filled"
    )

    assert fact.entered.startswith("about, ± 15 min, entered ")


def test_who_wrote_it_is_told(sealed: Script) -> None:
    """Names, days, and how much was written down only afterwards."""
    said = _said(_section(_outline(sealed), "Who wrote this down"))

    assert "by sam" in said
    assert "1 computer" in said


def test_masses_are_told_as_picture_and_in_words() -> None:
    """Weighed pouches give a histogram about the plan whose bars count them all."""
    told = tell(
        f"{TREATED}, numbered; fill 1 at 1002 g; fill 1 at 1003 g; fill 1 at 998 g; fill 1 at 998 g"
    )

    section = _section(_outline(told), "Masses")

    (histogram,) = section.histograms
    assert sum(histogram.counts) == 4
    assert len(histogram.edges_g) == len(histogram.counts) + 1
    assert histogram.edges_g[0] < 998.0
    assert histogram.edges_g[-1] > 1003.0
    assert "4 pouches weighed: mean 1.000 kg, from 998 g to 1.003 kg" in _said(section)


def test_masses_of_a_group_are_not_told_as_of_single_pouches() -> None:
    """In counted working one weighing stands for the group, so no spread is claimed."""
    told = tell(f"{TREATED}; fill 4 at 1002 g; fill 4 at 998 g")

    assert "Masses" not in [section.title for section in _outline(told).sections]


def test_every_source_in_brackets_is_listed() -> None:
    """Each number behind a figure leads to one work, and every work listed is referred to."""
    told = read(SAMPLES / "winter-rice.jsonl")

    section = _section(
        record_outline(told.state, told.entries, told.last, read_catalog()[0]),
        "Sources of the figures",
    )

    text = " ".join(section.sentences)
    numbers = [row[0].strip("[]") for row in section.rows]
    assert numbers == [str(number) for number in range(1, len(numbers) + 1)]
    assert all(f"[{number}]" in text or f"[{number}, " in text for number in numbers)
    assert f"[{len(numbers) + 1}" not in text
    for thing in ("White rice", "Foil laminate", "500 cc absorber", "Pail, 13.2 L"):
        assert thing in text


def test_what_other_sessions_noted_is_not_told() -> None:
    """A lot or a packet of another session in the same book is no part of this record."""
    first = tell(f"{TREATED}; fill 8; ready; packet 200x10; +4 min; place 8; jar; seal 1-8")
    second = Script(first.record, first.clock).do("session Winter; receive rice 3 kg")

    words = [fact.words for fact in _section(_outline(second), "Every entry").facts]

    assert any("rice" in each.lower() for each in words)
    assert not any("wheat" in each.lower() or "Packet" in each for each in words)


def test_cautions_and_words_of_the_trade_are_there(sealed: Script) -> None:
    """A stranger reads what is dangerous before anything else, and what the words mean."""
    titles = [section.title for section in _outline(sealed).sections]

    assert titles.index("Before anything is opened or eaten") < titles.index("Plan and outcome")
    assert titles[-1] == "Words used here"


def test_an_empty_session_has_a_record() -> None:
    """A session just opened is told without a plan, pouches or loads."""
    outline = _outline(tell())

    assert "No pouch has been filled yet." in _said(_section(outline, "In short"))
    assert "No plan was agreed." in _said(_section(outline, "Plan and outcome"))


def test_entries_that_did_not_fit_are_told_as_not_counted(sealed: Script) -> None:
    """An entry at odds with what came before it stands in the story and among the departures."""
    misfit = sealed.entries[-1].id
    state = replace(sealed.desk.state, disputed=(misfit,))

    outline = record_outline(state, sealed.entries, sealed.desk.now())

    assert _section(outline, "Every entry").facts[-1].voided.startswith("it did not fit")
    assert "it did not fit" in _said(_section(outline, "What went otherwise"))


def test_a_load_kept_though_asked_about_is_told() -> None:
    """So it is of a freezer that gets nothing cold, and of the room a load came into."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg")
    warm = structs.replace(PAIL, freezer_temp_c=-14.0)
    told.desk.submit(
        FreezeLoad(told.lot_of("wheat"), "pail-19l", "pail", 8000.0, warm, confirmed=True)
    )
    told.do("+90 h; out A 2 C: it is needed, confirmed")

    rows = [row[1:] for row in _section(_outline(told), "What went otherwise").rows]

    assert ASKED_BEFORE in [why for _, why in rows]
    plain = [(what.replace("\xa0", " "), why) for what, why in rows]
    assert ("Load A came into a room at 2 °C", ASKED) in plain


def test_what_a_load_came_to_without_a_voided_reading_is_told() -> None:
    """A load that came out by a mistyped reading is told as short as it was."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +20 h")
    told.do("core A -16 C, confirmed")
    wrong = told.entries[-1].id
    told.do("+76 h; out A 21 C")
    told.desk.submit(VoidFact(wrong, "typed wrong"))

    rows = [row[1:] for row in _section(_outline(told), "What went otherwise").rows]

    held_h = told.session.loads["A"].held_h
    assert held_h < 72.0
    assert (
        f"Load A, held {int(held_h)} h of 72 h after all",
        "without what was voided",
    ) in rows


def test_a_name_stands_beside_entries_only_where_there_are_several() -> None:
    """Of one person's record the name is told once; where two worked each entry names its own."""
    told = tell(f"{TREATED}; fill 8")
    assert {fact.who for fact in _section(_outline(told), "Every entry").facts} == {""}

    told.desk.who = "Ines"
    told.do("note: Mine.")

    assert {fact.who for fact in _section(_outline(told), "Every entry").facts} == {"sam", "Ines"}


def test_a_single_pouch_is_said_in_the_singular() -> None:
    """One pouch has enough absorber; several have."""
    told = tell("receive wheat 1 kg; bypass wheat: treated; agree wheat 1 x 1 kg, with 200; fill 1")
    told.do("ready; packet 200x1; place 1; seal 1")

    assert "1 has enough absorber" in _said(_section(_outline(told), "In short"))


def test_each_pouch_says_how_it_is_now() -> None:
    """Swollen, soft, set aside or emptied stands where a stranger looks a pouch up."""
    told = tell(
        f"{SEALED}; stow 1-8 in pail 1; lid pail 1; +25 h; check 1-5 snug; check 7 soft;"
        "check 8 swollen; set aside 3: torn; empty 4: weevils"
    )
    rows = {row[0]: row for row in _section(_outline(told), "Pouches").rows}

    def said(last: int) -> tuple[str, str]:
        row = next(row for key, row in rows.items() if key.endswith(f"{last:03d}"))
        return row[-3], row[-1]

    assert said(8) == ("swollen: discard unopened", "–")
    assert said(7)[0] == "soft at the last look"
    assert said(3)[0] == "set aside: torn"
    assert said(4) == ("emptied: weevils", "–")
    assert said(2)[0] == said(5)[0] == "snug at the last look"


def test_a_lot_that_was_turned_away_is_among_the_lots() -> None:
    """Received and quarantined in the session, it is listed though nothing was packed from it."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; receive rice 3 kg quarantined")

    assert [row[1] for row in _section(_outline(told), "Lots").rows] == ["Wheat", "Rice"]


def test_a_warm_reading_that_was_kept_starts_the_hold_anew_in_words() -> None:
    """Instead of a range without width the record says from which reading the hold counts."""
    told = tell("receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat 5 kg; +96 h")
    told.desk.submit(NoteCoreReading("A", -8.5, Probe.CORE, confirmed=True))
    told.do("+73 h; out A 21 C 50 %: no room left")

    said = _said(_section(_outline(told), "Load A: Wheat"))

    assert "Its core read −8.5 °C at " in said
    assert "warmer than was reckoned; from there it was to reach −15 °C about " in said
    assert "the hold begins anew, after the core read −8.5 °C" in said
    assert "It was reckoned to reach" not in said
    assert "the hold begins\n" not in said
