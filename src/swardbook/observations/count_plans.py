"""How many frames of plants to count, when to stop, and what a few of them say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil, inf
from statistics import fmean, variance

from swardbook.evidence import Density, Interval, density, looks_needed, quadrats_needed
from swardbook.evidence.sampling import (
    Finding,
    SequentialTest,
    Taylor,
    frames_to_show,
    green_stop,
    kuno_stop,
    operating,
    sequential_test,
    taylors_law,
)
from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.handbook.parameters import parameter, value
from swardbook.observations.occasions import PlaceFigure

LEVEL = 0.95
_LINES = (8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 300, 400, 600)
_LINES_SHOWN = 4
_LONGEST = 5000

PastCount = tuple[date, Sequence[PlaceFigure]]
"""A day, and the figure of each place on it."""


@dataclass(frozen=True, slots=True)
class Expected:
    """What a count is planned with.

    Parameters
    ----------
    frame_m2 : float
        Area of a frame. [m²]
    per_m2 : float
        Density. [plants m⁻²]
    interval : Interval
        What it may well be. [plants m⁻²]
    clumping : float
        k in frames of this area. [-]
    clumping_interval : Interval
        What k may well be. [-]
    law : Taylor or None
        How the variance grew with the mean in frames of this area; None where too few counts
        tell.
    density_from, clumping_from : str
        Where they come from, in words.
    """

    frame_m2: float
    per_m2: float
    interval: Interval
    clumping: float
    clumping_interval: Interval
    law: Taylor | None
    density_from: str
    clumping_from: str

    @property
    def in_a_frame(self) -> float:
        """Plants to a frame [plants]."""
        return self.per_m2 * self.frame_m2

    def line(self, frames: int, relative_error: float) -> float:
        """Give the plants in all [plants] at which counting may stop."""
        if self.law is not None:
            return green_stop(frames, self.law, relative_error)
        return kuno_stop(frames, self.clumping, relative_error)


@dataclass(frozen=True, slots=True)
class FewOrMany:
    """A test that tells few from many.

    Parameters
    ----------
    few, many : float
        The two densities. [plants m⁻²]
    test : SequentialTest
        Its lines.
    wrong_at_few, wrong_at_many : float
        Chance of a wrong answer where there are just so few, or just so many. [-]
    frames_at_few, frames_between, frames_at_many : float
        Frames it takes on average. [-]
    """

    few: float
    many: float
    test: SequentialTest
    wrong_at_few: float
    wrong_at_many: float
    frames_at_few: float
    frames_between: float
    frames_at_many: float


@dataclass(frozen=True, slots=True)
class SoFar:
    """What the first frames say.

    Parameters
    ----------
    frames : int
        Frames counted.
    plants : float
        Plants in them. [plants]
    per_m2 : float
        Density. [plants m⁻²]
    interval : Interval
        Its range; with none found, what that still allows if they do not clump. [plants m⁻²]
    line : float
        Plants at which counting may stop after so many frames. [plants]
    is_enough : bool
        Whether the precision wanted is reached.
    still : int or None
        Frames still to count if they go on as they began; None where none was found.
    finding : Finding or None
        Few, many or count on; None where it was not asked.
    """

    frames: int
    plants: float
    per_m2: float
    interval: Interval
    line: float
    is_enough: bool
    still: int | None
    finding: Finding | None


@dataclass(frozen=True, slots=True)
class PlantsPlan:
    """A count of plants in frames, planned.

    Parameters
    ----------
    expected : Expected
        What it is planned with.
    relative_error : float
        Standard error over mean wanted. [-]
    frames : int
        Frames for it.
    frames_range : tuple of int
        Frames if density and clumping are at the kinder and at the harder end.
    ratio : float
        Change to be shown, as second over first. [-]
    frames_to_show : int
        Frames on each of two occasions that show it.
    chance_shown : float
        How often they do. [-]
    lines : tuple of (int, int)
        Frames, and plants in all at which counting may stop.
    share_ruled_out : float
        Share of places. [-]
    sees : float
        Chance that a look sees it where it is. [-]
    places_without : int
        Places looked at with no find that rule the share out.
    few_or_many : FewOrMany or None
        The short test, if it was asked for.
    so_far : SoFar or None
        What the first frames say, if there are any.
    """

    expected: Expected
    relative_error: float
    frames: int
    frames_range: tuple[int, int]
    ratio: float
    frames_to_show: int
    chance_shown: float
    lines: tuple[tuple[int, int], ...]
    share_ruled_out: float
    sees: float
    places_without: int
    few_or_many: FewOrMany | None
    so_far: SoFar | None


@dataclass(frozen=True, slots=True)
class Asked:
    """What is wanted of a count of plants.

    Parameters
    ----------
    frame_m2, per_m2, clumping : float or None
        Frame [m²], density [plants m⁻²] and k [-] if they are known better than by the book.
    relative_error : float or None
        Standard error over mean; None for the customary. [-]
    ratio : float or None
        Change to be shown; None for the smallest worth acting on. [-]
    few, many : float or None
        Densities to be told apart, both or neither. [plants m⁻²]
    share_ruled_out, sees : float or None
        Share of places to rule out, and chance that a look sees it. [-]
    so_far : tuple of int
        Plants in each of the first frames. [plants]
    """

    frame_m2: float | None = None
    per_m2: float | None = None
    clumping: float | None = None
    relative_error: float | None = None
    ratio: float | None = None
    few: float | None = None
    many: float | None = None
    share_ruled_out: float | None = None
    sees: float | None = None
    so_far: tuple[int, ...] = ()


def plan_plants(past: Sequence[PastCount], asked: Asked) -> PlantsPlan:
    """Plan a count of plants from what earlier counts of the zone showed.

    Parameters
    ----------
    past : sequence of (date, sequence of PlaceFigure)
        Counts of plants in frames, in order.
    asked : Asked
        What is wanted.

    Raises
    ------
    OutOfRangeError
        If something asked for cannot be.
    """
    expected = what_to_expect(past, asked)
    error = _or(asked.relative_error, "least_relative_error")
    ratio = asked.ratio if asked.ratio is not None else 1 / value("compare_count_ratio")
    share = _or(asked.share_ruled_out, "count_plan.share_ruled_out")
    sees, shown = 1.0 if asked.sees is None else asked.sees, value("count_plan.chance_shown")
    frames = quadrats_needed(expected.in_a_frame, expected.clumping, error)
    ends = zip(expected.interval, expected.clumping_interval, strict=True)
    harder, kinder = (quadrats_needed(m * expected.frame_m2, k, error) for m, k in ends)
    short = _few_or_many(asked, expected)
    return PlantsPlan(
        expected, error, frames, (kinder, harder), ratio,
        frames_to_show(expected.in_a_frame, ratio, expected.clumping, shown), shown,
        _lines(expected, error, frames), share, sees, looks_needed(share, LEVEL, sees), short,
        _so_far(asked.so_far, expected, error, short) if asked.so_far else None,
    )  # fmt: skip


def what_to_expect(past: Sequence[PastCount], asked: Asked) -> Expected:
    """Take density and clumping from the latest count with plants, else from the handbook."""
    found = [(day, row) for day, row in past if len(row) > 1 and any(each.found for each in row)]
    last = found[-1] if found else None
    frame = asked.frame_m2
    if frame is None:
        frame = fmean(each.looked for each in last[1]) if last else value("count_plan.frame_m2")
    if not frame > 0:
        raise OutOfRangeError("area of a frame", frame, "above 0", "m2")
    clumping, ends, clumping_from = _clumping(last, asked.clumping, frame)
    if asked.per_m2 is not None:
        if not asked.per_m2 > 0:
            raise OutOfRangeError("density expected", asked.per_m2, "above 0", "plants/m2")
        dense, interval, words = asked.per_m2, Interval(asked.per_m2, asked.per_m2), "as you say"
    elif last:
        made = _fitted(last[1])
        dense, interval, words = made.per_m2, made.interval(LEVEL), f"counted on {say(last[0])}"
    else:
        row = parameter("count_plan.per_m2")
        dense, interval = row.value, Interval(row.low, row.high)
        words = "judged, for no count of plants here found any"
    law = _law(found, frame) if asked.clumping is None else None
    return Expected(frame, dense, interval, clumping, ends, law, words, clumping_from)


def _clumping(
    last: PastCount | None, given: float | None, frame_m2: float
) -> tuple[float, Interval, str]:
    """Give k in frames of an area, what it may well be, and where it comes from."""
    if given is not None:
        return given, Interval(given, given), "as you say"
    power = value("count.clumping_power")
    if last is not None:
        k = _fitted(last[1]).clumping
        if k != inf:
            k *= (frame_m2 / fmean(each.looked for each in last[1])) ** power
            return k, Interval(k, k), f"from the {len(last[1])} places of {say(last[0])}"
    row = parameter("count.clumping")
    grown = (frame_m2 / _CLUMPING_AREA_M2) ** power
    return row.value * grown, Interval(row.low * grown, row.high * grown), "judged"


_CLUMPING_AREA_M2 = 0.1
"""Area of the frame that the handbook's clumping is of."""


