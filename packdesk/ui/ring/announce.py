"""Tells assistive technology and the task bar that something rings."""

from __future__ import annotations

from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QApplication, QWidget


def announce(widget: QWidget, words: str) -> None:
    """Have `words` spoken at once by whatever reads the screen to the person."""
    event = QAccessibleAnnouncementEvent(widget, words)
    event.setPoliteness(QAccessible.AnnouncementPoliteness.Assertive)
    QAccessible.updateAccessibility(event)


def mark_window(widget: QWidget) -> None:
    """Mark the window in the task bar until it is looked at; a desktop may not let it come up."""
    QApplication.alert(widget.window())
