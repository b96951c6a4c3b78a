"""The comparisons themselves: paired places, or two separate samples."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import fmean, variance

from swardbook.evidence import (
    Comparison,
    Interval,
    PairedChange,
    Spread,
    density,
    log_of,
    ratio_of_samples,
    t_quantile,
    verdict,
)
from swardbook.evidence.verdicts import LOG_RATIO, POINTS
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.foundation.workings import Input, Workings
from swardbook.handbook.parameters import value
from swardbook.observations.counts import Method
from swardbook.observations.occasions import PlaceFigure


@dataclass(frozen=True, slots=True)
class Smallest:
    """The smallest differences worth acting on; the owner sets them.

    Parameters
    ----------
    cover_points : float
        Of ground cover. [points]
    count_ratio : float
        Of two densities, above 1. [-]
    """

    cover_points: float
    count_ratio: float

    @classmethod
    def customary(cls) -> Smallest:
        """Take those of the handbook."""
        return cls(value("compare_cover_points"), value("compare_count_ratio"))


def of_pairs(
    kind: str,
    change: PairedChange,
    one: Sequence[float],
    two: Sequence[float],
    method: Method,
    smallest: Smallest,
    caution: str,
) -> Comparison:
    """Turn a change of paired places into a comparison with its verdict."""
    is_ratio = method is Method.PLANTS
    unit = LOG_RATIO if is_ratio else POINTS
    bound = log_of(smallest.count_ratio) if is_ratio else smallest.cover_points
    spread = Spread.of(change.interval)
    formula = (
        "log of the ratio of means; error from the departures of paired places; t with n - 1"
        if is_ratio
        else "mean change ± t × SD / √n; t with n - 1"
    )
    return Comparison(
        change.mean, spread, unit, bound, verdict(change.mean, spread, bound),
        fmean(one), fmean(two), "plants/m2" if is_ratio else "%", change.n,
        "paired by place; the place is the unit",
        _workings(kind, formula, change.mean, change.standard_error, change.n, spread, bound, unit),
        (caution,) if caution else (),
    )  # fmt: skip


def ratio_of_places(
    kind: str, one: Sequence[PlaceFigure], two: Sequence[PlaceFigure], smallest: Smallest
) -> Comparison:
    """Compare the densities of two separate samples of frames.

    Raises
    ------
    NotEnoughDataError
        If neither holds a plant.
    """
    first = density([each.found for each in one], [each.looked for each in one])
    second = density([each.found for each in two], [each.looked for each in two])
    ratio = ratio_of_samples(first, second)
    spread = Spread.of(ratio.interval)
    bound = log_of(smallest.count_ratio)
    cautions = ("None in one sample: half a plant added to both.",) if ratio.none_in_one else ()
    formula = "log(m2 / m1); SE = √((1/m1 + 1/k)/n1 + (1/m2 + 1/k)/n2); t with n1 + n2 - 2"
    n = len(one) + len(two)
    return Comparison(
        ratio.log, spread, LOG_RATIO, bound, verdict(ratio.log, spread, bound),
        first.per_m2, second.per_m2, "plants/m2", n,
        f"two separate samples of {len(one)} and {len(two)} places; negative binomial",
        _workings(kind, formula, ratio.log, ratio.standard_error, n, spread, bound, LOG_RATIO),
        cautions,
    )  # fmt: skip


def difference_of_places(
    kind: str, one: Sequence[PlaceFigure], two: Sequence[PlaceFigure], smallest: Smallest
) -> Comparison:
    """Compare the cover of two separate samples of places.

    Raises
    ------
    NotEnoughDataError
        If every place is the same.
    """
    first, second = [each.value for each in one], [each.value for each in two]
    parts = [variance(each) / len(each) for each in (first, second)]
    error = sqrt(sum(parts))
    if error == 0:
        raise NotEnoughDataError("a difference", "places that differ", "the same at every place")
    degrees = sum(parts) ** 2 / sum(
        part**2 / (len(each) - 1) for part, each in zip(parts, (first, second), strict=True)
    )
    change = fmean(second) - fmean(first)

    def interval(level: float) -> Interval:
        half = t_quantile(level, degrees) * error
        return Interval(change - half, change + half)

    spread, bound = Spread.of(interval), smallest.cover_points
    formula = "difference of means ± t × √(SD1²/n1 + SD2²/n2); Welch's degrees of freedom"
    n = len(one) + len(two)
    return Comparison(
        change, spread, POINTS, bound, verdict(change, spread, bound),
        fmean(first), fmean(second), "%", n,
        f"two separate samples of {len(one)} and {len(two)} places",
        _workings(kind, formula, change, error, n, spread, bound, POINTS),
    )  # fmt: skip


def _workings(
    kind: str, formula: str, difference: float, error: float, n: int, spread: Spread,
    bound: float, unit: str,
) -> Workings:  # fmt: skip
    return Workings(
        question=f"Has {kind} changed?",
        answer=str(verdict(difference, spread, bound)),
        formula=formula,
        inputs=(Input("places", n, "places", source="the counts of both occasions"),),
        arithmetic=(
            f"difference {difference:.4g} {unit}, standard error {error:.4g}",
            *(
                f"{level} % range {each.low:.4g} to {each.high:.4g}"
                for level, each in ((95, spread.at95), (90, spread.at90), (80, spread.at80))
            ),
            f"smallest worth acting on {bound:.4g} {unit}",
        ),
        assumptions=("Same places, same season, same counter.",),
    )
