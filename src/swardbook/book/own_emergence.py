"""One's own sowings looked back on: when they came up, what the model would have said, and weights.

A draw that would have foretold one's own sowings well counts for more in the chances of the next.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from swardbook.book.from_seed import Years, bed_as_watered
from swardbook.book.opening import Book
from swardbook.book.seedlings_seen import OwnSowing, own_sowings
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import Water
from swardbook.model.chance import Array
from swardbook.model.compiling import Kernel
from swardbook.model.from_seed import NEVER, Courses, Days, Seeding, grow_from_seed, lay_courses
from swardbook.model.inputs import Drivers
from swardbook.model.parameters import SownKind
from swardbook.model.weather_ahead import WeatherAhead
from swardbook.seed import LotPart, Method, usual_rate


@dataclass(frozen=True, slots=True)
class OwnResult:
    """One component of one earlier sowing.

    Parameters
    ----------
    zone : str
        Where.
    day : date
        The day of sowing.
    species : str
        Key of the species.
    seen_after : int
        Days until somebody first saw it. [d]
    model : tuple of int or None
        Days the model would have said: one in ten, the middle and nine in ten, each None where that
        is past the days followed; None in all without weather or water of those days. [d]
    cut_after : int or None
        Days to the first cut that was recorded. [d]
    water_unknown : bool
        Whether nothing says how it was watered, so that it is not held against the model.
    """

    zone: str
    day: date
    species: str
    seen_after: int
    model: tuple[int | None, int | None, int | None] | None
    cut_after: int | None
    water_unknown: bool = False


@dataclass(frozen=True, slots=True)
class OwnEmergence:
    """What one's own sowings say of the next.

    Parameters
    ----------
    results : tuple of OwnResult
        Sowing by sowing, the latest first.
    weights : mapping of str to array
        For each of the model's kinds that was seen, how much each draw counts. [-]
    is_left_out : bool
        Whether the weights are left out, as hardly any draw would have foretold what was seen.
    """

    results: tuple[OwnResult, ...] = ()
    weights: Mapping[str, Array] | None = None
    is_left_out: bool = False

    @property
    def is_used(self) -> bool:
        """Whether the chances are weighed by it."""
        return bool(self.weights)

    def of(self, species: Sequence[str], draws: int) -> Array:
        """Give how much each draw counts for some species together; they add up to 1 [-]."""
        total = np.ones(draws)
        for kind in dict.fromkeys(SownKind(each, 0.0).kind for each in species):
            total = total * (self.weights or {}).get(kind, 1.0)
        return np.asarray(total / total.sum())


NONE = OwnEmergence()


def own_emergence(
    book: Book, species: Sequence[str], years: Years, kernel: Kernel, before: date | None = None
) -> OwnEmergence:
    """Look back on one's own sowings of some species, and weigh the draws by them.

    Parameters
    ----------
    book : Book
        The opened book.
    species : sequence of str
        Keys of the components of the next sowing.
    years : Years
        The weather ahead: its draws are the ones weighed.
    kernel : Kernel
        The compiled model.
    before : date, optional
        Sowings from this day on are left out; today if not given.
    """
    wanted = {SownKind(each, 0.0).kind for each in species}
    seen: dict[tuple[str, date, str], tuple[OwnSowing, int]] = {}
    for sowing in _looked_back(book, wanted, before or book.today):
        for name, after in sowing.seen:
            if SownKind(name, 0.0).kind in wanted:
                seen.setdefault((sowing.zone, sowing.day, name), (sowing, after))
    results: list[OwnResult] = []
    logs: dict[str, Array] = {}
    for (zone, day, name), (sowing, after) in list(seen.items())[
        : round(value("own_emergence.most"))
    ]:
        unknown = not _is_water_known(book, sowing)
        days = None if unknown else _foretold(book, sowing, name, years, kernel)
        told = None if days is None else _spread(days)
        results.append(OwnResult(zone, day, name, after, told, sowing.cut_after, unknown))
        if days is not None:
            kind = SownKind(name, 0.0).kind
            logs[kind] = np.log(
                _likelihood(np.minimum(days, _reach(book, sowing) + 1), after)
            ) + logs.get(kind, 0.0)
    weights = {kind: np.exp(log - log.max()) for kind, log in logs.items()}
    least = value("own_emergence.least_effective_share")
    if any(each.sum() ** 2 / (each**2).sum() < least * len(each) for each in weights.values()):
        return OwnEmergence(tuple(results), None, is_left_out=True)
    return OwnEmergence(tuple(results), weights)


def _looked_back(book: Book, kinds: set[str], before: date) -> tuple[OwnSowing, ...]:
    follow = round(value("own_emergence.follow_days"))
    return own_sowings(book.ground(), _alike(book, kinds), before, follow, book.today)


def _alike(book: Book, kinds: set[str]) -> list[str]:
    """List the species of the book's lots that the model grows as one of some kinds."""
    names = {part.species for lot in book.ground().lots for part in lot.parts}
    return [name for name in sorted(names - {"others"}) if SownKind(name, 0.0).kind in kinds]


