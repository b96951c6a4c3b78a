"""What "none found" still allows: upper limits, and how much looking would be enough."""

from __future__ import annotations

from math import ceil, log

from swardbook.foundation.errors import OutOfRangeError

_ROUNDING = 1e-9


def densest_unseen(looked_m2: float, confidence: float = 0.95) -> float:
    """Give the largest density that none found in an area still allows.

    Parameters
    ----------
    looked_m2 : float
        Area looked at closely. [m²]
    confidence : float
        Confidence of the upper limit. [-]

    Returns
    -------
    float
        Plants. [plants m⁻²]

    Raises
    ------
    OutOfRangeError
        If the area is not above 0, or the confidence not between 0 and 1.

    Notes
    -----
    The zero term of the Poisson distribution, ``-ln(1 - C) / area``: plants that sit in clumps
    can be more.
    """
    _check_confidence(confidence)
    if not looked_m2 > 0:
        raise OutOfRangeError("area looked at", float(looked_m2), "above 0", "m2")
    return -log(1 - confidence) / looked_m2


def largest_unseen_share(n: float, confidence: float = 0.95) -> float:
    """Give the largest share that none found in `n` independent looks still allows.

    Parameters
    ----------
    n : float
        Independent looks; points in one frame are fewer than they seem. [-]
    confidence : float
        Confidence of the upper limit. [-]

    Returns
    -------
    float
        Share. [-]

    Raises
    ------
    OutOfRangeError
        If there was no look, or the confidence is not between 0 and 1.
    """
    _check_confidence(confidence)
    if not n > 0:
        raise OutOfRangeError("number of looks", float(n), "above 0", "")
    return float(1 - (1 - confidence) ** (1 / n))


def chance_of_missing(share: float, n: float) -> float:
    """Give the chance that `n` independent looks all miss something of a given share.

    Parameters
    ----------
    share : float
        Share of the ground, or of places, that holds it. [-]
    n : float
        Independent looks. [-]

    Returns
    -------
    float
        Chance. [-]

    Raises
    ------
    OutOfRangeError
        If the share is not between 0 and 1.
    """
    _check_share(share)
    return float((1 - share) ** n)


def looks_needed(share: float, confidence: float = 0.95, detection: float = 1.0) -> int:
    """Give the looks with no find that are needed to say it is rarer than a share.

    Parameters
    ----------
    share : float
        The share to rule out. [-]
    confidence : float
        Confidence wanted. [-]
    detection : float
        Chance of seeing it where it is. [-]

    Returns
    -------
    int
        Independent looks.

    Raises
    ------
    OutOfRangeError
        If one of the three is not between 0 and 1.
    """
    _check_share(share)
    _check_confidence(confidence)
    if not 0 < detection <= 1:
        raise OutOfRangeError("detection", float(detection), "above 0, at most 1", "-")
    return ceil(log(1 - confidence) / log(1 - share) / detection - _ROUNDING)


def _check_confidence(confidence: float) -> None:
    if not 0 < confidence < 1:
        raise OutOfRangeError("confidence", float(confidence), "between 0 and 1", "-")


def _check_share(share: float) -> None:
    if not 0 < share < 1:
        raise OutOfRangeError("share", float(share), "between 0 and 1", "-")
