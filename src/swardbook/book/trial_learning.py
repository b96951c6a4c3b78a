"""What a trial teaches the model of its ground: ranges of sown grasses, narrowed and kept."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from swardbook.book.from_seed import bed_as_watered
from swardbook.book.opening import Book
from swardbook.book.side_by_side import SideAsked, asked_of
from swardbook.book.trial_care import sown_on
from swardbook.book.trial_days import TrialTrait, trial_trait
from swardbook.book.trial_kept_learning import kept_or_made
from swardbook.book.trial_likeness import trial_zones, unlike
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import parameters, value
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Sow
from swardbook.model.chance import Array, Chance
from swardbook.model.compiling import Kernel
from swardbook.model.draws import MeasuredRange, is_drawn
from swardbook.model.from_seed import Courses, Grown, Seeding, grow_from_seed, lay_courses
from swardbook.model.inputs import Drivers
from swardbook.model.kernel_text import LANES
from swardbook.model.narrowing import Narrowed, Reading, narrow, weigh
from swardbook.model.parameters import SownKinds, parameter_keys
from swardbook.model.story import Story
from swardbook.model.weather_ahead import WeatherAhead
from swardbook.seed.mixture import OTHERS
from swardbook.trials.design import Kind
from swardbook.trials.means import Means
from swardbook.trials.said import pairs_of

Tell = Callable[[str], None]
READ = ("sown", "annual meadow-grass")
"""Kinds whose cover on the plots is held against the model."""
_SHARED = (
    "model.sown.field_multiplier", "model.sown.emergence_spread", "seed_establishment_seedbed",
)  # fmt: skip
_OFF = "learning.share_discrepancy"


@dataclass(frozen=True, slots=True)
class TrialLearned:
    """What a trial taught the model.

    Parameters
    ----------
    zone : str
        The zone of the trial; empty where there is none.
    height_mm : float
        Height it is cut at. [mm]
    sown_on, last : date or None
        Day of its sowing, and of the last count that was read.
    counts, mixtures, plots, blocks : int
        Days it was counted, mixtures that were grown, plots and blocks.
    kinds : tuple of str
        What was counted.
    draws : int
        Draws that were grown as the plots grew.
    effective : float
        Draws that carry the weight. [-]
    ranges : tuple of MeasuredRange
        Numbers of sown grasses that it narrowed, the most first.
    why_not : str
        Why nothing is taken from it; empty if it may be.
    """

    zone: str = ""
    height_mm: float = 0.0
    sown_on: date | None = None
    last: date | None = None
    counts: int = 0
    mixtures: int = 0
    plots: int = 0
    blocks: int = 0
    kinds: tuple[str, ...] = ()
    draws: int = 0
    effective: float = 0.0
    ranges: tuple[MeasuredRange, ...] = ()
    why_not: str = ""

    def only(self, kinds: SownKinds) -> TrialLearned:
        """Give what it taught of the grasses of one ground."""
        own = set(parameter_keys(kinds))
        return replace(self, ranges=tuple(each for each in self.ranges if each.key in own))

    def told_to(self, story: Story) -> Story:
        """Give a story whose sown grasses are drawn from the ranges that are left."""
        own = self.only(story.kinds).ranges
        return replace(story, kinds=replace(story.kinds, ranges=own)) if own else story


NOTHING = TrialLearned()


def learned_for(
    book: Book, zone: Zone, kernel: Kernel, tell: Tell = lambda _: None,
    height_mm: float | None = None, sun_hours: float | None = None,
) -> TrialLearned:  # fmt: skip
    """Give what the book's trials teach of a ground, like for like; the last such trial counts.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : Zone
        The ground that is asked about.
    kernel : Kernel
        The compiled model.
    tell : callable
        Told in words what is being worked on.
    height_mm, sun_hours : float or None
        Height of cut [mm] and sun [h] that are asked about; None takes the zone's.

    Returns
    -------
    TrialLearned
        Without a zone where there is no other trial; with `why_not` where it is not used.
    """
    ground = book.ground()
    first = NOTHING
    trials = [each for each in trial_zones(ground) if each.name != zone.name]
    for trial in sorted(trials, key=lambda each: sown_on(ground, each.name) or date.min)[::-1]:
        apart = unlike(
            trial,
            height_mm or zone.height_of_cut_mm,
            zone.sun_hours if sun_hours is None else sun_hours,
        )
        if apart:
            found = TrialLearned(trial.name, why_not=f"Not like for like: {'; '.join(apart)}.")
        else:
            found = learn_from_trial(book, trial.name, kernel, tell)
        if found.ranges:
            return found
        first = first if first.zone else found
    return first


def learn_from_trial(
    book: Book, zone: str, kernel: Kernel, tell: Tell = lambda _: None
) -> TrialLearned:
    """Narrow the ranges of the grasses sown in a trial by how its plots did.

    Each mixture is grown from the day of sowing under the weather and water it had, draw by draw;
    draws count by how near they come to the adjusted means of every count. What was worked out
    before of the same trial is read from the cache.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone of the trial.
    kernel : Kernel
        The compiled model.
    tell : callable
        Told in words what is being worked on.
    """

    def make() -> TrialLearned:
        try:
            trial = _trial(book, zone)
        except NotEnoughDataError as short:
            return TrialLearned(zone, why_not=f"It needs {short.needed}; there is {short.found}.")
        tell(f"growing the mixtures of {zone} as their plots grew")
        return _learn(book, trial, kernel)

    return kept_or_made(book, zone, kernel.identity, TrialLearned, make)


@dataclass(frozen=True, slots=True)
class _Sown:
    name: str
    lot: str
    day: date
    sow: Sow


@dataclass(frozen=True, slots=True)
class _Trial:
    """A trial that may teach: its sowings and the means of each thing on each day."""

    zone: Zone
    first: date
    last: date
    plots: int
    blocks: int
    sown: tuple[_Sown, ...]
    means: tuple[tuple[str, tuple[tuple[date, Means], ...]], ...]


def _trial(book: Book, zone: str) -> _Trial:
    """Read a trial, and refuse one that mixtures may not be ranked by."""
    ground = book.ground()
    first = sown_on(ground, zone)
    if first is None:
        raise NotEnoughDataError("a trial's lesson", "a sowing of its plots", "none")
    plots = [plot for plot in ground.plots if plot.zone == zone]
    blocks, least = len({plot.block for plot in plots}), round(value("trial.ranked_from"))
    if blocks < least:
        raise NotEnoughDataError("a trial's lesson", f"{least} blocks", f"{blocks}")
    weather, lead = book.weather(), timedelta(days=round(value("from_seed.lead_days")))
    means = [(kind, days) for kind in READ if (days := _days(ground, zone, kind, first))]
    if not means:
        raise NotEnoughDataError("a trial's lesson", "cover counted on its plots", "none")
    last = max(day for _, days in means for day, _ in days)
    if weather is None or weather.first > first - lead or weather.last < last:
        needed = f"daily weather from {first - lead} to {last}"
        raise NotEnoughDataError("a trial's lesson", needed, "less")
    return _Trial(
        ground.zone(zone), first, last, len(plots), blocks, _sowings(ground, zone, first),
        tuple(means),
    )  # fmt: skip


def _days(ground: Ground, zone: str, kind: str, first: date) -> tuple[tuple[date, Means], ...]:
    """Give the adjusted means of each count since the sowing, where mixtures may be ranked."""
    try:
        trait: TrialTrait = trial_trait(ground, zone, kind)
    except NotEnoughDataError:
        return ()
    asked = asked_of(ground, zone, trait, SideAsked(zone, kind))
    if asked.kind is Kind.TUBS:
        return ()
    found = []
    for read in trait.days:
        if read.day <= first or read.unit != "%":
            continue
        try:
            means, pairs = pairs_of(trait.plots, read, asked)
        except NotEnoughDataError:
            continue
        if pairs:
            found.append((read.day, means))
    return tuple(found)


def _sowings(ground: Ground, zone: str, first: date) -> tuple[_Sown, ...]:
    found: dict[str, _Sown] = {}
    for entry in ground.entries(zone, Sow.kind):
        what = entry.what
        if not isinstance(what, Sow) or entry.zone != zone or entry.day < first or not what.lot:
            continue
        lot = ground.lot(what.lot)
        is_known = all(part.species != OTHERS for part in lot.parts) and lot.parts
        if is_known and what.rate_g_m2:
            found.setdefault(lot.mixture, _Sown(lot.mixture, lot.code, entry.day, what))
    return tuple(found.values())


def _learn(book: Book, trial: _Trial, kernel: Kernel) -> TrialLearned:
    ground = book.ground()
    chance = Chance(("a trial's lesson", ground.site.name, trial.zone.name))
    courses = _courses(book, ground, trial, round(value("trial.learn_draws")) // LANES)
    grown = {
        each.name: _grow(book, ground, trial, each, courses, chance, kernel) for each in trial.sown
    }
    readings = [found for kind, days in trial.means if (found := _readings(kind, days, grown))]
    draws = LANES * len(courses.growth)
    if not readings:
        why = "No mixture on its plots is a lot of the book whose parts are known."
        return TrialLearned(trial.zone.name, why_not=why)
    made = narrow(_scores(grown.values(), chance, draws), weigh(readings, value(_OFF)))
    return _told(trial, grown, made, draws)


def _told(
    trial: _Trial, grown: dict[str, tuple[date, Grown]], made: Narrowed, draws: int
) -> TrialLearned:
    least = value("trial.learn_least_share") * draws
    why = "" if made.effective >= least else (
        f"Hardly any draw grew as its plots did ({made.effective:.0f} of {draws:,} count,"
        f" {least:.0f} must): what happened there is not in the model, so the handbook's ranges"
        " stay as they are."
    )  # fmt: skip
    days = {day for _, days in trial.means for day, _ in days}
    return TrialLearned(
        trial.zone.name, trial.zone.height_of_cut_mm, trial.first, trial.last, len(days),
        len(grown), trial.plots, trial.blocks, tuple(kind for kind, _ in trial.means), draws,
        round(made.effective, 1), () if why else made.ranges, why,
    )  # fmt: skip


def _courses(book: Book, ground: Ground, trial: _Trial, number: int) -> Courses:
    """Lay the trial's own weather out once for each block of draws."""
    weather, site = book.weather(), ground.site
    assert weather is not None
    first = trial.first - timedelta(days=round(value("from_seed.lead_days")))
    whole = weather.between(first, trial.last)
    course = lay_courses(WeatherAhead((whole,), ()), site.latitude, site.elevation_m)
    drivers = Drivers(*(np.repeat(each, number, axis=0) for each in course.drivers))
    return Courses(course.first, course.last, drivers, np.repeat(course.growth, number, axis=0))


