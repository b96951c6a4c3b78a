"""Gaps between cuts: exposed days under any clock, and whether the diary can tell."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from swardbook.foundation.dates import MONTHS, When, days_between
from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import Cut
from swardbook.planning.situation import Happened, Situation


@dataclass(frozen=True, slots=True)
class Gap:
    """Days from one cut to the next; both dated."""

    first: date
    last: date
    is_certain: bool
    """False where an undated cut may have fallen between."""
    is_open: bool = False
    """Whether it runs on: the last day is today, not a cut."""

    @property
    def days(self) -> int:
        """Its length."""
        return (self.last - self.first).days


@dataclass(frozen=True, slots=True)
class WhatIf:
    """Exposed days if the clock ran another number of days."""

    clock_days: float
    exposed_days: float


@dataclass(frozen=True, slots=True)
class GapAnalysis:
    """The gaps between the cuts of a spell, or why they cannot be told.

    Parameters
    ----------
    first, last : date
        The spell.
    verdict : str
        ``not enough data``, or empty where the gaps can be told.
    reason : str
        Why not, or what to bear in mind.
    gaps : tuple of Gap
        Every gap between dated cuts of the spell.
    boxed, unboxed, not_said : int
        Cuts by whether the box was on; undated ones counted too.
    what_if : tuple of WhatIf
        Exposed days under several clocks; empty where the verdict is not enough data.
    what_if_boxed : tuple of WhatIf
        The same by boxed cuts alone, as an unboxed one takes no heads away.
    incomplete_months : tuple of str
        Months with cuts that have no day.
    """

    first: date
    last: date
    verdict: str
    reason: str
    gaps: tuple[Gap, ...]
    boxed: int
    unboxed: int
    not_said: int
    what_if: tuple[WhatIf, ...]
    what_if_boxed: tuple[WhatIf, ...]
    incomplete_months: tuple[str, ...]

    @property
    def cuts(self) -> int:
        """All cuts of the spell."""
        return self.boxed + self.unboxed + self.not_said


def exposed_days(gaps: Sequence[float], clock_days: float) -> float:
    """Add up the days by which gaps outran a clock.

    Parameters
    ----------
    gaps : sequence of float
        Days from each cut to the next. [d]
    clock_days : float
        The clock. [d]

    Returns
    -------
    float
        Sum of ``max(0, gap - clock)``. [d]
    """
    return sum((max(0.0, gap - clock_days) for gap in gaps), 0.0)


def analyse_gaps(sit: Situation, first: date, last: date) -> GapAnalysis:
    """Tell the gaps between cuts of a spell, and what other clocks would make of them.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    first, last : date
        The spell, both included.
    """
    cuts = [cut for cut in sit.happened(Cut) if first <= cut.day <= last]
    loose = [cut.entry.when for cut in cuts if not cut.is_dated]
    days = sorted({cut.day for cut in cuts if cut.is_dated})
    gaps = _gaps(days, loose, last, sit.today)
    boxed_days = sorted({cut.day for cut in cuts if cut.is_dated and cut.what.boxed})
    boxed_gaps = _gaps(boxed_days, loose, last, sit.today)
    boxed, unboxed, not_said = (_number(cuts, answer) for answer in (True, False, None))
    verdict, reason = _enough(cuts, loose, (first, last), len(days))
    return GapAnalysis(
        first, last, verdict, reason, gaps, boxed, unboxed, not_said,
        () if verdict else _what_if(gaps), () if verdict else _what_if(boxed_gaps), _months(loose),
    )  # fmt: skip


def _gaps(days: Sequence[date], loose: Sequence[When], last: date, today: date) -> tuple[Gap, ...]:
    found = tuple(
        Gap(one, other, not any(_overlaps(span, one, other) for span in loose))
        for one, other in pairwise(days)
    )
    if days and days[-1] < last == today:
        sure = not any(_overlaps(span, days[-1], last) for span in loose)
        found += (Gap(days[-1], last, sure, is_open=True),)
    return found


def _what_if(gaps: Sequence[Gap]) -> tuple[WhatIf, ...]:
    certain = [gap.days for gap in gaps if gap.is_certain]
    return tuple(WhatIf(clock, exposed_days(certain, clock)) for clock in _clocks())


def _clocks() -> tuple[float, ...]:
    return (value("clock_days"), value("clock_flush_days"), 5.0)


def _number(cuts: Sequence[Happened[Cut]], answer: bool | None) -> int:
    return sum(cut.entry.number for cut in cuts if cut.what.boxed is answer)


def _enough(
    cuts: Sequence[Happened[Cut]], loose: Sequence[When], spell: tuple[date, date], dated: int
) -> tuple[str, str]:
    every = days_between(*spell)
    covered = [day for day in every if not any(span.first <= day <= span.last for span in loose)]
    total = sum(cut.entry.number for cut in cuts)
    missing = _number(cuts, None)
    if dated < 2:
        return "not enough data", "fewer than two dated cuts; some may not be written down"
    if len(covered) < value("diary_cover_least") * len(every):
        share = round(100 * len(covered) / len(every))
        return "not enough data", f"the diary covers only {share} % of the days"
    if missing > value("boxing_missing_most") * total:
        return "not enough data", f"{missing} of {total} cuts do not say whether the box was on"
    if loose:
        number = total - sum(cut.entry.number for cut in cuts if cut.is_dated)
        told = f"the diary is incomplete in {_join(_months(loose))}: {number} cuts have no day"
        if _spell_of_loose(loose, spell):
            return "not enough data", told
        return "", f"{told}; gaps they may fall in are left out"
    return "", ""


def _spell_of_loose(loose: Sequence[When], spell: tuple[date, date]) -> bool:
    """Whether a spell lies within the month of an undated cut, as when a single month is asked."""
    return any(
        (span.day.year, span.day.month) == (spell[0].year, spell[0].month)
        and (span.day.year, span.day.month) == (spell[1].year, spell[1].month)
        for span in loose
    )


def _overlaps(span: When, one: date, other: date) -> bool:
    return span.first < other and span.last > one


def _months(loose: Sequence[When]) -> tuple[str, ...]:
    found: list[str] = []
    for span in sorted(loose):
        day = span.first
        while day <= span.last:
            name = MONTHS[day.month - 1].capitalize()
            if name not in found:
                found.append(name)
            day += timedelta(days=1)
    return tuple(found)


def _join(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
