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
