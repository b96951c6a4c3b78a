"""The morning look: ten short sections in a fixed order, at most a screen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from swardbook.planning import sections
from swardbook.planning.kept_lines import kept_lines
from swardbook.planning.sections import Line
from swardbook.planning.situation import Situation
from swardbook.planning.tasks import WorthOf
from swardbook.planning.week import no_worth, plan_week

MOST_LINES = 2
MOST_CLOCKS = 4
"""Lines a section shows, and the clock's; the rest is counted."""

TITLES: Mapping[str, str] = {
    "stops": "What stops you today",
    "drying": "Seedbeds and refills drying",
    "clock": "Seeding clock",
    "gaps": "Open gaps",
    "sow": "Sow",
    "checks": "Checks due",
    "pull": "Where an hour by hand takes most",
    "disease": "Disease or pest",
    "feed": "Feed",
    "held_off": "Held off",
}
"""Sections of the first screen, in their order."""


@dataclass(frozen=True, slots=True)
class Section:
    """One section of the first screen.

    Parameters
    ----------
    key, title : str
        Which, and how it is headed.
    lines : tuple of Line
        What it says; empty where there is nothing.
    nothing : str
        A few words for an empty section; empty if it is then dropped.
    """

    key: str
    title: str
    lines: tuple[Line, ...]
    nothing: str = ""

    @property
    def shown(self) -> tuple[Line, ...]:
        """The lines that fit."""
        return self.lines[: self._most]

    @property
    def rest(self) -> tuple[Line, ...]:
        """The lines that do not fit."""
        return self.lines[self._most :]

    @property
    def more(self) -> int:
        """Lines that do not fit."""
        return max(len(self.lines) - self._most, 0)

    @property
    def _most(self) -> int:
        return MOST_CLOCKS if self.key == "clock" else MOST_LINES


@dataclass(frozen=True, slots=True)
class Morning:
    """The morning look of a site."""

    site: str
    today: date
    sections: tuple[Section, ...]
    weekly_hours: float | None = field(default=None)

    def section(self, key: str) -> Section | None:
        """Find a section by key; None if it was dropped."""
        return next((each for each in self.sections if each.key == key), None)


def morning_look(zones: Sequence[Situation], worth: WorthOf = no_worth) -> Morning:
    """Say what matters this morning, in the order of the first screen.

    Parameters
    ----------
    zones : sequence of Situation
        All zones of the site, on the same day.
    worth : callable
        Gives the change in the look-ahead if a job is skipped in a zone.
    """
    week = plan_week(zones, worth)
    told: dict[str, tuple[list[Line], str]] = {
        "stops": (sections.stops(zones), "Nothing: firm, no frost, open."),
        "drying": (sections.drying(zones), "None: no seedbed is bare and dry today."),
        "clock": (sections.clocks(zones), "Resting: out of the season of heads."),
        "gaps": (sections.gaps(zones), ""),
        "sow": (sections.sow(zones), ""),
        "checks": (sections.checks(week), "None."),
        "pull": ([*sections.dig(week), *sections.pull(zones)], ""),
        "disease": (sections.disease(zones), "Leave: nothing points to it."),
        "feed": (sections.feed(zones), "None due."),
        "held_off": (sections.held_off(zones, week), ""),
    }
    for key, lines in kept_lines(zones).items():
        told[key] = ([*lines, *told[key][0]] if key == "sow" else [*told[key][0], *lines],
                     told[key][1])  # fmt: skip
    found = tuple(
        Section(key, title, tuple(told[key][0]), told[key][1])
        for key, title in TITLES.items()
        if told[key][0] or told[key][1]
    )
    site = zones[0].site if zones else None
    today = zones[0].today if zones else date.min
    return Morning(
        site.name if site else "", today, found, site.weekly_hours if site else None
    )  # fmt: skip
