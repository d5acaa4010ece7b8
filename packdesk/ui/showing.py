"""What the zones of the window show: all of it worked out anew, painted only where it changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from packdesk.desk.desk import Desk
from packdesk.desk.ports import Tools
from packdesk.instants import Reading, local
from packdesk.present.cards import AlarmBand, ClockRow, StageRow, TallyBoard
from packdesk.present.clock_rows import alarm_band, clock_rows
from packdesk.present.measures import Measures
from packdesk.present.other_sessions import band_of_others
from packdesk.present.path import next_clock, stage_rows
from packdesk.present.tally_board import Drawn, tally_board
from packdesk.session.terms import Stage
from packdesk.ui.far_view import FarFace
from packdesk.ui.pages.sight import Sight
from packdesk.ui.zones import Zones

NO_TALLY = TallyBoard((), "", "", "")


class Showing:
    """Shows the desk's state in the zones; `not_saved`: the last order is not in the record."""

    def __init__(self, zones: Zones, desk: Desk, tools: Tools) -> None:
        self._zones = zones
        self._desk = desk
        self._tools = tools
        self._shown: dict[str, object] = {}
        self._drawn = Drawn()
        self.not_saved = False

    def show(self, now: Reading) -> None:
        """Show how everything stands at `now`."""
        zones, desk = self._zones, self._desk
        session, page = desk.state.session, zones.page
        stage = page.stage if page in zones.pages.values() else None
        rows = stage_rows(desk.state.book, session, now)
        clocks = clock_rows(session, now) if session is not None else ()
        row = next((row for row in rows if row.stage is stage), None)
        self._show_path(rows, stage, now)
        self._show_clocks(clocks, now)
        told = (desk.entries, self.not_saved, _there(now).date())
        self._if_new("tally", told, lambda: zones.tally.show_board(self._board(now)))
        page.show_sight(Sight(desk.state, desk.entries, desk.session_id, now, self._tools), row)
        if zones.from_afar and row is not None:
            self._show_far(row, clocks, now)
        supplies = page.supplies if not clocks and stage is not None else ()
        self._if_new("supplies", supplies, lambda: zones.show_supplies(supplies))

    def _show_path(self, rows: tuple[StageRow, ...], stage: Stage | None, now: Reading) -> None:
        path, session, there = self._zones.path, self._desk.state.session, _there(now)
        name = session.name if session is not None else "PackDesk"
        title = (name, f"{there:%A} {there.day} {there:%B}")
        self._if_new("path", (rows, stage), lambda: path.show_rows(rows, stage))
        self._if_new("title", title, lambda: path.show_title(*title))

    def _show_clocks(self, clocks: tuple[ClockRow, ...], now: Reading) -> None:
        """The band across the top and the clocks, which give way under it."""
        zones, session, band = self._zones, self._desk.state.session, self.band(now)
        under = band is not None
        why = next_clock(session) if session is not None else ""
        self._if_new("band", band, lambda: zones.show_alarm(band))
        self._if_new(
            "clocks",
            (_coarse(clocks), under, why),
            lambda: zones.show_clocks(clocks, under=under, why=why),
        )

    def _show_far(self, row: StageRow, clocks: tuple[ClockRow, ...], now: Reading) -> None:
        """What the page shows near by, as its far view says it."""
        page, board = self._zones.page, self._board(now)
        self._zones.far.show_face(
            FarFace(
                page.short_sentence,
                page.count_afar or row.progress,
                page.main.face,
                _coarse(clocks[:1])[0] if clocks else None,
                board.undo,
                board.saved if self.not_saved else "",
            )
        )

    def band(self, now: Reading) -> AlarmBand | None:
        """The alarm band as it stands at `now`: of the session in hand, or of one that rings."""
        session = self._desk.state.session
        own = alarm_band(session, now) if session is not None else None
        if own is not None and not own.sound_stopped:
            return own
        other = band_of_others(self._desk.elsewhere, now)
        return other if own is None or (other is not None and not other.sound_stopped) else own

    def _if_new(self, part: str, value: object, show: Callable[[], None]) -> None:
        """Paint a part of the window only when it says something new."""
        if part not in self._shown or self._shown[part] != value:
            self._shown[part] = value
            show()

    def _board(self, now: Reading) -> TallyBoard:
        session = self._desk.state.session
        if session is None:
            return NO_TALLY
        measures = Measures(session.units)
        board = tally_board(
            session, self._desk.entries, session.session, measures, self._drawn, now
        )
        if self.not_saved:
            return replace(board, saved=f"NOT saved since {board.saved.removeprefix('Saved ')}")
        return board


def _coarse(rows: tuple[ClockRow, ...]) -> tuple[ClockRow, ...]:
    """Clocks with their bars stepped so that a step can be seen."""
    return tuple(replace(row, fraction=round(row.fraction, 3)) for row in rows)


def _there(now: Reading) -> datetime:
    """The time on the wall where the window stands."""
    return local(now.utc, now.offset_min_at)
