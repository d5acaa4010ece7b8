"""The work after the iron: pails, looks at the seams, what changed by itself, the end."""

from __future__ import annotations

from packdesk.instants import Reading
from packdesk.present.cards import CellState, Control, WorkCard
from packdesk.present.cautions import CHECK_CAUTION, PAIL_CAUTION
from packdesk.present.clock_rows import instants_in_words
from packdesk.present.liners import called, lifting_caution, line_of
from packdesk.present.measures import Measures
from packdesk.sentences import capital
from packdesk.session.clocks import Standing, running, standing
from packdesk.session.commands import CheckSeals, LidPail, OpenPail, StowPouches
from packdesk.session.numbers import named
from packdesk.session.pouch import Pouch
from packdesk.session.seal_looks import FIRST_LOOK_WITHIN, Look, next_looks
from packdesk.session.state import Pail, SessionState
from packdesk.session.terms import SealVerdict, Stage
from packdesk.session.under_way import unfilled

PAIL_HOLDS_L = 14.2
"""What filled pouches take up of a pail of 18.9 L, three quarters (common practice, no source)."""

_ENTER_CHECK = Control("Enter a check", icon="edit", key="E", form="check", act="Enter this check")
_SET_ASIDE = Control("Set aside", icon="aside", key="S", form="aside", act="Set these aside")
_PAPERS = Control("Other papers", icon="labels", key="A", form="papers", act="Make this paper")
_PAPER_WORDS = "A makes another paper: pail cards, the run sheet, a table of the pouches."
_CLOSE = Control(
    "Close the session", icon="done", key="X", form="close", act="The session is closed"
)
_OTHERS = Control("Others", icon="edit", key="W", form="stow", act="These are in the pail")


def after_card(session: SessionState, now: Reading) -> WorkCard:
    """Say the work after the labels: stow, lid, check seams, close."""
    if session.closed_at is not None:
        return _closed_card(session, now)
    record = Control("Make the record", icon="labels", key="R", form="record")
    looks = _looks(session, now)
    seconds = (_SET_ASIDE if turned_soft(session) else _CLOSE, _PAPERS, record)
    if looks and looks[0][1].due:  # what leaks is found before it is stowed away
        return _look_card(session, *looks[0], now, seconds)
    loose = [p for p in session.working_pouches() if p.gas_tight and not p.pail]
    if loose:
        return _stow_card(session, loose, record)
    unlidded = [pail for pail in session.pails.values() if not pail.lidded and pail.pouches]
    if unlidded:
        pail_name = unlidded[0].pail
        return WorkCard(
            stage=Stage.AFTER,
            sentence=f"Put the lid on pail {pail_name} and press it down all around.",
            main=Control(
                f"Pail {pail_name} has its lid", "Space bar", icon="lid",
                command=LidPail(pail_name),
            ),
            seconds=(record, _PAPERS, _ENTER_CHECK),
            evidence=(*_swollen_words(session), *_leak_words(session), *_unfilled_words(session)),
            caution=PAIL_CAUTION,
        )  # fmt: skip
    if not looks:
        swollen = _swollen_words(session)
        return WorkCard(
            stage=Stage.AFTER,
            sentence=" ".join(swollen)
            or "Nothing is sealed yet; pails and checks come after the seams.",
            main=Control("Go to filling", "Space bar", icon="done", goto=Stage.FILLING),
            seconds=(_CLOSE,),
            caution=CHECK_CAUTION if swollen else "",
        )
    return _look_card(session, *looks[0], now, seconds)


def _looks(session: SessionState, now: Reading) -> list[tuple[Look, Standing]]:
    """The looks at seams that come next, the first due first."""
    clocks = {clock.subject: clock for clock in running(session)}
    found = [(look, standing(clocks[str(look.step)], now)) for look in next_looks(session)]
    return sorted(found, key=lambda each: each[1].remaining_s)


