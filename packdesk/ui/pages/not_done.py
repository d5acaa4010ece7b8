"""Why nothing was done, beside the main control of a page, and the press that tries it again."""

from __future__ import annotations

from collections.abc import Callable

from packdesk.desk.ports import Trouble
from packdesk.ui.widgets.refusal import Objection, Refusal, objection_of

KEEP = "It is so: keep it"
TRY_AGAIN = "Try again"


class NotDone:
    """Says it in `place`, and keeps what the button there does, if there is one."""

    def __init__(self, place: Refusal) -> None:
        self._place = place
        self._retry: Callable[[], None] | None = None
        place.cure_asked.connect(self._try_again)

    @property
    def stands(self) -> bool:
        """Whether something is said that must be read before going on."""
        return self._place.objection is not None

    def say(self, objection: Objection) -> None:
        """Say why; there is nothing to try again."""
        self._show(objection)

    def ask(self, question: str, keep: Callable[[], None]) -> None:
        """Say what can hardly be meant, and offer to `keep` it as it is."""
        self._show(objection_of(question, cure=KEEP, warning=True), keep)

    def show_trouble(
        self, trouble: Trouble, retry: Callable[[], None], *, what: str = "NOT saved"
    ) -> None:
        """Say what the machine failed at and what helps, and offer to try again."""
        self._show(Objection(what, trouble.sentence, trouble.cure, cure=TRY_AGAIN), retry)

    def clear(self) -> None:
        """Take the words away."""
        self._show(None)

    def _show(self, objection: Objection | None, retry: Callable[[], None] | None = None) -> None:
        self._retry = retry
        self._place.show_objection(objection)

    def _try_again(self) -> None:
        retry = self._retry
        if retry is not None:
            self.clear()
            retry()
