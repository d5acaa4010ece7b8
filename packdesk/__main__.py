"""Starts PackDesk from the command line."""

from __future__ import annotations

import sys

from packdesk.app.command_line import main

if __name__ == "__main__":
    sys.exit(main())
