"""While pages are served, a process of its own makes the day's safe copy."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime

from swardbook.book.copying import is_due
from swardbook.settings import Settings

FIRST_S = 60.0
"""How long the pages are served before it is first looked at. [s]"""
EVERY_S = 900.0
"""How often it is looked at whether a copy is due. [s]"""
AGAIN_S = 3600.0
"""How long it is left alone after a copy that failed. [s]"""
BEHIND_PAGES = 10
"""How far behind pages and people the making of a copy stands, as the system counts it."""

Maker = Callable[[], bool]


def begin(settings: Settings) -> None:
    """Begin to look now and then, beside the pages; ends with them."""
    threading.Thread(target=_watch, args=(settings,), daemon=True, name="copies").start()


def make_if_due(settings: Settings, now: datetime, make: Maker) -> bool:
    """Make the day's copy if it is due; tells whether all is well.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    now : datetime
        The time, with its zone.
    make : callable
        Makes it, and tells whether that went well.
    """
    return make() if is_due(settings, now) else True


def make_apart() -> bool:
    """Make the day's copy in a process of its own, so that no page waits for it.

    Another process that does the same holds the lease meanwhile; then this one does nothing.
    """
    command = [sys.executable, "-m", "swardbook", "copy", "--daily"]
    made = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)
    if hasattr(os, "setpriority"):
        with suppress(OSError):  # it is done already
            os.setpriority(os.PRIO_PROCESS, made.pid, BEHIND_PAGES)
    _, slip = made.communicate()
    if made.returncode:
        sys.stderr.write(f"The day's copy was not made. {slip.strip()}\n")
        sys.stderr.flush()
    return made.returncode == 0


def _watch(settings: Settings) -> None:
    time.sleep(FIRST_S)
    while True:
        went_well = make_if_due(settings, datetime.now().astimezone(), make_apart)
        time.sleep(EVERY_S if went_well else AGAIN_S)
