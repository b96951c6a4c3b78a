"""The usual cautions, by job; each says to whom it defers."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.provenance import Grade
from swardbook.foundation.tables import read_toml_table

_NEEDED = ("jobs", "says", "defers_to", "source", "grade")


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution.

    Parameters
    ----------
    key : str
        Its name in the handbook.
    jobs : tuple of str
        Jobs it stands beside.
    says : str
        What to mind.
    defers_to : str
        Who or what decides: a label, a manual, a local code, licensed practice.
    when : str
        The circumstance it is for, such as ``hot``; empty for always.
    source : str
        Key of the work it rests on.
    grade : Grade
        How far to trust it.
    """

    key: str
    jobs: tuple[str, ...]
    says: str
    defers_to: str
    when: str = ""
    source: str = "practice"
    grade: Grade = Grade.COMMON_PRACTICE

    @property
    def text(self) -> str:
        """The caution with the one it defers to."""
        many = " and " in self.defers_to or self.defers_to.endswith("s")
        decides = "decide" if many else "decides"
        return f"{self.says} {self.defers_to[0].upper()}{self.defers_to[1:]} {decides}."

    @property
    def cited(self) -> str:
        """The caution with its grade, and its source where a work stands behind it."""
        source = "" if self.source == "practice" else f": {self.source}"
        return f"{self.text} [{self.grade.value}{source}]"


@cache
def cautions() -> Mapping[str, Caution]:
    """Read every caution, by key.

    Raises
    ------
    BadInputError
        If one does not say for which jobs it is, to whom it defers, or whence it comes.
    """
    file = files("swardbook.handbook") / "data" / "cautions.toml"
    found = {}
    for key, entry in read_toml_table(file).items():
        if any(not entry.get(part) for part in _NEEDED) or entry["grade"] not in list(Grade):
            raise BadInputError(f"cautions.toml [{key}]", entry, ", ".join(_NEEDED))
        found[key] = Caution(
            key, tuple(entry["jobs"]), entry["says"], entry["defers_to"], entry.get("when", ""),
            entry["source"], Grade(entry["grade"]),
        )  # fmt: skip
    return found


def cautions_for(job: str, circumstances: Collection[str] = ()) -> tuple[Caution, ...]:
    """Give the cautions of a job.

    Parameters
    ----------
    job : str
        The job.
    circumstances : collection of str
        What holds today: ``hot``, ``frost``, ``slope``, ``pollen``, ``iron``, ``heads``. Cautions
        for one that holds come first; those for one that does not are left out.
    """
    fitting = [
        each
        for each in cautions().values()
        if job in each.jobs and (not each.when or each.when in circumstances)
    ]
    return tuple(sorted(fitting, key=lambda each: not each.when))
