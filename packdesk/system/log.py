"""Where is it written down when something goes wrong inside the program?"""

from __future__ import annotations

import logging
import sys
import threading
import time
from collections.abc import Callable
from logging.handlers import RotatingFileHandler
from pathlib import Path
from types import TracebackType

FILE_NAME = "packdesk.log"
LARGEST_BYTES = 512_000
OLDER_KEPT = 3


class Log:
    """A log file of bounded size, and the last resort for errors that nobody caught.

    A log that cannot be written never stops the program: `trouble` then says so.
    """

    def __init__(self, folder: Path) -> None:
        self.file = folder / FILE_NAME
        self.trouble = ""
        self._handler: logging.Handler = logging.NullHandler()
        self._hooks = (sys.excepthook, threading.excepthook)
        self._say: Callable[[str], None] | None = None
        try:
            self._handler = RotatingFileHandler(
                self.file, maxBytes=LARGEST_BYTES, backupCount=OLDER_KEPT, encoding="utf-8"
            )
        except OSError as fault:
            self.trouble = f"The log {self.file} cannot be written: {fault.strerror or fault}."
        lines = logging.Formatter("%(asctime)sZ %(levelname)s %(name)s: %(message)s")
        lines.converter = time.gmtime
        self._handler.setFormatter(lines)
        self._logger = logging.getLogger("packdesk")
        self._level = self._logger.level
        self._logger.addHandler(self._handler)
        self._logger.setLevel(logging.INFO)

    def catch_uncaught(self, say: Callable[[str], None]) -> None:
        """From now on write down every error that nobody caught, and `say` a sentence about it."""
        self._say = say
        sys.excepthook = self._uncaught
        threading.excepthook = self._uncaught_in_thread

    def close(self) -> None:
        """Give back the hooks of the interpreter and close the file."""
        if self._say is not None:
            sys.excepthook, threading.excepthook = self._hooks
            self._say = None
        self._logger.removeHandler(self._handler)
        self._logger.setLevel(self._level)
        self._handler.close()

    def _uncaught(
        self, kind: type[BaseException], fault: BaseException, trace: TracebackType | None
    ) -> None:
        if not issubclass(kind, Exception):  # Ctrl-C and exit are no faults
            self._hooks[0](kind, fault, trace)
            return
        self._logger.error("not caught", exc_info=(kind, fault, trace))
        say = self._say
        if say is not None:
            say(apology(fault, self.file, written=not self.trouble))

    def _uncaught_in_thread(self, args: threading.ExceptHookArgs) -> None:
        if args.exc_value is not None:
            self._uncaught(args.exc_type, args.exc_value, args.exc_traceback)


def apology(fault: BaseException, file: Path, *, written: bool) -> str:
    """What a person is told when PackDesk itself made a mistake."""
    where = f" The details are in {file}." if written else ""
    return (
        f"PackDesk made a mistake ({type(fault).__name__}: {fault}). "
        f"Everything that was shown as saved is in the record.{where}"
    )
