"""What a page is: where it stands, who may see it, what it is called and what it says of itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import Enum, IntEnum
from typing import Any

from django.http import HttpResponseBase
from django.utils.module_loading import import_string

View = Callable[..., HttpResponseBase]


class Role(IntEnum):
    """What somebody is to a ground; each may do all that the ones before may."""

    STRANGER = 0
    READER = 1
    WORKER = 2
    OWNER = 3

    @property
    def word(self) -> str:
        """Its word."""
        return self.name.casefold()


class Shelf(Enum):
    """Where a page stands in the list of all pages."""

    LAWN = "On the lawn"
    GROUND = "The ground"
    SEASON = "The season"
    SEED = "Seed"
    TRIALS = "Side by side"
    BOOK = "The book"
    LEARN = "Learn"


@dataclass(frozen=True, slots=True)
class Page:
    """One address and what is behind it.

    Parameters
    ----------
    route : str
        Its address below the ground's own, as Django writes routes.
    view : callable
        What answers.
    name : str
        By which templates and views find the address.
    role : Role
        The least that somebody must be to the ground to be answered.
    methods : tuple of str
        Ways of asking that are answered.
    title : str
        Name under which it is listed; empty for a page that is reached from another one.
    says : str
        What it is for, in a few words.
    shelf : Shelf or None
        Where it is listed.
    example : mapping
        Parts of the address on the made-up ground; tests open every page with them.
    offline : bool
        Whether a phone keeps it from the first visit; the zone is the only part that the address
        may have, and each zone's page is kept.
    is_slow : bool
        Whether the first answer is that it is being worked out.
    sees : str or callable
        Which personal data are on it, for the record of who saw what; empty for none. Where that
        differs by the parts of the address, what tells it from them.
    """

    route: str
    view: View
    name: str
    role: Role
    methods: tuple[str, ...] = ("GET",)
    title: str = ""
    says: str = ""
    shelf: Shelf | None = None
    example: Mapping[str, Any] = field(default_factory=dict)
    offline: bool = False
    is_slow: bool = False
    sees: str | Callable[..., str] = ""


def is_for_programs(page: Page) -> bool:
    """Tell whether a page is for programs, which are answered in JSON."""
    return page.name.startswith("api-")


def every_page() -> tuple[Page, ...]:
    """Give all pages, as the addresses of the site list them."""
    found: tuple[Page, ...] = import_string("swardbook.web.urls.PAGES")
    return found
