"""A germination test at home: seeds set, seeds up, and how sure that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.provenance import Grade, Sourced

TEST = "germination test"
"""What a germination comes from that was tested and not printed."""


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


def by_test(label: Sequence[Sourced], seeds: Sequence[float], test: Germination) -> list[Sourced]:
    """Give the germination of each component so that all together come up as a test of the lot did.

    A test of a mixture tells of its seed as a whole. Which component it came from is taken from the
    label: where fewer came up, all are lowered in the same ratio; where more came up, what does not
    germinate is lessened so.

    Parameters
    ----------
    label : sequence of Sourced
        Germination of each component without the test. [-]
    seeds : sequence of float
        Pure seed of each component in a gram of the lot. [seeds g⁻¹]
    test : Germination
        The test.

    Returns
    -------
    list of Sourced
        Germination of each, with the test's range. [-]
    """
    total = sum(seeds)
    mean = sum(each.value * n for each, n in zip(label, seeds, strict=True)) / total if total else 0
    told = f"{test.germinated} of {test.seeds} came up; parted between components as on the label."
    return [
        Sourced(
            key=each.key, value=_moved(each.value, mean, test.share), unit="-",
            low=_moved(each.value, mean, test.low), high=_moved(each.value, mean, test.high),
            grade=Grade.MEASURED, source=TEST, note=told,
        )
        for each in label
    ]  # fmt: skip


def _moved(share: float, mean: float, wanted: float) -> float:
    """Move one component's share with the mean of all, staying between none and all."""
    if wanted <= mean:
        return share * wanted / mean if mean else 0.0
    return 1.0 - (1.0 - share) * (1.0 - wanted) / (1.0 - mean)
