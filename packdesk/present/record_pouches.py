"""What became of the pouches: rounds of absorbers, masses, each pouch, its seams, its pail."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime

from packdesk.instants import Reading, date_and_time, span, time_of_day
from packdesk.present.label_text import (
    absorber_words,
    best_quality,
    food_title,
    identities,
    packed_on,
)
from packdesk.present.measures import Measures
from packdesk.present.outlines import OutlineSection
from packdesk.present.record_plots import mass_histograms
from packdesk.present.words import BAG_WORDS
from packdesk.session.envelope import Entry
from packdesk.session.facts import AbsorbersPlaced, RemainderShut
from packdesk.session.figures import AgreedLine
from packdesk.session.net_mass import Basis, NetMass, line_mean, net_mass
from packdesk.session.packets import DOUBTED_SHARES, signs_of_air
from packdesk.session.pouch import Pouch
from packdesk.session.state import Round, SessionState, State
from packdesk.session.verdicts import Enough, PouchVerdict, verdict
from packdesk.units import NO_BREAK_SPACE

VERDICT_WORDS = {
    Enough.ENOUGH: "enough",
    Enough.MARGINAL: "marginal",
    Enough.ADD_ONE: "too little",
    Enough.NOT_NEEDED: "not needed",
}

LIMITS = (
    "Limit by margin: until then the absorbers still exceed the oxygen they meet. Limit by "
    "practice cap: a habit of the trade, where the margin would last longer."
)


def rounds(
    state: State, session: SessionState, entries: Sequence[Entry], now: Reading
) -> OutlineSection:
    """Each opening of absorbers: how long they lay in the air and what they had left."""
    if not session.rounds:
        return OutlineSection(title="Rounds of absorbers")
    return OutlineSection(
        title="Rounds of absorbers",
        sentences=(
            (
                "What an absorber had left when it was shut in, in cc of oxygen, at the fast end "
                "of published uptake."
            ),
            LIMITS,
            *_doubted(state, session),
        ),
        header=("Round", "Absorbers", "Opened", "Last in", "Open for", "Left in each", "Left over"),
        rows=tuple(
            _round(state, session, round_, entries, now) for round_ in session.rounds.values()
        ),
    )


def _doubted(state: State, session: SessionState) -> tuple[str, ...]:
    """Why absorbers of a packet that air had reached are told with less than they are rated."""
    sources = dict.fromkeys(round_.source for round_ in session.rounds.values())
    found = [
        packet.packet
        for source in sources
        if (packet := state.book.packets.get(source)) is not None
        and signs_of_air(packet.condition, packet.indicator)
    ]
    if not found:
        return ()
    one, two = (f"{low * 100:.0f}{NO_BREAK_SPACE}%" for low, _ in DOUBTED_SHARES[1:])
    return (
        (
            "A packet with one sign of air (a slack bag, an indicator that shows oxygen) is "
            f"believed to have {one} of its rating when opened, with two signs {two}: own "
            "judgement, no source. "
            f"Believed less for it: {', '.join(found)}, and what was left over of it."
        ),
    )


def _round(
    state: State, session: SessionState, round_: Round, entries: Sequence[Entry], now: Reading
) -> tuple[str, ...]:
    offset = now.offset_min_at
    lows = [
        placed.capacity_low_cc
        for pouch in session.pouches.values()
        for placed in (*pouch.spent, *pouch.placed)
        if placed.round == round_.round
    ]
    last = max(
        (
            entry.fact.last_at
            for entry in entries
            if isinstance(entry.fact, AbsorbersPlaced) and entry.fact.round == round_.round
        ),
        default=None,
    )
    over = sum(
        entry.fact.count
        for entry in entries
        if isinstance(entry.fact, RemainderShut)
        and (entry.fact.session, entry.fact.round) == (session.session, round_.round)
    )
    packet = state.book.packets.get(round_.source)
    bag = f", {BAG_WORDS[packet.condition]}" if packet is not None else ""
    of = f"of {_open_said(round_.limit_min)}, {round_.limit.replace('_', ' ')}"
    limit = "with no margin left" if round_.no_margin else of
    open_min = _open_min(round_, last) if last is not None else 0.0
    open_for = f"{_open_said(open_min)} {limit}" if open_min or not round_.no_margin else limit
    return (
        f"{round_.round} from {round_.source}{bag}",
        f"{round_.count} × {round_.rating_cc} cc",
        date_and_time(round_.started.utc, offset),
        time_of_day(last, offset) if last is not None else "none placed",
        open_for if last is not None else limit,
        _cc(lows),
        str(over) if over else "–",
    )


def _open_min(round_: Round, last: datetime) -> float:
    return (last - round_.started.utc).total_seconds() / 60.0


def _open_said(minutes: float) -> str:
    """A time in the open to the minute; below one in seconds, where a limit can lie."""
    return f"{minutes:.0f} min" if minutes >= 1.0 else span(minutes * 60.0)


def _cc(lows: Sequence[float]) -> str:
    if not lows:
        return "–"
    low, high = f"{min(lows):.0f}", f"{max(lows):.0f}"
    return f"{low} cc" if low == high else f"{low} to {high} cc"


def masses(session: SessionState, measures: Measures) -> OutlineSection:
    """How the pouches that were weighed lie about the plan."""
    found = mass_histograms(session, measures)
    said = [f"{each.title.split(', net')[0]}: {each.said}" for each in found]
    for line in session.plan.lines if session.plan is not None else ():
        said.extend(_left_out(session, line, measures))
    return OutlineSection(title="Masses", sentences=tuple(said), histograms=found)


def _left_out(session: SessionState, line: AgreedLine, measures: Measures) -> tuple[str, ...]:
    """How many pouches of a line were not weighed, and what they are taken to hold and why."""
    working = session.working_pouches(line.line)
    weighed = sum(pouch.net_mass_g is not None for pouch in working)
    if weighed == len(working):
        return ()
    told = f"{weighed or 'none'} of {len(working)} pouches {'was' if weighed < 2 else 'were'}"
    if len(working) == 1:
        told = "the one pouch was not"
    mean = line_mean(session, line.line)
    if mean is None:
        holds = f"{measures.mass(line.fill_mass_g)}, as planned"
    else:
        holds = (
            f"{measures.weighed(mean.mean_g)}, the mean of those {mean.weighed} that were meant "
            f"alike, with their spread of {measures.weighed(mean.spread_g)} (standard deviation)"
        )
    if short := [p for p in working if p.net_mass_g is None and p.left_g is not None]:
        told_g = " and ".join(measures.mass(net_mass(session, line, p).mass_g) for p in short)
        holds += f", the last {'one' if len(short) == 1 else 'ones'} {told_g}"
    others = "each" if not weighed else "each of the others"
    others += f" is taken to hold {holds}, and told as “about”"
    return (f"{food_title(line.food_name)}: {told} weighed; {others}.",)


def pouches(session: SessionState, measures: Measures) -> OutlineSection:
    """Every pouch; neighbours of which the same is known share a row."""
    with_loads = any(pouch.loads for pouch in session.pouches.values())
    header: tuple[str, ...] = ("Net mass", "Absorbers", "State", "Pail", "Best until")
    header = ("Pouch", "Food", *(("Load",) if with_loads else ()), *header)
    found: list[tuple[tuple[str, ...], list[int]]] = []
    for _, pouch in sorted(session.pouches.items()):
        food, *others = _pouch(session, pouch, measures)
        cells = (food, *((_loads(pouch),) if with_loads else ()), *others)
        if found and found[-1][0] == cells and found[-1][1][-1] == pouch.number - 1:
            found[-1][1].append(pouch.number)
        else:
            found.append((cells, [pouch.number]))
    if not found:
        return OutlineSection(title="Pouches")
    said = [
        (
            "Absorbers: whether what they had left when shut in takes up the oxygen of the pouch, "
            "reckoned at the fast end of published uptake."
        )
    ]
    if any(not pouch.told_apart for pouch in session.pouches.values()):
        said.append("Pouches were worked in groups: times and verdicts hold for the group.")
    return OutlineSection(
        title="Pouches",
        sentences=tuple(said),
        header=header,
        rows=tuple((identities(session, numbers), *cells) for cells, numbers in found),
    )


def _pouch(session: SessionState, pouch: Pouch, measures: Measures) -> tuple[str, ...]:
    line = session.plan.line(pouch.line) if session.plan is not None else None
    if line is None:
        return ("food no longer in the plan", "–", "–", _stage(pouch), pouch.pail or "–", "–")
    found = verdict(line, pouch, session.plan)
    mass = net_mass(session, line, pouch)
    return (
        food_title(line.food_name),
        _mass_said(mass, measures),
        _absorbers_said(line, pouch, found),
        _stage(pouch),
        pouch.pail or "–",
        "–" if pouch.emptied or pouch.swollen else best_quality(line, packed_on(pouch)),
    )


def _absorbers_said(line: AgreedLine, pouch: Pouch, found: PouchVerdict | None) -> str:
    """Whether they are enough; and what they are, where more went in than planned."""
    if found is None:
        return "none yet"
    what, planned = absorber_words(line, pouch), absorber_words(line)
    judged = VERDICT_WORDS[found.verdict]
    return judged if what == planned else f"{judged}, {what}"


def _mass_said(mass: NetMass, measures: Measures) -> str:
    if mass.basis is Basis.WEIGHED:
        return measures.weighed(mass.mass_g)
    if not mass.spread_g:
        return f"about {measures.mass(mass.mass_g)}"
    return f"about {measures.weighed(mass.mass_g)} ± {measures.weighed(mass.spread_g)}"


def _loads(pouch: Pouch) -> str:
    """The loads its food came from; in counted working, those of its group."""
    return " and ".join(pouch.loads) or "–"


def _stage(pouch: Pouch) -> str:
    if pouch.swollen:
        return "swollen: discard unopened"
    if pouch.aside:
        return f"{'emptied' if pouch.emptied else 'set aside'}: {pouch.aside}"
    if pouch.checks:
        return f"{pouch.checks[-1].verdict} at the last look"
    return pouch.stage.replace("_", " ")


def checks(session: SessionState) -> OutlineSection:
    """Each look at the seams, pouches that felt alike together, and how they had felt before."""
    found: defaultdict[tuple[datetime, int, str, str], list[int]] = defaultdict(list)
    for pouch in session.pouches.values():
        before = "–"
        for check in (*pouch.earlier_checks, *pouch.checks):
            found[check.at, check.utc_offset_min, str(check.verdict), before].append(pouch.number)
            before = str(check.verdict)
    return OutlineSection(
        title="Seal checks",
        sentences=("Tight turning soft is what matters, more than the word itself.",)
        if found
        else (),
        header=("When", "Pouches", "Felt", "Before") if found else (),
        rows=tuple(
            (
                date_and_time(at, offset_min),
                identities(session, numbers),
                felt,
                before,
            )
            for (at, offset_min, felt, before), numbers in sorted(
                found.items(), key=lambda each: each[0][0]
            )
        ),
    )