def _fitted(figures: Sequence[PlaceFigure]) -> Density:
    return density([each.found for each in figures], [each.looked for each in figures])


def _law(found: Sequence[PastCount], frame_m2: float) -> Taylor | None:
    """Fit the zone's own power law, where there are counts enough in frames of this one area."""
    rows = [
        [each.found for each in row]
        for _, row in found
        if all(abs(each.looked - frame_m2) < 1e-9 for each in row)
    ]
    if len(rows) < value("count_plan.occasions_least"):
        return None
    try:
        law = taylors_law([fmean(row) for row in rows], [variance(row) for row in rows])
    except NotEnoughDataError:
        return None
    return law if 1 <= law.b < 2 else None


def _lines(expected: Expected, error: float, frames: int) -> tuple[tuple[int, int], ...]:
    """Give a few points of the stop line about the frames that are planned."""
    least = int(value("count_plan.frames_least"))
    finite = [n for n in _LINES if n >= least and expected.line(n, error) != inf]
    under = [n for n in finite if n <= frames][-_LINES_SHOWN // 2 :]
    over = [n for n in finite if n > frames][: _LINES_SHOWN - len(under)]
    return tuple((n, ceil(expected.line(n, error) - 1e-9)) for n in (*under, *over))


def _few_or_many(asked: Asked, expected: Expected) -> FewOrMany | None:
    if asked.few is None or asked.many is None:
        if asked.few is not None or asked.many is not None:
            raise OutOfRangeError("few and many", asked.few or asked.many or 0, "both or none", "")
        return None
    few, many = asked.few * expected.frame_m2, asked.many * expected.frame_m2
    wrong, most = value("count_plan.chance_wrong"), int(value("count_plan.frames_most"))
    least = int(value("count_plan.test_frames_least"))
    test = sequential_test(few, many, expected.clumping, wrong, wrong)
    at_few, between, at_many = (
        operating(test, mean, expected.clumping, most, least)
        for mean in (few, (few * many) ** 0.5, many)
    )
    return FewOrMany(
        asked.few, asked.many, test, 1 - at_few.few, at_many.few,
        at_few.mean_frames, between.mean_frames, at_many.mean_frames,
    )  # fmt: skip


def _so_far(
    counts: Sequence[int], expected: Expected, error: float, short: FewOrMany | None
) -> SoFar:
    if min(counts) < 0:
        raise OutOfRangeError("plants in a frame", min(counts), "0 or more", "plants")
    if len(counts) < 2:
        raise NotEnoughDataError("going on or stopping", "at least 2 frames", str(len(counts)))
    frames, plants = len(counts), float(sum(counts))
    made = density(counts, [expected.frame_m2] * frames)
    line = expected.line(frames, error)
    still = _still(plants / frames, frames, expected, error) if plants else None
    enough = plants >= line and frames >= value("count_plan.frames_least")
    finding = short.test.say(plants, frames) if short else None
    if short and frames < value("count_plan.test_frames_least"):
        finding = Finding.COUNT_ON
    return SoFar(
        frames, plants, made.per_m2, made.interval(LEVEL), line, enough,
        0 if enough else still, finding,
    )  # fmt: skip


def _still(mean: float, frames: int, expected: Expected, error: float) -> int:
    """Give the frames to go until the stop line, if they hold what the first ones held."""
    first = max(frames, int(value("count_plan.frames_least")))
    for n in range(first, _LONGEST):
        if mean * n >= expected.line(n, error):
            return n - frames
    return _LONGEST - frames


def _or(given: float | None, key: str) -> float:
    return value(key) if given is None else given
