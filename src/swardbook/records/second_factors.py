"""Second factors: rows in and out. No secret stands in them; it is made from a key beside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.db.models import QuerySet

from swardbook.records.guard import guarded
from swardbook.records.questions import About, Question

if TYPE_CHECKING:
    from swardbook.records.people_models import RecoveryRow, SecondFactorRow


@dataclass(frozen=True, slots=True)
class SecondFactor:
    """The second factor of somebody.

    Parameters
    ----------
    person : int
        Whose, by their number.
    seed : str
        What the secret is made from, with the key beside the book.
    key_mark : str
        By which that key is known again.
    is_on : bool
        Whether it is asked for; not before its first code was right.
    """

    person: int
    seed: str
    key_mark: str
    is_on: bool


class SecondFactors:
    """The second factors of everybody in a book.

    Parameters
    ----------
    alias : str
        Name of the connection.
    where : str
        The book, as the person knows it.
    """

    def __init__(self, alias: str, where: str) -> None:
        self._alias, self._where = alias, where

    def of(self, person: int) -> SecondFactor | None:
        """Give somebody's, whether on or only begun."""
        with guarded(self._where):
            row = self._rows().filter(person_id=person).first()
            if row is None:
                return None
            return SecondFactor(row.person_id, row.seed, row.key_mark, row.is_on)

    def is_on(self, person: int) -> bool:
        """Tell whether somebody has one that is on."""
        found = self.of(person)
        return found is not None and found.is_on

    def on_at(self, ground: int) -> frozenset[int]:
        """Tell who of those with access to a ground, by its key, has one that is on."""
        with guarded(self._where):
            return frozenset(person for (person,) in _on_at(self._alias, ground=ground))

    def begin(self, person: int, seed: str, key_mark: str, now: datetime) -> None:
        """Begin one that is not on yet, in place of what was begun before."""
        with guarded(self._where):
            self._rows().filter(person_id=person, is_on=False).delete()
            self._rows().create(person_id=person, seed=seed, key_mark=key_mark, made_at=now)

    def take_step(self, person: int, step: int) -> bool:
        """Use up the code of a step; tells whether neither it nor a later one was used before."""
        with guarded(self._where):
            rows = self._rows().filter(person_id=person, last_step__lt=step)
            return bool(rows.update(last_step=step))

    def turn_on(self, person: int, secrets: Sequence[str]) -> None:
        """Let it be asked for from now on, with the hashes of its recovery codes."""
        with guarded(self._where), transaction.atomic(using=self._alias, durable=False):
            self._rows().filter(person_id=person).update(is_on=True)
            self.put_recovery(person, secrets)

    def put_recovery(self, person: int, secrets: Sequence[str]) -> None:
        """Keep the hashes of new recovery codes in place of the old ones."""
        from swardbook.records.people_models import RecoveryRow

        with guarded(self._where), transaction.atomic(using=self._alias, durable=False):
            self._codes().filter(person_id=person).delete()
            self._codes().bulk_create(
                RecoveryRow(person_id=person, number=number, secret=secret)
                for number, secret in enumerate(secrets, 1)
            )

    def recovery(self, person: int, number: int) -> str | None:
        """Give the hash of one recovery code that was not used."""
        with guarded(self._where):
            rows = self._codes().filter(person_id=person, number=number, used_at=None)
            return rows.values_list("secret", flat=True).first()

    def use_recovery(self, person: int, number: int, now: datetime) -> bool:
        """Use one recovery code up; tells whether it was not used before."""
        with guarded(self._where):
            rows = self._codes().filter(person_id=person, number=number, used_at=None)
            return bool(rows.update(used_at=now))

    def recovery_left(self, person: int) -> int:
        """Count the recovery codes that were not used."""
        with guarded(self._where):
            return self._codes().filter(person_id=person, used_at=None).count()

    def drop(self, person: int) -> bool:
        """Take a second factor away; tells whether there was one."""
        with guarded(self._where), transaction.atomic(using=self._alias, durable=False):
            self._codes().filter(person_id=person).delete()
            return bool(self._rows().filter(person_id=person).delete()[0])

    def _rows(self) -> QuerySet[SecondFactorRow]:
        from swardbook.records.people_models import SecondFactorRow

        return SecondFactorRow.objects.using(self._alias)

    def _codes(self) -> QuerySet[RecoveryRow]:
        from swardbook.records.people_models import RecoveryRow

        return RecoveryRow.objects.using(self._alias)


@Question
def _on_at() -> QuerySet[SecondFactorRow, Any]:
    """Ask for who has one that is on, of those with access to a ground."""
    from swardbook.records.people_models import SecondFactorRow

    rows = SecondFactorRow.objects.filter(person__roles__ground_id=About("ground"), is_on=True)
    return rows.values_list("person_id")
