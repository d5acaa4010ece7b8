"""The page of one stage."""

from __future__ import annotations

from packdesk.session.terms import Stage
from packdesk.ui.pages.page import Page


class AfterPage(Page):
    """Shows what the card of its stage says."""

    stage = Stage.AFTER

    def build(self) -> None:
        self.finish()
