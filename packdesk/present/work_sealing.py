"""The work at the iron: which seams next, gaps in liners, pouches set aside and brought back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from packdesk.catalog.films import Film
from packdesk.instants import Reading, span
from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.cautions import IRON_CAUTION, NEVER_CAUTION
from packdesk.present.chosen import Chosen
from packdesk.present.elsewhere import elsewhere
from packdesk.present.far_words import unbroken
from packdesk.present.filling_words import foods_over
from packdesk.present.iron_words import FOLD, HOW_TO_SEAL, TOMORROW, UNFOLD, iron_lines, long_advice
from packdesk.present.liners import line_of
from packdesk.present.load_view import short_food
from packdesk.present.short_pouches import (
    MORE_FIRST,
    TO_FILLING,
    asked_words,
    asking,
    more_first_card,
    open_again,
    open_again_words,
    short_card,
    short_numbers,
    shut_first_words,
)
from packdesk.present.shut_up import shut_up_control
from packdesk.present.too_many import too_many
from packdesk.present.verdict_words import JudgedGroup
from packdesk.present.work_liner_seam import gap_card, liner_card
from packdesk.present.work_round import for_the_iron
from packdesk.sentences import capital
from packdesk.session.commands import ReopenPouches, SealPouches
from packdesk.session.decide_packing import open_pouches
from packdesk.session.numbers import named
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState
from packdesk.session.tally import tallies
from packdesk.session.terms import Stage

_SET_ASIDE = Control(
    "Set aside",
    icon="aside",
    key="S",
    form="aside",
    act="Set these aside",
    title="Say which pouches are set aside, why, and what became of their food.",
)


def sealing_card(
    session: SessionState, chosen: Chosen, now: Reading, films: Mapping[str, Film] | None = None
) -> WorkCard:
    """Say the work at the iron, longest waiting first; how hot and how long by the `films`."""
    waiting = wanting_a_seam(session)
    asks = asking(session, waiting, now)
    card, pouches = _card(session, chosen, waiting, asks)
    card = _with_shut_up(session, card, chosen)
    foremost = asked_words(session, asks)
    opened = open_again(session, waiting)
    if opened:
        foremost = (open_again_words(None, opened, now), *foremost)
        if not waiting or isinstance(card.main.command, ReopenPouches):
            said = shut_first_words(session, opened, now)
            seconds = tuple(each for each in card.seconds if each.key != "N")
            card = elsewhere(Stage.SEALING, said, Stage.FILLING, seconds)
        elif card.main.goto is not Stage.FILLING:
            which = named(pouch.number for pouch in opened)
            stand = "stands" if len(opened) == 1 else "stand"
            card = replace(
                card,
                seconds=(TO_FILLING, *card.seconds),
                short=f"{capital(unbroken(which))} {stand} open. {card.short or card.sentence}",
            )
    if not pouches:
        return replace(card, foremost=foremost)
    planned = session.plan.lines if session.plan is not None else ()
    here = {pouch.line for pouch in pouches}
    lines = [line for line in planned if line.line in here]
    known = films or {}
    iron = iron_lines(known, lines)
    told = long_advice(known, lines) if chosen.advice else card.evidence
    return replace(
        card,
        seconds=(*card.seconds, HOW_TO_SEAL),
        evidence=(*told, FOLD if chosen.advice else UNFOLD),
        foremost=foremost,
        standing=(*iron, *_waited(pouches, now)),
    )


def _with_shut_up(session: SessionState, card: WorkCard, chosen: Chosen) -> WorkCard:
    """A packet that lies open rings here too: what is left of it is shut up from here as well."""
    lying = [round_ for round_ in session.rounds.values() if round_.left]
    if not lying:
        return card
    first = min(lying, key=lambda each: each.due)
    source = first.source if len(lying) > 1 else ""
    control = shut_up_control(first, chosen.counted, source)
    return replace(card, seconds=(*card.seconds[:1], control, *card.seconds[1:]))


def _waited(pouches: tuple[Pouch, ...], now: Reading) -> tuple[str, ...]:
    """Which pouch to begin with, and how long it has been in its zip."""
    first = pouches[0]
    if first.shut is None or first.sealed is not None or len(pouches) == 1:
        return ()
    waited_s = (now.utc - first.shut.utc).total_seconds()
    if waited_s < 60.0:
        return ()
    return (f"Begin with pouch {first.number}: {span(waited_s)} in its zip, the longest.",)


def _card(
    session: SessionState,
    chosen: Chosen,
    waiting: tuple[Pouch, ...],
    asks: tuple[JudgedGroup, ...],
) -> tuple[WorkCard, tuple[Pouch, ...]]:
    """The work, and the pouches it is about; none where nothing waits.

    Those that `asks` say are short want an absorber more first, a liner that stands open or has a
    gap too: they come when nothing else waits. So do liners that were opened again for one more.
    """
    if not waiting:
        counted = tallies(session)
        if any(line.sealed for line in counted):
            back = _bring_back(session)
            seconds = (_SET_ASIDE, back) if back is not None else (_SET_ASIDE,)
            if any(round_.left for round_ in session.rounds.values()):
                said, goto = "No pouch waits for the iron. A packet lies open.", Stage.FILLING
                return elsewhere(Stage.SEALING, said, goto, seconds), ()
            open_yet = [pouch.number for pouch in open_pouches(session)]
            if open_yet:
                are = "is" if len(open_yet) == 1 else "are"
                said = f"What is shut is sealed; {named(open_yet)} {are} still open."
                return elsewhere(Stage.SEALING, said, Stage.FILLING, seconds), ()
            to_fill = sum(line.to_fill for line in counted)
            said, goto = "Every filled pouch is sealed.", Stage.LABELLING
            if to_fill:
                said = f"Every filled pouch is sealed; {to_fill} are still to be filled."
                goto = Stage.FILLING
            elif over := foods_over(session):
                said, goto = f"Every filled pouch is sealed; {over}.", Stage.FILLING
            card = elsewhere(Stage.SEALING, said, goto, seconds)
            return replace(card, evidence=TOMORROW), ()
        return elsewhere(Stage.SEALING, "No pouch waits for the iron yet.", Stage.FILLING), ()
    short = short_numbers(asks)
    gaps = tuple(pouch for pouch in waiting if pouch.gap_left)
    if gaps:
        close = tuple(pouch for pouch in gaps if pouch.number not in short)
        return (gap_card(session, close), close) if close else (short_card(session, gaps), ())
    never = [pouch for pouch in waiting if _never(session, pouch)]
    if len(never) == len(waiting):
        return _never_card(session, never[0]), ()
    waiting = tuple(pouch for pouch in waiting if pouch not in never)
    unsure = frozenset(number for group in asks for number in group.numbers)
    more = tuple(
        p for p in waiting if not p.closed and p.number in (unsure if p.reopened else short)
    )
    # What has a seam all along is not cut open for one more.
    sound = tuple(p for p in waiting if p not in more and (p.number not in short or p.gas_tight))
    if not sound and more:
        return more_first_card(session, more, _SET_ASIDE), ()
    if not sound:
        return short_card(session, waiting, _SET_ASIDE), ()
    waiting = sound
    for pouch in waiting:
        line = line_of(session, pouch)
        if line is not None and line.liner and not pouch.closed:
            beside = (MORE_FIRST, _SET_ASIDE) if pouch.number in unsure else (_SET_ASIDE,)
            return liner_card(session, line, pouch, *beside), (pouch,)
    count = min(chosen.count or len(waiting), len(waiting))
    numbers = tuple(pouch.number for pouch in waiting[:count])
    planned = session.plan.lines if session.plan is not None else ()
    here = {pouch.line for pouch in waiting[:count]}
    evidence = []
    if any(line.dusty for line in planned if line.line in here):
        evidence.append("Wipe the seam band first: flour in a seam leaks.")
    label = f"Pouch {numbers[0]} is sealed" if count == 1 else f"All {count} are sealed"
    card = WorkCard(
        stage=Stage.SEALING,
        sentence=_seams_wanted(waiting[:count]),
        main=too_many(
            Control(
                label,
                "Space bar, or type how many",
                cell=CellState.SEALED,
                command=SealPouches(numbers, seams=2),
                form="fewer",
            ),
            chosen.count,
            len(waiting),
            f"{len(waiting)} {'waits' if len(waiting) == 1 else 'wait'} for this seam",
        ),
        seconds=(
            _SET_ASIDE,
            _bring_back(session) or Control("Another count", icon="edit", key="W", form="fewer"),
        ),
        evidence=tuple(evidence),
        caution=IRON_CAUTION,
    )
    return card, waiting[:count]


def _seams_wanted(pouches: tuple[Pouch, ...]) -> str:
    """Two seams, or the second where the first was made as the absorber went in."""
    fresh = [pouch.number for pouch in pouches if pouch.sealed is None]
    begun = [pouch.number for pouch in pouches if pouch.sealed is not None]
    if not begun:
        return f"Seal {named(fresh)}, two seams each."
    if not fresh:
        return f"Make the second seam on {named(begun)}."
    return f"Seal {named(fresh)}, two seams each; the second seam on {named(begun)}."


def _never(session: SessionState, pouch: Pouch) -> bool:
    """Whether a first seam on this pouch needs a reason: its food is never to be sealed."""
    line = line_of(session, pouch)
    return line is not None and bool(line.never) and pouch.sealed is None


def _never_card(session: SessionState, pouch: Pouch) -> WorkCard:
    """A food that is never to be sealed: not without the danger said and a reason typed."""
    line = line_of(session, pouch)
    assert line is not None, "asked only of pouches with a plan line"
    return WorkCard(
        stage=Stage.SEALING,
        sentence=f"Never seal {short_food(line.food_name)}: set pouch {pouch.number} aside.",
        main=Control(
            f"Pouch {pouch.number} is sealed all the same",
            "with the reason typed",
            icon="done",
            command=SealPouches((pouch.number,), seams=2),
            form="never",
        ),
        seconds=(_SET_ASIDE,),
        evidence=(
            line.never,
            "Left open, kept cool and eaten soon it is safe; to empty it, set it aside.",
            f"The plan has it because: {line.against_advice}.",
        ),
        caution=f"{NEVER_CAUTION} {IRON_CAUTION}",
    )


def reason_before(session: SessionState, pouches: tuple[int, ...]) -> str:
    """The reason given for sealing this food the last time; empty the first time."""
    lines = {session.pouches[number].line for number in pouches if number in session.pouches}
    given = [p.against_advice for _, p in sorted(session.pouches.items()) if p.line in lines]
    return next((reason for reason in reversed(given) if reason), "")


def _bring_back(session: SessionState) -> Control | None:
    """The way back into work, while pouches with food in them stand aside; no swollen one."""
    if not any(p.aside and not p.emptied and not p.swollen for p in session.pouches.values()):
        return None
    return Control(
        "Bring back",
        icon="again",
        key="B",
        form="return",
        act="These are back in work",
        title="Say which of the pouches set aside are back in work.",
    )


def wanting_a_seam(session: SessionState) -> tuple[Pouch, ...]:
    """The pouches that wait for the iron, the longest waiting first."""
    return tuple(
        sorted(
            (pouch for pouch in session.working_pouches() if _wants_a_seam(session, pouch)),
            key=lambda pouch: pouch.shut.utc if pouch.shut is not None else pouch.filled_at,
        )
    )


def _wants_a_seam(session: SessionState, pouch: Pouch) -> bool:
    """Shut without a seam, or a first seam without a second, or a gap left."""
    if pouch.pail:
        return False
    if pouch.sealed is not None:
        return pouch.gap_left or pouch.seams < 2
    line = session.plan.line(pouch.line) if session.plan is not None else None
    ready = line is not None and (
        (not line.absorbers_cc and not line.zip) or for_the_iron(line, pouch)
    )
    return pouch.shut is not None or ready
