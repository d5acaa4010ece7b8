"""Whether an absorber's way of starting suits a food: some wait for water that dry food lacks."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from packdesk.physics.ranges import within


class Activation(StrEnum):
    """Where an absorber has the water from that its iron needs to rust."""

    SELF = "self-activated"
    """It brings its own."""

    MOISTURE = "moisture-activated"
    """It waits for the food's."""


LEAST_WATER_ACTIVITY = 0.75
"""Below this a moisture-activated absorber is not known to work: of one type 43.4 mL were taken up
at 75 % relative humidity, 3.82 mL at 43 % (doi 10.1111/ijfs.12100, abstract)."""


@dataclass(frozen=True, slots=True)
class TooDryForActivation:
    """Why a moisture-activated absorber is refused: the food is too dry to set it off."""

    water_activity: float
    least_water_activity: float = LEAST_WATER_ACTIVITY

    @property
    def reason(self) -> str:
        """The reason in one sentence."""
        return (
            f"A moisture-activated absorber waits for water from the food; at a water activity of "
            f"{self.water_activity:.2f} it takes up little or nothing (it needs "
            f"{self.least_water_activity:.2f}). Use the self-activated type for dry food."
        )


def activation_refusal(activation: Activation, water_activity: float) -> TooDryForActivation | None:
    """Whether an absorber's way of starting suits the food, or why it does not.

    Symbols: ``water_activity`` of the food, 0 to 1.
    Source: doi 10.1111/ijfs.12100 (abstract): at 43 % relative humidity a moisture-activated type
    took up 3.82 mL, at 75 % 43.4 mL.
    Example: rice at 0.50 is refused for it and fine for the self-activated type.

    >>> activation_refusal(Activation.MOISTURE, 0.50) is None
    False
    >>> activation_refusal(Activation.SELF, 0.50) is None
    True

    Limits: food moist enough to set it off (0.65 and above) must not be packed without oxygen.
    """
    activity = within("water_activity", water_activity, 0.0, 1.0)
    if activation is Activation.SELF or activity >= LEAST_WATER_ACTIVITY:
        return None
    return TooDryForActivation(activity)
