"""Intervals and estimates of counting as printed in the literature."""

from collections.abc import Callable, Sequence
from functools import partial

from swardbook.evidence import clopper_pearson, newcombe, poisson_exact, wilson
from swardbook.foundation.provenance import Grade
from tests.support.checks import Check

ENDS = ("lower", "upper")


def _end(interval: Callable[..., Sequence[float]], counts: tuple[int, ...], end: int) -> float:
    return interval(*counts)[end]


def _checks(
    name: str,
    interval: Callable[..., Sequence[float]],
    counts: tuple[int, ...],
    printed: tuple[float, float],
    source: str,
    tolerance: float = 0.00006,
) -> list[Check]:
    return [
        Check(
            f"{name} interval of {counts}, {ENDS[end]}",
            f"{name} 95 % interval of {counts}, {ENDS[end]} end",
            source,
            "table of worked cases (from memory)",
            printed[end],
            tolerance,
            Grade.JUDGED,
            partial(_end, interval, counts, end),
        )
        for end in (0, 1)
    ]


def _computed(
    name: str, interval: Callable[..., Sequence[float]], counts: tuple[int, ...],
    ends: tuple[float, float], place: str, tolerance: float = 0.0001,
) -> list[Check]:  # fmt: skip
    """Both ends as another program gives them."""
    return [
        Check(f"{name} interval of {counts} by statsmodels, {ENDS[end]}",
              f"{name} 95 % interval of {counts}, {ENDS[end]} end", "seabold_perktold_2010",
              f"{place}, computed", ends[end], tolerance, Grade.DEFINED,
              partial(_end, interval, counts, end))
        for end in (0, 1)
    ]  # fmt: skip


SINGLE = "newcombe_single_1998"
DIFFERENCE = "newcombe_difference_1998"
CHECKS = [
    *_checks("score", wilson, (81, 263), (0.2553, 0.3662), SINGLE),
    *_checks("score", wilson, (15, 148), (0.0624, 0.1605), SINGLE),
    *_checks("score", wilson, (0, 20), (0.0, 0.1611), SINGLE),
    *_checks("score", wilson, (1, 29), (0.0061, 0.1718), SINGLE),
    *_checks("exact", clopper_pearson, (81, 263), (0.2527, 0.3676), SINGLE),
    *_checks("exact", clopper_pearson, (15, 148), (0.0578, 0.1617), SINGLE),
    *_checks("exact", clopper_pearson, (0, 20), (0.0, 0.1684), SINGLE),
    *_checks("exact", clopper_pearson, (1, 29), (0.0009, 0.1776), SINGLE),
    *_checks("difference", newcombe, (56, 70, 48, 80), (0.0524, 0.3339), DIFFERENCE),
    *_checks("difference", newcombe, (9, 10, 3, 10), (0.1705, 0.8090), DIFFERENCE),
    *_checks("difference", newcombe, (6, 7, 2, 7), (0.0582, 0.8062), DIFFERENCE),
    *_checks("Poisson", poisson_exact, (0,), (0.0, 3.69), "garwood_1936", 0.005),
    *_checks("Poisson", poisson_exact, (5,), (1.62, 11.67), "garwood_1936", 0.005),
    *_computed("score", wilson, (37, 100), (0.2818, 0.4678), "proportion_confint"),
    *_computed("score", wilson, (190, 200), (0.9104, 0.9726), "proportion_confint"),
]
