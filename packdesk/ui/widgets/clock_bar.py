"""Paints the bar of a clock: filling toward a gate, draining, or run over its mark."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter

from packdesk.present.cards import ClockRow, Urgency
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.strokes import draw_gate, draw_hatch, draw_outline, rounded

LATE_MARK = 0.72
"""Where a bar that has run over carries the mark of its due time."""


def draw_clock_bar(painter: QPainter, rect: QRectF, row: ClockRow, theme: Theme) -> None:
    """Draw the bar of a clock into `rect`: "at least" fills to a twin-seam gate, others drain."""
    if row.urgency is Urgency.LATE:
        _draw_late(painter, rect, row.fraction, theme)
        return
    track = QRectF(rect)
    if row.at_least:
        gate = theme.px(6)
        track.setRight(rect.right() - gate - theme.px(3))
        reach = theme.px(3)
        draw_gate(
            painter,
            rect.right() - gate,
            rect.top() - reach,
            rect.bottom() + reach,
            theme.color("ink"),
            theme.px(1),
        )
    part = min(max(row.fraction, 0.0), 1.0)
    if row.urgency is Urgency.MET:
        part = 1.0
    elif not row.at_least:
        part = 1.0 - part
    soon = row.urgency is Urgency.SOON
    _draw_track(painter, track, theme.color("edge"), theme)
    _fill(painter, track, part, theme.color("wheat" if soon else "indigo"), theme)
    if soon and part > 0:
        done = QRectF(
            track.left(), track.top(), max(track.width() * part, track.height()), track.height()
        )
        draw_outline(painter, done, done.height() / 2.6, theme.px(1.5), theme.color("ink"))


def _draw_late(painter: QPainter, rect: QRectF, fraction: float, theme: Theme) -> None:
    color = theme.color("onbrick")
    _draw_track(painter, rect, color, theme)
    mark = rect.left() + rect.width() * LATE_MARK
    _fill(painter, rect, LATE_MARK, color, theme)
    over = min(max(fraction - 1.0, 0.0) * LATE_MARK, 1 - LATE_MARK)
    past = QRectF(mark, rect.top(), rect.width() * over, rect.height())
    draw_hatch(painter, past, color, theme.px(1.6), theme.px(4.5))
    reach = theme.px(4)
    line = QRectF(mark - theme.px(1), rect.top() - reach, theme.px(2.5), rect.height() + 2 * reach)
    painter.fillRect(line, color)


def _draw_track(painter: QPainter, rect: QRectF, color: QColor, theme: Theme) -> None:
    draw_outline(painter, rect, rect.height() / 2.6, theme.px(1.5), color)


def _fill(painter: QPainter, rect: QRectF, part: float, color: QColor, theme: Theme) -> None:
    if part <= 0:
        return
    done = QRectF(rect.left(), rect.top(), max(rect.width() * part, theme.px(3)), rect.height())
    painter.save()
    painter.setClipRect(done)
    painter.fillPath(rounded(rect, rect.height() / 2.6), color)
    painter.restore()
