"""What each kind of fact changes; called only for facts that fit (`admit.objection`).

Importing this registers every rule.
"""

from packdesk.session.apply import after, amiss, before, cold, packing
from packdesk.session.apply.change import applied

__all__ = ["after", "amiss", "applied", "before", "cold", "packing"]
