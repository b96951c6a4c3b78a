"""What is being worked on, told on standard error while one waits."""

from __future__ import annotations

import sys
from collections.abc import Callable

import click


def at_once(what: str) -> None:
    """Say at a terminal, before anything is loaded, what is being worked on.

    Parameters
    ----------
    what : str
        What takes a few seconds.
    """
    if sys.stderr is not None and sys.stderr.isatty():
        click.echo(f"Working: {what} ...", err=True)


def progress() -> Callable[[str], None]:
    """Tell on standard error what is being worked on, once a second has gone by."""
    from time import monotonic

    begun = monotonic()

    def tell(words: str) -> None:
        if monotonic() - begun > 1 or words.startswith("Preparing"):
            click.echo(f"{words[0].upper()}{words[1:].rstrip('.')} ...", err=True)

    return tell
