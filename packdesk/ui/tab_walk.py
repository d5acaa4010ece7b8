"""Where the Tab key goes next: through the page in reading order, then round the window's parts."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget

from packdesk.ui.pages.options import OptionButton


def walk(window: QWidget, shown: QWidget, *, forward: bool) -> bool:
    """Give the focus to the next stop, or the one before; whether there is one.

    Qt walks widgets in the order in which they were made, which on a page whose rows come and go
    is no order at all. `shown` is the page, or the view, whose stops are walked as they lie. A
    stop that is scrolled away is brought into sight.
    """
    stops = tab_stops(window, shown)
    if not stops:
        return False
    focus = QApplication.focusWidget()
    at = stops.index(focus) if focus in stops else -1 if forward else 0
    target = stops[(at + (1 if forward else -1)) % len(stops)]
    reason = Qt.FocusReason.TabFocusReason if forward else Qt.FocusReason.BacktabFocusReason
    target.setFocus(reason)
    _bring_into_sight(target)
    return True


def tab_stops(window: QWidget, shown: QWidget) -> list[QWidget]:
    """Every stop of the Tab key: those of `shown` in reading order, then the others."""
    stops, widget = [], window.nextInFocusChain()
    while widget is not window:
        if _is_stop(widget):
            stops.append(widget)
        widget = widget.nextInFocusChain()
    inside = [each for each in stops if shown.isAncestorOf(each)]
    others = [each for each in stops if not shown.isAncestorOf(each)]
    return [*sorted(inside, key=lambda each: _reading_place(shown, each)), *others]


def _is_stop(widget: QWidget) -> bool:
    """Of a row of choices only the one chosen is a stop; arrow keys walk the others."""
    if not (widget.isVisible() and widget.isEnabled() and widget.focusProxy() is None):
        return False
    if isinstance(widget, OptionButton) and not widget.isChecked():
        return False
    return bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)


def _reading_place(shown: QWidget, widget: QWidget) -> tuple[int, int]:
    """From the top, as if nothing were scrolled."""
    corner = QPoint(0, 0)
    while widget is not shown:
        parent = widget.parentWidget()
        if not _is_scrolled_in(parent):
            corner += widget.pos()
        widget = parent
    return corner.y(), corner.x()


def _is_scrolled_in(view: QWidget) -> bool:
    return isinstance(view.parentWidget(), QScrollArea)


def _bring_into_sight(widget: QWidget) -> None:
    """Scroll each area that the widget lies in until it shows."""
    parent = widget.parentWidget()
    while parent is not None:
        if isinstance(parent, QScrollArea):
            parent.ensureWidgetVisible(widget)
        parent = parent.parentWidget()
