"""What may hurt somebody at each place, said where it may."""

from __future__ import annotations

ABSORBER_CAUTION = (
    "Absorbers get warm; that is normal. They are not food: keep them from children and pets."
)
IRON_CAUTION = (
    "The iron burns: lay it on its heel, keep children away. "
    "Empty pouches and liners can suffocate a child."
)
NEVER_CAUTION = (
    "Moist or oily food without oxygen can let the germ of botulism grow, which is neither seen "
    "nor smelt and can kill. Ask your local food-safety authority before you seal it."
)
COLD_CAUTION = (
    "Lift with bent knees; a full pail may weigh over 16 kg. Lids are brittle in the cold. "
    "Keep pails away from small children."
)
THAW_CAUTION = (
    "A cold lid is brittle: do not knock or lever it. Lift with bent knees; a full pail may weigh "
    "over 16 kg. Keep pails away from small children."
)
HEAT_TREATMENT = (
    (
        "Without a freezer, heat kills too: every grain at 54 °C (130 °F) for half an hour in a "
        "thin layer, or at 60 °C (140 °F) in a shallow pan (extension services)."
    ),
    (
        "Heat scorches, can set dust alight, and spoils germination and flavour: stay by the "
        "oven, cool the food before it is packed, follow your local food-safety authority."
    ),
)
CHECK_CAUTION = (
    "A swollen pouch: do not open it, do not taste it, discard it. "
    "Ask your local food-safety authority when in doubt."
)
PAIL_CAUTION = (
    "Lift filled pails close to the body, two people over 16 kg. "
    "A small child can drown in a pail: keep lids on, keep pails out of reach."
)
