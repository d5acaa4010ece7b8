"""The window: the path at the left, the work in the middle, clocks at the right, tally below."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtGui import QCloseEvent, QKeyEvent, QResizeEvent, QShowEvent

from packdesk.desk.desk import Answer, Desk, Kept
from packdesk.desk.ports import Tools, Trouble
from packdesk.instants import Reading, When, clock_set_words
from packdesk.present.alarm_words import alarm_call
from packdesk.present.other_sessions import call_of_others, due_in
from packdesk.present.path import where_now
from packdesk.sentences import capital
from packdesk.session.case import Refusal
from packdesk.session.commands import Command, FreezeLoad, SilenceAlarm, TakeLoadOut, UndoLast
from packdesk.session.terms import Stage
from packdesk.ui.afar import Afar
from packdesk.ui.closing import Closing
from packdesk.ui.heartbeat import Heartbeat, slept_words
from packdesk.ui.keeping_awake import KeepingAwake
from packdesk.ui.keys import Keys
from packdesk.ui.looks import Looks
from packdesk.ui.pages.page import Page
from packdesk.ui.presses import Presses
from packdesk.ui.ring.alarm import Alarm
from packdesk.ui.showing import Showing
from packdesk.ui.signing import Signing
from packdesk.ui.tab_walk import walk
from packdesk.ui.theme.dress import Dress
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.focus_ring import FocusRing
from packdesk.ui.zones import Zones


class Window(Zones):
    """Everything a person sees, on one desk.

    `tap_clock` times double taps, `stroke` makes one stroke of the alarm; tests hand in their own.
    """

    def __init__(
        self,
        desk: Desk,
        tools: Tools,
        theme: Theme,
        *,
        dress: Dress | None = None,
        tap_clock: Callable[[], float] | None = None,
        stroke: Callable[[], None] | None = None,
    ) -> None:
        super().__init__(theme, tap_clock)
        self.setWindowTitle("PackDesk")
        self.desk = desk
        self.tools = tools
        self.looks = Looks(tools.choices, theme, dress, self.say)
        self.signing = Signing(desk, tools.choices, self.say)
        self.closing = Closing(self.notices)
        self.showing = Showing(self, desk, tools)
        self.afar = Afar(self, desk, self.refresh)
        self.awake = KeepingAwake(tools.awake, tools.choices, self.notices)
        self._asking = False
        self.band.stop_asked.connect(self.silence)
        self.band.go_asked.connect(self.go_to_what_rings)
        self.path.stage_chosen.connect(self.show_stage)
        self.path.title_chosen.connect(self.show_start)
        self.tally.undo_asked.connect(self.undo)
        self.start.session_chosen.connect(self.resume)
        self.start.palette_chosen.connect(self.looks.choose_palette)
        self.start.name_given.connect(self.signing.sign)
        self.start.text_size_chosen.connect(self.looks.choose_text_size)
        for page in (self.start, self.pages[Stage.FILLING]):
            page.alarm_test_asked.connect(self.test_alarm)
        for page in self.all_pages:
            page.submitted.connect(
                lambda command, when, page=page: self.submit(command, when, page)
            )
            page.goto_asked.connect(self.show_stage)
            page.renewed.connect(self.refresh)
            page.said.connect(self.say)
        self.far.undo_asked.connect(self.undo)
        self.alarm = Alarm(self, stroke)
        if stroke is None:
            self.alarm.doubtful.connect(self.say)
        self.alarm.tested.connect(lambda words: self.say(words, fleeting=True))
        self.heartbeat = Heartbeat(desk, self)
        self.heartbeat.beat.connect(self._on_beat)
        self.heartbeat.slept.connect(self._on_slept)
        self.heartbeat.clock_set.connect(self._on_clock_set)
        self.heartbeat.troubled.connect(self._on_trouble_of_clocks)
        self.presses = Presses(self)
        self.keys = Keys(self, self.presses, tap_clock)
        self.ring = FocusRing(theme, self)
        desk.subscribe(self._on_changed)
        for notice in tools.notices:
            self.notices.say(notice)
        self.show_now()

    # Which page ---------------------------------------------------------------------------------

    def show_now(self) -> None:
        """Show the stage whose work is next, or the start page while no session is open."""
        session = self.desk.state.session
        if session is None:
            self.show_start()
        else:
            self.show_stage(where_now(session))

    def show_stage(self, stage: Stage) -> None:
        """Show the page of a stage; without a session the start page."""
        self._show_page(self.start if self.desk.state.session is None else self.pages[stage])

    def show_start(self) -> None:
        """Show the sessions, the settings and the way to a new session."""
        now, own = self.desk.now(), self.desk.state.session
        known = (*self.desk.elsewhere, *([own] if own is not None else []))
        due = {session.session: due_in(session, now) for session in known}
        self.start.show_sessions(self.desk.sessions(), due)
        self.start.show_name(self.desk.who)
        self.start.show_looks(
            self.tools.choices.settings.text("palette"), self.theme.measure.text_percent
        )
        self._show_page(self.start)

    def show_story(self) -> None:
        """Show every entry of the session."""
        self._show_page(self.story)

    def resume(self, session: object) -> None:
        """Go on with a session of the book."""
        self.desk.resume(session)
        self.show_now()

    def _show_page(self, page: Page) -> None:
        self._stack.setCurrentWidget(page)
        if page not in self.pages.values():
            self.afar.show_near()
        self.refresh()
        if not self.from_afar:
            page.focus_main()

    # What is asked ------------------------------------------------------------------------------

    def submit(
        self, command: Command, when: When | None = None, page: Page | None = None
    ) -> Answer | None:
        """Hand a command to the desk and show its answer; None when it could not be saved.

        `page` is the one that asks, which may no longer be the one in sight.
        What could not be saved can be tried again as it was, with the time at which it was asked.
        """
        page = page or self.page
        asked_at = when or When(self.desk.now().utc)
        self._asking = True
        try:
            answer = self.desk.submit(command, when)
        except Trouble as trouble:
            self.showing.not_saved = True
            page.not_done.show_trouble(trouble, lambda: self.submit(command, asked_at, page))
            self.refresh()
            return None
        finally:
            self._asking = False
        self.showing.not_saved = False
        if isinstance(answer, Refusal):
            page.refused(answer)
        else:
            page.kept()
            self.notices.pass_by()
            if page is self.start:
                self.show_now()
            self._warn_of_sleep(command)
        self.refresh()
        if isinstance(answer, Kept) and not self.from_afar:
            self.page.focus_main()
        return answer

    def _warn_of_sleep(self, command: Command) -> None:
        """As somebody is about to walk off: a sleeping computer cannot ring."""
        session = self.desk.state.session
        if session is not None and isinstance(command, (FreezeLoad, TakeLoadOut)):
            self.say(self.awake.walking_off(session, self.desk.now()), fleeting=True)

    def undo(self) -> None:
        """Take the last entry back."""
        if self.desk.state.session is not None:
            self.submit(UndoLast())

    def silence(self) -> None:
        """Stop the sound; what the clocks ask for is still to be done."""
        band = self.showing.band(self.desk.now())
        self.alarm.silence()
        if band is None:
            return
        try:  # not as an order of the page: what is typed there stays
            if band.session is None:
                self.desk.submit(SilenceAlarm(band.clocks))
            else:
                self.desk.silence_elsewhere(band.session, band.clocks)
        except Trouble as trouble:
            self.say(f"{trouble.sentence} {trouble.cure}")

    def go_to_what_rings(self) -> None:
        """Take up the session that the band tells of."""
        band = self.showing.band(self.desk.now())
        if band is not None and band.session is not None:
            self.resume(band.session)

    def say(self, words: str, *, fleeting: bool = False) -> None:
        """Say a sentence above the page until it is taken away; a fleeting one goes by itself."""
        if words:
            self.notices.say(words, fleeting=fleeting)

    def test_alarm(self) -> None:
        """Sound the alarm a few seconds, so that it is known to be heard here."""
        self.say(self.alarm.test())

    # Keys ---------------------------------------------------------------------------------------

    def focusNextPrevChild(self, forward: bool) -> bool:
        """The Tab key walks the page as it is read."""
        return walk(self, self.far if self.from_afar else self.page, forward=forward)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self.keys.press(event, None):
            super().keyPressEvent(event)

    # What is shown ------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show how everything stands."""
        self._show(self.desk.now())

    def _on_changed(self) -> None:
        """Something was recorded; what was asked for here is shown once the page knows of it."""
        if not self._asking:
            self.refresh()

    def _on_beat(self, now: Reading) -> None:
        self._show(now)
        self.awake.follow((self.desk.state.session, *self.desk.elsewhere), now)

    def _show(self, now: Reading) -> None:
        state = self.desk.state
        rings = state.session is not None and not state.newer_kinds
        own = alarm_call(state.session, now) if rings else None
        self.alarm.follow(own or call_of_others(self.desk.elsewhere, now), now.steady_s)
        self.showing.show(now)

    def _on_slept(self, gap_s: float) -> None:
        band = self.showing.band(self.desk.now())
        self.notices.say(slept_words(gap_s, band.headline if band is not None else ""))

    def _on_clock_set(self, by_s: float) -> None:
        words = f"{capital(clock_set_words(by_s))}. Whatever is under way goes on as before."
        self.notices.say(words, fleeting=True)

    def _on_trouble_of_clocks(self, trouble: Trouble) -> None:
        self.notices.say(f"{trouble.sentence} {trouble.cure}")

    # What the system says ----------------------------------------------------------------------

    def restyle(self) -> None:
        """Larger text asks for another step of the same width."""
        super().restyle()
        self.theme.fit_width(self.width())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.theme.fit_width(self.width())

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.page.focus_main()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Everything is saved already; only what sounds and ticks has to stop.

        While clocks run it is asked first, for a closed program cannot ring.
        """
        desk = self.desk
        if not self.closing.allowed(desk.state.session, desk.elsewhere, desk.now()):
            self.afar.show_near()
            event.ignore()
            return
        self.heartbeat.stop()
        self.alarm.close()
        self.awake.let_go()
        super().closeEvent(event)
