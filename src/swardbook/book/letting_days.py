"""For how many days invitations hold, and what people leave is kept: as set, or as customary."""

from __future__ import annotations

from datetime import timedelta

from swardbook.book.opening import Book
from swardbook.handbook.parameters import value

INVITATION, LEFT_BEHIND, WHO_SAW = "invitation_days", "left_behind_days", "who_saw_days"


def days(book: Book, name: str) -> timedelta:
    """Give a number of days: what is set for this installation, else what the handbook says.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        One of the names above.
    """
    return timedelta(days=getattr(book.settings, name, 0) or int(value(name)))
