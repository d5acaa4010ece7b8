"""The verdict on absorbers in words: the figures of the very pouch that is spoken of."""

from __future__ import annotations

from packdesk.present.verdict_words import verdict_sentences
from tests.script import tell


def test_a_heavy_pouch_is_told_with_what_it_needs_itself() -> None:
    """Of two pouches of a line the one with nearly twice the food is short, with its own figure."""
    told = tell(
        "receive wheat 8 kg; bypass wheat: treated; agree wheat 4 x 1 kg, with 200, numbered; "
        "fill 1 at 1000 g; fill 1 at 1800 g, confirmed; packet 200x6; place in 1-2"
    )
    session = told.session
    heavy, usual = verdict_sentences(session, session.pouches.values(), told.desk.now().utc)

    assert heavy.startswith("Pouch 2 is short of absorber: 200 cc left for 207 cc of oxygen.")
    assert usual.startswith("Pouch 1 is well supplied: 200 cc left for 115 cc of oxygen.")


def test_a_liner_is_called_one_all_through() -> None:
    """Who is judged, what is smaller, whose air it is, and what stood open."""
    told = tell(
        "receive wheat 16 kg; bypass wheat; agree wheat 1 x 16 kg, liner, with 2000, need 1500 cc; "
        "fill 1; ready; packet 2000x2; +2 min; place 1, open; +3 min"
    )
    (said,) = verdict_sentences(told.session, told.session.pouches.values(), told.desk.now().utc)

    assert said.startswith("Liner 1 is well supplied:")
    assert "3 min in the open liner" in said
    assert "a liner gets" in said
    assert "ouch" not in said
