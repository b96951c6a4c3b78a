"""How many to look at, to tell one share from another."""

from __future__ import annotations

from math import asin, ceil, sqrt

from swardbook.evidence.estimates import normal_quantile
from swardbook.foundation.errors import OutOfRangeError

_SLACK = 1e-9


def numbers_to_tell_apart(
    first: float, second: float, level: float = 0.95, power: float = 0.8
) -> int:
    """Give how many to look at on each side so that two shares would usually be told apart.

    Parameters
    ----------
    first, second : float
        The two true shares. [-]
    level : float
        Level of the range that has to exclude no difference. [-]
    power : float
        How often it should. [-]

    Returns
    -------
    int
        Number on each side.

    Raises
    ------
    OutOfRangeError
        If a share is none, or the two are the same.

    Notes
    -----
    ``n = 2 ((z of the level + z of the power) / h)²`` with ``h = 2 asin √p1 - 2 asin √p2``: Cohen,
    J., 1988, Statistical Power Analysis for the Behavioral Sciences, 2nd edition, chapter 6. For
    things seen one by one; things that stand together, as tufts in a strip, tell less.
    """
    for share in (first, second):
        if not 0 <= share <= 1:
            raise OutOfRangeError("share", float(share), "0 to 1", "-", "40 % is 0.4.")
    if first == second:
        raise OutOfRangeError("difference of two shares", 0.0, "not 0", "-")
    effect = abs(2 * asin(sqrt(first)) - 2 * asin(sqrt(second)))
    wanted = normal_quantile(level) + normal_quantile(2 * power - 1)
    return max(ceil(2 * (wanted / effect) ** 2 - _SLACK), 2)
