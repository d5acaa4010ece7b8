"""What holds for every test: no screen is needed, and random inputs are the same each time."""

from __future__ import annotations

import os

from hypothesis import settings

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

settings.register_profile("packdesk", deadline=None, derandomize=True, database=None)
settings.load_profile("packdesk")
