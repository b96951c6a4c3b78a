"""Workers of the night: processes of this machine, or a cluster's that are of its kind."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from functools import partial
from typing import Any

from swardbook.book.compiled import kernel_of
from swardbook.book.machine_kind import MachineKind, machine_kind
from swardbook.feeds.spread import Spread
from swardbook.feeds.spread_cluster import join, require_cluster, serve_cluster
from swardbook.feeds.spread_here import SpreadHere
from swardbook.foundation.errors import RefusedError
from swardbook.settings import Settings


@contextmanager
def spread_over(
    settings: Settings, cluster: str, processes: int
) -> Iterator[tuple[Spread, tuple[str, ...]]]:
    """Give the workers of a round, and those that are of another kind, with what they differ in.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    cluster : str
        Address of a cluster's scheduler, or ``here``; empty: processes of our own.
    processes : int
        How many, where they are begun here.

    Raises
    ------
    BadInputError
        If nobody answers at the address, or what clusters need is not installed.
    RefusedError
        If no worker there is of the kind of this machine.
    """
    if not cluster:
        here = SpreadHere(processes)
        try:
            yield here, ()
        finally:
            here.close()
        return
    kind = machine_kind(settings.strict)
    joined = join(cluster, kind.mark, processes)
    try:
        there = joined.ask_all(partial(machine_kind, settings.strict))
        refused = _unlike(kind, there)
        if not joined.width:
            begun = "they were begun with another SWARDBOOK_STRICT" if there else "it has none"
            told = "; ".join(refused) or begun
            raise RefusedError(
                "The night was not begun", f"no worker at {cluster} is of this machine's kind:"
                f" {told}.", "Begin workers with: swardbook worker --cluster ADDRESS",
            )  # fmt: skip
        yield joined, refused
    finally:
        joined.close()


def lend(settings: Settings, cluster: str, tell: Callable[[str], None]) -> int:
    """Work for the scheduler of a cluster until it ends; gives the exit code.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    cluster : str
        Address of the scheduler.
    tell : callable
        Told in words when the model is compiled.
    """
    require_cluster()
    kernel_of(settings, tell)
    return serve_cluster(cluster, machine_kind(settings.strict).mark, "")


def _unlike(ours: MachineKind, told: Mapping[str, Any]) -> tuple[str, ...]:
    found = []
    for address, theirs in sorted(told.items()):
        if not isinstance(theirs, MachineKind):
            found.append(f"{address}: it cannot run swardbook ({theirs})")
        elif words := ours.unlike(theirs):
            found.append(f"{address}: {', '.join(words)}")
    return tuple(found)
