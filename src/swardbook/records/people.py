"""People of one ground: who they are, what they may, where they are logged in."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta

from django.db import transaction
from django.db.models import Count, QuerySet

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.records import people_questions
from swardbook.records.acting import Acting
from swardbook.records.fingerprints import fingerprint
from swardbook.records.guard import guarded
from swardbook.records.happened import Record
from swardbook.records.invitations import Invitations
from swardbook.records.leaving import Leaving
from swardbook.records.models import GroundRow
from swardbook.records.people_models import (
    InvitationRow,
    PersonRow,
    RoleRow,
    SessionRow,
    TokenRow,
    TryRow,
)
from swardbook.records.person import Person
from swardbook.records.phones import Phones
from swardbook.records.second_factors import SecondFactors


class People:
    """The people of one ground of an opened database.

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

    @contextmanager
    def together(self) -> Iterator[None]:
        """Do several things as one: all of them or none; one writer at a time."""
        with guarded(self._where), transaction.atomic(using=self._alias, durable=False):
            yield

    # what stands beside them

    def record(self) -> Record:
        """Give the record of who saw and did what."""
        return Record(self._alias, self._ground, self._where)

    def invitations(self) -> Invitations:
        """Give the invitations to this ground."""
        return Invitations(self._alias, self._ground, self._where)

    def leaving(self) -> Leaving:
        """Give what those who have left may still send, and what came."""
        return Leaving(self._alias, self._ground, self._where)

    def second_factors(self) -> SecondFactors:
        """Give the second factors of everybody in the book."""
        return SecondFactors(self._alias, self._where)

    def phones(self) -> Phones:
        """Give where people are logged in."""
        return Phones(self._alias, self._where)

    # who there is

    def everyone(self) -> tuple[Person, ...]:
        """List who has access, in the order in which they came into the book."""
        with guarded(self._where):
            rows = people_questions.everyone(self._alias, ground=self._ground)
            return tuple(Person(*row) for row in rows)

    def named(self, name: str) -> Person:
        """Find somebody by name, with or without access to this ground.

        Raises
        ------
        UnknownNameError
            If there is none of that name.
        """
        row = self._row(name)
        if row is None:
            raise UnknownNameError("person", name, [each.name for each in self.everyone()])
        return self._with_role(row)

    def gone(self, name: str) -> Person | None:
        """Give somebody who had access once and has none now, to any ground; None if nobody."""
        row = self._row(name)
        return None if row is None or row.roles.exists() else _person(row, "")

    def all_gone(self) -> tuple[Person, ...]:
        """List those without access to any ground whose names still stand in the book."""
        with guarded(self._where):
            rows = people_questions.gone(self._alias)
            return tuple(
                Person(key, name, initials, "", must_change)
                for key, name, initials, must_change in rows
            )

    def roles_of(self, person: Person) -> dict[str, str]:
        """Give what somebody is to each ground of the book that they have access to."""
        with guarded(self._where):
            rows = people_questions.roles_of(self._alias, person=person.key)
            return {slug: role for _, slug, role in rows}

    def grounds_of(self, person: Person) -> dict[int, str]:
        """Give what somebody is to each ground, by the ground's key."""
        with guarded(self._where):
            rows = people_questions.roles_of(self._alias, person=person.key)
            return {ground: role for ground, _, role in rows}

    def key(self) -> int:
        """Give the key of this ground."""
        return self._ground

    def numbered(self, key: int) -> Person:
        """Find somebody by their number, with or without access to this ground.

        Raises
        ------
        UnknownNameError
            If there is none.
        """
        with guarded(self._where):
            row = self._people().filter(pk=key).first()
        if row is None:
            raise UnknownNameError("person", str(key), [each.name for each in self.everyone()])
        return self._with_role(row)

    def has_owner(self) -> bool:
        """Tell whether any ground of the book has an owner."""
        with guarded(self._where):
            return RoleRow.objects.using(self._alias).filter(role="owner").exists()

    def secret_of(self, name: str) -> str | None:
        """Give the hash of somebody's password; None where nobody has that name and access."""
        with guarded(self._where):
            row = self._row(name)
            return row.secret if row is not None and row.roles.exists() else None

    def has_other_grounds(self, person: Person) -> bool:
        """Tell whether somebody has access to other grounds of the book too."""
        with guarded(self._where):
            roles = RoleRow.objects.using(self._alias).filter(person_id=person.key)
            return roles.exclude(ground_id=self._ground).exists()

    # what they are

    def add(
        self, name: str, initials: str, secret: str, must_change: bool, now: datetime
    ) -> Person:
        """Make an account without access; `set_role` gives it."""
        with self.together():
            if self._row(name) is not None:
                raise BadInputError("the name", name, "a name that nobody here has yet")
            taken = self._people().values_list("initials", flat=True)
            if initials.casefold() in {each.casefold() for each in taken}:
                raise BadInputError(
                    "the initials", initials, "initials that nobody here has yet",
                    "Entries carry them, so that two people are never taken for one.",
                )  # fmt: skip
            row = PersonRow(
                key=_folded(name), name=name, initials=initials, secret=secret,
                must_change=must_change, made_at=now,
            )  # fmt: skip
            row.save(using=self._alias, force_insert=True)
            self.record().add("account made", row.pk, of_the_book=True)
            return _person(row, "")

    def set_role(self, person: Person, role: str, until: datetime | None = None) -> None:
        """Give somebody a role in this ground; an empty one ends access, and keys and log-ins.

        Parameters
        ----------
        person : Person
            Who.
        role : str
            One of the roles, or nothing.
        until : datetime or None
            Until when entries are taken that still wait on the phone of who leaves; None: none.

        Raises
        ------
        BadInputError
            If the ground would be left without an owner.
        """
        with self.together():
            owners = self._roles().filter(role="owner").select_for_update()
            keys = set(owners.values_list("person_id", flat=True))  # two cannot both go at once
            if role != "owner" and keys == {person.key}:
                raise BadInputError(
                    f"the role of {person.name}", role or "no access", "owner",
                    "A ground has at least one owner: make somebody else owner first.",
                )  # fmt: skip
            was = self._roles().filter(person_id=person.key).values_list("role", flat=True).first()
            if was == "owner" and role != "owner":
                self.invitations().end_those_of(person.key)
            if not role:
                self._end(person, until)
            else:
                RoleRow.objects.using(self._alias).update_or_create(
                    person_id=person.key, ground_id=self._ground, defaults={"role": role}
                )
                self.leaving().come_back(person.key)
            if (was or "") != role:
                what = "access given" if not was else "role changed" if role else "access ended"
                about = " to ".join(filter(None, (was, role))) if was else role
                self.record().add(what, person.key, about)

    def _end(self, person: Person, until: datetime | None) -> None:
        """End access to this ground; log-ins that open no other one end, but for sending."""
        self._roles().filter(person_id=person.key).delete()
        now = datetime.now(UTC)
        keys = TokenRow.objects.using(self._alias).filter(ground_id=self._ground, ended_at=None)
        keys.filter(person_id=person.key).update(ended_at=now)
        if until is not None:
            self.leaving().go(person.key, until)
        if self.has_other_grounds(person):
            return
        sessions = self._sessions().filter(person_id=person.key)
        if until is None:
            sessions.delete()
        else:
            sessions.filter(is_half=True).delete()
            sessions.filter(ends_at__gt=until).update(ends_at=until)

    def own_as_before(self) -> None:
        """Let whoever owns every other ground of the book own this one too."""
        grounds = GroundRow.objects.using(self._alias).exclude(pk=self._ground).exclude(slug="")
        with self.together():
            roles = RoleRow.objects.using(self._alias).filter(role="owner", ground__in=grounds)
            counted = roles.values("person_id").annotate(owned=Count("ground_id"))
            for each in counted.filter(owned=grounds.count()):
                RoleRow.objects.using(self._alias).create(
                    person_id=each["person_id"], ground_id=self._ground, role="owner"
                )
                self.record().add("access given", each["person_id"], "owner")

    def forget_name(self, person: Person) -> None:
        """Take the name of somebody without access out of the book; initials stay.

        Raises
        ------
        BadInputError
            If they still have access to a ground.
        """
        with self.together():
            if RoleRow.objects.using(self._alias).filter(person_id=person.key).exists():
                raise BadInputError(
                    "the person", person.name, "somebody who has no access any more",
                    "End their access first.",
                )  # fmt: skip
            self._sessions().filter(person_id=person.key).delete()
            self.second_factors().drop(person.key)
            InvitationRow.objects.using(self._alias).filter(made_by_id=person.key).update(name="")
            TokenRow.objects.using(self._alias).filter(person_id=person.key).update(name="")
            self._people().filter(pk=person.key).update(
                key=f" {person.key}", name="", secret="", must_change=False
            )
            self.record().add("name taken out", person.key, of_the_book=True)

    def set_secret(self, person: Person, secret: str, must_change: bool) -> None:
        """Give somebody another password; wherever they are logged in, that ends."""
        with self.together():
            self._people().filter(pk=person.key).update(secret=secret, must_change=must_change)
            self._sessions().filter(person_id=person.key).delete()
            what = "first password given" if must_change else "password changed"
            self.record().add(what, person.key, of_the_book=True)

    # where they are logged in

    def begin_session(
        self, name: str, token: str, now: datetime, lasts: timedelta, device: str = "",
        is_half: bool = False,
    ) -> Person:  # fmt: skip
        """Remember a log-in; sessions that have ended are swept away.

        Parameters
        ----------
        name, token, device : str
            Whose, what the browser keeps, and what it is.
        now : datetime
            The time.
        lasts : timedelta
            How long it holds.
        is_half : bool
            Whether the second factor is still to come; then it opens nothing.
        """
        with self.together():
            person = self.named(name)
            self._sessions().filter(ends_at__lte=now).delete()
            self._sessions().create(
                token=fingerprint(token), person_id=person.key, began_at=now, ends_at=now + lasts,
                device=device, is_half=is_half,
            )  # fmt: skip
            if not is_half:
                acts = Acting(person.key, "log-in")
                self.record().add("logged in", None, device, of_the_book=True, acts=acts)
        return person

    def of_session(self, token: str, now: datetime, is_half: bool = False) -> Person | None:
        """Give who is logged in by a token, if the session has not ended."""
        with guarded(self._where):
            found = people_questions.logged_in(
                self._alias, is_half, token=fingerprint(token), now=now, ground=self._ground
            )
        for key, name, initials, role, must_change, seen_on, began_at in found:
            return Person(key, name, initials, role, must_change, seen_on or began_at.date())
        return None

    def end_session(self, token: str) -> None:
        """Forget a log-in."""
        with self.together():
            self._sessions().filter(token=fingerprint(token)).delete()

    # wrong log-ins

    def wrong_tries(self, key: str) -> tuple[int, datetime, datetime] | None:
        """Give how many were wrong, when the last was, when the next is looked at; `together`."""
        with guarded(self._where):
            row = self._tries().select_for_update().filter(key=fingerprint(key)).first()
            return None if row is None else (row.wrong, row.last_at, row.opens_at)

    def put_tries(self, key: str, wrong: int, now: datetime, opens: datetime) -> None:
        """Remember wrong log-ins."""
        with self.together():
            self._tries().update_or_create(
                key=fingerprint(key), defaults={"wrong": wrong, "last_at": now, "opens_at": opens}
            )

    def forget_tries(self, key: str = "", before: datetime | None = None) -> None:
        """Forget wrong log-ins of one key, or all that are older."""
        with self.together():
            if key:
                self._tries().filter(key=fingerprint(key)).delete()
            if before is not None:
                self._tries().filter(last_at__lt=before).delete()

    def _people(self) -> QuerySet[PersonRow]:
        return PersonRow.objects.using(self._alias)

    def _roles(self) -> QuerySet[RoleRow]:
        return RoleRow.objects.using(self._alias).filter(ground_id=self._ground)

    def _sessions(self) -> QuerySet[SessionRow]:
        return SessionRow.objects.using(self._alias)

    def _tries(self) -> QuerySet[TryRow]:
        return TryRow.objects.using(self._alias)

    def _row(self, name: str) -> PersonRow | None:
        with guarded(self._where):
            return self._people().filter(key=_folded(name)).first()

    def _with_role(self, row: PersonRow) -> Person:
        role = self._roles().filter(person_id=row.pk).values_list("role", flat=True).first()
        return _person(row, role or "")


def _person(row: PersonRow, role: str) -> Person:
    return Person(row.pk, row.name, row.initials, role, row.must_change)


def _folded(name: str) -> str:
    return " ".join(name.split()).casefold()
