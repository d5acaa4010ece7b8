"""The look around before a packet is opened: one thing after another, each by one press."""

from __future__ import annotations

from dataclasses import dataclass, replace

from packdesk.catalog.read import Catalog
from packdesk.instants import span
from packdesk.present.cards import Control, WorkCard
from packdesk.present.cautions import IRON_CAUTION
from packdesk.present.chosen import ReadyCheck
from packdesk.present.iron_words import iron_lines
from packdesk.present.liners import called
from packdesk.session.book_state import Remainder
from packdesk.session.commands import CheckReady
from packdesk.session.figures import AgreedLine
from packdesk.session.packets import packet_at_hand
from packdesk.session.pouch import Pouch
from packdesk.session.round_size import round_size
from packdesk.session.state import SessionState
from packdesk.session.terms import ReadyItem, Stage

TICK, HANDS, OPEN_CHECK = "tick", "hands", "ready_check"
"""The forms of the controls that a page answers by itself."""

TEST_ALARM = Control("Test the alarm", icon="ring", key="T", form="alarm_test")
"""Before a packet is open is the time to learn whether its alarm can be heard at the counter."""

_SHORT = {
    ReadyItem.POUCHES_WIPED: "Rims wiped",
    ReadyItem.JAR_OUT: "Jar out",
    ReadyItem.IRON_TESTED: "Test seam",
    ReadyItem.ALARM_HEARD: "Alarm heard",
}


@dataclass(frozen=True, slots=True)
class Tick:
    """One thing of the check: its word, whether it is done, whether it is next."""

    word: str
    done: bool
    next: bool


def new_check(session: SessionState, line: AgreedLine, catalog: Catalog) -> ReadyCheck:
    """The check as it begins: by whom the line is worked, with which packets, how it is ironed."""
    from packdesk.planning.supplies import packet_sizes  # loads numpy

    sizes = {size for cc in line.absorbers_cc[:1] for size in packet_sizes(cc, catalog)}
    iron = iron_lines(catalog.films, (line,))
    return ReadyCheck(hands=session.hands, packets=tuple(sorted(sizes)), iron=iron)


def pressed(session: SessionState, check: ReadyCheck) -> ReadyCheck:
    """The check once its control was pressed: one thing ticked.

    The alarm is sounded by one press before the next can say that it was heard.
    """
    item = next_item(session, check)
    if item is None:
        return check
    if item is ReadyItem.ALARM_HEARD and not check.sounded:
        return replace(check, sounded=True)
    return replace(check, ticked=(*check.ticked, item))


def ready_ticks(session: SessionState, check: ReadyCheck) -> tuple[Tick, ...]:
    """The things of the check in their order."""
    due = next_item(session, check)
    return tuple(
        Tick(_SHORT[item], _is_done(session, check, item), item is due) for item in ReadyItem
    )


def next_item(session: SessionState, check: ReadyCheck) -> ReadyItem | None:
    """What is to be looked at next; None when all is done."""
    return next((item for item in ReadyItem if not _is_done(session, check, item)), None)


def _is_done(session: SessionState, check: ReadyCheck, item: ReadyItem) -> bool:
    """An alarm that was heard once in this session need not be heard again before each round."""
    return item in check.ticked or (item is ReadyItem.ALARM_HEARD and session.alarm_heard)


