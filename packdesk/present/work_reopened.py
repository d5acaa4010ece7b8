"""The work at a pouch that was opened again: one absorber more, or shut as it is."""

from __future__ import annotations

from dataclasses import replace

from packdesk.instants import Reading
from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.cautions import ABSORBER_CAUTION
from packdesk.present.liners import called
from packdesk.present.packet_words import PACKET_TITLE
from packdesk.present.verdict_words import verdict_sentences
from packdesk.session.commands import PlaceAbsorbers, SealPouches, ShutPouches
from packdesk.session.figures import AgreedLine
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState
from packdesk.session.terms import Stage
from packdesk.session.verdicts import Enough, verdict


def reopened_card(
    session: SessionState, line: AgreedLine, pouch: Pouch, now: Reading, *, lying: bool
) -> WorkCard:
    """A pouch that was opened again: one absorber more, or shut as it is."""
    which, numbers = called(line, (pouch.number,)), (pouch.number,)
    name = f"{which[0].upper()}{which[1:]}"
    as_it_is = ShutPouches(numbers) if line.zip else SealPouches(numbers)
    found = verdict(line, pouch, session.plan, now.utc)
    well = found is None or found.verdict is Enough.ENOUGH
    shut = Control(
        f"{name} is shut" if line.zip else f"{name} is sealed",
        "Space bar",
        cell=CellState.PRESSED_SHUT if line.zip else CellState.SEALED,
        command=as_it_is,
    )
    more = Control(
        "One more is in, shut" if line.zip else "One more is in, sealed",
        icon="add",
        key="P",
        command=PlaceAbsorbers(line.line, 1, pouches=numbers),
    )
    if not lying:
        more = Control(
            "Open a packet",
            icon="packet",
            key="P",
            form="packet",
            act="The packet is open",
            title=PACKET_TITLE,
        )
    seconds: tuple[Control, ...]
    if well or not lying:
        need = "" if well else " One absorber more would make it sure: open a packet for it."
        sentence = f"{name} stands open again: press the air out and shut it.{need}"
        main, seconds = shut, (more,)
    else:
        sentence = f"Drop 1 absorber more into {which}, press the air out and shut it."
        main = replace(more, hint="Space bar", key="", cell=shut.cell)
        seconds = (replace(shut, label="Shut without one", hint="", key="N"),)
    return WorkCard(
        stage=Stage.FILLING,
        sentence=sentence,
        main=main,
        seconds=seconds,
        evidence=verdict_sentences(session, (pouch,), now.utc),
        caution=ABSORBER_CAUTION,
        short=f"{name}: {'press, shut' if main is shut else '1 more in, shut'}.",
    )
