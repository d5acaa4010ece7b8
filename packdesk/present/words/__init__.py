"""Each recorded fact in one line of words, for the last entry, the story and the record.

The one door to them; a kind's words stand with its stage. Importing this registers every one.
"""

from packdesk.present.words import after, before, cold, filling, labelling, sealing
from packdesk.present.words.any_time import LATE_S, alarm_said
from packdesk.present.words.filling import loads_named
from packdesk.present.words.rounds import BAG_WORDS
from packdesk.present.words.saying import ASKED_AND_CONFIRMED, fact_words

__all__ = [
    "ASKED_AND_CONFIRMED",
    "BAG_WORDS",
    "LATE_S",
    "after",
    "alarm_said",
    "before",
    "cold",
    "fact_words",
    "filling",
    "labelling",
    "loads_named",
    "sealing",
]
