"""Who saw and did what: rows in and out. What was done only grows; who saw what ends by its day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

from django.db.models import Q, QuerySet

from swardbook.records.acting import Acting, who_acts
from swardbook.records.guard import guarded

if TYPE_CHECKING:
    from swardbook.records.people_models import HappenedRow, PersonRow

LOGGED_IN, REFUSED, UNKNOWN = "logged in", "log-in refused", "log-in refused, unknown name"
EXPORTED, LETTER, SET = "took everything out", "letter made", "settings changed"
MOST_UNKNOWN = 200
"""Refused log-ins by unknown names that are written down in a day; strangers fill no book."""


@dataclass(frozen=True, slots=True)
class Happened:
    """One thing that was done.

    Parameters
    ----------
    at : datetime
        When.
    who, initials : str
        Who did it; empty: whoever sat at the machine, a stranger, or somebody whose name was
        taken out.
    by : str
        How they were known: ``session``, ``token``, ``own machine``, ``terminal``, ``stranger``.
    what : str
        What was done.
    whom : str
        Whom it is about, by initials; empty for nobody.
    about : str
        More about it, without anything secret.
    """

    at: datetime
    who: str
    initials: str
    by: str
    what: str
    whom: str
    about: str


@dataclass(frozen=True, slots=True)
class Saw:
    """Who opened what on a day.

    Parameters
    ----------
    day : date
        The day.
    who, initials : str
        Who.
    what : str
        Which pages with personal data.
    """

    day: date
    who: str
    initials: str
    what: str


class Record:
    """The record of people of one ground.

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

    def add(
        self, what: str, whom: int | None = None, about: str = "", of_the_book: bool = False,
        acts: Acting | None = None,
    ) -> None:  # fmt: skip
        """Write down what is done now.

        Parameters
        ----------
        what, about : str
            What, and more about it, without anything secret.
        whom : int or None
            Whom it is about, by their number.
        of_the_book : bool
            Whether it is not of this ground alone.
        acts : Acting or None
            Who does it; none: whoever is known to do what is done now.
        """
        acts = acts or who_acts()
        with guarded(self._where):
            self._all().create(
                at=datetime.now(UTC), ground_id=None if of_the_book else self._ground,
                person_id=acts.person, by=acts.by, what=what, whom_id=whom, about=about,
            )  # fmt: skip

    def add_refused(self, whom: int | None) -> None:
        """Write down a refused log-in: of somebody known, or by a name that nobody has."""
        if whom is None:
            self.add_bounded(UNKNOWN)
        else:
            self.add(REFUSED, whom, of_the_book=True)

    def add_bounded(self, what: str) -> None:
        """Write down what any stranger can do, only up to so many times in a day."""
        with guarded(self._where):
            midnight = datetime.now(UTC).replace(hour=0, minute=0, second=0, microsecond=0)
            today = self._all().filter(what=what, at__gte=midnight)
            if today.count() < MOST_UNKNOWN:
                self.add(what, of_the_book=True)

    def latest(self, most: int, before: int = 0) -> tuple[tuple[int, Happened], ...]:
        """List what was done, the newest first, each with its number.

        Log-ins are of the whole book; shown are those of people of this ground, of who has left
        it and has no other, and of nobody known.
        """
        from swardbook.records.people_models import RoleRow

        with guarded(self._where):
            here = RoleRow.objects.using(self._alias).filter(ground_id=self._ground)
            gone = self._all().filter(ground_id=self._ground, whom__roles=None)
            ours = {*here.values_list("person_id", flat=True), *gone.values_list("whom", flat=True)}
            ours.discard(None)
            nobody = Q(person=None, whom=None)
            shown = Q(ground_id=self._ground) | Q(ground=None) & (
                Q(person__in=ours) | Q(whom__in=ours) | nobody
            )
            rows = self._all().filter(shown).select_related("person", "whom").order_by("-id")
            if before:
                rows = rows.filter(id__lt=before)
            return tuple((row.pk, _happened(row)) for row in rows[:most])

    def saw(self, most: int) -> tuple[Saw, ...]:
        """List who opened pages with personal data, the newest day first."""
        from swardbook.records.people_models import SawRow

        with guarded(self._where):
            rows = SawRow.objects.using(self._alias).filter(ground_id=self._ground)
            found = rows.select_related("person").order_by("-day", "-id")[:most]
            return tuple(
                Saw(row.day, row.person.name, row.person.initials, row.what) for row in found
            )

    def _all(self) -> QuerySet[HappenedRow]:
        from swardbook.records.people_models import HappenedRow

        return HappenedRow.objects.using(self._alias)


def _happened(row: HappenedRow) -> Happened:
    person, whom = row.person, row.whom
    return Happened(
        row.at, person.name if person else "", person.initials if person else "", row.by, row.what,
        _short(whom), row.about,
    )  # fmt: skip


def _short(person: PersonRow | None) -> str:
    return "" if person is None else f"{person.name} ({person.initials})".strip()
