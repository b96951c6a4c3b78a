"""Spreading work over processes or machines: one port, whatever stands behind it.

A task is bytes in and bytes out. It carries all it needs, so that it can be done anywhere and
again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Protocol

Work = Callable[[bytes], bytes]
"""What is done with a task; named by its module, so that another process finds it."""
MOST_TIMES = 3
"""How often a task is begun whose worker died."""


@dataclass(frozen=True, slots=True)
class Task:
    """One piece of work.

    Parameters
    ----------
    key : str
        What it is, once among all.
    content : bytes
        All that it needs.
    is_long : bool
        Whether it takes seconds, so that it is passed on by itself.
    """

    key: str
    content: bytes
    is_long: bool = False


@dataclass(frozen=True, slots=True)
class Done:
    """What came of a task.

    Parameters
    ----------
    key : str
        Which task.
    result : bytes or None
        What came of it; None where it could not be done.
    reason : str
        Why not, in words; empty where it was.
    """

    key: str
    result: bytes | None
    reason: str = ""


class Spread(Protocol):
    """Workers that tasks are spread over."""

    @property
    def width(self) -> int:
        """How many tasks are done at once."""

    def each(self, work: Work, tasks: Iterable[Task]) -> Iterator[Done | None]:
        """Do tasks, each as soon as a worker is free; gives what came of them as it comes.

        Tasks are asked for only shortly before they are begun. One that fails stops no other.
        None is given about once a second, also while nothing comes, so that leases can be renewed.

        Parameters
        ----------
        work : callable
            What is done with each.
        tasks : iterable of Task
            The tasks.
        """

    def close(self) -> None:
        """Let the workers go."""


def in_words(slip: BaseException) -> str:
    """Say why a task failed."""
    return f"{type(slip).__name__}: {slip}"[:2000]
