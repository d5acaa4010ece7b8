"""What holds for every test: no screen is needed, and random inputs are the same each time."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# No absolute times: neither a deadline nor the check that drawing an example is quick enough.
settings.register_profile(
    "packdesk",
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("packdesk")
