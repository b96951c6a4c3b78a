"""What a task is worth, in words: a range, never a promise."""

from __future__ import annotations

from typing import TYPE_CHECKING

from swardbook.planning.tasks import Worth

if TYPE_CHECKING:
    from swardbook.model.worth import SkippedWorth

GENERAL = "general knowledge only"
NOT_WEIGHED = "nothing to compare: the look-ahead does not weigh it"


def worth_words(
    skipped: SkippedWorth, zone: str, is_general: bool, month: str = "October"
) -> Worth:
    """Say what skipping a job changes by next autumn, with the range of four in five.

    Parameters
    ----------
    skipped : SkippedWorth
        The change, on the same draws and weather.
    zone : str
        Name of the zone.
    is_general : bool
        Whether no count of the zone stands behind it.
    month : str
        The month of that autumn.
    """
    seed, cover = skipped.seed_m2, skipped.cover_points
    low, high = seed.at80.low, seed.at80.high
    label = f"; {GENERAL}" if is_general else ""
    if round(low) == round(high) == 0:
        told = f"skipping it in {zone} changes nothing that shows by {month}"
    else:
        told = f"skipping it in {zone} leaves {_more(low, high)} seeds a m² by {month}"
        if round(cover.at80.low, 1) or round(cover.at80.high, 1):
            ends = [f"{round(end, 1) or 0.0:+.1f}" for end in (cover.at80.low, cover.at80.high)]
            told += f" and {' to '.join(ends)} points of cover".replace("+0.0", "0")
        told += " (four draws in five)"
    numbers = (float(seed.median), float(low), float(high))
    return Worth(f"{told}{label}", *numbers, "seeds m⁻²")


def _more(low: float, high: float) -> str:
    least, most = round(low), round(high)
    if least >= 0:
        return f"{least} to {most} more"
    if most <= 0:
        return f"{-most} to {-least} fewer"
    return f"from {-least} fewer to {most} more"