def _look_card(
    session: SessionState, look: Look, stands: Standing, now: Reading, seconds: tuple[Control, ...]
) -> WorkCard:
    numbers = tuple(pouch.number for pouch in look.pouches)
    due = instants_in_words((stands.due_at,), now)[0]
    return WorkCard(
        stage=Stage.AFTER,
        sentence=(
            f"Press {named(numbers)}. Enter any that changed by itself."
            if stands.due
            else f"The next look at the seams is due {due}{_no_later(look, now)}."
        ),
        main=Control(
            f"All {len(numbers)} feel snug" if len(numbers) > 1 else "It feels snug",
            "Space bar" if stands.due else "",
            cell=CellState.SEAL_CHECKED,
            command=CheckSeals(numbers, SealVerdict.SNUG) if stands.due else None,
            form="" if stands.due else "check",
            missing="" if stands.due else f"Not yet: from {due}",
        ),
        seconds=(_ENTER_CHECK, *seconds),
        evidence=(
            *_swollen_words(session),
            *_leak_words(session),
            *_unfilled_words(session),
            "A soft pouch is not a failed one. The change from tight to soft is the leak.",
            _PAPER_WORDS,
        ),
        caution=CHECK_CAUTION,
    )


def _unfilled_words(session: SessionState) -> tuple[str, ...]:
    """What was never filled, until the session is closed; later nobody knows what became of it."""
    return unfilled(session) if session.closed_at is None else ()


def _no_later(look: Look, now: Reading) -> str:
    """When the first look is to be over, 48 h after the seams; later looks are not so near."""
    if look.step > 1:
        return ""
    first = min(pouch.sealed.utc for pouch in look.pouches if pouch.sealed is not None)
    return f", and is best over by {instants_in_words((first + FIRST_LOOK_WITHIN,), now)[0]}"


def _closed_card(session: SessionState, now: Reading) -> WorkCard:
    """After the closing the record is made again, and the seams are looked at each half-year."""
    due = [(look, stands) for look, stands in _looks(session, now) if stands.due]
    record = Control("Make the record", icon="labels", key="R", form="record")
    if due:
        return _look_card(session, *due[0], now, (_SET_ASIDE, _PAPERS, record))
    return WorkCard(
        stage=Stage.AFTER,
        sentence="This session is closed. Its record and labels can be made again.",
        main=Control("Make the record", "Space bar", icon="labels", form="record"),
        seconds=(_ENTER_CHECK, *([_SET_ASIDE] if turned_soft(session) else []), _PAPERS),
        evidence=(*_swollen_words(session), *_leak_words(session), *_unfilled_words(session)),
        caution=CHECK_CAUTION,
    )


def turned_soft(session: SessionState) -> tuple[Pouch, ...]:
    """The pouches that were tight or snug at an earlier look and are soft now."""
    firm = (SealVerdict.TIGHT, SealVerdict.SNUG)
    return tuple(
        pouch
        for pouch in session.working_pouches()
        if pouch.checks
        and pouch.checks[-1].verdict is SealVerdict.SOFT
        and any(check.verdict in firm for check in pouch.checks)
    )


def _swollen_words(session: SessionState) -> tuple[str, ...]:
    numbers = [pouch.number for pouch in session.pouches.values() if pouch.swollen]
    if not numbers:
        return ()
    which, it = named(numbers), "it" if len(numbers) == 1 else "them"
    return (f"{capital(which)} swollen: do not open {it}, discard {it}.",)


def _leak_words(session: SessionState) -> tuple[str, ...]:
    leaking = turned_soft(session)
    if not leaking:
        return ()
    cure = (
        "Set aside what leaks, and eat it soon."
        if session.closed_at is not None
        else "Set aside what leaks, then close it anew with fresh absorbers, or eat it soon."
    )
    which = named(pouch.number for pouch in leaking)
    return (f"Air got into {which}: firm before, soft now. {cure}",)


