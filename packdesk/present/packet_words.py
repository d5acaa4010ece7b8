"""What is said of a packet before it is cut: whether its kind suits, and what its look means."""

from __future__ import annotations

from packdesk.catalog.absorbers import Absorber, AbsorberKind
from packdesk.present.cards import Control
from packdesk.session.book_state import BookState, Packet, Remainder
from packdesk.session.packets import signs_of_air, spent
from packdesk.session.state import SessionState
from packdesk.session.terms import Feel, Indicator, PacketCondition, Vessel

PACKET_TITLE = "Look at the packet or jar, open it, and press at once: its clock starts then."
"""What stands above the form by which a packet is opened, or a jar."""

OPEN_PACKET = Control(
    "Open a packet",
    icon="packet",
    key="P",
    form="packet",
    act="The packet is open",
    title=PACKET_TITLE,
)

MOISTEST_PACKED = 0.65
"""Water activity: food as moist as this is not packed without oxygen at all."""

VESSEL_WORDS = {
    Vessel.PINT_JAR: "Pint jar (half a litre)",
    Vessel.QUART_JAR: "Quart jar (a litre)",
    Vessel.SEALED_POUCH: "Pouch, sealed by the iron",
    Vessel.PRESSED_POUCH: "Pouch, zip pressed shut",
}


def unfit_for_dry_food(absorber: Absorber) -> str:
    """Why an absorber does not work in dry food; empty where it does."""
    from packdesk.physics.activation import Activation, activation_refusal  # loads numpy

    if absorber.kind is not AbsorberKind.MOISTURE_ACTIVATED:
        return ""
    refusal = activation_refusal(Activation.MOISTURE, MOISTEST_PACKED)
    return refusal.reason if refusal is not None else ""


def look_words(
    condition: PacketCondition, indicator: Indicator, feel: Feel, which: str = "this packet"
) -> str:
    """What the look at a packet means for the round; empty where nothing speaks against it."""
    if spent(feel):
        return "Hard absorbers are spent. Throw the packet away and open another."
    signs = signs_of_air(condition, indicator)
    if signs == 2:
        return f"Air got into {which}: at most half of its rating is counted on."
    if signs == 1:
        return f"Air may have got into {which}: as little as half of its rating is counted on."
    return ""


def unseen_words(condition: PacketCondition, indicator: Indicator, feel: Feel) -> str:
    """What it means that a packet is opened without a look or a feel; empty after both."""
    looked, felt = condition is not PacketCondition.NOT_SEEN, feel is not Feel.NOT_FELT
    if looked and felt:
        return ""
    if not looked and indicator is not Indicator.NOT_SEEN:
        shows = {
            Indicator.NO_OXYGEN: "The indicator shows no oxygen",
            Indicator.OXYGEN: "The indicator shows oxygen",
            Indicator.NONE_IN_IT: "No indicator is in it",
        }[indicator]
        unfelt = "" if felt else ", nor the absorbers felt"
        return f"{shows}; the bag was not looked at{unfelt}. It counts as sound."
    left_out = "Felt but not looked at" if felt else "Looked at but not felt"
    if not looked and not felt:
        left_out = "Neither looked at nor felt"
    return f"{left_out}, it counts as sound."


def doubted(book: BookState, source: str, which: str = "") -> str:
    """What is doubted of the packet that a round came from, by its name or as `which`."""
    packet: Packet | None = book.packets.get(source)
    if packet is None:
        return ""
    return look_words(packet.condition, packet.indicator, packet.feel, which or f"packet {source}")


def spent_packet(book: BookState, session: SessionState) -> str:
    """The packet of this session looked at last, if it was spent; else empty."""
    last = book.packets[max(book.packets, key=_number)] if book.packets else None
    used = {round_.source for round_ in session.rounds.values()}
    if last is None or not spent(last.feel) or last.packet in used:
        return ""
    if session.plan is not None and last.opened.utc < session.plan.agreed_at:
        return ""
    return last.packet


def _number(packet: str) -> int:
    return int(packet[1:]) if packet[1:].isdecimal() else 0


def jar_words(remainder: Remainder) -> str:
    """A remainder as it is offered: «R1: 6 of 100 cc, pint jar, pantry shelf»."""
    parts = [f"{remainder.remainder}: {remainder.count} of {remainder.rating_cc} cc"]
    if remainder.vessel is not None:
        parts.append(VESSEL_WORDS[remainder.vessel].partition(" (")[0].lower())
    if remainder.place:
        parts.append(remainder.place)
    return ", ".join(parts)
