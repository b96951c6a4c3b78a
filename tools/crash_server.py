"""A PostgreSQL of one's own for crash runs: begun in a temporary folder, crashed, begun again."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

import psycopg

from tools.postgres import free_port, programs


@dataclass(frozen=True, slots=True)
class Served:
    """A server that is running.

    Parameters
    ----------
    folder : Path
        Where its data are.
    programs : Path
        Where its programs are.
    port : int
        Its port on the loopback.
    """

    folder: Path
    programs: Path
    port: int

    @property
    def address(self) -> str:
        """Where it is reached, without a database."""
        return f"postgresql://keeper@127.0.0.1:{self.port}"

    def begin(self) -> None:
        """Begin it and wait until it answers; after a crash it recovers first."""
        as_own(
            [self.programs / "pg_ctl", "-D", self.folder / "data", "-w", "-t", "120", "-l",
             self.folder / "lines", "-o", f"-p {self.port} -c listen_addresses=127.0.0.1"
             f" -c unix_socket_directories={self.folder}", "start"]
        )  # fmt: skip

    def crash(self) -> None:
        """Stop it at once, as when the power goes: nothing is tidied up."""
        as_own([self.programs / "pg_ctl", "-D", self.folder / "data", "-m", "immediate", "stop"])


def as_own(words: list[object]) -> None:
    """Run a program as somebody who may own a server: never as root."""
    command = [str(word) for word in words]
    if os.getuid() == 0:
        command = ["setpriv", "--reuid=nobody", "--regid=nogroup", "--clear-groups", *command]
    environment = {name: text for name, text in os.environ.items() if not name.startswith("PG")}
    subprocess.run(command, check=True, env=environment, stdout=subprocess.DEVNULL, cwd="/")


@contextmanager
def cluster() -> Iterator[Served]:
    """Begin an empty server in a temporary folder, and take it away at the end.

    Raises
    ------
    RuntimeError
        If no server is installed.
    """
    there = programs()
    if there is None:
        raise RuntimeError("No PostgreSQL is installed here: apt install postgresql")
    with tempfile.TemporaryDirectory(prefix="crash-server-") as name:
        folder = Path(name)
        if os.getuid() == 0:
            shutil.chown(folder, "nobody", "nogroup")
        port = free_port()
        as_own(
            [there / "initdb", "-D", folder / "data", "-U", "keeper", "-A", "trust", "-E", "UTF8",
             "--locale=C.UTF-8"]
        )  # fmt: skip
        served = Served(folder, there, port)
        served.begin()
        try:
            yield served
        finally:
            with suppress(subprocess.CalledProcessError):
                served.crash()


def fresh_database(served: Served, name: str = "book") -> str:
    """Make an empty database and give its address."""
    with psycopg.connect(f"{served.address}/postgres", autocommit=True) as opened:
        opened.execute(f'CREATE DATABASE "{name}"')
    return f"{served.address}/{name}"
