"""What somebody can be to a ground."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

ROLES = ("reader", "worker", "owner")
"""What somebody can be to a ground; each may do all that the ones before may."""


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody, and what they are to the ground.

    Parameters
    ----------
    key : int
        Number in the book.
    name : str
        As they log in.
    initials : str
        What their entries carry.
    role : str
        One of `ROLES`; empty where they have no access.
    must_change : bool
        Whether somebody else chose the password.
    seen_on : date or None
        The last day that their log-in asked on, where it is by a log-in that they are known.
    """

    key: int
    name: str
    initials: str
    role: str
    must_change: bool
    seen_on: date | None = None
