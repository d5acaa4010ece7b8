"""Which facts fit what is already the case; the one set of rules for entry, voiding and reading.

`objection(state, fact, at)` answers an empty string when `fact`, happening at `at`, fits
`state`; otherwise what stands against it and what would be allowed. The same answer refuses a
command, finds the facts that rest on a voided one (they no longer fit once it is gone), and
sets aside entries of two stations that cross. Importing this registers every rule.
"""

from packdesk.session.admit import after, amiss, before, cold, filling, labelling, rounds, sealing
from packdesk.session.admit.rule import NO_SESSION, objection

__all__ = [
    "NO_SESSION",
    "after",
    "amiss",
    "before",
    "cold",
    "filling",
    "labelling",
    "objection",
    "rounds",
    "sealing",
]
