"""The page of one stage."""

from __future__ import annotations

from packdesk.session.terms import Stage
from packdesk.ui.pages.page import Page


class ThawPage(Page):
    """Shows what the card of its stage says."""

    stage = Stage.THAW_EQUILIBRATION

    def build(self) -> None:
        self.finish()
