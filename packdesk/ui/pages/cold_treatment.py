"""The page of one stage."""

from __future__ import annotations

from packdesk.session.terms import Stage
from packdesk.ui.pages.page import Page


class ColdPage(Page):
    """Shows what the card of its stage says."""

    stage = Stage.COLD_TREATMENT

    def build(self) -> None:
        self.finish()
