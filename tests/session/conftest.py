"""What several tests of the session look at, made once."""

from __future__ import annotations

import pytest

from tests.script import Script
from tests.session.every_kind import whole_story


@pytest.fixture(scope="session")
def story() -> Script:
    """A whole session; to be looked at, not continued."""
    return whole_story()
