"""The answers that can be kept: what works each out, what it is used for, what it rests on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.tables import read_toml_table

_NEEDED = {"command", "used_for", "jobs", "section", "rests_on", "done_by"}


@dataclass(frozen=True, slots=True)
class KeptQuestion:
    """A question whose answer can be kept.

    Parameters
    ----------
    about : str
        Its name in the diary.
    command : str
        The command that works it out.
    used_for : str
        What its kept answer is used for.
    jobs : tuple of str
        Jobs of the week that it stands beside.
    section : str
        Section of the morning look that it stands in; empty for none.
    rests_on : tuple of str
        Facts that age it when they change.
    done_by : tuple of str
        Kinds of work that end it.
    """

    about: str
    command: str
    used_for: str
    jobs: tuple[str, ...]
    section: str
    rests_on: tuple[str, ...]
    done_by: tuple[str, ...]


@cache
def kept_questions() -> Mapping[str, KeptQuestion]:
    """Read every question whose answer can be kept, by its name in the diary.

    Raises
    ------
    BadInputError
        If an entry is incomplete.
    """
    file = files("swardbook.handbook") / "data" / "kept_answers.toml"
    found = {}
    for about, entry in read_toml_table(file).items():
        if set(entry) != _NEEDED:
            raise BadInputError(f"kept_answers.toml [{about}]", entry, ", ".join(sorted(_NEEDED)))
        found[about] = KeptQuestion(
            about, entry["command"], entry["used_for"], tuple(entry["jobs"]), entry["section"],
            tuple(entry["rests_on"]), tuple(entry["done_by"]),
        )  # fmt: skip
    return found
