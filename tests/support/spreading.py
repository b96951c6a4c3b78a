"""Work for tests of spreading it, and workers that are no processes."""

import os
import signal
from collections.abc import Iterable, Iterator
from pathlib import Path

from swardbook.feeds.spread import Done, Task, Work, in_words


def doubled(content: bytes) -> bytes:
    """Give the content twice, and say who did it."""
    return content + content


def who(content: bytes) -> bytes:
    """Name the process."""
    return content + str(os.getpid()).encode()


def refused(content: bytes) -> bytes:
    """Fail at one content."""
    if content == b"bad":
        raise ValueError("no good")
    return content


def killed(content: bytes) -> bytes:
    """Die without a word at a content that names a file, and the file is taken away: once."""
    path = Path(content.decode())
    if path.exists():
        path.unlink()
        os.kill(os.getpid(), signal.SIGKILL)
    return content


def always_killed(content: bytes) -> bytes:
    """Die at one content, each time."""
    if content == b"bad":
        os.kill(os.getpid(), signal.SIGKILL)
    return content


class InPlace:
    """Does tasks where it is, one by one."""

    width = 1

    def each(self, work: Work, tasks: Iterable[Task]) -> Iterator[Done | None]:
        """Do them."""
        for task in tasks:
            try:
                yield Done(task.key, work(task.content))
            except Exception as slip:
                yield Done(task.key, None, in_words(slip))
            yield None

    def close(self) -> None:
        """Let nobody go."""
