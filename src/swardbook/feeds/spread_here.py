"""Workers on this machine: processes of our own. One that dies is begun anew; its task too."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from multiprocessing import get_context
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from typing import Any

from swardbook.feeds.spread import MOST_TIMES, Done, Task, Work, in_words

SECONDS = 1.0
_ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")


@dataclass
class _Worker:
    """One process, and the task it has."""

    process: BaseProcess
    pipe: Connection
    task: Task | None = None


@dataclass
class SpreadHere:
    """Tasks over processes of this machine.

    Parameters
    ----------
    width : int
        How many processes.
    """

    width: int
    _workers: list[_Worker] = field(default_factory=list, repr=False)

    def each(self, work: Work, tasks: Iterable[Task]) -> Iterator[Done | None]:
        """Do tasks as they are asked for; see `Spread`."""
        waiting, again, begun = iter(tasks), list[Task](), dict[str, int]()
        try:
            while True:
                while len(self._workers) < self.width:
                    self._workers.append(_started(work))
                for worker in self._workers:
                    if worker.task is None and (task := _next(again, waiting)) is not None:
                        begun[task.key] = begun.get(task.key, 0) + 1
                        worker.task = task
                        with suppress(OSError):  # one that is gone is found below
                            worker.pipe.send_bytes(task.content)
                if not any(worker.task for worker in self._workers):
                    return
                yield from self._come(again, begun)
                yield None
        finally:
            self.close()

    def _come(self, again: list[Task], begun: dict[str, int]) -> Iterator[Done]:
        """Wait a second for results, and begin dead workers anew."""
        busy: list[Any] = [each.pipe for each in self._workers if each.task]
        wait([*busy, *(each.process.sentinel for each in self._workers)], SECONDS)
        for worker in list(self._workers):
            found = _received(worker)
            if found is not None:
                begun.pop(found.key, None)
                worker.task = None
                yield found
            elif not worker.process.is_alive():
                lost = worker.task
                self._workers.remove(worker)
                _ended(worker)
                if lost is not None and begun[lost.key] < MOST_TIMES:
                    again.append(lost)
                elif lost is not None:
                    yield Done(lost.key, None, f"its process died {MOST_TIMES} times")

    def close(self) -> None:
        """End the processes."""
        for worker in self._workers:
            worker.process.kill()
        for worker in self._workers:
            _ended(worker)
        self._workers.clear()


def _next(again: list[Task], waiting: Iterator[Task]) -> Task | None:
    return again.pop(0) if again else next(waiting, None)


def _received(worker: _Worker) -> Done | None:
    """Take a result from the pipe; one that was sent whole counts, also of a process now dead."""
    if worker.task is None:
        return None
    try:
        if not worker.pipe.poll():
            return None
        is_well, told = worker.pipe.recv()
    except (EOFError, OSError):
        return None
    return Done(worker.task.key, told) if is_well else Done(worker.task.key, None, told)


def _started(work: Work) -> _Worker:
    context = get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=_serve, args=(theirs, work), daemon=True)
    before = {name: os.environ.get(name) for name in _ONE_THREAD}
    os.environ.update(dict.fromkeys(_ONE_THREAD, "1"))
    try:
        process.start()
    finally:
        for name, value in before.items():
            os.environ.pop(name) if value is None else os.environ.update({name: value})
    theirs.close()
    return _Worker(process, ours)


def _ended(worker: _Worker) -> None:
    worker.process.join()
    worker.process.close()
    worker.pipe.close()


def _serve(pipe: Connection, work: Work) -> None:
    """Do what comes through the pipe, until it is closed."""
    while True:
        try:
            content = pipe.recv_bytes()
        except (EOFError, OSError, KeyboardInterrupt):
            return
        try:
            answer: tuple[bool, Any] = (True, work(content))
        except Exception as slip:
            answer = (False, in_words(slip))
        try:
            pipe.send(answer)
        except (OSError, KeyboardInterrupt):
            return
