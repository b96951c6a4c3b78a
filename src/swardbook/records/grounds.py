"""The grounds of one book: their names, which of them is meant, and a further one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swardbook.foundation.errors import BadInputError, UnknownNameError

LONGEST = 70
"""How much of a ground's name goes into its short name. [letters]"""
_NAMED = 8
_GROUNDS = "SELECT id, slug, name, made_up FROM records_groundrow ORDER BY id"


@dataclass(frozen=True, slots=True)
class GroundName:
    """One ground of a book, by its names.

    Parameters
    ----------
    slug : str
        Short name for commands and addresses; empty until the site is saved.
    name : str
        Name of the site.
    is_made_up : bool
        Whether it is a made-up ground.
    """

    slug: str
    name: str
    is_made_up: bool

    def __str__(self) -> str:
        """Give the short name, and the name where it says more."""
        return self.slug if self.slug == self.name else f"{self.slug} ({self.name})"


class WhichGroundError(BadInputError):
    """The book holds several grounds and none was named, or a name fits several."""

    def __init__(self, grounds: Sequence[GroundName], asked: str = "") -> None:
        super().__init__("the ground", asked, "one of " + ", ".join(each.slug for each in grounds))
        self.grounds = tuple(grounds)

    def __str__(self) -> str:
        """Name the grounds, and say how one is chosen."""
        listed = ", ".join(str(each) for each in self.grounds[:_NAMED])
        if (more := len(self.grounds) - _NAMED) > 0:
            listed += f" and {more} more"
        fits = f"{self.read!r} fits" if self.read else "This book holds"
        return (
            f"{fits} {len(self.grounds)} grounds: {listed}. Name one with --ground NAME, or set"
            " SWARDBOOK_GROUND; `swardbook all-lawns` lists them."
        )


def grounds_in(alias: str) -> list[tuple[int, GroundName]]:
    """List the grounds of an opened database with their keys, in the order begun."""
    from swardbook.records.state import asked

    rows = asked(alias, _GROUNDS, [])
    return [(key, GroundName(slug, name, bool(made_up))) for key, slug, name, made_up in rows]


def chosen_ground(grounds: Sequence[tuple[int, GroundName]], asked: str) -> int:
    """Find the ground that is meant: by its short name or its name, or the only one.

    Parameters
    ----------
    grounds : sequence of (int, GroundName)
        Those there are.
    asked : str
        The name as typed; empty where none was.

    Raises
    ------
    WhichGroundError
        If several would do.
    UnknownNameError
        If there is none of that name.
    """
    wanted = asked.strip().casefold()
    if not wanted:
        found = list(grounds)
    else:
        found = [each for each in grounds if each[1].slug == wanted] or [
            each for each in grounds if each[1].name.casefold() == wanted
        ]
    if not found:
        raise UnknownNameError("ground", asked, [each.slug for _, each in grounds if each.slug])
    if len(found) > 1:
        raise WhichGroundError([each for _, each in found], asked)
    return found[0][0]


def free_slug(name: str, taken: Sequence[str]) -> str:
    """Make a short name from a name: small letters, digits and hyphens, and not one there is."""
    from django.utils.text import slugify

    first = slugify(name)[:LONGEST].strip("-") or "ground"
    slug, number = first, 1
    while slug in taken:
        number += 1
        slug = f"{first}-{number}"
    return slug
