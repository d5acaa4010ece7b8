"""What a stranger to the trade needs to read a record: its cautions and its words."""

from __future__ import annotations

from packdesk.present.measures import Measures
from packdesk.present.outlines import OutlineSection

ROOM_C = 21.0
"""The room that best-quality dates are told for."""


def cautions(measures: Measures) -> OutlineSection:
    """What is dangerous in what was put up, before anything else is read."""
    return OutlineSection(
        title="Before anything is opened or eaten",
        sentences=(
            (
                "Only dry food, about 10 % moisture or less and low in fat, may be stored without "
                "oxygen. Moist or oily food without oxygen can grow the germ of botulism, which "
                "cannot be smelt."
            ),
            (
                "A swollen pouch is discarded unopened. What looks, smells or feels wrong is not "
                "tasted."
            ),
            "Take the absorber out before cooking; it is not food. Keep it from children and pets.",
            (
                f"Dates are for best quality at about {measures.temperature(ROOM_C)}. What your "
                "local food-safety authority says comes before anything that stands here."
            ),
        ),
    )


GLOSSARY = OutlineSection(
    title="Words used here",
    header=("Word", "What it means"),
    rows=(
        ("lot", "one purchase of one food, with the code its supplier gave it"),
        ("load", "one closed pail of one lot on its way through the freezer"),
        ("core", "the place in a load that is slowest to cool and to warm"),
        ("hold", "how long the core was cold enough to kill insects"),
        ("dose", "the share of the cold that kills an insect at the life stage hardest to kill"),
        ("thaw, lid on", "waiting until the food is too warm for the room's damp to settle on it"),
        ("absorber", "a small packet of iron that takes the oxygen out of a pouch; rated in cc"),
        ("packet, jar", "a sealed bag of absorbers; what was left of one, shut up again"),
        ("round", "from opening absorbers until the last one is shut in; meanwhile they go stale"),
        ("pressed shut", "closed by zip or clip, not yet gas-tight"),
        ("sealed", "closed by a seam made with heat"),
        ("tight, snug, soft, swollen", "how a pouch feels: hard on the food, close, slack, blown"),
        ("voided, taken back", "entered by mistake: kept and struck through, but not counted"),
        ("about, ± min", "a time that was remembered, not read from a clock"),
    ),
)  # fmt: skip
