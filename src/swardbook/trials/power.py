"""What a trial can show, before it is sown: needed gaps, chances, and how many repeats."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import isnan, sqrt

from swardbook.evidence.estimates import t_quantile
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.trials.studentised import studentised_range

_MOST_REPEATS = 60


@dataclass(frozen=True, slots=True)
class Shown:
    """What a set-out can show in one trait.

    Parameters
    ----------
    sd : float
        Standard deviation from plot to plot that was taken. [unit of the trait]
    sed : float
        Standard error of the difference of two means. [unit of the trait]
    df : int
        Degrees of freedom left for error.
    pair, any_pair : float
        Gap that a planned pair needs, and any pair picked after looking. [unit of the trait]
    gap : float
        Gap that was asked about. [unit of the trait]
    chance_pair, chance_any : float
        Chance to find a true gap of that size, as a planned pair and as any pair. [-]
    repeats, repeats_any : int or None
        Repeats that would find it with the power wanted; None where more than 60.
    power : float
        The power wanted. [-]
    sd_whole : float or None
        Of a split plot: standard deviation between whole plots beyond that of their parts. [unit
        of the trait]
    """

    sd: float
    sed: float
    df: int
    pair: float
    any_pair: float
    gap: float
    chance_pair: float
    chance_any: float
    repeats: int | None
    repeats_any: int | None
    power: float
    sd_whole: float | None = None


def needed_gap_pair(sed: float, df: float, level: float = 0.95) -> float:
    """Give the gap that a pair planned beforehand has to reach.

    Parameters
    ----------
    sed : float
        Standard error of the difference. [any one unit]
    df : float
        Degrees of freedom of the error. [-]
    level : float
        Level of the range that has to exclude no difference. [-]

    Returns
    -------
    float
        The gap. [same unit]

    Raises
    ------
    NotEnoughDataError
        If nothing is left to judge a difference by.

    Notes
    -----
    ``t × SED``: Fisher, R. A., 1935, The Design of Experiments.
    """
    _enough(df)
    return t_quantile(level, df) * _spread(sed)


def needed_gap_any(sed: float, df: float, entries: int, level: float = 0.95) -> float:
    """Give the gap that any pair needs, picked after looking at all of them.

    Parameters
    ----------
    sed : float
        Standard error of the difference. [any one unit]
    df : float
        Degrees of freedom of the error. [-]
    entries : int
        How many are compared.
    level : float
        Level at which no pair of a whole table is called different by chance. [-]

    Returns
    -------
    float
        The gap. [same unit]

    Raises
    ------
    NotEnoughDataError
        If nothing is left to judge a difference by.

    Notes
    -----
    ``q × SED / √2``, q of the studentised range: Tukey, J. W., 1953, The problem of multiple
    comparisons.
    """
    _enough(df)
    return studentised_range(entries, df).quantile(1 - level) * _spread(sed) / sqrt(2)


def chance_pair(gap: float, sed: float, df: float, level: float = 0.95) -> float:
    """Give the chance that a planned pair with a true gap is called different.

    Parameters
    ----------
    gap : float
        The true gap. [any one unit]
    sed : float
        Standard error of the difference. [same unit]
    df : float
        Degrees of freedom of the error. [-]
    level : float
        Level of the test. [-]

    Returns
    -------
    float
        The chance, either way round. [-]

    Notes
    -----
    Two-sided noncentral t: Johnson, N. L., Kotz, S. and Balakrishnan, N., 1995, Continuous
    Univariate Distributions 2, 2nd edition, chapter 31.
    """
    _enough(df)
    return chance_beyond(t_quantile(level, df), abs(gap) / _spread(sed), df)


def chance_any(gap: float, sed: float, df: float, entries: int, level: float = 0.95) -> float:
    """Give the chance that a pair with a true gap is called different when any pair may be.

    Parameters
    ----------
    gap : float
        The true gap. [any one unit]
    sed : float
        Standard error of the difference. [same unit]
    df : float
        Degrees of freedom of the error. [-]
    entries : int
        How many are compared.
    level : float
        Level for the whole table. [-]

    Returns
    -------
    float
        The chance, either way round. [-]
    """
    _enough(df)
    critical = studentised_range(entries, df).quantile(1 - level) / sqrt(2)
    return chance_beyond(critical, abs(gap) / _spread(sed), df)


def chance_among(gap: float, sd: float, repeats: int, entries: int, df: float) -> float:
    """Give the chance that the analysis as a whole finds any difference at all (F test, 5 %).

    Parameters
    ----------
    gap : float
        True gap of the best and the worst, the others midway: the hardest case. [any one unit]
    sd : float
        Standard deviation from plot to plot. [same unit]
    repeats, entries : int
        Repeats, and how many are compared.
    df : float
        Degrees of freedom of the error. [-]

    Returns
    -------
    float
        The chance. [-]

    Notes
    -----
    Noncentral F with ``r gap² / 2 SD²``.
    """
    from scipy.special import ncfdtr
    from scipy.stats import f

    _enough(df)
    critical = float(f.ppf(0.95, entries - 1, df))
    short = float(ncfdtr(entries - 1, df, repeats * gap**2 / (2 * _spread(sd) ** 2), critical))
    return 1 - (0.0 if isnan(short) else short)


def repeats_for(
    gap: float, sd: float, entries: int, power: float, any_pair: bool = False, level: float = 0.95
) -> int | None:
    """Give the blocks that would find a true gap with the power wanted.

    Parameters
    ----------
    gap : float
        The true gap, not 0. [any one unit]
    sd : float
        Standard deviation from plot to plot within a block. [same unit]
    entries : int
        How many are compared.
    power : float
        Chance wanted. [-]
    any_pair : bool
        Whether any pair may be picked after looking.
    level : float
        Level of the test. [-]

    Returns
    -------
    int or None
        Blocks, at least 2; None where 60 are not enough.

    Raises
    ------
    OutOfRangeError
        If the gap or the power has no meaning.
    """
    if gap == 0:
        raise OutOfRangeError("gap", 0.0, "not 0", "")
    if not 0.05 < power < 1:
        raise OutOfRangeError("power", power, "above 0.05 and below 1", "-")

    def is_enough(repeats: int) -> bool:
        df, sed = (entries - 1) * (repeats - 1), sd * sqrt(2 / repeats)
        if any_pair:
            return chance_any(gap, sed, df, entries, level) >= power
        return chance_pair(gap, sed, df, level) >= power

    return fewest_repeats(is_enough)


def fewest_repeats(is_enough: Callable[[int], bool]) -> int | None:
    """Give the fewest repeats that are enough, from 2 to 60; None where 60 are not.

    Parameters
    ----------
    is_enough : callable
        Tells of a number of repeats whether it is enough; more always are if fewer are.
    """
    few, many = 1, _MOST_REPEATS
    if not is_enough(many):
        return None
    while many - few > 1:
        middle = (few + many) // 2
        few, many = (few, middle) if is_enough(middle) else (middle, many)
    return many


def chance_beyond(critical: float, away: float, df: float) -> float:
    """Give the chance that a t statistic passes what it must, either way round.

    Parameters
    ----------
    critical : float
        What it must pass. [-]
    away : float
        True difference in standard errors. [-]
    df : float
        Degrees of freedom of the error. [-]

    Returns
    -------
    float
        The chance. [-]
    """
    from scipy.special import nctdtr

    # Tails below 1e-17 come back as no number.
    short, wrong = (float(nctdtr(df, away, each)) for each in (critical, -critical))
    return 1 - (0.0 if isnan(short) else short) + (0.0 if isnan(wrong) else wrong)


def _enough(df: float) -> None:
    if df < 1:
        raise NotEnoughDataError(
            "what difference the trial can show", "two plots of each mixture or more", "one each"
        )


def _spread(number: float) -> float:
    if not number > 0:
        raise OutOfRangeError("spread from plot to plot", number, "above 0", "")
    return number