def ready_card(
    session: SessionState,
    line: AgreedLine,
    waiting: tuple[Pouch, ...],
    check: ReadyCheck,
    jar: Remainder | None = None,
) -> WorkCard:
    """Ask for the next thing of the check; the last press records the whole.

    `jar` is one that does for all that stands open.
    """
    which = called(line, (pouch.number for pouch in waiting))
    item = next_item(session, check) or ReadyItem.POUCHES_WIPED
    last = len([each for each in ReadyItem if not _is_done(session, check, each)]) <= 1
    sentence, label, icon = _asked(item, which, check)
    sounds = item is ReadyItem.ALARM_HEARD and not check.sounded
    return WorkCard(
        stage=Stage.FILLING,
        sentence=sentence,
        main=Control(
            label,
            "Space bar; Esc goes back to filling",
            icon=icon,
            form="" if last and not sounds else TICK,
            command=CheckReady(checked_so_far(session, check, item), check.hands)
            if last and not sounds
            else None,
        ),
        seconds=(
            Control("All is ready", icon="done", key="P", command=CheckReady((), check.hands)),
            Control(
                f"People: {check.hands}",
                icon="edit",
                key="N",
                form=HANDS,
                act="So many people work here",
            ),
            *((TEST_ALARM,) if item is ReadyItem.ALARM_HEARD else ()),
        ),
        evidence=(check.iron if item is ReadyItem.IRON_TESTED else ())
        + _how_many(session, line, len(waiting), check, jar),
        caution=IRON_CAUTION if item is ReadyItem.IRON_TESTED else "",
        short=label if item is not ReadyItem.ALARM_HEARD else sentence,
    )


def wants_pouches_in_sight(session: SessionState, check: ReadyCheck) -> bool:
    """Whether the thing asked for is about the pouches; for all else its words come first."""
    return next_item(session, check) is ReadyItem.POUCHES_WIPED


def checked_so_far(
    session: SessionState, check: ReadyCheck, item: ReadyItem
) -> tuple[ReadyItem, ...]:
    """All that will be done once `item` is, in the order of the list."""
    return tuple(each for each in ReadyItem if each is item or _is_done(session, check, each))


def _asked(item: ReadyItem, which: str, check: ReadyCheck) -> tuple[str, str, str]:
    """What to do, what the main control then says, and its icon."""
    match item:
        case ReadyItem.POUCHES_WIPED:
            return f"Wipe the rims of {which}, inside and out.", "The rims are wiped", "done"
        case ReadyItem.JAR_OUT:
            return (
                "Put out a small dry jar with a tight lid for the absorbers left over.",
                "The jar is out",
                "lid",
            )
        case ReadyItem.IRON_TESTED:
            return (
                "Heat the iron, seal an offcut, let it cool, pull at it by hand.",
                "The test seam holds",
                "done",
            )
        case ReadyItem.ALARM_HEARD:
            if not check.sounded:
                return "Sound the alarm, and listen where you will stand.", "Sound it", "ring"
            return "Did you hear it where you will stand?", "The alarm was heard", "ring"


def _how_many(
    session: SessionState,
    line: AgreedLine,
    waiting: int,
    check: ReadyCheck,
    jar: Remainder | None,
) -> tuple[str, ...]:
    """How many pouches suit this round, and what the packet at hand does for them."""
    size = round_size(session, line, check.hands)
    if not size.most_in_time:
        return ()
    pace = f"{size.pace.each_s:.0f} s a pouch"
    how = "measured today" if size.pace.measured else "usual, not measured yet"
    time = span(size.limit_min * 60.0)
    said = [f"At {pace} ({how}) {size.most_in_time} fit into a packet's {time}."]
    stand = f"{waiting} {'stands' if waiting == 1 else 'stand'} open"
    if waiting > size.most_in_time:
        said.append(f"{stand}, too many for one round: shut {size.most_in_time}.")
    elif jar is not None:
        said.append(
            f"{stand}: jar {jar.remainder}, {jar.count} of {jar.rating_cc} cc, does for all; "
            "no new packet is needed."
        )
    elif packet := packet_at_hand(
        session, line.absorbers_cc[0], check.packets, waiting * size.each
    ):
        left = packet - waiting * size.each
        if left > 0:
            said.append(f"{stand}: a packet of {packet} leaves {left} for the jar.")
        elif left == 0:
            said.append(f"{stand}: a packet of {packet} is used up.")
        else:
            said.append(f"{stand}: a packet of {packet} does for {size.suits(packet)}.")
    return tuple(said)
