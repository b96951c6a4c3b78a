"""How much room the terminal has; costs nothing to ask."""

from __future__ import annotations

import os
import sys

WIDTH = 80
"""Columns where the answer does not go to a terminal."""
NARROWEST = 30


def is_terminal() -> bool:
    """Tell whether the answer goes to a terminal."""
    return sys.stdout is not None and sys.stdout.isatty()


def columns() -> int:
    """Give the columns there are: those that the environment says, the terminal's, or 80."""
    said = os.environ.get("COLUMNS", "")
    found = int(said) if said.isdecimal() else 0
    if not found and (said.isdecimal() or is_terminal()):
        try:
            found = os.get_terminal_size(1).columns
        except OSError:
            found = 0
    return max(NARROWEST, found or WIDTH)
