"""A stage with nothing to do says so and leads to the one where the work is."""

from __future__ import annotations

from packdesk.present.cards import Control, WorkCard
from packdesk.present.path import STAGE_NAMES
from packdesk.session.terms import Stage


def elsewhere(
    stage: Stage, sentence: str, goto: Stage, seconds: tuple[Control, ...] = ()
) -> WorkCard:
    """The card of a stage that has nothing to do: why, and the way to `goto`."""
    name = STAGE_NAMES[goto].lower()
    return WorkCard(
        stage=stage,
        sentence=sentence,
        main=Control(f"Go to {name}", "Space bar", icon="done", goto=goto),
        seconds=seconds,
    )
