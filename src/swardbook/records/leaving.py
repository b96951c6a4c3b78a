"""Those who have left: until when their phones may still send, and what came from them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from typing import TYPE_CHECKING, Any

from django.db.models import QuerySet

from swardbook.foundation.errors import UnknownNameError
from swardbook.records.guard import guarded
from swardbook.records.questions import About, Question

if TYPE_CHECKING:
    from swardbook.records.people_models import LeavingRow, LeftBehindRow

TAKEN_IN, LEFT_OUT = "taken in", "left out"


@dataclass(frozen=True, slots=True)
class LeftBehind:
    """One entry or file that came from somebody after they had left.

    Parameters
    ----------
    key : int
        Its number.
    name, initials : str
        Whose.
    text : str
        As it was sent.
    file : str
        Name under which the picture or voice note is kept until somebody decides; empty without.
    came_at : datetime
        When it came.
    decided : str
        Empty, ``taken in`` or ``left out``.
    """

    key: int
    name: str
    initials: str
    text: str
    file: str
    came_at: datetime
    decided: str


class Leaving:
    """Those who have left one ground.

    Parameters
    ----------
    alias : str
        Name of the connection.
    ground : int
        Key of the ground.
    where : str
        The book, as the person knows it.
    """

    def __init__(self, alias: str, ground: int, where: str) -> None:
        self._alias, self._ground, self._where = alias, ground, where

    def go(self, person: int, until: datetime) -> None:
        """Let what waits on somebody's phone come until then."""
        with guarded(self._where):
            self._leaving().update_or_create(
                person_id=person, ground_id=self._ground, defaults={"until": until}
            )

    def come_back(self, person: int) -> None:
        """Forget that somebody has left."""
        with guarded(self._where):
            self._leaving().filter(person_id=person).delete()

    def until(self, person: int, now: datetime) -> datetime | None:
        """Tell until when somebody who has left may still send; None: not, or not any more."""
        with guarded(self._where):
            rows = self._leaving().filter(person_id=person, until__gt=now)
            return rows.values_list("until", flat=True).first()

    def put(self, person: int, text: str, file: str, now: datetime) -> bool:
        """Keep what came; the same twice is kept once. Tells whether it is new."""
        with guarded(self._where):
            whole = sha256(f"{text}\n{file}".encode()).hexdigest()
            _row, is_new = self._rows().get_or_create(
                ground_id=self._ground, person_id=person, checksum=whole,
                defaults={"text": text, "file": file, "came_at": now},
            )  # fmt: skip
            return is_new

    def count(self, person: int) -> int:
        """Count what came from somebody."""
        with guarded(self._where):
            return self._rows().filter(person_id=person).count()

    def waiting(self) -> tuple[LeftBehind, ...]:
        """List what nobody has decided about, in the order come."""
        with guarded(self._where):
            return _listed(_waiting(self._alias, ground=self._ground))

    def decided(self, most: int) -> tuple[LeftBehind, ...]:
        """List what was decided about, the latest first."""
        with guarded(self._where):
            return _listed(_decided(self._alias, most, ground=self._ground))

    def one(self, key: int) -> LeftBehind:
        """Give one.

        Raises
        ------
        UnknownNameError
            If there is none of that number.
        """
        with guarded(self._where):
            found = _listed(_one(self._alias, ground=self._ground, key=key))
            if not found:
                known = [str(each.key) for each in self.waiting()]
                raise UnknownNameError("entry left behind", str(key), known)
            return found[0]

    def decide(self, key: int, decided: str, now: datetime) -> None:
        """Write down what became of one; it stays."""
        with guarded(self._where):
            self._rows().filter(pk=key).update(decided=decided, decided_at=now)

    def _rows(self) -> QuerySet[LeftBehindRow]:
        from swardbook.records.people_models import LeftBehindRow

        return LeftBehindRow.objects.using(self._alias).filter(ground_id=self._ground)

    def _leaving(self) -> QuerySet[LeavingRow]:
        from swardbook.records.people_models import LeavingRow

        return LeavingRow.objects.using(self._alias).filter(ground_id=self._ground)


def _of_ground() -> QuerySet[LeftBehindRow, Any]:
    from swardbook.records.people_models import LeftBehindRow

    rows = LeftBehindRow.objects.filter(ground_id=About("ground"))
    return rows.values_list(
        "id", "person__name", "person__initials", "text", "file", "came_at", "decided"
    )


_waiting = Question(lambda: _of_ground().filter(decided=""))
_decided = Question(lambda most: _of_ground().exclude(decided="").order_by("-decided_at")[:most])
_one = Question(lambda: _of_ground().filter(pk=About("key")))


def _listed(rows: Iterable[tuple[Any, ...]]) -> tuple[LeftBehind, ...]:
    return tuple(LeftBehind(*row) for row in rows)
