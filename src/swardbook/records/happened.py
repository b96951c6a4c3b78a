"""Who saw and did what: rows in and out. What was done only grows; who saw what ends by its day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from sys import maxsize
from typing import TYPE_CHECKING, Any

from django.db.models import Q, QuerySet

from swardbook.records.acting import Acting, who_acts
from swardbook.records.guard import guarded
from swardbook.records.questions import About, Question

if TYPE_CHECKING:
    from swardbook.records.people_models import HappenedRow, SawRow

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
        with guarded(self._where):
            rows = _latest(self._alias, most, ground=self._ground, before=before or maxsize)
            return tuple((key, _happened(*told)) for key, *told in rows)

    def saw(self, most: int) -> tuple[Saw, ...]:
        """List who opened pages with personal data, the newest day first."""
        with guarded(self._where):
            return tuple(Saw(*row) for row in _saw(self._alias, most, ground=self._ground))

    def _all(self) -> QuerySet[HappenedRow]:
        from swardbook.records.people_models import HappenedRow

        return HappenedRow.objects.using(self._alias)


@Question
def _latest(most: int) -> QuerySet[HappenedRow, Any]:
    """Ask for what was done, of this ground and of the book as far as it is of people here."""
    from swardbook.records.people_models import HappenedRow, RoleRow

    all_of_it, here = HappenedRow.objects, Q(ground_id=About("ground"))
    ours = RoleRow.objects.filter(here).values("person_id")
    gone = all_of_it.filter(here, whom__roles=None).exclude(whom=None).values("whom_id")
    is_of_ours = Q(person__in=ours) | Q(whom__in=ours) | Q(person__in=gone) | Q(whom__in=gone)
    is_of_nobody = Q(person=None, whom=None)
    rows = all_of_it.filter(here | Q(ground=None) & (is_of_ours | is_of_nobody))
    return rows.filter(id__lt=About("before")).order_by("-id").values_list(
        "id", "at", "person__name", "person__initials", "by", "what", "whom__name",
        "whom__initials", "about",
    )[:most]  # fmt: skip


@Question
def _saw(most: int) -> QuerySet[SawRow, Any]:
    """Ask for who opened pages with personal data."""
    from swardbook.records.people_models import SawRow

    rows = SawRow.objects.filter(ground_id=About("ground")).order_by("-day", "-id")
    return rows.values_list("day", "person__name", "person__initials", "what")[:most]


def _happened(
    at: datetime, who: str | None, initials: str | None, by: str, what: str, whom: str | None,
    whom_initials: str | None, about: str,
) -> Happened:  # fmt: skip
    short = "" if whom is None else f"{whom} ({whom_initials})".strip()
    return Happened(at, who or "", initials or "", by, what, short, about)
