"""What must not be forgotten at the iron: pouches short of absorber, and those open again.

Loads numpy once there is a verdict to be said.
"""

from __future__ import annotations

from collections.abc import Iterable

from packdesk.instants import Reading, span
from packdesk.present.cards import Control, WorkCard
from packdesk.present.cautions import ABSORBER_CAUTION, IRON_CAUTION
from packdesk.present.liners import called, line_of
from packdesk.present.verdict_words import JudgedGroup, judged, said
from packdesk.sentences import capital
from packdesk.session.commands import ReopenPouches, SealPouches
from packdesk.session.figures import AgreedLine
from packdesk.session.lacking import lacking
from packdesk.session.numbers import named
from packdesk.session.pouch import Pouch
from packdesk.session.state import SessionState
from packdesk.session.terms import Stage
from packdesk.session.verdicts import Enough

MORE_FIRST = Control("One more first", icon="add", key="G", goto=Stage.FILLING)

TO_FILLING = Control("Go to filling", icon="done", key="G", goto=Stage.FILLING)

_BEFORE_OPENING = "Have a packet or jar at hand first: an opened pouch takes in new air."


def asking(
    session: SessionState, pouches: Iterable[Pouch], now: Reading
) -> tuple[JudgedGroup, ...]:
    """The groups among `pouches` whose verdict asks for something to be done."""
    groups = judged(session, (pouch for pouch in pouches if pouch.placed), now.utc)
    return tuple(group for group in groups if group.found is not Enough.ENOUGH)


def asked_words(session: SessionState, groups: Iterable[JudgedGroup]) -> tuple[str, ...]:
    """One sentence for each group, and by which key a pouch is opened for one more."""
    groups = tuple(groups)
    told = tuple(said(group, session.plan) for group in groups)
    if all(group.standing_open for group in groups):
        return told
    return (*told, f"O opens a pouch again. {_BEFORE_OPENING}")


def short_numbers(groups: Iterable[JudgedGroup]) -> frozenset[int]:
    """The pouches that are to have one absorber more before their seam."""
    return frozenset(
        number for group in groups if group.found is Enough.ADD_ONE for number in group.numbers
    )


def short_card(session: SessionState, short: tuple[Pouch, ...], *seconds: Control) -> WorkCard:
    """Only pouches short of absorber are left: one more first, or sealed all the same."""
    numbers = tuple(pouch.number for pouch in short)
    which = called(line_of(session, short[0]), numbers)
    more = "one absorber more" if len(short) == 1 else "one absorber more each"
    return WorkCard(
        stage=Stage.SEALING,
        sentence=f"Not yet the iron: open {which} again for {more}.",
        main=Control(
            f"{capital(which)} {'is' if len(short) == 1 else 'are'} open",
            "Space bar",
            icon="again",
            command=ReopenPouches(numbers, "one absorber more"),
        ),
        seconds=(
            Control(
                "Seal all the same", icon="done", key="N", command=SealPouches(numbers, seams=2)
            ),
            *seconds,
        ),
        caution=f"{ABSORBER_CAUTION} {IRON_CAUTION}",
    )


def more_first_card(
    session: SessionState, liners: tuple[Pouch, ...], *seconds: Control
) -> WorkCard:
    """Liners that stand open for one absorber more: it goes in before their seam."""
    which = called(line_of(session, liners[0]), (pouch.number for pouch in liners))
    more = "one absorber more" if len(liners) == 1 else "one absorber more each"
    return WorkCard(
        stage=Stage.SEALING,
        sentence=f"Not yet the iron: {more} into {which} first.",
        main=Control("Go to filling", "Space bar", icon="done", goto=Stage.FILLING),
        seconds=(
            Control(
                "Seal all the same",
                icon="done",
                key="N",
                command=SealPouches(tuple(pouch.number for pouch in liners), seams=2),
            ),
            *seconds,
        ),
        caution=f"{ABSORBER_CAUTION} {IRON_CAUTION}",
    )


def shut_first_words(session: SessionState, opened: tuple[Pouch, ...], now: Reading) -> str:
    """What comes before the seam of pouches open again: «Shut pouch 3 first, then seal it.»"""
    which = named(pouch.number for pouch in opened)
    it = "it" if len(opened) == 1 else "them"
    if asking(session, opened, now):
        each = "" if len(opened) == 1 else "each of "
        return f"One absorber more into {each}{which} first, then shut and seal {it}."
    if any(_lacks(session, pouch) for pouch in opened):
        return f"Back to filling first: fresh absorbers into {which}, then shut and seal {it}."
    return f"Shut {which} first, then seal {it}."


def open_again(session: SessionState, waiting: Iterable[Pouch]) -> tuple[Pouch, ...]:
    """The pouches that were opened again, or came back, and do not yet wait for a seam."""
    told = {pouch.number for pouch in waiting}
    return tuple(
        pouch
        for pouch in session.working_pouches()
        if _opened(pouch) is not None and not pouch.closed and pouch.number not in told
    )


def open_again_words(line: AgreedLine | None, opened: tuple[Pouch, ...], now: Reading) -> str:
    """«Pouch 3 stands open again, for 4 min; its absorber works on the open air.»"""
    since = [at.utc for pouch in opened if (at := _opened(pouch)) is not None]
    which = called(line, (pouch.number for pouch in opened))
    one = len(opened) == 1
    again = " again" if since else ""
    passed_s = (now.utc - min(since)).total_seconds() if since else 0.0
    time = f", for {span(passed_s)}" if passed_s >= 60.0 else ""
    work = "its absorber works" if one else "their absorbers work"
    what = f"; {work} on the open air" if any(pouch.placed for pouch in opened) else ""
    return f"{capital(which)} {'stands' if one else 'stand'} open{again}{time}{what}."


def back_words(line: AgreedLine, pouches: tuple[Pouch, ...]) -> str:
    """«Pouch 9 is back in work and open: take its old absorber out.»

    It counts as empty of absorbers, and its label will tell of the fresh ones alone.
    """
    which = called(line, (pouch.number for pouch in pouches))
    are, old = ("is", "its old absorber") if len(pouches) == 1 else ("are", "their old absorbers")
    return f"{capital(which)} {are} back in work and open: take {old} out."


def _opened(pouch: Pouch) -> Reading | None:
    return pouch.reopened or (pouch.back if pouch.back_and_open else None)


def _lacks(session: SessionState, pouch: Pouch) -> bool:
    line = line_of(session, pouch)
    return line is not None and bool(lacking(line, pouch))
