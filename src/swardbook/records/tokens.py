"""Keys for other programs: rows in and out; the keys themselves are never kept."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any

from django.db.models import QuerySet

from swardbook.foundation.errors import UnknownNameError
from swardbook.records.fingerprints import fingerprint
from swardbook.records.guard import guarded
from swardbook.records.happened import Record
from swardbook.records.questions import About, Question

if TYPE_CHECKING:
    from swardbook.records.people_models import TokenRow


@dataclass(frozen=True, slots=True)
class Token:
    """One key of another program.

    Parameters
    ----------
    key : int
        Number of its row.
    name : str
        What it is for.
    role : str
        The most it may do: never more than its person may now.
    person, initials : str
        Whose it is; empty: of whoever sits at the machine.
    made_at : datetime
        When it was made.
    person_key : int or None
        Whose, by their number in the book.
    """

    key: int
    name: str
    role: str
    person: str
    initials: str
    made_at: datetime
    person_key: int | None = None


class Tokens:
    """The keys to one ground.

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

    def make(self, secret: str, name: str, role: str, person: int | None, now: datetime) -> Token:
        """Keep a new key by its hash."""
        with guarded(self._where):
            row = self._rows().create(
                token=fingerprint(secret), ground_id=self._ground, person_id=person, name=name,
                role=role, made_at=now,
            )  # fmt: skip
            self._record("key made", f"{role}, {name}")
            return _token(row)

    def all(self) -> tuple[Token, ...]:
        """List the keys that hold, in the order made."""
        with guarded(self._where):
            rows = _all(self._alias, ground=self._ground)
            return tuple(
                Token(key, name, role, person or "", initials or "", made_at, whose)
                for key, name, role, person, initials, made_at, whose in rows
            )

    def of(self, secret: str) -> Token | None:
        """Give the key that this is, if it holds and whose it is still has access."""
        from swardbook.records.people_models import RoleRow

        with guarded(self._where):
            row = self._holding().filter(token=fingerprint(secret)).first()
            if row is None or row.person_id is None:
                return None if row is None else _token(row)
            roles = RoleRow.objects.using(self._alias).filter(
                ground_id=self._ground, person_id=row.person_id
            )
            now = roles.values_list("role", flat=True).first()
            return _token(row, now) if now else None

    def end(self, key: int, now: datetime) -> None:
        """Let a key hold no more.

        Raises
        ------
        UnknownNameError
            If there is no such key.
        """
        with guarded(self._where):
            if not self._holding().filter(pk=key).update(ended_at=now):
                raise UnknownNameError("key", str(key), [str(each.key) for each in self.all()])
            self._record("key ended", str(key))

    def _record(self, what: str, about: str) -> None:
        Record(self._alias, self._ground, self._where).add(what, about=about)

    def _holding(self) -> QuerySet[TokenRow]:
        rows = self._rows().filter(ground_id=self._ground, ended_at=None)
        return rows.select_related("person")

    def _rows(self) -> QuerySet[TokenRow]:
        from swardbook.records.people_models import TokenRow

        return TokenRow.objects.using(self._alias)


@Question
def _all() -> QuerySet[TokenRow, Any]:
    """Ask for those that hold."""
    from swardbook.records.people_models import TokenRow

    rows = TokenRow.objects.filter(ground_id=About("ground"), ended_at=None)
    return rows.values_list(
        "id", "name", "role", "person__name", "person__initials", "made_at", "person_id"
    )


_ORDER = ("reader", "worker", "owner")


def _token(row: TokenRow, now: str = "") -> Token:
    role = row.role if not now else min(row.role, now, key=_ORDER.index)
    person = row.person
    return Token(
        row.pk, row.name, role, person.name if person else "", person.initials if person else "",
        row.made_at, row.person_id,
    )  # fmt: skip
