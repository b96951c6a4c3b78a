"""Invitations: rows in and out; the codes themselves are never kept."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from django.db.models import QuerySet

from swardbook.foundation.errors import UnknownNameError
from swardbook.records.fingerprints import fingerprint
from swardbook.records.guard import guarded
from swardbook.records.questions import About, Question

if TYPE_CHECKING:
    from swardbook.records.people_models import InvitationRow


@dataclass(frozen=True, slots=True)
class Invitation:
    """One way in that somebody may use once.

    Parameters
    ----------
    key : int
        Its number.
    ground : str
        Short name of the ground.
    role : str
        What whoever uses it becomes.
    name : str
        For whom, in the owner's words.
    made_at, ends_at : datetime
        From when until when it holds.
    """

    key: int
    ground: str
    role: str
    name: str
    made_at: datetime
    ends_at: datetime


class Invitations:
    """The invitations to one ground.

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

    def make(
        self, code: str, role: str, name: str, person: int | None, now: datetime, ends: datetime
    ) -> Invitation:
        """Keep a new one by the hash of its code."""
        with guarded(self._where):
            row = self._rows().create(
                code=fingerprint(code), ground_id=self._ground, role=role, name=name,
                made_by_id=person, made_at=now, ends_at=ends,
            )  # fmt: skip
            return _invitation(row)

    def open(self, now: datetime) -> tuple[Invitation, ...]:
        """List those to this ground that can still be used, in the order made."""
        with guarded(self._where):
            rows = _open(self._alias, ground=self._ground, now=now)
            return tuple(Invitation(*row) for row in rows)

    def of(self, code: str, now: datetime) -> Invitation | None:
        """Give the one of a code, to whichever ground, while it holds and its maker is owner there.

        Inside a transaction two that use it at once take turns.
        """
        from swardbook.records.people_models import RoleRow

        with guarded(self._where):
            rows = self._rows().filter(code=fingerprint(code), done_at=None, ends_at__gt=now)
            row = rows.select_related("ground").select_for_update(of=("self",)).first()
            if row is None:
                return None
            if row.made_by_id is not None:
                roles = RoleRow.objects.using(self._alias).filter(
                    person_id=row.made_by_id, ground_id=row.ground_id, role="owner"
                )
                if not roles.exists():
                    return None
            return _invitation(row)

    def end(self, key: int, now: datetime) -> bool:
        """Let one hold no more; tells whether it held until now. Its name goes."""
        with guarded(self._where):
            rows = self._rows().filter(pk=key, done_at=None)
            return bool(rows.update(done_at=now, name=""))

    def withdraw(self, key: int, now: datetime) -> None:
        """Let one to this ground hold no more.

        Raises
        ------
        UnknownNameError
            If none of that number holds.
        """
        with guarded(self._where):
            known = self._rows().filter(ground_id=self._ground, done_at=None)
            if not known.filter(pk=key).update(done_at=now, name=""):
                raise UnknownNameError(
                    "invitation",
                    str(key),
                    [str(each) for each in known.values_list("id", flat=True)],
                )

    def end_those_of(self, person: int) -> None:
        """Let those to this ground hold no more that somebody made who is no owner any more."""
        with guarded(self._where):
            rows = self._rows().filter(ground_id=self._ground, made_by_id=person, done_at=None)
            rows.update(done_at=datetime.now(UTC), name="")

    def _rows(self) -> QuerySet[InvitationRow]:
        from swardbook.records.people_models import InvitationRow

        return InvitationRow.objects.using(self._alias)


@Question
def _open() -> QuerySet[InvitationRow, Any]:
    """Ask for those that can still be used."""
    from swardbook.records.people_models import InvitationRow

    rows = InvitationRow.objects.filter(ground_id=About("ground"), done_at=None)
    return rows.filter(ends_at__gt=About("now")).values_list(
        "id", "ground__slug", "role", "name", "made_at", "ends_at"
    )


def _invitation(row: InvitationRow) -> Invitation:
    return Invitation(row.pk, row.ground.slug, row.role, row.name, row.made_at, row.ends_at)
