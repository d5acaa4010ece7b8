"""Whether a food may be shut up airtight for years, and whether absorbers belong in with it.

The catalogue's own verdict comes first. Then water: where its activity was read, or follows from
the moisture by an isotherm of the crop, that decides; otherwise the moisture does, in three bands.
Then fat. What is refused is refused with the figure and with what to do instead.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from packdesk.catalog.foods import Food, LowOxygen, Suitability
from packdesk.physics import moisture
from packdesk.physics.ranges import OutOfRange, within
from packdesk.sentences import capital

DRY_ENOUGH_PERCENT = 10.0
"""The public ten-per-cent rule for packing without oxygen (repeated by extension services; what it
rests on was not found)."""

MOIST_PERCENT = 13.0
"""Above this some grains come near a water activity of 0.65, where the first moulds grow (isotherms
of ASABE D245, see ``physics.moisture``)."""

ISOTHERM_OF = {
    "hard_wheat": "hard wheat",
    "pinto_beans": "beans",
    "black_beans": "beans",
}
"""Which crop's isotherm stands for a food, by its key. Milled rice, flour and oats have none."""

STORE_TEMP_C = 25.0
ISOTHERM_ERROR = 0.03
"""A warm store raises the activity of the same food; the isotherms are good to some 0.03."""

GROWS_FROM_ACTIVITY = 0.60
"""Below this nothing grows (Beuchat 1981)."""

DRY_FIRST_ACTIVITY = 0.65
"""From here on a food is dried before it is packed (our own line above the one of Beuchat 1981)."""

NEVER_ACTIVITY = 0.85
"""Above this United States law no longer counts a food as shelf-stable by dryness alone
(21 CFR 113 and 114, from memory)."""

LEAN_PERCENT = 2.0
OILY_PERCENT = 7.0
TOO_OILY_PERCENT = 10.0
"""Bands of fat: good, of limited life, doubtful, refused (common practice, no source)."""

BOTULISM_CAUTION = (
    "Moist or oily food shut up without oxygen can let the germ of botulism grow, which is neither "
    "seen nor smelt. Follow your local food-safety authority."
)


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why something cannot be planned, in the order a person asks: what, how far off, what now."""

    what: str
    figure: str
    advice: str
    caution: str = ""


@dataclass(frozen=True, slots=True)
class Suitable:
    """A food that may be packed: with absorbers or without, and what to mind."""

    absorbers: bool
    warnings: tuple[str, ...]


def judge(
    food: Food, *, moisture_percent: float | None = None, water_activity: float | None = None
) -> Suitable | Refusal:
    """Whether a lot of this food may be sealed for years.

    ``moisture_percent`` of the whole mass and ``water_activity`` (0 to 1) are the person's own
    readings of the lot; without them the food is taken to be as it is usually sold.
    """
    wet = None if moisture_percent is None else within("moisture_percent", moisture_percent, 0, 100)
    activity = None if water_activity is None else within("water_activity", water_activity, 0, 1)
    water = _of_water(food, wet, activity)
    refusal = _never(food) or (water if isinstance(water, Refusal) else None) or _too_oily(food)
    if refusal is not None:
        return refusal
    warnings = [*_of_fat(food), *_of_its_life(food), *_without_absorbers(food)]
    if isinstance(water, str):
        warnings.insert(0, water)
    doubtful = wet is None and activity is None and food.moisture_percent > MOIST_PERCENT
    if doubtful or food.fat_percent > OILY_PERCENT:
        warnings.append(BOTULISM_CAUTION)
    return Suitable(food.low_oxygen in (LowOxygen.ADVISED, LowOxygen.OPTIONAL), tuple(warnings))


def most_activity(food: Food, moisture_percent: float) -> float | None:
    """The highest water activity that a food may have at a moisture, in a warm store.

    None where no isotherm is known for it, or none so dry or so moist.
    """
    crop = ISOTHERM_OF.get(food.key)
    if crop is None:
        return None
    try:
        found = moisture.water_activity(moisture.ISOTHERMS[crop], moisture_percent, STORE_TEMP_C)
    except OutOfRange:
        return None
    return found.cautious + ISOTHERM_ERROR


def _never(food: Food) -> Refusal | None:
    if food.suitability is Suitability.NEVER:
        if food.fat_percent > TOO_OILY_PERCENT:
            return _oily(food)
        if food.moisture_percent > MOIST_PERCENT:
            return _moist(f"{_share(food.moisture_percent)} water as it is usually sold.")
        return Refusal(
            "Not for sealing airtight.",
            _sentence(food.suitability_reason),
            _use_within(food),
            BOTULISM_CAUTION,
        )
    if food.suitability is Suitability.SHORT_LIVED and food.low_oxygen is LowOxygen.REFUSED:
        return Refusal(
            "Does not keep for years.",
            f"Good for about {_span(food.quality_years[1])}: {food.suitability_reason}.",
            food.caution or _use_within(food),
            BOTULISM_CAUTION,
        )
    return None


def _too_oily(food: Food) -> Refusal | None:
    return _oily(food) if food.fat_percent > TOO_OILY_PERCENT else None


def _oily(food: Food) -> Refusal:
    return Refusal(
        "Too oily to seal.",
        f"{_share(food.fat_percent)} fat, {_beyond(food.fat_percent / TOO_OILY_PERCENT)} the limit "
        f"of {_share(TOO_OILY_PERCENT)}.",
        _use_within(food),
        BOTULISM_CAUTION,
    )


def _of_water(food: Food, wet: float | None, activity: float | None) -> Refusal | str | None:
    """The verdict on a lot's water: refused, to be warned of, or nothing to say."""
    if activity is not None:
        return _of_activity(activity)
    water = food.moisture_percent if wet is None else wet
    if water <= DRY_ENOUGH_PERCENT:
        return None
    if water <= MOIST_PERCENT:
        return (
            f"About {_share(water)} water, over the {_share(DRY_ENOUGH_PERCENT)} of the public "
            "rule: pack it on a dry day and store it cool."
        )
    most = most_activity(food, water)
    if most is not None and most < DRY_FIRST_ACTIVITY:
        so_far = "measured" if wet is not None else "as it is often sold: have the lot measured"
        return (
            f"{_share(water)} water, a water activity of up to {most:.2f}, {so_far}. Below "
            f"{DRY_FIRST_ACTIVITY:.2f} it can be packed; store it cool."
        )
    if wet is not None:
        return _moist(f"{_share(wet)} water measured, above {_share(MOIST_PERCENT)}.")
    if food.moisture.low > MOIST_PERCENT:
        return _moist(
            f"{_share(food.moisture.low)} water at its driest, above {_share(MOIST_PERCENT)}."
        )
    return (
        f"Often sold with {_share(water)} water, more than can be packed: have the lot measured, "
        f"and dry it if it is above {_share(MOIST_PERCENT)}."
    )


