"""The way of an order on a page: a control and what is typed, the command, the desk's answer."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QTimer

from packdesk.desk.ports import Trouble
from packdesk.present.cards import Control
from packdesk.session.case import Refusal
from packdesk.ui.pages.form import Form
from packdesk.ui.pages.inputs import AtField
from packdesk.ui.pages.sight import Order
from packdesk.ui.widgets.refusal import Objection, objection_of
from packdesk.units import NotUnderstood

if TYPE_CHECKING:
    from packdesk.ui.pages.page import Page


class Ordering:
    """Asks `page` what a control and its form come to, and hands that on.

    What is wrong with it stands beside its field, or else beside the main control.
    """

    def __init__(self, page: Page) -> None:
        self._page = page
        self._last: Order | None = None
        self._read: Form | None = None

    def give(self, control: Control, form: Form | None) -> None:
        """Order what `control` says, with what is typed in `form` (None: nothing is)."""
        page = self._page
        assert page.sight is not None, "pressed only with something in sight"
        typed = form.values() if form is not None else {}
        if typed is None:
            self._scroll_to_objection(form)
            return
        try:
            order = page.order(control, typed, page.sight)
        except AtField as refused:
            item = form.inputs[refused.field]
            item.show_objection(objection_of(str(refused)))
            form.focus_on(item)
            self._scroll_to_objection(form)
        except NotUnderstood as refused:
            page.not_done.say(objection_of(str(refused)))
        except Trouble as trouble:
            page.not_done.show_trouble(trouble, lambda: self.give(control, form))
        else:
            if order is not None:
                self._read, self._last = form, order
                page.submitted.emit(order.command, order.when)

    def form_kept(self) -> Form | None:
        """The form that the order now on record was read from; asked once.

        By the time the order is kept another form may be shown.
        """
        read, self._read = self._read, None
        return read

    def refused(self, refusal: Refusal) -> None:
        """Say what the desk refused; what was only questioned is offered to be kept as it is."""
        page, order = self._page, self._last
        if not refusal.question or order is None:
            page.not_done.say(Objection(refusal.sentence))
            return
        command: Any = order.command
        when = refusal.when
        if when is None:
            command, when = replace(command, confirmed=True), order.when
        page.not_done.ask(refusal.sentence, lambda: page.submitted.emit(command, when))

    def _scroll_to_objection(self, form: Form) -> None:
        wrong = form.objecting()
        if wrong is not None:
            QTimer.singleShot(0, self._page, lambda: self._page.scroll.ensureWidgetVisible(wrong))
