"""Every entry of the session in words; one that was wrong is voided here, with a reason."""

from __future__ import annotations

from packdesk.session.terms import Stage
from packdesk.ui.pages.page import Page


class StoryPage(Page):
    """The story of the session."""

    stage = Stage.AFTER

    def build(self) -> None:
        self.finish()
