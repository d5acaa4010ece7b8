"""The whole rule book: importing this registers every deciding rule with `decide`."""

from packdesk.session import (
    decide_after,
    decide_amiss,
    decide_before,
    decide_cold,
    decide_cold_readings,
    decide_labelling,
    decide_packing,
    decide_rounds,
    decide_voiding,
)
from packdesk.session.decide import decide

__all__ = [
    "decide",
    "decide_after",
    "decide_amiss",
    "decide_before",
    "decide_cold",
    "decide_cold_readings",
    "decide_labelling",
    "decide_packing",
    "decide_rounds",
    "decide_voiding",
]
