"""Figures in words: no more digits than the range supports."""

from __future__ import annotations

from math import exp

from swardbook.evidence import (
    Comparison,
    Estimate,
    Interval,
    Verdict,
    places_to_show,
    t_quantile,
)

MINUS = "−"


def decimals(interval: Interval) -> int:
    """Give the decimals that a range supports: whole numbers unless it is narrow."""
    half = interval.half_width
    if half >= 2:
        return 0
    return 1 if half >= 0.05 else 2


def figure(number: float, places: int = 0) -> str:
    """Write a number with a plain minus sign and never a minus nought."""
    text = f"{number:.{places}f}"
    if float(text) == 0:
        text = text.lstrip("-")
    return text.replace("-", MINUS)


def range_words(interval: Interval, places: int = 0) -> str:
    """Write a range as ``11 to 24``."""
    return f"{figure(interval.low, places)} to {figure(interval.high, places)}"


def estimate_words(estimate: Estimate) -> str:
    """Write an estimate as ``17 % (11 to 24)`` or ``1.8 a square metre (1.2 to 2.6)``."""
    places = 0 if estimate.unit == "%" else decimals(estimate.interval)
    unit = " %" if estimate.unit == "%" else " a square metre"
    return f"{figure(estimate.value, places)}{unit} ({range_words(estimate.interval, places)})"


def change_words(made: Comparison) -> str:
    """Write a change as ``35 to 21 %, 14 less (8 to 20)`` or ``0.86 times (0.41 to 1.79)``."""
    if made.is_log_ratio:
        low, high = made.spread.at95
        places = 1 if max(made.before, made.after) < 20 else 0
        return (
            f"{figure(made.before, places)} to {figure(made.after, places)} a square metre,"
            f" {exp(made.difference):.2f} times ({exp(low):.2f} to {exp(high):.2f})"
        )
    return f"{figure(made.before)} to {figure(made.after)} %, {points_words(made)}"


def points_words(made: Comparison) -> str:
    """Write a difference in points as ``7 less (3 to 11)``, or with both directions."""
    low, high = made.spread.at95
    if made.difference < 0:
        low, high = -high, -low
    size, way = abs(made.difference), made.direction
    far, near = f"{abs(high):.0f}", abs(low)
    if low >= 0:
        return f"{_points(size)} {way} ({near:.0f} to {far})"
    other = "more" if way == "less" else "less"
    return f"{_points(size)} {way} ({far} {way} to {near:.0f} {other})"


def _points(size: float) -> str:
    return f"{size:.0f} point{'' if f'{size:.0f}' == '1' else 's'}"


def places_to_settle(made: Comparison) -> int | None:
    """Give how many places in all would usually show a change of the size that was found.

    None where it is settled, where the places were not paired, or where the difference found is
    below the smallest worth acting on. It takes the difference found as true, which it need not
    be.
    """
    open_ones = (Verdict.LEANING, Verdict.TOO_CLOSE)
    is_small = abs(made.difference) < made.smallest
    if made.verdict not in open_ones or is_small or not made.method.startswith("paired"):
        return None
    error = made.spread.at95.half_width / t_quantile(0.95, made.n - 1)
    return places_to_show(error * made.n**0.5, made.difference)


def places_words(n: int) -> str:
    """Write a number of places."""
    return "1 place" if n == 1 else f"{n} places"
