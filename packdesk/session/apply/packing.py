"""What the work at the counter changes: filling, rounds, seams."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

from packdesk.session import facts as f
from packdesk.session.apply.change import (
    applied,
    each_pouch,
    in_book,
    in_session,
    the_session,
    turned,
    with_key,
)
from packdesk.session.apply.left_for import with_less_left, with_what_was_left
from packdesk.session.book_state import Packet, Remainder
from packdesk.session.envelope import Entry
from packdesk.session.lacking import absorbers_in, told_by_label
from packdesk.session.moments import reading_at
from packdesk.session.pouch import MOST_SEAMS, Closure, Placed, Pouch
from packdesk.session.state import Press, Round, State
from packdesk.session.terms import ReadyItem


@applied.register
def _(fact: f.PouchesFilled, state: State, entry: Entry) -> State:
    pouches = dict(the_session(state).pouches)
    offset = fact.utc_offset_min
    for number in fact.pouches:
        pouches[number] = Pouch(
            number=number,
            line=fact.line,
            net_mass_g=fact.net_mass_g,
            told_apart=fact.told_apart,
            filled_at=entry.happened_at,
            filled_offset_min=offset if offset is not None else entry.recorded.utc_offset_min,
            mass_confirmed=fact.confirmed,
            loads=fact.loads,
            turn=len(pouches) + 1,
        )
    filled = in_session(state, pouches=MappingProxyType(dict(sorted(pouches.items()))))
    return with_what_was_left(filled, fact.line, fact.pouches)


@applied.register
def _(fact: f.EmptyPouchWeighed, state: State, entry: Entry) -> State:
    tares = with_key(the_session(state).tares, fact.pouch, fact.tare_g)
    return in_session(state, tares=tares)


@applied.register
def _(fact: f.FoodLost, state: State, entry: Entry) -> State:
    lost_g = the_session(state).lost_g
    lost = with_key(lost_g, fact.line, lost_g.get(fact.line, 0.0) + fact.mass_g)
    return with_less_left(in_session(state, lost_g=lost), fact.line, fact.mass_g)


@applied.register
def _(fact: f.ReadyChecked, state: State, entry: Entry) -> State:
    heard = the_session(state).alarm_heard or ReadyItem.ALARM_HEARD in fact.checked
    return in_session(state, ready_for=fact.pouches, hands=fact.hands, alarm_heard=heard)


@applied.register
def _(fact: f.PacketOpened, state: State, entry: Entry) -> State:
    packet = Packet(
        packet=fact.packet,
        absorber=fact.absorber,
        rating_cc=fact.rating_cc,
        count=fact.count,
        condition=fact.condition,
        opened=reading_at(entry.happened_at, entry.recorded),
        indicator=fact.indicator,
        feel=fact.feel,
    )
    return in_book(state, packets=with_key(state.book.packets, fact.packet, packet))


@applied.register
def _(fact: f.RemainderTaken, state: State, entry: Entry) -> State:
    remainders = state.book.remainders
    taken = replace(remainders[fact.remainder], taken=True)
    return in_book(state, remainders=with_key(remainders, fact.remainder, taken))


@applied.register
def _(fact: f.RoundStarted, state: State, entry: Entry) -> State:
    started = Round(
        round=fact.round,
        source=fact.source,
        rating_cc=fact.rating_cc,
        count=fact.count,
        capacity_low_cc=fact.capacity_low_cc,
        capacity_likely_cc=fact.capacity_likely_cc,
        limit=fact.limit,
        limit_min=fact.limit_min,
        room_c=fact.room_c,
        started=reading_at(entry.happened_at, entry.recorded),
        last_at=entry.happened_at,
        hands=the_session(state).hands,
        margin_min=fact.margin_min,
        more_each=fact.more_each,
    )
    rounds = with_key(the_session(state).rounds, fact.round, started)
    return in_session(state, rounds=rounds, ready_for=())


@applied.register
def _(fact: f.AbsorbersPlaced, state: State, entry: Entry) -> State:
    rounds = the_session(state).rounds
    round_ = rounds[fact.round]
    # Hands that were at another round meanwhile were not at this one.
    earlier = (r.last_at for r in rounds.values() if r.last_at <= fact.last_at)
    begun = max((fact.first_at, *earlier))
    used = replace(
        round_,
        placed=round_.placed + fact.each * len(fact.pouches),
        served=round_.served + len(fact.pouches),
        last_at=max(round_.last_at, fact.last_at),
        presses=(
            *round_.presses,
            Press(len(fact.pouches), max(0.0, (fact.last_at - begun).total_seconds())),
        ),
    )
    state = in_session(state, rounds=with_key(rounds, fact.round, used))
    placed = Placed(
        rating_cc=round_.rating_cc,
        each=fact.each,
        capacity_low_cc=fact.capacity_low_cc,
        capacity_likely_cc=fact.capacity_likely_cc,
        round=fact.round,
        at=fact.last_at,
        room_c=round_.room_c,
    )

    def served(pouch: Pouch) -> Pouch:
        found = replace(pouch, placed=(*pouch.placed, placed))
        # A label tells what to take out before cooking: one that says less is void.
        stands = pouch.labelled and _label_tells(state, pouch, found)
        return replace(found, labelled=stands)

    return each_pouch(state, fact.pouches, served)


def _label_tells(state: State, pouch: Pouch, now: Pouch) -> bool:
    plan = the_session(state).plan
    line = plan.line(pouch.line) if plan is not None else None
    return line is None or told_by_label(line, pouch) == absorbers_in(line, now)


@applied.register
def _(fact: f.PouchesShut, state: State, entry: Entry) -> State:
    shut = reading_at(entry.happened_at, entry.recorded)
    return each_pouch(
        state,
        fact.pouches,
        lambda p: replace(
            turned(p, shut, Closure.PRESSED_SHUT), shut=shut, seal_within_min=fact.seal_within_min
        ),
    )


@applied.register
def _(fact: f.RemainderShut, state: State, entry: Entry) -> State:
    if fact.count:
        remainder = Remainder(
            remainder=fact.remainder,
            absorber=fact.absorber,
            rating_cc=fact.rating_cc,
            count=fact.count,
            shut_at=entry.happened_at,
            oldest_opening=fact.oldest_opening,
            capacity_low_cc=fact.capacity_low_cc,
            capacity_likely_cc=fact.capacity_likely_cc,
            vessel=fact.vessel,
            gas_cc=fact.gas_cc,
            place=fact.place,
            packet=fact.packet,
        )
        kept = with_key(state.book.remainders, fact.remainder, remainder)
        state = in_book(state, remainders=kept)
    if state.session is None or state.session.session != fact.session:
        return state
    round_ = state.session.rounds[fact.round]
    more = max(0, fact.count - fact.reckoned) if fact.reckoned is not None else 0
    over = replace(round_, shut_up=True, over=more)
    return in_session(state, rounds=with_key(state.session.rounds, fact.round, over))


# Sealing ------------------------------------------------------------------------------------------


@applied.register
def _(fact: f.PouchesSealed, state: State, entry: Entry) -> State:
    sealed = reading_at(entry.happened_at, entry.recorded)

    def seal(pouch: Pouch) -> Pouch:
        """A seam with a gap is none yet; one over a closed seam changes nothing about when."""
        if fact.against_advice:
            pouch = replace(pouch, against_advice=fact.against_advice)
        if fact.gap_left:
            within_min = pouch.seal_within_min or fact.close_within_min
            return replace(
                turned(pouch, sealed, Closure.GAP),
                sealed=sealed,
                gap_left=True,
                seal_within_min=within_min,
            )
        return replace(
            pouch if pouch.gas_tight else turned(pouch, sealed, Closure.SEALED),
            sealed=pouch.sealed if pouch.gas_tight else sealed,
            seams=min(MOST_SEAMS, pouch.seams + fact.seams),
            gap_left=False,
        )

    return each_pouch(state, fact.pouches, seal)


@applied.register
def _(fact: f.AirDrawnOff, state: State, entry: Entry) -> State:
    # No oxygen is taken off the reckoning for it: how much was drawn off nobody knows.
    return each_pouch(state, fact.pouches, lambda pouch: replace(pouch, drawn_off=True))
