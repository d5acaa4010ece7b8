"""Starts the window: the application, our type and theme, the session used last.

`open_window` is all that the rooms above need.
"""

from __future__ import annotations

import sys
from collections.abc import Callable

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from packdesk.desk.desk import Desk
from packdesk.desk.ports import Tools
from packdesk.ui.looks import kept_palette, kept_percent
from packdesk.ui.theme.choice import PaletteChoice
from packdesk.ui.theme.dress import Dress
from packdesk.ui.theme.faces import load_faces
from packdesk.ui.theme.theme import Theme
from packdesk.ui.window import Window

FIRST_SIZE = (1366, 768)

Say = Callable[[str], None]


def open_window(
    desk: Desk,
    tools: Tools,
    *,
    palette: str = "",
    catch: Callable[[Say], None] | None = None,
) -> int:
    """Open the window on `desk` and stay until it is closed; the exit status.

    The session used last is gone on with where it was, unless it is closed. `palette` is one of
    `PaletteChoice`, for this time; empty: the one chosen in the window. `catch` is handed a way to
    say a sentence in the window, and uses it when an error was caught by nobody (the log's
    `catch_uncaught`).
    """
    app = QApplication.instance() or QApplication(sys.argv[:1])
    app.setApplicationName("PackDesk")
    app.setDesktopFileName("packdesk")
    theme = Theme(load_faces())
    settings = tools.choices.settings
    theme.set_text_percent(kept_percent(settings))
    dress = Dress(app, theme, PaletteChoice(palette) if palette else kept_palette(settings))
    resume_last(desk)
    window = Window(desk, tools, theme, dress=dress)
    if catch is not None:
        catch(window.say)
    window.resize(*FIRST_SIZE)
    screen = app.primaryScreen()
    if screen is not None:
        theme.follow_screen(screen)
        free = screen.availableGeometry()
        # Also where nothing on this desktop makes a window as large as its screen.
        window.resize(min(FIRST_SIZE[0], free.width()), min(FIRST_SIZE[1], free.height()))
        if free.width() <= FIRST_SIZE[0] or free.height() <= FIRST_SIZE[1]:
            window.setWindowState(window.windowState() | window.windowState().WindowMaximized)
    window.afar.fills_screen = True
    window.closing.asks = True
    window.show()
    window.heartbeat.start()
    QTimer.singleShot(0, window, window.heartbeat.tick)
    return app.exec()


def resume_last(desk: Desk) -> None:
    """Go on with the session used last, unless it is closed or none is there."""
    heads = desk.sessions()
    if heads and not heads[0].closed:
        desk.resume(heads[0].session)
