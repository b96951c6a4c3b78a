"""Where people are logged in: each phone and desk with the last day it asked."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from django.db.models import QuerySet

from swardbook.foundation.errors import UnknownNameError
from swardbook.records.fingerprints import fingerprint
from swardbook.records.guard import guarded
from swardbook.records.questions import About, Question

if TYPE_CHECKING:
    from swardbook.records.people_models import SessionRow


@dataclass(frozen=True, slots=True)
class Phone:
    """One log-in, on a phone or at a desk.

    Parameters
    ----------
    key : int
        Number of the log-in.
    person : int
        Whose, by their number.
    device : str
        What it is, as its browser says; empty if it does not.
    began_at : datetime
        When they logged in there.
    seen_on : date
        The last day on which something was asked.
    ends_at : datetime
        When it ends by itself.
    is_this : bool
        Whether it is the one that asks now.
    """

    key: int
    person: int
    device: str
    began_at: datetime
    seen_on: date
    ends_at: datetime
    is_this: bool


class Phones:
    """The log-ins of a book; which are somebody else's business is decided above.

    Parameters
    ----------
    alias : str
        Name of the connection.
    where : str
        The book, as the person knows it.
    """

    def __init__(self, alias: str, where: str) -> None:
        self._alias, self._where = alias, where

    def of(self, person: int, now: datetime, token: str = "") -> tuple[Phone, ...]:
        """List the log-ins of somebody that hold, the latest seen first."""
        with guarded(self._where):
            rows = _theirs(self._alias, person=person, now=now)
        return _listed(rows, fingerprint(token) if token else "")

    def at(self, ground: int, now: datetime) -> tuple[Phone, ...]:
        """List the log-ins that hold of everybody with access to a ground, the latest seen first.

        Parameters
        ----------
        ground : int
            Key of the ground.
        now : datetime
            The time.
        """
        with guarded(self._where):
            return _listed(_at(self._alias, ground=ground, now=now))

    def end(self, person: int, key: int) -> str:
        """End one log-in of somebody; gives what it was.

        Raises
        ------
        UnknownNameError
            If they have none of that number.
        """
        with guarded(self._where):
            rows = self._rows().filter(person_id=person)
            found = rows.filter(pk=key).first()
            if found is None:
                known = [str(each) for each in rows.values_list("id", flat=True)]
                raise UnknownNameError("log-in", str(key), known)
            found.delete()
            return found.device

    def end_others(self, person: int, token: str) -> int:
        """End all log-ins of somebody but the one that asks; gives how many."""
        with guarded(self._where):
            rows = self._rows().filter(person_id=person).exclude(token=fingerprint(token))
            return rows.delete()[0]

    def _rows(self) -> QuerySet[SessionRow]:
        from swardbook.records.people_models import SessionRow

        return SessionRow.objects.using(self._alias)


def _holding() -> QuerySet[SessionRow, Any]:
    from swardbook.records.people_models import SessionRow

    rows = SessionRow.objects.filter(ends_at__gt=About("now"), is_half=False)
    return rows.values_list("id", "person_id", "device", "began_at", "seen_on", "ends_at", "token")


_theirs = Question(lambda: _holding().filter(person_id=About("person")))
_at = Question(lambda: _holding().filter(person__roles__ground_id=About("ground")))


def _listed(rows: Iterable[tuple[Any, ...]], this: str = "") -> tuple[Phone, ...]:
    found = [
        Phone(key, person, device, began, seen or began.date(), ends, token == this)
        for key, person, device, began, seen, ends, token in rows
    ]
    return tuple(sorted(found, key=lambda each: (each.seen_on, each.key), reverse=True))
