"""The work at pouches that were opened again: one absorber more, or shut as they are."""

from __future__ import annotations

from dataclasses import replace

from packdesk.instants import Reading
from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.cautions import ABSORBER_CAUTION
from packdesk.present.doubted_supply import more_counted_on
from packdesk.present.far_words import unbroken
from packdesk.present.liners import called, lifting_caution, line_of
from packdesk.present.measures import Measures
from packdesk.present.other_source import other_control, several
from packdesk.present.packet_words import OPEN_PACKET, PACKET_TITLE
from packdesk.present.short_pouches import asking, open_again_words, short_numbers
from packdesk.present.verdict_words import verdict_sentences
from packdesk.sentences import capital
from packdesk.session.commands import (
    Command,
    PlaceAbsorbers,
    ReopenPouches,
    SealPouches,
    ShutPouches,
)
from packdesk.session.figures import AgreedLine
from packdesk.session.open_again import open_again, wanting_one_more
from packdesk.session.pouch import Pouch
from packdesk.session.state import Round, SessionState
from packdesk.session.supply import Supply, more_for_sure
from packdesk.session.terms import Stage


def reopened_card(
    session: SessionState,
    line: AgreedLine,
    now: Reading,
    round_: Round | None = None,
    *seconds: Control,
    jar: str = "",
) -> WorkCard:
    """What stands open again: those well supplied are shut first, the others get one more each.

    Of `round_` the absorbers lie open; without it a packet is opened, or the `jar` that suits.
    `seconds` stand beside what is offered here.
    """
    opened = open_again(session, line)
    wanting = wanting_one_more(session, line, now.utc)
    well = [pouch for pouch in opened if pouch not in wanting]
    evidence = verdict_sentences(session, opened or wanting, now.utc)
    if well:
        return _as_it_is(line, well[0], round_, evidence, seconds)
    if round_ is None:
        return _open_first(line, wanting, now, evidence, seconds, jar)
    per_pouch = more_for_sure(session, line, wanting[0], round_, now.utc)
    more = per_pouch.taken(round_.left)
    if not more:
        beside = (*other_control(session, line, round_, now), *seconds)
        card = _open_first(line, wanting, now, evidence, beside, jar)
        return replace(card, foremost=(more_counted_on(round_, per_pouch, now.utc), *card.foremost))
    if line.liner and not line.zip:
        return _liner_card(session, line, wanting[0], round_, per_pouch, now, evidence, seconds)
    which = called(line, (wanting[0].number,))
    source = f" from {round_.source}" if several(session, round_, now) else ""
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Drop {_absorbers(more)} more{source} into {which}, press the air out and "
        f"{'shut it' if line.zip else 'seal it'}.",
        main=Control(
            f"{_are_in(more)}, {'shut' if line.zip else 'sealed'}",
            "Space bar",
            icon="add",
            cell=_cell(line),
            command=_one_more(line, wanting[0], round_, more),
        ),
        seconds=(
            _without(line, wanting[:1]),
            *other_control(session, line, round_, now),
            *seconds,
        ),
        foremost=(more_counted_on(round_, per_pouch, now.utc),) if more > 1 else (),
        evidence=evidence,
        caution=ABSORBER_CAUTION,
        short=f"{capital(which)}: {more} more in{source}, {'shut' if line.zip else 'seal'}.",
    )


def _liner_card(
    session: SessionState,
    line: AgreedLine,
    liner: Pouch,
    round_: Round,
    per_pouch: Supply,
    now: Reading,
    evidence: tuple[str, ...],
    seconds: tuple[Control, ...],
) -> WorkCard:
    """A liner gets as many more as make sure and is sealed at once: nothing else closes it."""
    which = called(line, (liner.number,))
    more = per_pouch.sure
    command = replace(_one_more(line, liner, round_, more), shut=False)
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Drop {_absorbers(more)} more into {which}, fold over, and go to the iron "
        "at once.",
        main=Control(
            _are_in(more), "Space bar", icon="add", cell=CellState.ABSORBERS_IN, command=command
        ),
        seconds=(_without(line, (liner,)), *seconds),
        foremost=(more_counted_on(round_, per_pouch, now.utc),) if more > 1 else (),
        evidence=evidence,
        caution=f"{lifting_caution(line, Measures(session.units))} {ABSORBER_CAUTION}",
        short=f"{capital(which)}: {more} more in, fold over.",
    )