def _foretold(
    book: Book, sowing: OwnSowing, name: str, years: Years, kernel: Kernel
) -> Days | None:
    """Run a past sowing under the weather and water it had, on the draws of the next one."""
    ground = book.ground()
    lead = round(value("from_seed.lead_days"))
    first = sowing.day - timedelta(days=lead)
    last = sowing.day + timedelta(days=_reach(book, sowing))
    weather = book.weather()
    if weather is None or weather.first > first or weather.last < last:
        return None
    course = lay_courses(
        WeatherAhead((weather.between(first, last),), ()), ground.site.latitude,
        ground.site.elevation_m,
    )  # fmt: skip
    number = len(years.courses.growth)
    courses = Courses(
        course.first, course.last, Drivers(*(np.repeat(x, number, axis=0) for x in course.drivers)),
        np.repeat(course.growth, number, axis=0),
    )  # fmt: skip
    parts = (LotPart(name, 1.0),)
    bed, _ = bed_as_watered(book, ground, ground.zone(sowing.zone), sowing.day, sowing.sow)
    rate = usual_rate(parts, Method.SEEDBED).middle
    try:
        grown = grow_from_seed(
            Seeding(parts, rate, sowing.day), bed, courses, (last - sowing.day).days, years.chance,
            kernel, threads=book.settings.threads,
        )  # fmt: skip
    except NotEnoughDataError:
        return None
    return grown.emerged(0)


def _reach(book: Book, sowing: OwnSowing) -> int:
    """Days for which a past sowing is followed [d]."""
    return min(round(value("own_emergence.follow_days")), (book.today - sowing.day).days)


def _likelihood(days: Days, after: int) -> Array:
    """How well each draw would have foretold the day [-]."""
    miss = np.minimum(np.abs(days - float(after)), 1e3) / value("own_emergence.spread")
    return np.asarray(value("own_emergence.floor") + np.exp(-0.5 * miss**2))


def _spread(days: Days) -> tuple[int | None, int | None, int | None]:
    low, middle, high = np.sort(days)[[int(share * (len(days) - 1)) for share in (0.1, 0.5, 0.9)]]
    return _day(low), _day(middle), _day(high)


def _day(days: np.int64) -> int | None:
    return None if days == NEVER else int(days)


def _is_water_known(book: Book, sowing: OwnSowing) -> bool:
    """Tell whether the sowing or the diary says how the seedbed was watered."""
    if sowing.sow.watered is not None:
        return True
    last = sowing.day + timedelta(days=round(7 * value("seedbed_weeks")))
    waterings = book.ground().entries(sowing.zone, Water.kind)
    return any(sowing.day <= entry.day <= last for entry in waterings)
