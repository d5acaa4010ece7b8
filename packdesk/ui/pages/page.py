"""What every page is: a sentence, the main control, at most two beside it, forms, evidence."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any, ClassVar

from PySide6.QtCore import Qt, QTimer, Signal

from packdesk.desk.ports import Trouble
from packdesk.present.cards import Control, StageRow, WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.control_cell import control_cell
from packdesk.present.plan_offer import SupplyRow
from packdesk.present.work import work_card
from packdesk.session.case import Refusal as DeskRefusal
from packdesk.session.terms import Stage
from packdesk.ui.icons import Icon
from packdesk.ui.pages.form import Form
from packdesk.ui.pages.frame import PageFrame
from packdesk.ui.pages.inputs import AtField, TypedInput, objection_of
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.turn import BACK, Turn, means
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.main_control import MainFace
from packdesk.ui.widgets.refusal import Objection
from packdesk.ui.widgets.second_control import SecondFace
from packdesk.units import NotUnderstood


class Page(PageFrame):
    """The page of one stage.

    Subclasses make their forms in `build`, bring them up to date in `prepare`, and turn a
    control and what was typed into an order in `order`.

    Signals:
        submitted: a command and when it happened (`When` or None).
        goto_asked: the person wants the page of this `Stage`.
        said: a sentence for the whole window.
        renewed: what the rest of the window shows of this page has changed.
    """

    submitted = Signal(object, object)
    said = Signal(str)
    renewed = Signal()
    goto_asked = Signal(object)
    stage: ClassVar[Stage]
    further: ClassVar[frozenset[str]] = frozenset()
    """The forms whose control stands further down where two stand beside the main one already."""

    def __init__(self, theme: Theme, tap_clock: Callable[[], float] | None = None) -> None:
        super().__init__(theme, tap_clock)
        self.tap_clock = tap_clock
        self.sight: Sight | None = None
        self.chosen = Chosen()
        self.forms: dict[str, Form] = {}
        self.card: WorkCard | None = None
        self.more_evidence: tuple[str, ...] = ()
        self.count_afar = ""
        """How many are done, for the far view, where the page counts nearer than its stage."""
        self.supplies: tuple[SupplyRow, ...] = ()
        """What to have at hand, for the place where no clock runs yet."""
        self._opened = ""
        self._read: Form | None = None
        """The form the last order was read from; by the time it is kept another may be shown."""
        self._cleared = False
        self._retry: Callable[[], None] | None = None
        self._ordered: Order | None = None
        self.main.acted.connect(self.act)
        self.main.missing_asked.connect(self.act)
        for place, second in enumerate(self.seconds):
            second.acted.connect(lambda place=place: self._press_second(place))
            second.missing_asked.connect(lambda place=place: self._press_second(place))
        self.third.acted.connect(self._press_third)
        self.third.missing_asked.connect(self._press_third)
        self.refusal.cure_asked.connect(self._try_again)
        self.amiss_row.asked.connect(self._press_beside)
        self.build()
        for form in self.forms.values():
            count = form.inputs.get("count")
            if isinstance(count, TypedInput):
                count.edited.connect(lambda _text, item=count: self._take_count(item))
            counted = form.inputs.get("counted")
            if isinstance(counted, TypedInput):
                counted.edited.connect(lambda _text, item=counted: self._take_counted(item))

    # What a subclass says ---------------------------------------------------------------------

    def build(self) -> None:
        """Make the forms and what else stands on the page."""

    def add_form(self, name: str, form: Form) -> Form:
        """Put a form on the page, hidden until a control needs it."""
        self.forms[name] = form
        self.body.addWidget(form)
        return form

    def card_now(self, sight: Sight) -> WorkCard:
        """The work at this stage, for what the person looks at."""
        return work_card(self.stage, sight.state, self.chosen, sight.now)

    def prepare(self, card: WorkCard, sight: Sight, *, fresh: bool) -> None:
        """Bring forms and evidence up to date; `fresh` when something was recorded meanwhile."""

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        """The order that `control` and what was typed come to; None when the page did it itself.

        May raise `AtField`, shown beside that field, `NotUnderstood`, shown beside the main
        control, and `Trouble`.
        """
        return Order(control.command) if control.command is not None else None

    def kept(self) -> None:
        """What was ordered is on record: forget what was typed for it."""
        for form in (self._read, self.form_shown()):
            if form is not None:
                form.clear()
        self._read = None
        self._opened = ""
        self._cleared = True
        self.chosen = replace(self.chosen, count=None, counted=None)
        self.say_nothing()

    def refused(self, refusal: DeskRefusal) -> None:
        """The desk refused an order; its words stand beside the main control already.

        What was only questioned is offered to be kept as it is.
        """
        order = self._ordered
        if not refusal.question or order is None:
            return
        what, stop, rest = refusal.sentence.partition(". ")
        command: Any = order.command
        again, when = command, refusal.when
        if when is None:
            again, when = replace(command, confirmed=True), order.when
        self._retry = lambda: self.submitted.emit(again, when)
        self.refusal.show_objection(
            Objection(f"{what}." if stop else what, rest, cure="It is so: keep it", warning=True)
        )

    # In -----------------------------------------------------------------------------------------

    def show_sight(self, sight: Sight, row: StageRow | None = None) -> None:
        """Show how things stand."""
        if self.sight is not None and sight.session_id != self.sight.session_id:
            self._forget_session()
        fresh = self.sight is None or self._cleared or sight.entries is not self.sight.entries
        read, forget = self.form_shown(), self._cleared
        self.sight, self._cleared = sight, False
        if row is not None:
            told = f"{row.name}   {row.progress}" if self.theme.layout.rail else ""
            self.stage_words.say(told)
        self._renew(fresh=fresh)
        shown = self.form_shown()
        if forget and shown is not None and shown is not read:
            shown.clear()
            self._renew(fresh=True)

    def _forget_session(self) -> None:
        """What was chosen, typed and told here belonged to the session that was in hand."""
        self.chosen = Chosen()
        self.more_evidence = ()
        self.count_afar = ""
        self.say_nothing()
        self._opened = ""
        for form in self.forms.values():
            form.clear()
        self._cleared = True

    def choose(self, **changes: Any) -> None:
        """Look at something else: a load, a plan line, another count."""
        self.chosen = replace(self.chosen, **changes)
        if self.sight is not None:
            self._renew(fresh=True)

    def object(self, what: str, figure: str = "") -> None:
        """Say beside the main control why nothing was done."""
        self._retry = None
        self.refusal.show_objection(Objection(what, figure))

    def show_trouble(self, trouble: Trouble, retry: Callable[[], None]) -> None:
        """Say that nothing was saved, what helps, and offer to try again."""
        self._retry = retry
        self.refusal.show_objection(
            Objection("NOT saved", trouble.sentence, trouble.cure, cure="Try again")
        )

    def say_nothing(self) -> None:
        """Take the words beside the main control away."""
        self._retry = None
        self.refusal.show_objection(None)

    # Out ----------------------------------------------------------------------------------------

    def act(self) -> None:
        """Do what the main control says."""
        control = self.acting()
        if control is None or self.sight is None:
            return
        if control.missing:
            self._ask_for_missing(control)
        elif control.goto is not None:
            self.goto_asked.emit(control.goto)
        elif (waiting := self._turn.waiting) is not None and not waiting.beside:
            self.open_form(control.form)
        else:
            self._order(control, self.form_shown())

    def press_key(self, key: str) -> bool:
        """Press the control beside the main one that has this key; whether there is one.

        A card may have more of them than stand on the page; those are reached by their key alone.
        """
        if self.card is None:
            return False
        card = self.card
        offered = self._turn.beside if self._opened else (*card.seconds, *card.amiss)
        control = next((each for each in offered if each.key == key), None)
        if control is not None:
            self._press_beside(control)
        return control is not None

    @property
    def needs_looking(self) -> bool:
        """Whether something stands here that must be read or filled in before going on."""
        return bool(self._opened) or self.refusal.objection is not None

    @property
    def short_sentence(self) -> str:
        """What to do next, in few words."""
        return (self.card.short or self.card.sentence) if self.card is not None else ""

    def take_digits(self, text: str, *, anew: bool = False) -> bool:
        """Let typed digits go to the field for figures; whether there is one.

        `anew`: they take the place of what stands there, as a whole line of a scale does.
        """
        if self.card is not None and self._turn.waiting is not None:
            self.open_form(self.card.main.form)
        shown = self.form_shown()
        field = shown.digits() if shown is not None else None
        if field is None:
            return False
        field.box.setFocus(Qt.FocusReason.OtherFocusReason)
        if anew:
            field.box.clear()
        field.box.insert(text)
        field.box.setModified(True)
        field.edited.emit(field.text)
        return True

    def focus_main(self) -> None:
        """Give the main control the focus, as after each act."""
        self.main.setFocus(Qt.FocusReason.OtherFocusReason)

    def open_form(self, name: str) -> None:
        """Open a form by hand, with the focus on its first field."""
        self._opened = name
        self.say_nothing()
        self._renew(fresh=True)
        form = self.forms[name]
        first = form.first()
        if first is not None:
            form.focus_on(first)

    def form_opened(self, name: str) -> bool:
        """Whether this form was opened by hand."""
        return self._opened == name

    def close_form(self) -> bool:
        """Close the form that was opened by hand; whether there was one."""
        if not self._opened:
            return False
        self.forms[self._opened].clear()
        self._opened = ""
        self.chosen = replace(self.chosen, count=None, counted=None)
        self.say_nothing()
        self._renew(fresh=True)
        self.focus_main()
        return True

    # How it stands ------------------------------------------------------------------------------

    def acting(self) -> Control | None:
        """The control that the main place shows now."""
        return self._turn.acting if self.card is not None else None

    def form_shown(self) -> Form | None:
        """The form whose fields the main control reads."""
        return self._turn.form if self.card is not None else None

    @property
    def _turn(self) -> Turn:
        assert self.card is not None, "asked only once a card is shown"
        return Turn(self.card, self.forms, self._opened)

    def _renew(self, *, fresh: bool) -> None:
        assert self.sight is not None, "shown only with something in sight"
        card = self.card_now(self.sight)
        if self.card is not None and means(card) != means(self.card):
            still = Turn(card, self.forms, self._opened).offered
            self._opened = self._opened if still else ""
        changed = card != self.card
        self.card = card
        self.prepare(card, self.sight, fresh=fresh or changed)
        self._show_card(card)

    def _show_card(self, card: WorkCard) -> None:
        acting = self._turn.acting
        self.sentence.say((self._opened and acting.title) or card.sentence)
        self.main.show_face(
            MainFace(
                acting.label,
                acting.hint,
                control_cell(self.sight.session if self.sight else None, acting),
                Icon(acting.icon) if acting.icon else Icon.DONE,
                acting.missing,
            )
        )
        controls = self._turn.beside
        for place, second in enumerate(self.seconds):
            second.setVisible(place < len(controls))
            if place < len(controls):
                control = controls[place]
                icon = Icon(control.icon) if control.icon else None
                second.show_face(SecondFace(control.label, control.key, icon, control.missing))
        self._show_third()
        shown = self.form_shown()
        for form in self.forms.values():
            form.setVisible(form is shown)
        self.amiss_row.show_controls(() if self._opened else card.amiss)
        self.caution.say(card.caution)
        self.say_evidence(*self.more_evidence, *card.evidence)

    def _press_second(self, place: int) -> None:
        self._press_beside(self._turn.beside[place])

    def _press_third(self) -> None:
        if (third := self._third) is not None:
            self._press_beside(third)

    @property
    def _third(self) -> Control | None:
        """The control that stands further down, if there is one."""
        more = self.card.seconds[2:] if self.card is not None and not self._opened else ()
        return next((each for each in more if each.form in self.further), None)

    def _show_third(self) -> None:
        third = self._third
        self.third.setVisible(third is not None)
        if third is not None:
            icon = Icon(third.icon) if third.icon else None
            self.third.show_face(SecondFace(third.label, third.key, icon, third.missing))

    def _press_beside(self, control: Control) -> None:
        if control is BACK:
            self.close_form()
        elif control.form and control.form in self.forms:
            self.open_form(control.form)
        elif control.missing:
            self.object(f"Not yet: {control.missing}.")
        elif control.goto is not None:
            self.goto_asked.emit(control.goto)
        else:
            self._order(control, None)

    def _order(self, control: Control, form: Form | None) -> None:
        assert self.sight is not None, "pressed only with something in sight"
        typed = form.values() if form is not None else {}
        if typed is None:
            self._scroll_to_objection(form)
            return
        try:
            order = self.order(control, typed, self.sight)
        except AtField as refused:
            item = form.inputs[refused.field]
            item.show_objection(objection_of(refused))
            form.focus_on(item)
            self._scroll_to_objection(form)
        except NotUnderstood as refused:
            what, stop, rest = str(refused).partition(". ")
            self.object(f"{what}." if stop else what, rest)
        except Trouble as trouble:
            self.show_trouble(trouble, lambda: self._order(control, form))
        else:
            if order is not None:
                self._read = form
                self._ordered = order
                self.submitted.emit(order.command, order.when)

    def _ask_for_missing(self, control: Control) -> None:
        if control.form in self.forms:
            self.open_form(control.form)
        else:
            self.object(f"{control.missing}.")

    def _try_again(self) -> None:
        retry = self._retry
        if retry is not None:
            self.say_nothing()
            retry()

    def _take_count(self, item: TypedInput) -> None:
        """A count typed so far changes what the main control means at once."""
        self.choose(count=item.peek())

    def _take_counted(self, item: TypedInput) -> None:
        """What is counted by hand so far is said by the main control at once."""
        self.choose(counted=item.peek())

    def _scroll_to_objection(self, form: Form) -> None:
        wrong = [
            item
            for item in form.inputs.values()
            if getattr(item, "refusal", None) is not None and item.refusal.objection is not None
        ]
        if wrong:
            QTimer.singleShot(0, self, lambda: self.scroll.ensureWidgetVisible(wrong[0]))