def _of_activity(activity: float) -> Refusal | str | None:
    if activity >= NEVER_ACTIVITY:
        return Refusal(
            "Far too moist to store.",
            f"Water activity {activity:.2f}; from {NEVER_ACTIVITY:.2f} on germs grow.",
            "Keep it in the refrigerator or the freezer, or dry it until it is brittle.",
            BOTULISM_CAUTION,
        )
    if activity >= DRY_FIRST_ACTIVITY:
        return _moist(f"Water activity {activity:.2f}, {DRY_FIRST_ACTIVITY:.2f} or more.")
    if activity >= GROWS_FROM_ACTIVITY:
        return (
            f"Water activity {activity:.2f} is close to where moulds grow: store it cool and look "
            "at it often."
        )
    return None


def _moist(figure: str) -> Refusal:
    return Refusal(
        "Too moist to seal.",
        figure,
        f"Dry it to {_share(DRY_ENOUGH_PERCENT)}, or have its water activity measured: below "
        f"{DRY_FIRST_ACTIVITY:.2f} it can be packed.",
        BOTULISM_CAUTION,
    )


def _of_fat(food: Food) -> Iterator[str]:
    fat = food.fat_percent
    if fat > OILY_PERCENT:
        yield f"{_share(fat)} fat, a good deal for long storage: put up little and eat it first."
    elif fat > LEAN_PERCENT:
        yield f"{_share(fat)} fat: it turns stale sooner than lean food; taste it every year."


def _of_its_life(food: Food) -> Iterator[str]:
    if food.suitability is Suitability.SHORT_LIVED:
        yield (
            f"Good for about {_span(food.quality_years[1])}, whatever is done: "
            f"{food.suitability_reason}."
        )


def _without_absorbers(food: Food) -> Iterator[str]:
    if food.low_oxygen is LowOxygen.NOT_NEEDED:
        yield f"No absorber goes in, and none is needed ({food.suitability_reason})."
    elif food.low_oxygen is LowOxygen.REFUSED:
        yield f"No absorber goes in ({food.suitability_reason})."


def _use_within(food: Food) -> str:
    longest = food.quality_years[1]
    if longest <= 0.0:
        return "Eat it soon, or freeze it."
    return f"Keep it cool in its own packing and use it within {_span(longest)}."


def _span(years: float) -> str:
    if years < 1.0:
        months = max(1, round(years * 12.0))
        return f"{months} month{'s' if months > 1 else ''}"
    return f"{years:g} year{'s' if years > 1.0 else ''}"


def _share(percent: float) -> str:
    return f"{percent:.1f} %" if percent < 20.0 and percent % 1.0 else f"{percent:.0f} %"


def _beyond(ratio: float) -> str:
    return "far over" if ratio >= 2.0 else "over"


def _sentence(words: str) -> str:
    return f"{capital(words)}."
