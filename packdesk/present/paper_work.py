"""The work on a paper: while it is made, when it lies there, when its rulers are measured."""

from __future__ import annotations

from packdesk.present.cards import Control, WorkCard
from packdesk.session.terms import Stage


def making_card(stage: Stage, making: str, done: int, of: int) -> WorkCard:
    """Say how far a long job is, and how to stop it; nothing of it is on record yet."""
    return WorkCard(
        stage=stage,
        sentence=f"{making}: {done} of {of}." if of else f"{making}.",
        main=Control("Stop", "Space bar", icon="undo", form="stop"),
        evidence=("Clocks and alarms go on meanwhile. Stopping leaves no file.",),
    )


def paper_card(stage: Stage, name: str) -> WorkCard:
    """Say that another paper is made and lies there to be looked at."""
    return WorkCard(
        stage=stage,
        sentence=f"{name}: made. Look, then print, save or open it.",
        main=Control("Done with this paper", "Space bar", icon="done", form="done"),
        evidence=("Nothing goes on record for this paper; it can be made again.",),
    )


def alignment_card(stage: Stage) -> WorkCard:
    """Say what is done with a printed alignment page."""
    return WorkCard(
        stage=stage,
        sentence="Print it at 100 % on plain paper, then measure it.",
        main=Control(
            "Enter what I measured", "Space bar", icon="rule", form="measured",
            act="This is what I measured",
        ),
        seconds=(Control("Later", icon="done", key="L", form="done"),),
        evidence=(
            "Each ruler is 100 mm long when the printer keeps to actual size.",
            "Hold page and label sheet to the light: the crosses belong on the label corners.",
        ),
    )  # fmt: skip
