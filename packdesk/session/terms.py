"""The trade's closed lists that facts use as words: states, verdicts, conditions, working."""

from __future__ import annotations

from enum import StrEnum


class Stage(StrEnum):
    """Where on the path of a session something stands; before and after frame the five stages."""

    BEFORE = "before"
    COLD_TREATMENT = "cold_treatment"
    THAW_EQUILIBRATION = "thaw_equilibration"
    FILLING = "filling"
    SEALING = "sealing"
    LABELLING = "labelling"
    AFTER = "after"


class LotVerdict(StrEnum):
    """What the look at a received lot came to."""

    ACCEPTED = "accepted"
    QUARANTINED = "quarantined"
    REFUSED = "refused"


class PouchStage(StrEnum):
    """The furthest a pouch has come, in the order of its life."""

    FILLED = "filled"
    ABSORBERS_IN = "absorbers_in"
    PRESSED_SHUT = "pressed_shut"
    SEALED = "sealed"
    STOWED = "stowed"
    SEAL_CHECKED = "seal_checked"
    SET_ASIDE = "set_aside"


class SealVerdict(StrEnum):
    """What a seal check finds; a change from tight to soft matters more than the word itself."""

    TIGHT = "tight"
    SNUG = "snug"
    SOFT = "soft"
    SWOLLEN = "swollen"


class PacketCondition(StrEnum):
    """How a sealed packet of absorbers looked before it was opened."""

    TIGHT = "tight"
    SLACK = "slack"
    NOT_SEEN = "not_seen"


class ReadyItem(StrEnum):
    """What is looked over before a packet is opened, each thing by itself."""

    POUCHES_WIPED = "pouches_wiped"
    JAR_OUT = "jar_out"
    IRON_TESTED = "iron_tested"
    ALARM_HEARD = "alarm_heard"


class Indicator(StrEnum):
    """What the oxygen indicator in a packet of absorbers showed before it was opened."""

    NOT_SEEN = "not_seen"
    NO_OXYGEN = "no_oxygen"
    OXYGEN = "oxygen"
    NONE_IN_IT = "none_in_it"


class Feel(StrEnum):
    """How the absorbers of a packet felt; iron that has rusted through is one hard cake."""

    NOT_FELT = "not_felt"
    SOFT = "soft"
    HARD = "hard"


class Vessel(StrEnum):
    """What a remainder of absorbers was shut up in."""

    PINT_JAR = "pint_jar"
    QUART_JAR = "quart_jar"
    SEALED_POUCH = "sealed_pouch"
    PRESSED_POUCH = "pressed_pouch"


class Probe(StrEnum):
    """Where a temperature of a load was read."""

    CORE = "core"
    WALL = "wall"


class Stands(StrEnum):
    """Where a load stands in the freezer, which decides how fast its heat gets away."""

    FREE_AIR = "free_air"
    TOUCHING = "touching"
    STACKED = "stacked"


class ColdRule(StrEnum):
    """Which of two rules says when the cold is complete: the plain hold, or the insects' dose."""

    PLAIN = "plain"
    DOSE = "dose"


class OpenLimit(StrEnum):
    """Which of the two limits on an open packet comes first."""

    MARGIN = "margin"
    PRACTICE_CAP = "practice_cap"


class LidRule(StrEnum):
    """By which rule the lid may come off a thawing load."""

    DEW_POINT = "dew_point"
    DAMP_ROOM = "damp_room"
    ROOM = "room"
