"""For how many days invitations hold, and what people leave is kept: as set, or as customary."""

from __future__ import annotations

from datetime import timedelta

from swardbook.book.opening import Book
from swardbook.handbook.parameters import value

INVITATION, LEFT_BEHIND, WHO_SAW = "invitation", "left_behind", "who_saw"


def days(book: Book, name: str) -> timedelta:
    """Give a number of days: what is set for this installation, else what the handbook says.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        One of the names above.
    """
    set_days: int = getattr(book.settings.people_days, name)
    return timedelta(days=set_days or int(value(f"{name}_days")))
