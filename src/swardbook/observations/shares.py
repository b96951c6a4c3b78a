"""Two shares compared, such as refills that took in autumn and in spring."""

from __future__ import annotations

from swardbook.evidence import Comparison, Interval, Spread, newcombe, verdict, wilson
from swardbook.evidence.verdicts import POINTS
from swardbook.foundation.workings import Input, Workings
from swardbook.observations.samples import Smallest


def compare_shares(
    question: str,
    first: tuple[int, int],
    second: tuple[int, int],
    smallest: Smallest,
    caution: str,
) -> Comparison:
    """Compare two separate shares.

    Parameters
    ----------
    question : str
        What is asked, in words.
    first, second : tuple of int
        How many of how many, in each group.
    smallest : Smallest
        The smallest differences worth acting on.
    caution : str
        What stands beside the verdict: why the cause is not shown.

    Returns
    -------
    Comparison
        Second less first, in points.

    Raises
    ------
    OutOfRangeError
        If a group is empty, or more of it are counted than there are.
    """

    def interval(level: float) -> Interval:
        low, high = newcombe(*second, *first, level)
        return Interval(100 * low, 100 * high)

    spread = Spread.of(interval)
    one, two = 100 * first[0] / first[1], 100 * second[0] / second[1]
    difference, bound = two - one, smallest.cover_points
    told = verdict(difference, spread, bound)
    return Comparison(
        difference, spread, POINTS, bound, told, one, two, "%", first[1] + second[1],
        "two separate shares; Newcombe's interval",
        Workings(
            question, str(told), "difference of shares; Newcombe's interval from Wilson's",
            (
                Input("first group", f"{first[0]} of {first[1]}"),
                Input("second group", f"{second[0]} of {second[1]}"),
            ),
            (
                f"first {_wilson(first)}", f"second {_wilson(second)}",
                f"difference {difference:.1f} points,"
                f" 95 % range {spread.at95.low:.1f} to {spread.at95.high:.1f}",
            ),
            (caution,),
        ),
        (caution,),
    )  # fmt: skip


def _wilson(group: tuple[int, int]) -> str:
    low, high = wilson(*group)
    return f"{100 * group[0] / group[1]:.0f} % ({100 * low:.0f} to {100 * high:.0f})"
