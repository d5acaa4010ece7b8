"""What the card on a pail says."""

from __future__ import annotations

from dataclasses import replace as with_plan

import pytest
from msgspec.structs import replace

from packdesk.catalog.read import read_catalog
from packdesk.present.label_text import food_title
from packdesk.present.pail_card import lifting_note, pail_cards
from packdesk.present.papers import PailCard
from tests.script import SEALED, TREATED, Script, tell

AMISS = (
    "receive wheat 8 kg; agree wheat 8 x 1 kg; freeze wheat; +20 h; out A 21 C 50 %: in haste;"
    "+1 h; open A: guests; fill 8; ready; packet 200x10; +4 min; place 8; jar; seal 1-8"
)
"""Eight pouches of a load that left the cold early and was opened cold."""

PAIL = read_catalog()[0].pails["pail-19l"]


def _cards(told: Script) -> tuple[PailCard, ...]:
    return pail_cards(told.session, PAIL)


def test_a_card_says_what_is_inside_and_how_heavy_it_is() -> None:
    """Foods with their pouches, the mass of food, and the mass with the pail of a kilogram."""
    told = tell(f"{SEALED}; stow 1-5 in pail 1; +24 h; check 1-5 snug")

    (card,) = _cards(told)

    (food,) = card.foods
    assert card.pail == "Pail 1"
    assert food.food == "Wheat"
    assert food.amount.replace("\u00a0", " ").startswith("5 pouches, 5.00 kg (11 lb 0.4 oz)")
    assert food.pouches == "K7M2-001 to 005"
    assert card.mass.replace("\u00a0", " ").endswith(
        "; with the pail about 6.0 kg (13 lb), pouches and absorbers not counted"
    )
    assert card.checked.endswith(": snug")


def test_the_code_says_the_same_as_plain_text() -> None:
    """A phone shows pail, food, pouches and date without any program of ours."""
    (card,) = _cards(tell(f"{SEALED}; stow 1-8 in pail cellar"))

    assert card.code.startswith("PAIL CELLAR K7M2\nPACKED ")
    assert "WHEAT: 8 POUCHES, 8.00 KG" in card.code
    assert "K7M2-001 TO 008" in card.code
    assert card.code.isascii()


def test_a_swollen_pouch_is_named_on_the_card_of_its_pail() -> None:
    """Who stands before the pail reads which pouch it is, also by phone; other pails do not."""
    told = tell(f"{SEALED}; stow 1-4 in pail 1; stow 5-8 in pail 2; +24 h; check 2 swollen")

    first, second = _cards(told)

    assert first.swollen == "K7M2-002 is swollen: never open it, discard it."
    assert first.checked.endswith(": swollen")
    assert "SWOLLEN, DISCARD UNOPENED: K7M2-002" in first.code
    assert second.swollen == ""


def test_empty_pouches_that_were_weighed_add_to_the_load() -> None:
    """Five pouches of 40 g make 200 g, by hand: 5.0 of food, 1.0 of pail, 0.2 of foil."""
    told = tell(f"{TREATED}; tare 40 g; fill 8; ready; packet 200x10; place 8; jar; seal 1-8")

    (card,) = _cards(told.do("stow 1-5 in pail 1"))

    assert card.mass.replace("\u00a0", " ").endswith(
        "; with pail and pouches about 6.2 kg (14 lb), absorbers not counted"
    )


def test_pouches_not_treated_as_advised_are_named_on_the_card() -> None:
    """Food opened cold is to be looked at for damp, food that left the cold early for insects."""
    told = tell(f"{AMISS}; stow 1-8 in pail 1")

    (card,) = _cards(told)

    assert card.food_cautions == (
        "K7M2-001 to 008: Cold cut short: look for insects. Opened cold: look for damp and mould.",
    )


def test_only_pails_with_pouches_have_a_card() -> None:
    """Before anything is stowed there is no card."""
    assert _cards(tell(SEALED)) == ()


def test_cautions_stand_on_every_card() -> None:
    """Absorbers, swollen pouches and small children are told of where the pail stands."""
    (card,) = _cards(tell(f"{SEALED}; stow 1-8 in pail 1"))

    said = " ".join(card.cautions)
    for words in ("absorbers out before cooking", "swollen pouch", "child can drown"):
        assert words in said


def test_a_pail_says_of_its_food_what_its_labels_say() -> None:
    """Orders to the packer stay off the card; what whoever opens it has to mind stands on it."""
    told = tell(f"{SEALED}; stow 1-8 in pail 1")
    assert told.session.plan is not None
    (line,) = told.session.plan.lines
    mixed = replace(line, caution="Pack it last.", label_caution="May contain traces of wheat.")
    session = with_plan(told.session, plan=with_plan(told.session.plan, lines=(mixed,)))

    (card,) = pail_cards(session, PAIL)

    assert f"{food_title(line.food_name)}: May contain traces of wheat." in card.food_cautions
    assert "Pack it last." not in " ".join((*card.food_cautions, *card.cautions))


@pytest.mark.parametrize(
    ("gross_g", "words"),
    [
        (6_000.0, "Lift it close to the body."),
        (12_000.0, "Lift it close to the body."),  # NIOSH 1994 for a pail, floor to table: 12.1 kg
        (13_000.0, "or with two"),
        (16_000.0, "two people lift it"),
    ],
)
def test_the_lifting_note_follows_the_mass(gross_g: float, words: str) -> None:
    """What one may lift alone, what better two lift, and what two must."""
    assert words in lifting_note(gross_g)
