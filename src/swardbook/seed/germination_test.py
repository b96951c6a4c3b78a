"""A germination test at home: seeds set, seeds up, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass

from swardbook.foundation.errors import BadInputError


@dataclass(frozen=True, slots=True)
class Germination:
    """What a test says.

    Parameters
    ----------
    seeds, germinated : int
        Set, and up.
    share : float
        What was seen. [-]
    low, high : float
        Where the lot may well lie: 95 % by the score interval. [-]
    """

    seeds: int
    germinated: int
    share: float
    low: float
    high: float


def read_test(germinated: int, seeds: int) -> Germination:
    """Work out what a germination test says of the lot.

    Parameters
    ----------
    germinated, seeds : int
        Seeds up, of seeds set.

    Returns
    -------
    Germination
        The share with its interval.

    Raises
    ------
    BadInputError
        If no seed was set, or more came up than were set.
    """
    from swardbook.evidence.proportions import wilson  # loads NumPy: only when asked

    if seeds < 1 or not 0 <= germinated <= seeds:
        raise BadInputError(
            "the germination test", f"{germinated} of {seeds}", "seeds up, of seeds set"
        )
    low, high = wilson(germinated, seeds)
    return Germination(seeds, germinated, germinated / seeds, low, high)
