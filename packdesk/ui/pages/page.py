"""What every page is: a sentence, the main control, others beside it, forms, evidence."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import zip_longest
from typing import Any, ClassVar

from PySide6.QtCore import Qt, QTimer, Signal

from packdesk.present.cards import Control, StageRow, WorkCard
from packdesk.present.chosen import Chosen
from packdesk.present.plan_offer import SupplyRow
from packdesk.present.too_many import too_many_words
from packdesk.present.work import work_card
from packdesk.session.case import Refusal as DeskRefusal
from packdesk.session.terms import Stage
from packdesk.ui.pages.faces import main_face, show_second
from packdesk.ui.pages.form import Form
from packdesk.ui.pages.frame import PageFrame
from packdesk.ui.pages.inputs import TypedInput
from packdesk.ui.pages.not_done import NotDone
from packdesk.ui.pages.ordering import Ordering
from packdesk.ui.pages.sight import Order, Sight
from packdesk.ui.pages.turn import BACK, Turn, means
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.refusal import Objection


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

    def __init__(self, theme: Theme, tap_clock: Callable[[], float] | None = None) -> None:
        super().__init__(theme, tap_clock)
        self.tap_clock = tap_clock
        self.sight: Sight | None = None
        self.chosen = Chosen()
        self.forms: dict[str, Form] = {}
        self.card: WorkCard | None = None
        self.more_evidence: tuple[str, ...] = ()
        self.more_standing: tuple[str, ...] = ()
        self.count_afar = ""
        """How many are done, for the far view, where the page counts nearer than its stage."""
        self.supplies: tuple[SupplyRow, ...] = ()
        """What to have at hand, for the place where no clock runs yet."""
        self._opened = ""
        self._cleared = False
        self.not_done = NotDone(self.refusal)
        self._ordering = Ordering(self)
        self.main.acted.connect(self.act)
        self.main.missing_asked.connect(self.act)
        for place, second in enumerate(self.seconds):
            second.acted.connect(lambda place=place: self._press_second(place))
            second.missing_asked.connect(lambda place=place: self._press_second(place))
        self.further.asked.connect(self._press_beside)
        self.amiss_row.asked.connect(self._press_beside)
        self.build()
        for form in self.forms.values():
            self._follow_counts(form)

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

    def standing_words(self, card: WorkCard) -> tuple[str, ...]:
        """What stands still under the main control."""
        return (*card.standing, *self.more_standing)

    def evidence_words(self, card: WorkCard) -> tuple[str, ...]:
        """What says why, below all else."""
        return (*self.more_evidence, *card.evidence)

    def order(self, control: Control, typed: Mapping[str, Any], sight: Sight) -> Order | None:
        """The order that `control` and what was typed come to; None when the page did it itself.

        May raise `AtField`, shown beside that field, `NotUnderstood`, shown beside the main
        control, and `Trouble`.
        """
        return Order(control.command) if control.command is not None else None

    def kept(self) -> None:
        """What was ordered is on record: forget what was typed for it."""
        for form in (self._ordering.form_kept(), self.form_shown()):
            if form is not None:
                form.clear()
        self._back_to_top()
        self._opened = ""
        self.further.close()
        self._cleared = True
        self.chosen = replace(self.chosen, count=None, counted=None)
        self.not_done.clear()

    def refused(self, refusal: DeskRefusal) -> None:
        """The desk refused an order: say why beside the main control."""
        self._ordering.refused(refusal)

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
        self.more_standing = ()
        self.count_afar = ""
        self.not_done.clear()
        self._opened = ""
        for form in self.forms.values():
            form.clear()
        self._cleared = True

    def choose(self, **changes: Any) -> None:
        """Look at something else: a load, a plan line, another count."""
        self.chosen = replace(self.chosen, **changes)
        if self.sight is not None:
            self._renew(fresh=True)

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
            self._ordering.give(control, self.form_shown())

    def press_key(self, key: str) -> bool:
        """Press the control that has this key; whether there is one.

        A card may have more of them than stand on the page; those are under «More».
        """
        if self.card is None:
            return False
        card = self.card
        offered = self._turn.beside if self._opened else (*card.seconds, *card.amiss)
        control = next((each for each in offered if each.key == key), None)
        if control is not None:
            self._press_beside(control)
        elif key and card.main.key == key and not self._opened:
            self.act()
        else:
            return False
        return True

    @property
    def needs_looking(self) -> bool:
        """Whether something stands here that must be read or filled in before going on."""
        return bool(self._opened) or self.not_done.stands

    @property
    def reads_unseen(self) -> bool:
        """Whether the main control takes more from its form than figures that may stay out."""
        shown = self.form_shown()
        return shown is not None and not shown.only_counts

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
        elif not field.box.isModified():
            field.box.selectAll()  # a usual answer gives way to the first figure
        field.box.insert(text)
        field.box.setModified(True)
        field.edited.emit(field.text)
        self.bring_into_sight(shown, field)
        return True

    def focus_main(self) -> None:
        """Give the main control the focus, as after each act."""
        self.main.setFocus(Qt.FocusReason.OtherFocusReason)

    def open_form(self, name: str) -> None:
        """Open a form by hand, with the focus on its first field."""
        self._opened = name
        self.not_done.clear()
        self._renew(fresh=True)
        form = self.forms[name]
        first = form.first()
        if first is not None:
            form.focus_on(first)
            self.bring_into_sight(form, first)

    def form_opened(self, name: str) -> bool:
        """Whether this form was opened by hand."""
        return self._opened == name

    def close_form(self) -> bool:
        """Close what was opened by hand, the further controls or a form; whether there was any."""
        if self.further.close():
            self.focus_main()
            return True
        if not self._opened:
            return False
        self.forms[self._opened].clear()
        self._back_to_top()
        self._opened = ""
        self.chosen = replace(self.chosen, count=None, counted=None)
        self.not_done.clear()
        self._renew(fresh=True)
        self.focus_main()
        return True

    def _back_to_top(self) -> None:
        """What was scrolled for a form opened by hand is not left so when it goes.

        Later, for the focus that leaves a hidden form scrolls to where it goes.
        """
        if self._opened:
            bar = self.scroll.verticalScrollBar()
            QTimer.singleShot(0, self, lambda: bar.setValue(0))

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
        self.main.show_face(main_face(acting, self.sight.session if self.sight else None))
        for second, control in zip_longest(self.seconds, self._turn.beside):
            show_second(second, control)
        self.further.show_controls(() if self._opened else card.seconds[2:])
        self.place_lower()
        self.standing.say(*self.standing_words(card))
        shown = self.form_shown()
        for form in self.forms.values():
            form.setVisible(form is shown)
        self.amiss_row.show_controls(() if self._opened else card.amiss)
        self.caution.say(card.caution)
        self.say_evidence(*self.evidence_words(card))

    def _press_second(self, place: int) -> None:
        self._press_beside(self._turn.beside[place])

    def _press_beside(self, control: Control) -> None:
        if control is BACK:
            self.close_form()
        elif control.form and control.form in self.forms:
            self.open_form(control.form)
        elif control.missing:
            if not self._object_to_count(control):
                self.not_done.say(Objection(f"Not yet: {control.missing}."))
        elif control.goto is not None:
            self.goto_asked.emit(control.goto)
        else:
            self._ordering.give(control, None)

    def _ask_for_missing(self, control: Control) -> None:
        if self._object_to_count(control):
            return
        if control.form in self.forms:
            self.open_form(control.form)
        else:
            self.not_done.say(Objection(f"{control.missing}."))

    def _object_to_count(self, control: Control) -> bool:
        """Say beside a typed count, which stays there to be mended, why it cannot be."""
        form = self.form_shown()
        count = form.inputs.get("count") if form is not None else None
        asked = count.peek() if isinstance(count, TypedInput) and count.text else None
        if asked is None:
            return False
        count.show_objection(Objection(f"{too_many_words(asked)}.", f"{control.missing}."))
        form.focus_on(count)
        return True

    def _follow_counts(self, form: Form) -> None:
        """A count typed so far changes what the main control means, and says, at once."""
        for name in ("count", "counted"):
            item = form.inputs.get(name)
            if isinstance(item, TypedInput):
                item.edited.connect(
                    lambda _text, name=name, item=item: self.choose(**{name: item.peek()})
                )