def _stow_card(session: SessionState, loose: list[Pouch], record: Control) -> WorkCard:
    """Pouches go into a pail as many as it takes, a liner into one of its own."""
    first = loose[0]
    line = line_of(session, first)
    if line is not None and line.liner:
        pail, which = _new_pail(session), called(line, (first.number,))
        return WorkCard(
            stage=Stage.AFTER,
            sentence=f"Fold {which} down into its pail, and call the pail {pail}.",
            main=Control(
                f"{which.capitalize()} is in pail {pail}",
                "Space bar",
                cell=CellState.STOWED,
                command=StowPouches(pail, (first.number,)),
            ),
            seconds=(_OTHERS, record, _PAPERS, _ENTER_CHECK),
            evidence=(
                *_swollen_words(session),
                *_leak_words(session),
                *_unfilled_words(session),
                _PAPER_WORDS,
            ),
            caution=f"{lifting_caution(line, Measures(session.units))} {PAIL_CAUTION}",
        )
    pouches = [p for p in loose if (of := line_of(session, p)) is None or not of.liner]
    pail, room_l = _pail_with_room(session, _takes_l(session, first))
    fitting: list[int] = []
    for pouch in pouches:
        room_l -= _takes_l(session, pouch)
        if fitting and room_l < 0.0:
            break
        fitting.append(pouch.number)
    numbers = tuple(fitting)
    full = "That is about what a pail of 19 L takes; the rest goes into the next one."
    return WorkCard(
        stage=Stage.AFTER,
        sentence=f"Put {named(numbers)} into pail {pail}.",
        main=Control(
            f"{len(numbers)} are in pail {pail}" if len(numbers) > 1 else f"It is in pail {pail}",
            "Space bar",
            cell=CellState.STOWED,
            command=StowPouches(pail, numbers),
        ),
        seconds=(_OTHERS, *_lids_off(session, pouches), record, _PAPERS, _ENTER_CHECK),
        evidence=(
            *_swollen_words(session),
            *_leak_words(session),
            *_unfilled_words(session),
            *([full] if len(numbers) < len(pouches) else []),
            "Rest sealed pouches a day before the lid goes on, if you can.",
            _PAPER_WORDS,
        ),
        caution=PAIL_CAUTION,
    )


def _lids_off(session: SessionState, loose: list[Pouch]) -> tuple[Control, ...]:
    """A pouch closed anew may go back where there is room, once the lid is off again."""
    if not all(pouch.spent for pouch in loose):
        return ()
    wanted_l = _takes_l(session, loose[0])
    for pail in session.pails.values():
        if pail.lidded and not _holds_liner(session, pail) and _room_l(session, pail) >= wanted_l:
            off = OpenPail(pail.pail)
            return (Control(f"Lid off pail {pail.pail}", icon="lid", key="O", command=off),)
    return ()


def _takes_l(session: SessionState, pouch: Pouch) -> float:
    """The room a filled pouch takes: its food and the gas left above it."""
    line = line_of(session, pouch)
    if line is None:
        return 0.0
    mass_g = pouch.net_mass_g or line.fill_mass_g
    return (mass_g / line.bulk_density_g_per_cc + line.residual_gas_cc) / 1000.0


def _pail_with_room(session: SessionState, wanted_l: float) -> tuple[str, float]:
    """The open pail that takes `wanted_l` more, or a new one; and the room (L) in it."""
    for pail in session.pails.values():
        room_l = _room_l(session, pail)
        if not pail.lidded and not _holds_liner(session, pail) and room_l >= wanted_l:
            return pail.pail, room_l
    return _new_pail(session), PAIL_HOLDS_L


def _room_l(session: SessionState, pail: Pail) -> float:
    return PAIL_HOLDS_L - sum(_takes_l(session, session.pouches[n]) for n in pail.pouches)


def _holds_liner(session: SessionState, pail: Pail) -> bool:
    lines = (line_of(session, session.pouches[number]) for number in pail.pouches)
    return any(line is not None and line.liner for line in lines)


def _new_pail(session: SessionState) -> str:
    """The next free number of a pail."""
    numbers = [int(pail) for pail in session.pails if pail.isdecimal()]
    return str(max(numbers, default=0) + 1)
