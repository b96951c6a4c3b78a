"""A PostgreSQL server of its own for a run of tests: made, started and thrown away again.

``python -m tools.postgres`` runs the tests of the records, and a core of those of the book, the
commands and the pages, on it. It needs Debian's package ``postgresql`` (or another that has
``initdb`` and ``pg_ctl``); without it, it says so and fails.
"""

from __future__ import annotations

import os
import pwd
import shutil
import socket
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

TESTS = (
    "tests/unit/records",
    "tests/unit/book/test_moving.py",
    "tests/unit/book/test_copying.py",
    "tests/cli/test_people.py",
    "tests/cli/test_many_grounds.py",
    "tests/web/test_done.py",
    "tests/web/test_desk.py",
    "tests/web/test_letting_in.py",
)
"""What runs on it."""
OF_FILES = (
    "tests/unit/records/test_damage.py",
    "tests/unit/records/test_old_books.py",
    "tests/unit/records/test_peek.py",
)
"""Tests of what only a file can suffer; they run on files anyway."""
_NOT_HERE = (
    "tests/cli/test_many_grounds.py::test_a_ground_goes_out_and_comes_in_beside_others",
    "tests/web/test_letting_in.py::test_from_no_book_to_a_second_pair_of_hands",
    "tests/web/test_desk.py::"
    "test_the_settings_say_how_safe_copies_stand_and_ask_for_none_of_a_made_up_ground",
)
"""Tests that make a second book in another folder, which here would be the same database; and one
of a made-up book in a file: of a server's book copies are asked for whatever is in it."""
_QUICK = "-c fsync=off -c synchronous_commit=off -c full_page_writes=off"
"""Good for tests alone: nothing of it must outlast a power cut."""
_OTHERS = ("postgres", "nobody")


def programs() -> Path | None:
    """Find the folder of ``initdb`` and ``pg_ctl``; the newest, where there are several."""
    found = sorted(
        Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda each: int(each.parts[-3])
    )
    if found:
        return found[-1].parent
    there = shutil.which("initdb")
    return Path(there).parent if there else None


@contextmanager
def server(options: str = _QUICK) -> Iterator[str]:
    """Give the address of a server's database ``postgres``; it is gone at the end.

    Parameters
    ----------
    options : str
        Options of the server, besides where it listens.

    Raises
    ------
    FileNotFoundError
        If there is no PostgreSQL here.
    """
    where = programs()
    if where is None:
        raise FileNotFoundError("PostgreSQL is not here: install Debian's package postgresql.")
    user = _unprivileged()
    with tempfile.TemporaryDirectory(prefix="swardbook-server-") as folder:
        data = Path(folder) / "data"
        if user is not None:
            os.chown(folder, user.pw_uid, user.pw_gid)
        _call([where / "initdb", "-D", data, "-U", "postgres", "-A", "trust", "-E", "UTF8",
               "--locale=C", "--no-sync"], user)  # fmt: skip
        port = free_port()
        listens = f"-c listen_addresses=127.0.0.1 -c port={port} -k {folder} {options}"
        control = [where / "pg_ctl", "-D", data, "-w", "-l", Path(folder) / "log"]
        _call([*control, "-t", "120", "-o", listens, "start"], user)
        try:
            yield f"postgresql://postgres@127.0.0.1:{port}/postgres"
        finally:
            _call([*control, "-m", "immediate", "stop"], user)


def _unprivileged() -> pwd.struct_passwd | None:
    """Give whom the server runs as: it refuses to run as root."""
    if os.geteuid() != 0:
        return None
    for name in _OTHERS:
        try:
            return pwd.getpwnam(name)
        except KeyError:
            continue
    raise LookupError("PostgreSQL does not run as root, and there is no other user here.")


def _call(command: Sequence[object], user: pwd.struct_passwd | None) -> None:
    as_whom = {} if user is None else {"user": user.pw_uid, "group": user.pw_gid}
    done = subprocess.run(
        [str(each) for each in command], capture_output=True, text=True, check=False, cwd="/",
        **as_whom,  # type: ignore[call-overload]
    )  # fmt: skip
    if done.returncode:
        raise RuntimeError(f"{command[0]}: {done.stdout}{done.stderr}")


def free_port() -> int:
    """Find a port of this machine that nothing listens on."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


def main(given: Sequence[str]) -> int:
    """Run the tests on a server of their own."""
    with server() as address:
        chosen = [*TESTS, *(f"--ignore={each}" for each in OF_FILES),
                  *(f"--deselect={each}" for each in _NOT_HERE)]  # fmt: skip
        command = [sys.executable, "-m", "pytest", "-q", *(given or chosen)]
        environment = {**os.environ, "SWARDBOOK_TEST_DATABASE": address}
        return subprocess.call(command, env=environment)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
