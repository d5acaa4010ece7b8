"""What is said where absorbers come into the open: of a jar, of a hard packet, of one unseen."""

from __future__ import annotations

import re
from dataclasses import replace

from packdesk.instants import Reading
from packdesk.present.cards import Control, WorkCard
from packdesk.present.chosen import Opening
from packdesk.present.packet_words import doubted, spent_packet, unseen_words
from packdesk.session.book_state import BookState, Remainder
from packdesk.session.figures import AgreedLine
from packdesk.session.jar_first import as_opened, jar_that_suits
from packdesk.session.packets import spent
from packdesk.session.state import SessionState
from packdesk.session.terms import Feel

PACKET = "packet"
"""The form by which absorbers come into the open."""

_THROW = "Hard absorbers are spent: throw this packet away."


def opening_card(
    card: WorkCard,
    book: BookState,
    session: SessionState,
    line: AgreedLine | None,
    opening: Opening | None,
    now: Reading,
) -> WorkCard:
    """The card in the words of what is picked to be opened; `opening` is None until that is done.

    A card on which nothing is opened stays as it is.
    """
    controls = (card.main, *card.seconds)
    if line is None or not any(control.form == PACKET for control in controls):
        return card
    if opening is None:
        jar = jar_that_suits(book, session, line, now.utc)
        opening = Opening(jar=jar.remainder if jar is not None else "")
    main = card.main.form == PACKET
    seconds = tuple(_second(control, opening) for control in card.seconds)
    if opening.jar in book.remainders:
        return _of_a_jar(card, book, session, book.remainders[opening.jar], seconds, now)
    gone = spent_packet(book, session)
    said = (_written_off(gone), *card.foremost) if gone and not main else card.foremost
    card = replace(card, seconds=seconds, foremost=said)
    if not main:
        return card
    if spent(opening.feel):
        return replace(
            card,
            sentence=_THROW,
            main=replace(
                card.main,
                label="Throw it away",
                hint="Space bar; it is written off, no clock starts",
                icon="aside",
            ),
            evidence=(),
            short=_THROW,
        )
    unseen = unseen_words(opening.condition, opening.indicator, opening.feel).rstrip(".")
    hint = f"Space bar. {unseen}" if unseen else card.main.hint
    label, sentence = "The packet is open", _of_a_packet(card.sentence)
    if gone:
        label, sentence = "The next packet is open", _written_off(gone)
        hint = "Space bar, once it is felt" if opening.feel is Feel.NOT_FELT else hint
    return replace(
        card,
        sentence=sentence,
        main=replace(card.main, label=label, hint=hint),
        short=_of_a_packet(card.short),
    )


def _of_a_packet(sentence: str) -> str:
    """The sentence that offers a jar, where a new packet is picked instead."""
    return re.sub(r"\bjar R\d+", "a packet", sentence)


def _second(control: Control, opening: Opening) -> Control:
    """A control beside the main one: what it says once its form is open."""
    if control.form != PACKET:
        return control
    if opening.jar:
        return replace(control, act="The jar is open", title=_open_jar(opening.jar))
    if spent(opening.feel):
        return replace(control, act="Throw it away", title=_THROW)
    return control


def _written_off(packet: str) -> str:
    return f"Packet {packet} is written off. Feel the next one, soft or hard, then cut it open."


def _open_jar(jar: str) -> str:
    return f"Open jar {jar}, and press at once: its clock starts then."


def _of_a_jar(
    card: WorkCard,
    book: BookState,
    session: SessionState,
    jar: Remainder,
    seconds: tuple[Control, ...],
    now: Reading,
) -> WorkCard:
    """The card with a jar in hand: what one absorber of it has, and where it comes from."""
    if card.main.form != PACKET:
        return replace(card, seconds=seconds)
    name = f"jar {jar.remainder}"
    told = name in card.sentence
    return replace(
        card,
        sentence=card.sentence if told else _open_jar(jar.remainder),
        main=replace(card.main, label="The jar is open", hint="Space bar", icon="lid"),
        seconds=seconds,
        foremost=(*jar_left_words(book, session, jar, now), *card.foremost),
        short=card.short if told else f"Open {name}.",
    )


def jar_left_words(
    book: BookState, session: SessionState, jar: Remainder, now: Reading
) -> tuple[str, ...]:
    """«1 absorber of jar R1 has 96 to 196 of 200 cc left.», and what is doubted of its packet."""
    opened = as_opened(session, jar, now.utc)
    low, likely = f"{opened.capacity_low_cc:.0f}", f"{opened.capacity_likely_cc:.0f}"
    has = likely if low == likely else f"{low} to {likely}"
    left = f"1 absorber of jar {jar.remainder} has {has} of {jar.rating_cc} cc left."
    doubt = doubted(book, jar.packet, "this packet")
    return (left, f"It is of packet {jar.packet}. {doubt}") if doubt else (left,)
