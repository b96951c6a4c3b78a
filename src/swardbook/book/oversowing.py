"""Sowing into a zone's standing sward: what stands there, and what the seed would add to it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from swardbook.book.from_seed import Years
from swardbook.book.kept_learning import learner_of
from swardbook.book.look_ahead import FULL, GENERAL, chance_of
from swardbook.book.opening import Book
from swardbook.book.trial_learning import learned_for
from swardbook.book.worth import DRAWS
from swardbook.book.zone_story import is_sown, story_of
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Scarify
from swardbook.model.compiling import Kernel
from swardbook.model.from_seed import Days
from swardbook.model.growing import grower
from swardbook.model.oversow import (
    Oversowing,
    Stood,
    Sward,
    Work,
    draws_for,
    follow,
    sward_for,
)
from swardbook.model.prospects import Range
from swardbook.seed import LotPart, Method

Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Present:
    """The sward that stands there.

    Parameters
    ----------
    sown, bare, weed : Range
        Ground tonight under sown grass, bare, and under annual meadow-grass. [-]
    rests_on : str
        What that rests on, in words.
    is_scarified : bool
        Whether a scarifying on the day of sowing is reckoned with.
    merged : tuple of str
        Species that grow in the model as their nearest relatives.
    """

    sown: Range
    bare: Range
    weed: Range
    rests_on: str
    is_scarified: bool
    merged: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Outlook:
    """What an oversowing comes to in each draw.

    Parameters
    ----------
    with_seed, without : Stood
        The sward with the seed, and with the same work but none.
    first_mow : array of int
        Days from sowing until the sward has grown by half its height of cut. [d]
    """

    with_seed: Stood
    without: Stood
    first_mow: Days

    def added(self, days: int) -> Range:
        """Sown grass that the seed adds by some days after sowing [-]."""
        return Range.of(self.with_seed.at(days) - self.without.at(days))


@dataclass(frozen=True, slots=True)
class Oversower:
    """Sows into one zone's sward on one day after another.

    Parameters
    ----------
    sward : Sward
        The draws tonight.
    present : Present
        The same in words and ranges.
    zone : Zone
        The zone.
    years : Years
        The weather ahead.
    kernel : Kernel
        The compiled model.
    threads : int
        Threads; change no bit.
    is_watered : bool
        Whether it is kept damp for the first weeks.
    method : Method
        How seed is put down.
    days : int
        Days to follow each sowing. [d]
    """

    sward: Sward
    present: Present
    zone: Zone
    years: Years
    kernel: Kernel
    threads: int
    is_watered: bool
    method: Method
    days: int

    def without(self, day: date) -> Stood:
        """Follow the sward with the work of a sowing and no seed."""
        return self._follow(None, day)

    def seeded(self, parts: tuple[LotPart, ...], rate: float, day: date) -> Stood:
        """Follow it with seed of some label at a rate [g m⁻²]."""
        return self._follow(Oversowing(parts, rate, self.method.value), day)

    def first_mow(self, parts: tuple[LotPart, ...], rate: float, day: date) -> Days:
        """Days from the sowing until a third has grown on top, if it is not cut before [d]."""
        seed = Oversowing(parts, rate, self.method.value)
        height = self.zone.height_of_cut_mm / (1.0 - value("leaf_third"))
        return self._follow(seed, day, is_cut=False).grown_to(height)

    def _follow(self, seed: Oversowing | None, day: date, *, is_cut: bool = True) -> Stood:
        work = Work(
            day, self.zone.height_of_cut_mm, self.is_watered, self.present.is_scarified, is_cut
        )
        return follow(
            self.sward, seed, work, self.years.courses, self.days, self.kernel,
            threads=self.threads,
        )  # fmt: skip


def oversower_of(
    book: Book, zone: Zone, parts: tuple[LotPart, ...], method: Method, day: date, years: Years,
    kernel: Kernel, is_watered: bool, tell: Tell = lambda _: None,
) -> Oversower:  # fmt: skip
    """Stand a zone's sward ready for seed, as learned from what the book holds of it.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : Zone
        The zone.
    parts : tuple of LotPart
        What is to be sown.
    method : Method
        How it is put down.
    day : date
        The first day of sowing.
    years : Years
        The weather ahead.
    kernel : Kernel
        The compiled model.
    is_watered : bool
        Whether it is kept damp for the first weeks.
    tell : callable
        Told in words what is being worked on.

    Raises
    ------
    NotEnoughDataError
        If nothing says how thin the sward is, or its story cannot be followed.
    """
    ground, weather = book.ground(), book.all_weather()
    what = f"cover of {zone.name} once it is oversown"
    if weather is None:
        raise NotEnoughDataError(what, "daily weather of the site", "none")
    trial = learned_for(book, zone, kernel, tell)
    story = trial.told_to(story_of(ground, zone.name, weather, book.today))
    counted = any(each.places for each in story.seen)
    if not counted and not is_sown(story):
        raise NotEnoughDataError(
            what, "a count of the zone: how thin it is decides", "no count and no sowing of it"
        )
    tell(f"taking {zone.name} to today")
    chance = chance_of(ground, zone)
    grow = grower(kernel, book.settings.threads)
    known = learner_of(book.settings)(story, min(book.settings.draws, DRAWS), chance, grow)
    if known.learned.refusal:
        raise NotEnoughDataError(what, "counts that the model can follow", known.learned.refusal)
    sward = sward_for(
        known, zone, ground.site.latitude, parts, day, chance.under("oversowing"),
        draws_for(years.courses),
    )  # fmt: skip
    state = sward.state
    present = Present(
        Range.of(sward.sown_now), Range.of(state.zone.gap), Range.of(state.weeds[0].cover),
        FULL if counted else GENERAL,
        method is Method.SCARIFIED and not _was_scarified(ground, zone, book.today),
        sward.merged,
    )  # fmt: skip
    return Oversower(
        sward, present, zone, years, kernel, book.settings.threads, is_watered, method,
        round(value("sow_when.days")),
    )  # fmt: skip


def _was_scarified(ground: Ground, zone: Zone, today: date) -> bool:
    """Tell whether the zone was scarified so lately that a sowing goes into that."""
    since = today - timedelta(days=round(value("sow_when.scarified_days")))
    return any(since <= entry.day <= today for entry in ground.entries(zone.name, Scarify.kind))


def share_by(days: Days, span: int) -> float:
    """Give the share of draws in which something has come by some days after sowing [-]."""
    return float(np.mean(days <= span))