def _grow(
    book: Book, ground: Ground, trial: _Trial, sown: _Sown, courses: Courses, chance: Chance,
    kernel: Kernel,
) -> tuple[date, Grown]:  # fmt: skip
    bed, _ = bed_as_watered(book, ground, trial.zone, sown.day, sown.sow)
    parts = ground.lot(sown.lot).parts
    assert sown.sow.rate_g_m2 is not None
    made = grow_from_seed(
        Seeding(parts, sown.sow.rate_g_m2, sown.day), bed, courses,
        (trial.last - sown.day).days, chance, kernel, cut=True, every=7,
        threads=book.settings.threads,
    )  # fmt: skip
    return sown.day, made


def _readings(
    kind: str, days: Sequence[tuple[date, Means]], grown: dict[str, tuple[date, Grown]]
) -> list[Reading]:
    found = []
    for day, means in days:
        names = [name for name in means.names if name in grown and grown[name][0] < day]
        if names:
            at = [means.place(name) for name in names]
            error = np.sqrt(np.diag(means.covariance)[at])
            foretold = np.stack([_foretold(kind, *grown[name], day) for name in names])
            found.append(Reading(means.values[at] / 100, error / 100, foretold))
    return found


def _foretold(kind: str, sown: date, grown: Grown, day: date) -> Array:
    """Give what each draw has on a day, between the evenings that were looked at [-]."""
    series = grown.sown if kind == "sown" else grown.weed
    since = min((day - sown).days, int(grown.days[-1]))
    later = min(int(np.searchsorted(grown.days, since)), len(grown.days) - 1)
    before = max(later - 1, 0)
    gap = grown.days[later] - grown.days[before]
    part = float(since - grown.days[before]) / float(gap) if gap else 0.0
    return np.asarray(series[before] * (1 - part) + series[later] * part)


def _scores(grown: Iterable[tuple[date, Grown]], chance: Chance, draws: int) -> dict[str, Array]:
    kinds = {kind.kind for _, made in grown for kind in made.kinds.kinds}
    own = tuple(f"model.sown.{kind}." for kind in sorted(kinds))
    keys = [key for key in parameters() if key.startswith(own) or key in _SHARED]
    return {key: chance.normals(key, draws) for key in keys if is_drawn(key)}
