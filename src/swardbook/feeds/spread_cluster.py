"""Workers of a Dask cluster: on this machine, bound to itself, or wherever its scheduler is."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from importlib.util import find_spec
from typing import Any

from swardbook.feeds.spread import Done, Task, Work, in_words
from swardbook.foundation.errors import BadInputError, RefusedError

SECONDS = 1.0
AHEAD = 2
"""Bundles under way for each worker, so that none waits for the next."""
TOGETHER = 4
"""Short tasks that are passed on as one: passing on costs as much as a tenth of a lawn."""
HERE = "here"
"""Instead of an address: a cluster on this machine, for as long as it is used."""


@dataclass
class SpreadCluster:
    """Tasks over workers of a Dask cluster.

    Only workers that say they are of one kind are given tasks. A worker says so by a resource, so
    that one which comes later, or comes back, is judged like those that were there.

    Parameters
    ----------
    client : Client
        Of the cluster.
    kind : str
        The kind of worker that may do the tasks.
    cluster : object or None
        The cluster, where it is to be ended too.
    """

    client: Any
    kind: str
    cluster: Any = None
    _refused: dict[str, Any] = field(default_factory=dict, repr=False)

    @property
    def width(self) -> int:
        """How many workers of the kind there are."""
        return len(self._like())

    def _like(self) -> list[str]:
        workers = self.client.scheduler_info(n_workers=-1)["workers"]
        return [
            address for address, about in workers.items()
            if resource_of(self.kind) in about.get("resources", {})
        ]  # fmt: skip

    def ask_all(self, question: Callable[[], Any]) -> Mapping[str, Any]:
        """Ask every worker the same, whatever its kind; an answer that fails is its exception."""
        found: Mapping[str, Any] = self.client.run(question, on_error="return")
        return found

    def each(self, work: Work, tasks: Iterable[Task]) -> Iterator[Done | None]:
        """Do tasks as they are asked for; see `Spread`.

        A task whose worker died may be blamed on it though a neighbour was to blame: those are
        done again at the end, one by one.
        """
        waiting, under_way, alone = _bundles(tasks), dict[Any, list[Task]](), list[Task]()
        told, width = time.monotonic(), self.width
        while True:
            room = AHEAD * max(width, 1) - len(under_way)
            for _, bundle in zip(range(room), waiting, strict=False):
                under_way[self._sent(work, bundle)] = bundle
            if not under_way:
                break
            for future in self._finished(list(under_way)):
                bundle = under_way.pop(future)
                found = _done(future, bundle)
                future.release()
                alone += bundle if found is None else []
                yield from found or []
            if time.monotonic() - told >= SECONDS:
                told, width = time.monotonic(), self.width  # asking takes as long as a small task
                yield None
        for task in alone:
            yield from self._by_itself(work, task)

    def _sent(self, work: Work, bundle: list[Task]) -> Any:
        return self.client.submit(
            _do, work, [task.content for task in bundle],
            # the first word is what the scheduler knows how long it takes by
            key=f"{'long' if bundle[0].is_long else 'short'}-{time.monotonic_ns()}",
            pure=False, retries=2,
            resources={resource_of(self.kind): 1},
        )  # fmt: skip

    def _finished(self, futures: list[Any]) -> list[Any]:
        from distributed import wait

        try:
            wait(futures, SECONDS, "FIRST_COMPLETED")  # type: ignore[no-untyped-call]
        except TimeoutError:
            if self.client.status != "running":
                raise _gone(self.client) from None
            return []
        return [each for each in futures if each.done()]

    def _by_itself(self, work: Work, task: Task) -> Iterator[Done | None]:
        future = self._sent(work, [task])
        while not self._finished([future]):
            yield None
        found = _done(future, [task])
        future.release()
        yield from found or [
            Done(task.key, None, "its worker died each time, also when it was alone")
        ]

    def close(self) -> None:
        """Leave the cluster, and end it where it was begun for this."""
        self.client.close()
        if self.cluster is not None:
            self.cluster.close()


def join(address: str, kind: str, processes: int) -> SpreadCluster:
    """Join a cluster, or begin one on this machine.

    Parameters
    ----------
    address : str
        Address of its scheduler, such as ``tcp://10.0.0.4:8786``, or ``here``.
    kind : str
        The kind of worker that may do the tasks.
    processes : int
        How many workers, for ``here``.

    Raises
    ------
    BadInputError
        If what clusters need is not installed, or nobody answers at the address.
    """
    require_cluster()
    from distributed import Client, LocalCluster

    _watch_no_stacks()
    if address == HERE:
        cluster = LocalCluster(  # type: ignore[no-untyped-call]
            n_workers=processes, threads_per_worker=1, host="127.0.0.1",
            dashboard_address="127.0.0.1:0",  # any port that is free
            resources={resource_of(kind): 1}, memory_limit=0,
        )  # fmt: skip
        return SpreadCluster(Client(cluster), kind, cluster)  # type: ignore[no-untyped-call]
    try:
        client = Client(address, timeout=20)  # type: ignore[no-untyped-call]
    except (OSError, ValueError) as slip:
        raise BadInputError(
            "--cluster", address, "the address of a scheduler that is running",
            "Begin one with: dask scheduler --host 127.0.0.1 --no-dashboard",
        ) from slip  # fmt: skip
    return SpreadCluster(client, kind)


def require_cluster() -> None:
    """Make sure that what clusters need is installed.

    Raises
    ------
    BadInputError
        If it is not.
    """
    if find_spec("distributed") is None:
        raise BadInputError(
            "--cluster", "an address", "nothing, until what clusters need is there",
            "Install it with: pip install 'swardbook[cluster]'",
        )  # fmt: skip


def serve_cluster(address: str, kind: str, name: str, most_seconds: float | None = None) -> int:
    """Be a worker of a cluster until it ends; a process that dies is begun anew.

    Parameters
    ----------
    address : str
        Address of its scheduler.
    kind : str
        The kind that this worker is.
    name : str
        What it is called; empty: by its address.
    most_seconds : float or None
        Leave after so long; None: never. [s]

    Returns
    -------
    int
        Exit code.
    """
    require_cluster()
    import asyncio

    from distributed import Nanny

    _watch_no_stacks()

    async def serve() -> int:
        about: dict[str, Any] = {"name": name} if name else {}
        host = "127.0.0.1" if "127.0.0.1" in address else None
        try:
            nanny = await Nanny(
                address, nthreads=1, resources={resource_of(kind): 1}, memory_limit=0,
                host=host, dashboard=False, **about,
            )  # fmt: skip
        except (OSError, TimeoutError) as slip:
            raise BadInputError(
                "--cluster", address, "the address of a scheduler that is running"
            ) from slip
        try:
            await asyncio.wait_for(nanny.finished(), most_seconds)
        except TimeoutError:
            await nanny.close()
        return 0

    return asyncio.run(serve())


def _watch_no_stacks() -> None:
    """Let no worker note where its program stands each hundredth of a second: that adds up."""
    import dask

    dask.config.set({"distributed.worker.profile.enabled": False})


def resource_of(kind: str) -> str:
    """Name the resource by which a worker says of which kind it is."""
    return f"swardbook-{kind}"


def _bundles(tasks: Iterable[Task]) -> Iterator[list[Task]]:
    """Put short tasks together; a long one goes by itself."""
    bundle: list[Task] = []
    for task in tasks:
        if task.is_long:
            yield [task]
            continue
        bundle.append(task)
        if len(bundle) == TOGETHER:
            yield bundle
            bundle = []
    if bundle:
        yield bundle


def _do(work: Work, contents: list[bytes]) -> list[tuple[bytes | None, str]]:
    """Do tasks one after another; one that fails stops none of the others."""
    found: list[tuple[bytes | None, str]] = []
    for content in contents:
        try:
            found.append((work(content), ""))
        except Exception as slip:
            found.append((None, in_words(slip)))
    return found


def _done(future: Any, bundle: list[Task]) -> list[Done] | None:
    """Read what came of tasks; None where their worker died."""
    from distributed import KilledWorker

    if future.status == "finished":
        told = zip(bundle, future.result(), strict=True)
        return [Done(task.key, result, reason) for task, (result, reason) in told]
    slip = future.exception() if future.status == "error" else None
    if slip is None or isinstance(slip, KilledWorker):
        return None
    return [Done(task.key, None, in_words(slip)) for task in bundle]


def _gone(client: Any) -> RefusedError:
    return RefusedError(
        "The night was stopped", f"the cluster at {client.scheduler} is gone.",
        "Run it again: it goes on where it was.",
    )  # fmt: skip
