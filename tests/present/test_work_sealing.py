"""The work at the iron: how hot, which first, liners, and the day after."""

from __future__ import annotations

from dataclasses import replace

import pytest
from msgspec.structs import replace as changed

from packdesk.catalog.films import Film
from packdesk.catalog.read import read_catalog
from packdesk.present.cards import WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.iron_words import iron_lines
from packdesk.present.work_sealing import sealing_card
from packdesk.session.figures import AgreedLine
from packdesk.session.terms import Stage
from tests.script import SEALED, SHUT, TREATED, Script, agreed, tell

FILMS = read_catalog()[0].films
THIN, THICK = "foil_thin", "foil_thick"


def of_film(film: str, food: str = "wheat") -> AgreedLine:
    """A plan line in pouches of a film."""
    return changed(agreed(1, food, "1", 8, 1000.0), film=film)


def card(told: Script, chosen: Chosen | None = None) -> WorkCard:
    """The work at the iron as it stands."""
    return sealing_card(told.session, chosen or Chosen(), told.desk.now(), FILMS)


@pytest.mark.parametrize("film", FILMS.values(), ids=FILMS)
def test_every_film_has_its_iron_in_one_short_sentence(film: Film) -> None:
    """Dots in words and the seconds of the catalogue's own advice, for each film there is."""
    (said,) = iron_lines(FILMS, (of_film(film.key),))

    dots = {1: "one dot", 2: "two dots", 3: "three dots"}[film.iron_dots]
    assert said.startswith(f"Dry iron, {dots}, ")
    assert " seconds" in said
    assert len(said) <= 85


def test_films_that_want_another_iron_are_told_apart_by_food() -> None:
    """Two films with the same setting are one sentence, two with different ones are two."""
    assert len(iron_lines(FILMS, (of_film(THIN), of_film("double_metallised", "rice")))) == 1

    thin, thick = iron_lines(FILMS, (of_film(THIN), of_film(THICK, "rice")))

    assert thin.startswith("Wheat: dry iron, two dots")
    assert thick.startswith("Rice: dry iron, three dots")


def test_the_pouch_that_has_waited_longest_is_first() -> None:
    """Shut in another order than filled, the one shut first is begun with, and how long it waits
    is said."""
    told = tell(
        "receive salt 8 kg; bypass salt; agree salt 8 x 1 kg, no absorber; fill 3; shut 3; "
        "+10 min; shut 1-2; +4 min"
    )

    found = card(told)

    assert found.main.command.pouches == (3, 1, 2)
    assert any(words.startswith("Begin with pouch 3: 14 min") for words in found.standing)


def test_a_dusty_food_wants_its_band_wiped() -> None:
    """Flour in a seam leaks, and is said to; whole grain is spared the line."""
    flour = SHUT.replace("agree wheat 8 x 1 kg", "agree wheat 8 x 1 kg, dusty")

    assert any(words.startswith("Wipe the seam band") for words in card(tell(flour)).evidence)
    assert not any("seam band" in words for words in card(tell(SHUT)).evidence)


def test_a_liner_of_powder_is_sealed_without_a_gap() -> None:
    """No card leads to drawing air off over a powder."""
    told = tell(
        "receive flour 8 kg; bypass flour; agree flour 1 x 8 kg, liner, dusty; fill 1; ready; "
        "packet 200x10; place 1, open"
    )

    found = card(told)

    assert not found.main.command.gap_left
    assert (
        found.sentence == "Press the air out of liner 1 by hand and seal it all along, two seams."
    )
    assert any("never draw air off over a powder" in words for words in found.evidence)
    assert "Or leave it in its pail" in found.caution


def test_a_gap_on_record_over_a_powder_is_closed_without_a_hose() -> None:
    """A record from before such a gap was refused: close it, and not a word of how to draw off."""
    told = tell(
        "receive flour 8 kg; bypass flour; agree flour 1 x 8 kg, liner; fill 1; ready; "
        "packet 200x10; place 1, open; seal 1, gap left"
    )
    plan = told.session.plan
    assert plan is not None
    powder = replace(plan, lines=tuple(changed(line, dusty=True) for line in plan.lines))

    found = sealing_card(
        replace(told.session, plan=powder), Chosen(advice=True), told.desk.now(), FILMS
    )

    assert found.sentence.startswith("Close the gap of liner 1 now")
    said = " ".join((found.sentence, *found.evidence))
    assert "hose" not in said
    assert [control.key for control in found.seconds] == ["C", "I"]


def test_the_page_stays_short_and_the_long_advice_unfolds() -> None:
    """Folded there are at most four lines; unfolded the whole advice, liners' only with liners."""
    told = tell(SHUT)

    folded = card(told).evidence
    unfolded = card(told, replace(Chosen(), advice=True)).evidence

    assert len(folded) <= 4
    assert folded[-1].startswith("I tells")
    assert any("ISO 3758" in words for words in unfolded)
    assert any("fifth of the air" in words for words in unfolded)
    assert not any("hose" in words for words in unfolded)


def test_once_all_is_sealed_the_day_after_is_told() -> None:
    """What a good pouch looks like tomorrow: not tight of need; the change is the leak."""
    words = " ".join(card(tell(SEALED)).evidence)

    for part in ("only about a fifth", "may go hard", "looks tight from the start", "change"):
        assert part in words


def test_the_burn_caution_stands_at_the_iron() -> None:
    """Where a seam is made the iron is said to burn; no setting but the film's is named."""
    caution = card(tell(SHUT)).caution

    assert "The iron burns" in caution
    assert "medium" not in caution


def test_what_has_one_seam_is_asked_for_its_second_only() -> None:
    """Nobody is told to make two seams more where the first was made with the absorber."""
    told = tell(f"{SHUT}; seal 1-3, one seam")
    both = "Seal pouches 4 to 8, two seams each; the second seam on pouches 1 to 3."
    assert card(told).sentence == both

    told.do("seal 4-8")
    assert card(told).sentence == "Make the second seam on pouches 1 to 3."


def test_the_iron_tells_of_food_that_is_left_over() -> None:
    """When all that was filled is sealed, and 800 g are left of 8 kg, the page at the iron says so
    and leads back to the scale."""
    masses = "; ".join(["fill 1 at 900 g"] * 8)
    told = tell(f"{TREATED}; {masses}; ready; packet 200x10; +4 min; place 8; jar; seal 1-8")

    said = card(told)

    assert said.sentence.lower().endswith("about 800\u00a0g of wheat is left over.")
    assert said.main.goto is Stage.FILLING