def short_of(session: SessionState, round_: Round, now: Reading) -> Pouch | None:
    """The first pouch pressed shut, of any food, that is short, and that what is left of `round_`
    makes sure."""
    shut = [p for p in session.working_pouches() if p.shut is not None and not p.gas_tight]
    numbers = short_numbers(asking(session, shut, now))
    for pouch in shut:
        line = line_of(session, pouch)
        if pouch.number not in numbers or line is None:
            continue
        if round_.rating_cc not in line.absorbers_cc:
            continue
        if more_for_sure(session, line, pouch, round_, now.utc).taken(round_.left):
            return pouch
    return None


def open_now_card(session: SessionState, short: Pouch, *seconds: Control) -> WorkCard:
    """What is left of the packet lies open still: the pouch that is short of it comes first."""
    which = called(line_of(session, short), (short.number,))
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Open {which} again now for one absorber more, before the rest goes into a jar.",
        main=Control(
            f"{capital(which)} is open",
            "Space bar",
            icon="again",
            command=ReopenPouches((short.number,), "one absorber more"),
        ),
        seconds=seconds,
        caution=ABSORBER_CAUTION,
        short=f"Open {which} again: 1 more.",
    )


def _as_it_is(
    line: AgreedLine,
    pouch: Pouch,
    round_: Round | None,
    evidence: tuple[str, ...],
    seconds: tuple[Control, ...],
) -> WorkCard:
    name = capital(called(line, (pouch.number,)))
    if round_ is None:
        more = OPEN_PACKET
    else:
        more = Control(
            "One more is in, shut" if line.zip else "One more is in, sealed",
            icon="add",
            key="P",
            command=_one_more(line, pouch, round_),
        )
    close = "shut" if line.zip else "seal"
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"{name} stands open again: press the air out and {close} it.",
        main=Control(
            f"{name} is {'shut' if line.zip else 'sealed'}",
            "Space bar",
            cell=_cell(line),
            command=_close(line, (pouch,)),
        ),
        seconds=(more, *seconds),
        evidence=evidence,
        caution=ABSORBER_CAUTION,
        short=f"{name}: press out, {close}.",
    )


def _open_first(
    line: AgreedLine,
    wanting: tuple[Pouch, ...],
    now: Reading,
    evidence: tuple[str, ...],
    seconds: tuple[Control, ...],
    jar: str,
) -> WorkCard:
    """Nothing that suits lies open: the absorber they were opened for comes before their zip."""
    which = called(line, (pouch.number for pouch in wanting))
    source = f"jar {jar}" if jar else "a packet"
    goes = "goes in" if len(wanting) == 1 else "goes into each"
    return WorkCard(
        stage=Stage.FILLING,
        sentence=f"Open {source} for {which}: one absorber more {goes}.",
        main=Control(
            "It is open" if jar else "The packet is open",
            "Space bar",
            icon="packet",
            form="packet",
            title=PACKET_TITLE,
        ),
        seconds=(_without(line, wanting), *seconds),
        foremost=(open_again_words(line, wanting, now),),
        evidence=evidence,
        caution=ABSORBER_CAUTION,
        short=f"Open {source} for {unbroken(which)}: 1 more{'' if len(wanting) == 1 else ' each'}.",
    )


def _without(line: AgreedLine, pouches: tuple[Pouch, ...]) -> Control:
    if line.liner and not line.zip:
        return Control("Go to the iron", icon="done", key="N", goto=Stage.SEALING)
    many = f" {len(pouches)}" if len(pouches) > 1 else ""
    return Control(
        f"{'Shut' if line.zip else 'Seal'}{many} without",
        icon="done",
        key="N",
        command=_close(line, pouches),
    )


def _close(line: AgreedLine, pouches: tuple[Pouch, ...]) -> Command:
    numbers = tuple(pouch.number for pouch in pouches)
    return ShutPouches(numbers) if line.zip else SealPouches(numbers)


def _one_more(line: AgreedLine, pouch: Pouch, round_: Round, more: int = 1) -> PlaceAbsorbers:
    return PlaceAbsorbers(line.line, 1, each=more, pouches=(pouch.number,), round=round_.round)


def _absorbers(count: int) -> str:
    return "1 absorber" if count == 1 else f"{count} absorbers"


def _are_in(count: int) -> str:
    return "One more is in" if count == 1 else f"{count} more are in"


def _cell(line: AgreedLine) -> CellState:
    return CellState.PRESSED_SHUT if line.zip else CellState.SEALED
