"""Paints every widget in every state and palette: ``python tests/ui/gallery.py OUTDIR``.

For looking, not for comparing: the pictures are read by a person beside the design's own.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from math import exp
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QPoint, QRect, QRectF
from PySide6.QtGui import QImage, QPainter, QRegion
from PySide6.QtWidgets import QApplication, QWidget

from packdesk.present.cards import (
    AlarmBand,
    CellState,
    ClockRow,
    Mark,
    PacketTimes,
    PouchCell,
    StageRow,
    TallyBoard,
    TallyLine,
    Urgency,
)
from packdesk.present.curves import CoreCurve, CurvePoint
from packdesk.session.terms import Stage
from packdesk.ui.icons import Icon, draw_icon, draw_pail_tag
from packdesk.ui.theme.dress import Dress
from packdesk.ui.theme.faces import load_faces
from packdesk.ui.theme.layout import NARROW, WIDE
from packdesk.ui.theme.measure import Role
from packdesk.ui.theme.theme import Theme
from packdesk.ui.theme.tokens import PALETTES
from packdesk.ui.widgets.alarm_band import AlarmBandView
from packdesk.ui.widgets.choice_field import Choice, ChoiceField
from packdesk.ui.widgets.clock_card import ClockCard
from packdesk.ui.widgets.clocks_column import ClocksColumn
from packdesk.ui.widgets.core_plot import CorePlot
from packdesk.ui.widgets.empty_state import EmptyFace, EmptyState
from packdesk.ui.widgets.field import Field
from packdesk.ui.widgets.focus_ring import FocusRing
from packdesk.ui.widgets.label_sheet_view import LabelSheetView, SheetFace
from packdesk.ui.widgets.main_control import MainControl, MainFace
from packdesk.ui.widgets.packet_ribbon import PacketRibbon
from packdesk.ui.widgets.pouch_cells import PouchCells
from packdesk.ui.widgets.refusal import Objection
from packdesk.ui.widgets.second_control import SecondControl, SecondFace
from packdesk.ui.widgets.stage_path import StagePath
from packdesk.ui.widgets.tally_strip import TallyStrip
from packdesk.ui.widgets.themed import Themed

Placed = tuple[QWidget, QRect]


def cell(number: int | None, state: CellState, **marks: object) -> PouchCell:
    """An invented pouch."""
    words = state.value.replace("_", " ")
    label = f"Pouch {number}, wheat, {words}" if number else "Pouch, wheat, planned"
    return PouchCell(number, state, label, **marks)


STAGES = (
    StageRow(Stage.BEFORE, "Before", "plan agreed, all to hand", Mark.DONE),
    StageRow(Stage.COLD_TREATMENT, "Cold treatment", "2 of 3 held long enough", Mark.DONE),
    StageRow(
        Stage.THAW_EQUILIBRATION, "Thaw equilibration", "2 of 3 lids off", Mark.PARTLY, ("C",)
    ),
    StageRow(Stage.FILLING, "Filling", "16 of 38 shut", Mark.NOW, ("A", "B")),
    StageRow(Stage.SEALING, "Sealing", "10 of 38 sealed", Mark.PARTLY),
    StageRow(Stage.LABELLING, "Labelling", "none printed yet", Mark.NEXT),
    StageRow(Stage.AFTER, "After", "first check Monday", Mark.NEXT),
)

PACKET = ClockRow(
    "p2",
    "Packet 2 open",
    "",
    "10:51",
    "",
    "use by",
    "9 min left",
    0.57,
    False,
    Urgency.SOON,
    "close it up or use it up by then",
)
LATE = ClockRow(
    "p2",
    "Packet 2 open",
    "",
    "10:51",
    "",
    "was due",
    "6 min over",
    1.2,
    False,
    Urgency.LATE,
    "close the last 2 pouches",
)
THAW = ClockRow(
    "c",
    "Black beans warming",
    "C",
    "11:30",
    "",
    "lid off from",
    "48 min",
    0.85,
    True,
    Urgency.CALM,
    "between 11:05 and 12:10",
)
SEALS = ClockRow(
    "s1",
    "Round 1 seals",
    "",
    "10:25",
    "Mon",
    "check from",
    "in 24 h",
    0.02,
    True,
    Urgency.CALM,
    "press each pouch, look for slack",
)
MET = ClockRow(
    "b", "Wheat warming", "B", "11:30", "", "lid off from", "ready since 11:30", 1.0, True,
    Urgency.MET, "wipe the rim dry first",
)  # fmt: skip
CLOCKS = (PACKET, THAW, SEALS)


def tally(in_hand: int = 17) -> TallyBoard:
    """A tally of two plan lines in the middle of filling."""
    wheat = [cell(n, CellState.SEALED) for n in range(1, 11)]
    wheat += [cell(n, CellState.PRESSED_SHUT) for n in range(11, 17)]
    wheat += [cell(n, CellState.FILLED, in_hand=n == in_hand) for n in range(17, 21)]
    wheat += [cell(None, CellState.PLANNED) for _ in range(4)]
    beans = tuple(cell(None, CellState.PLANNED) for _ in range(14))
    return TallyBoard(
        (
            TallyLine(1, "Wheat", "24 of 1.25 kg: 10 sealed, 6 shut, 4 filled", tuple(wheat)),
            TallyLine(2, "Black beans", "14 of 1.15 kg: still warming", beans),
        ),
        "Pouch 16 shut 10:41",
        "Undo pouch 16",
        "Saved 10:41:26",
    )


def pouches(theme: Theme) -> list[Placed]:
    """The pouch cell in all states, at chart, round and tally sizes, plain and liner."""
    states = [cell(n, state, pail="1") for n, state in enumerate(CellState, start=1)]
    shut = CellState.PRESSED_SHUT
    marks = [
        cell(11, CellState.ABSORBERS_IN, marginal=True),
        cell(12, shut, marginal=True, add_one=True),
        cell(17, CellState.FILLED, in_hand=True),
        cell(128, CellState.SEALED),
    ]
    liners = [
        PouchCell(n, state, "Liner", liner=True, pail="2") for n, state in enumerate(CellState, 1)
    ]
    placed: list[Placed] = []
    y = 20
    for size, cells, numbered in (
        (78, states, False),
        (78, liners, False),
        (50, [*states, *marks], True),
        (30, [*states, *marks], False),
        (23, [*states, *marks, *liners], False),
        (16, [*states, *marks, *liners], False),
    ):
        run = PouchCells(
            theme, cell_px=size, gap_px=26 if size > 30 else 4, numbered=numbered, ground="cloth"
        )
        run.show_cells(cells)
        height = run.heightForWidth(1060)
        placed.append((run, QRect(20, y, 1060, height)))
        y += height + 14
    return placed


def main_controls(theme: Theme) -> list[Placed]:
    """The main control at rest, pressed, with a tick, with an icon, long, and not yet."""
    shut = cell(17, CellState.PRESSED_SHUT)
    faces = [
        MainFace("Pouch 17 is shut", "Space bar", shut),
        MainFace("Pouch 17 is shut", "Space bar", shut),
        MainFace("Pouch 17 is shut", "Space bar", shut),
        MainFace("Note a core reading", "Space bar", icon=Icon.PROBE),
        MainFace("All 10 absorbers are in and the pouches are shut", "Space bar", shut),
        MainFace(
            "Agree this plan", "Space bar", icon=Icon.DONE, missing="Settle the peanuts first"
        ),
        MainFace("Make 37 labels", "Space bar", icon=Icon.LABELS),
        MainFace("Pouch 11 is sealed", "Space bar", cell(11, CellState.SEALED)),
    ]
    placed: list[Placed] = []
    for place, face in enumerate(faces):
        control = MainControl(theme, ground="sheet")
        control.show_face(face)
        column, row = place % 2, place // 2
        height = control.heightForWidth(482)
        placed.append((control, QRect(20 + column * 510, 20 + row * 175, 482, height)))
    placed[1][0].act()
    placed[2][0].act()
    placed[2][0].act()
    placed[2][0]._flash.stop()
    seconds = [
        SecondFace("Set aside", "S", Icon.ASIDE),
        SecondFace("Close packet up", "C", Icon.PACKET),
        SecondFace("End cold", "E", Icon.LID, "Fri 22:50"),
        SecondFace("Freezer reading", "F", Icon.COLD),
        SecondFace("Fewer…", "V"),
    ]
    for place, face in enumerate(seconds):
        button = SecondControl(theme, ground="sheet")
        button.show_face(face)
        placed.append((button, QRect(1040, 20 + place * 84, 240, 66)))
    placed[-1][0].act()
    return placed


def clock_cards(theme: Theme) -> list[Placed]:
    """Cards of every urgency, full and small."""
    placed: list[Placed] = []
    for place, row in enumerate((THAW, PACKET, LATE, MET, SEALS)):
        for full in (True, False):
            card = ClockCard(theme, full=full)
            card.show_row(row)
            height = card.heightForWidth(272)
            y = 20 if full else 240
            placed.append((card, QRect(20 + place * 290, y, 272, height)))
    return placed


def page(theme: Theme) -> list[Placed]:
    """Path, clocks and tally around an empty work area, as in the window."""
    width, height = {NARROW: (1093, 614), WIDE: (1920, 1080)}.get(theme.layout, (1366, 768))
    layout = theme.layout
    work = QWidget()
    work.setAutoFillBackground(True)
    palette = work.palette()
    palette.setColor(work.backgroundRole(), theme.color("sheet"))
    work.setPalette(palette)
    path = StagePath(theme)
    path.show_title("Autumn wheat and black beans", "Sunday 18 October")
    path.show_rows(STAGES, Stage.FILLING)
    clocks = ClocksColumn(theme)
    clocks.show_rows(CLOCKS)
    strip = TallyStrip(theme)
    strip.show_board(tally())
    main = MainControl(theme)
    main.show_face(MainFace("Pouch 17 is shut", "Space bar", cell(17, CellState.PRESSED_SHUT)))
    round_cells = PouchCells(
        theme, cell_px=36 if layout.rail else 50, numbered=True, spread=True, ground="sheet"
    )
    round_cells.show_cells(
        [
            *(cell(n, CellState.PRESSED_SHUT) for n in range(11, 17)),
            *(cell(n, CellState.FILLED, in_hand=n == 17) for n in range(17, 21)),
        ]
    )
    body = height - layout.tally_height
    left, right = layout.path_width, width - layout.clocks_width
    margin = layout.work_margin
    wide = right - left - 2 * margin
    top = 142 if layout.rail else 124
    main_width = wide - layout.second_width - layout.target_gap
    second_x = left + margin + main_width + layout.target_gap
    placed = [
        (work, QRect(left, 0, right - left, body)),
        (path, QRect(0, 0, left, body)),
        (clocks, QRect(right, 0, layout.clocks_width, body)),
        (strip, QRect(0, body, width, layout.tally_height)),
        (main, QRect(left + margin, top, main_width, layout.main_height)),
        (
            round_cells,
            QRect(
                left + margin, top + layout.main_height + 60, wide, round_cells.sizeHint().height()
            ),
        ),
    ]
    for place, face in enumerate(
        (SecondFace("Set aside", "S", Icon.ASIDE), SecondFace("Close packet up", "C", Icon.PACKET))
    ):
        button = SecondControl(theme)
        button.show_face(face)
        y = top + place * (layout.main_height - layout.second_height)
        placed.append((button, QRect(second_x, y, layout.second_width, layout.second_height)))
    return placed


def fields(theme: Theme) -> list[Placed]:
    """Fields at rest, refused beside and below, and with a warning."""
    placed: list[Placed] = []

    def add(field: Field, text: str, rect: tuple[int, int, int]) -> None:
        field.show_text(text)
        x, y, width = rect
        placed.append((field, QRect(x, y, width, field.heightForWidth(width))))

    add(Field(theme, "Food"), "Black beans", (20, 20, 190))
    add(Field(theme, "Mass", unit="kg"), "16.1", (226, 20, 108))
    add(Field(theme, "Core temperature", unit="°C", hint="as the probe says"), "", (350, 20, 260))
    refused = Field(theme, "Food", box_width=190)
    refused.show_objection(
        Objection(
            "Too oily to seal",
            "48 % fat, far over the limit",
            "Their fat turns stale long before 20 years, sealed or not. Eat them within months.",
            "Take peanuts off",
        )
    )
    add(refused, "Roasted peanuts", (20, 130, 640))
    below = Field(theme, "Mass in pouch 17", unit="kg")
    below.show_objection(Objection("More than the pouch holds", "2.4 kg, at most 1.3 kg", "", ""))
    add(below, "2.4", (700, 20, 300))
    warned = Field(theme, "Moisture", unit="%")
    warned.show_objection(
        Objection("At the edge", "9.8 %, at most 10 %", "Snap a kernel: it should crack.", "", True)
    )
    add(warned, "9.8", (700, 220, 300))
    return placed


def far(theme: Theme) -> list[Placed]:
    """The main control over the full width of the far view."""
    control = MainControl(theme, ground="cloth")
    control.set_far(True)
    control.show_face(
        MainFace(
            "Pouch 17 is shut",
            "Space bar, or touch anywhere on this bar",
            cell(17, CellState.PRESSED_SHUT),
        )
    )
    return [(control, QRect(40, 20, 1286, control.heightForWidth(1286)))]


def bands(theme: Theme) -> list[Placed]:
    """The alarm band ringing, silenced, and for two clocks."""
    packet = AlarmBand(
        "Packet 2 is 6 min past its time",
        "Close pouches 19 and 20 now, or close the packet up. It was due at 10:51.",
        "",
        ("p2",),
    )
    both = AlarmBand("2 clocks are late", "Packet 2 is 6 min past its time.", "", ("p2", "b"))
    placed: list[Placed] = []
    y = 0
    for band in (packet, replace(packet, sound_stopped="sound stopped 10:58"), both):
        view = AlarmBandView(theme)
        view.resize(1366, 92)
        view.show_band(band)
        placed.append((view, QRect(0, y, 1366, view.height())))
        y += view.height() + 16
    return placed


def core_curve(hours: float, now_h: float, *, thaw: bool) -> CoreCurve:
    """An invented cooling (and warming) curve; no check value."""
    start = datetime(2026, 10, 12, 19, 0, tzinfo=UTC)

    def temp(h: float) -> float:
        if not thaw:
            return -19 + 40 * exp(-max(h - 2, 0) / 10)
        if h < hours * 0.85:
            return -19 + 40 * exp(-max(h - 2, 0) / 10)
        return 21 - 40 * exp(-(h - hours * 0.85) / 9)

    points = []
    for step in range(241):
        h = hours * step / 240
        wide = 0.4 + 0.6 * min(h, 12) / 12 + (2.0 if thaw and h > hours * 0.85 else 0)
        at = start + timedelta(hours=h)
        points.append(CurvePoint(at, temp(h) - wide, temp(h), temp(h) + wide))
    return CoreCurve(
        points=tuple(points),
        now=start + timedelta(hours=now_h),
        now_words="Now −18.0 °C at the core",
        now_range="between −18.5 and −17.5",
        threshold_c=-15.0,
        threshold_words="Cold enough below −15 °C: 15 h of 72 h",
        offset=120,
        hold=(start + timedelta(hours=26), start + timedelta(hours=98)) if thaw else None,
        dew_point_c=9.5 if thaw else None,
        dew_words="dew point 9.5 °C" if thaw else "",
        lid_off=(
            (start + timedelta(hours=hours - 11), start + timedelta(hours=hours - 6))
            if thaw
            else None
        ),
        lid_words="lid off 14:30 to 18:10" if thaw else "",
        readings=tuple((start + timedelta(hours=h), temp(h) + 0.3) for h in (5, 16, now_h - 3)),
    )


def warming_curve() -> CoreCurve:
    """An invented thaw of one day, told in hours."""
    start = datetime(2026, 10, 17, 5, 0, tzinfo=UTC)
    points = tuple(
        CurvePoint(
            start + timedelta(hours=h / 4),
            20 - 38 * exp(-h / 4 / 9) - 1.5,
            20 - 38 * exp(-h / 4 / 9),
            20 - 38 * exp(-h / 4 / 9) + 1.5,
        )
        for h in range(97)
    )
    return CoreCurve(
        points=points,
        now=start + timedelta(hours=9),
        now_words="Now 6 °C at the core",
        now_range="between 4 and 8",
        threshold_c=-15.0,
        threshold_words="",
        offset=120,
        dew_point_c=11.0,
        dew_words="dew point 9.0 °C, and 2 K for safety",
        lid_off=(start + timedelta(hours=11), start + timedelta(hours=14.5)),
        lid_words="lid off 18:00 to 21:30",
    )


def plots(theme: Theme) -> list[Placed]:
    """The core plot through cold and thaw, cooling only, a thaw in hours, and empty."""
    placed: list[Placed] = []
    for place, curve in enumerate(
        (
            core_curve(130, 45, thaw=True),
            core_curve(60, 20, thaw=False),
            warming_curve(),
            None,
        )
    ):
        plot = CorePlot(theme)
        plot.show_curve(curve)
        column, row = place % 2, place // 2
        placed.append((plot, QRect(20 + column * 780, 20 + row * 320, 742, 290)))
    small = CorePlot(theme)
    small.show_curve(core_curve(130, 45, thaw=True))
    placed.append((small, QRect(20, 660, 480, 150)))
    late = CorePlot(theme)
    late.show_curve(core_curve(130, 122, thaw=True))
    placed.append((late, QRect(560, 660, 742, 230)))
    return placed


def ribbons(theme: Theme) -> list[Placed]:
    """The ribbon of a packet in time and late."""
    opened = datetime(2026, 10, 18, 10, 31, tzinfo=UTC)

    def at(*minutes: float) -> tuple[datetime, ...]:
        return tuple(opened + timedelta(minutes=minute) for minute in minutes)

    timely = PacketTimes(
        opened,
        *at(11),
        *at(20),
        "10:31 packet opened",
        "now",
        "10:51 packet due",
        at(1.0, 2.4, 3.8, 6.1, 8.2, 10.3),
        at(11.8, 13, 14.2, 15.3),
    )
    late = PacketTimes(
        opened, *at(26), *at(20), "10:31 packet opened", "now", "10:51 packet due",
        at(1.0, 2.4, 3.8, 6.1, 10.3, 13, 19, 23.7), (),
    )  # fmt: skip
    young = PacketTimes(
        opened, *at(0.5), *at(20), "10:31 packet opened", "now", "10:51 packet due", (), at(2, 4)
    )
    placed: list[Placed] = []
    for place, face in enumerate((timely, late, young)):
        ribbon = PacketRibbon(theme)
        ribbon.show_face(face)
        height = ribbon.sizeHint().height()
        placed.append((ribbon, QRect(20, 20 + place * 110, 742, height)))
    return placed


def sheets(theme: Theme) -> list[Placed]:
    """Label sheets, an empty state, and choices."""
    placed: list[Placed] = []
    for place, (used, to_print) in enumerate(((8, 37), (0, 5))):
        view = LabelSheetView(theme)
        view.show_face(
            SheetFace(210, 297, 3, 7, 63.5, 38.1, 7.2, 15.15, 66.04, 38.1, used, to_print)
        )
        placed.append((view, QRect(20 + place * 290, 20, 270, 374)))
    dense = LabelSheetView(theme)
    dense.show_face(SheetFace(210, 297, 5, 13, 38.1, 21.2, 4.7, 10.7, 40.6, 21.2, 12, 40))
    placed.append((dense, QRect(600, 20, 270, 374)))
    empty = EmptyState(theme, ground="sheet")
    empty.show_face(
        EmptyFace(
            "No clock runs here",
            "The first one starts when a pail goes into the freezer. Its core decides when the"
            " hold begins, not the door.",
            Icon.LID,
        )
    )
    placed.append((empty, QRect(900, 20, 272, empty.heightForWidth(272))))
    choice = ChoiceField(theme, "Pouch")
    choice.show_choices((Choice("a", "2 L, foil"), Choice("b", "5 L, foil")), "a")
    placed.append((choice, QRect(900, 240, 190, choice.heightForWidth(190))))
    refused = ChoiceField(theme, "Film", box_width=190)
    refused.show_choices((Choice("a", "Clear, no foil"),), "a")
    refused.show_objection(Objection("Leaks too much", "back at 1 % oxygen in 3 years"))
    placed.append((refused, QRect(900, 330, 560, refused.heightForWidth(560))))
    return placed


class IconBoard(Themed):
    """All icons at 26, 32 and 66 px, and three pail tags."""

    def draw(self, painter: QPainter) -> None:
        ink = self.theme.color("ink")
        y = 10.0
        for size in (26, 32, 66):
            for place, icon in enumerate(Icon):
                color = self.theme.color("brick") if icon is Icon.REFUSE else ink
                draw_icon(painter, icon, QRectF(10 + place * 76, y, size, size), color)
            y += size + 20
        for place, letter in enumerate("ABM"):
            box = QRectF(10 + place * 76, y, 66, 66)
            draw_pail_tag(painter, box, letter, ink, self.theme.font(Role.BODY))


def icons(theme: Theme) -> list[Placed]:
    """Every icon at three sizes."""
    return [(IconBoard(theme), QRect(0, 0, 1400, 290))]


def rings(theme: Theme) -> list[Placed]:
    """The focus ring on a control, a field, a cell, a path row and a label place."""
    theme.note_key()
    placed: list[Placed] = []
    for place in range(5):
        board = QWidget()
        board.ground_role = "cloth" if place in (2, 3) else "sheet"
        board.setAutoFillBackground(True)
        palette = board.palette()
        palette.setColor(board.backgroundRole(), theme.color(board.ground_role))
        board.setPalette(palette)
        if place == 0:
            inner = MainControl(theme, board)
            inner.show_face(MainFace("Sealed", "Space bar", cell(17, CellState.SEALED)))
            inner.setGeometry(20, 20, 240, 160)
            target: QWidget = inner
        elif place == 1:
            field = Field(theme, "Mass", board, unit="kg")
            field.setGeometry(20, 20, 160, 76)
            target = field.box
        elif place == 2:
            run = PouchCells(theme, board, cell_px=23, ground="cloth")
            run.show_cells(tally().lines[0].cells)
            run.setGeometry(20, 20, 240, 160)
            target = run.views[16]
        elif place == 3:
            path = StagePath(theme, board)
            path.show_rows(STAGES, Stage.FILLING)
            path.setGeometry(0, 0, 256, 380)
            target = path.rows[3]
        else:
            view = LabelSheetView(theme, board)
            view.show_face(SheetFace(210, 297, 3, 7, 63.5, 38.1, 7.2, 15.15, 66.04, 38.1, 8, 37))
            view.setGeometry(20, 20, 220, 320)
            target = view
        FocusRing(theme, board)
        board.focus_target = target
        placed.append((board, QRect(place * 290, 0, 280, 400)))
    return placed


SHEETS: dict[str, tuple[Callable[[Theme], Sequence[Placed]], str, tuple[int, int]]] = {
    "pouches": (pouches, "cloth", (1100, 660)),
    "main": (main_controls, "sheet", (1300, 730)),
    "clocks": (clock_cards, "cloth", (1480, 380)),
    "page": (page, "cloth", (1366, 768)),
    "far": (far, "cloth", (1366, 270)),
    "bands": (bands, "cloth", (1366, 340)),
    "plots": (plots, "sheet", (1560, 910)),
    "ribbons": (ribbons, "sheet", (800, 360)),
    "sheets": (sheets, "sheet", (1480, 420)),
    "icons": (icons, "sheet", (1400, 290)),
    "rings": (rings, "cloth", (1450, 410)),
    "fields": (fields, "sheet", (1040, 420)),
}


def paint_sheet(
    theme: Theme, placed: Sequence[Placed], ground: str, size: tuple[int, int]
) -> QImage:
    """Put the widgets on one ground and take the picture."""
    board = QWidget()
    board.resize(*size)
    board.ground_role = ground
    for widget, rect in placed:
        widget.setParent(board)
        widget.setGeometry(rect)
        widget.show()
    board.show()
    board.setFocus()
    QApplication.processEvents()
    for ring in board.findChildren(FocusRing):
        ring.stand_round(ring.parentWidget().focus_target)
    image = QImage(*size, QImage.Format.Format_RGB32)
    image.fill(theme.color(ground))
    painter = QPainter(image)
    board.render(painter, QPoint(), QRegion(), QWidget.RenderFlag.DrawChildren)
    painter.end()
    board.close()
    board.deleteLater()
    return image


def main(arguments: Sequence[str]) -> int:
    """Paint all sheets, or those named after the folder."""
    if not arguments:
        print("usage: gallery.py OUTDIR [SHEET...]", file=sys.stderr)
        return 2
    folder = Path(arguments[0])
    folder.mkdir(parents=True, exist_ok=True)
    app = QApplication([])
    theme = Theme(load_faces())
    Dress(app, theme)
    for name in arguments[1:] or SHEETS:
        make, ground, size = SHEETS[name]
        for tokens in PALETTES:
            theme.set_tokens(tokens)
            theme.set_text_percent(130 if name.endswith("large") else 100)
            theme.fit_width(size[0] if name.startswith("page") else 1366)
            image = paint_sheet(theme, make(theme), ground, size)
            image.save(str(folder / f"{name}-{tokens.name.replace(' ', '-')}.png"))
    return 0


SHEETS["page-narrow"] = (page, "cloth", (1093, 614))
SHEETS["page-wide"] = (page, "cloth", (1920, 1080))
SHEETS["page-wide-large"] = (page, "cloth", (1920, 1080))
SHEETS["clocks-large"] = (clock_cards, "cloth", (1480, 560))
SHEETS["main-large"] = (main_controls, "sheet", (1300, 730))
SHEETS["fields-large"] = (fields, "sheet", (1040, 520))

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
