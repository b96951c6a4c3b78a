"""What is recorded plot by plot in a trial: ratings, heights, clippings, care of some plots."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class PlotReading:
    """One plot rated or measured.

    Parameters
    ----------
    plot : str
        Name of the plot.
    value : float or None
        What was read; None where it was not, which is never 0. [unit of the readings]
    counter : str
        Who read it.
    why_not : str
        Why it was not read, or why it stands apart.
    as_typed : str
        What stood there where that was no plain number, such as ``<1``.
    placement : int
        Which of several readings on this plot, from 1; the plot is the unit all the same.
    """

    plot: str
    value: float | None = None
    counter: str = ""
    why_not: str = ""
    as_typed: str = ""
    placement: int = 1


@dataclass(frozen=True, slots=True)
class PlotReadings:
    """One thing rated or measured on plots on one occasion.

    `trait` is a trait of the handbook (``quality``, ``sward height`` ...) or the user's own word;
    `unit` is ``1-9`` for a rating.
    """

    kind: ClassVar[str] = "plot readings"
    trait: str = ""
    unit: str = ""
    occasion: str = ""
    readings: tuple[PlotReading, ...] = ()


@dataclass(frozen=True, slots=True)
class PlotCare:
    """Care that only some plots of a trial got, so that unequal care shows.

    `job` is the kind of a diary entry (``cut``, ``water``, ``feed`` ...). What a whole zone got
    needs none: it stands in the diary once.
    """

    kind: ClassVar[str] = "plot care"
    job: str = ""
    plots: tuple[str, ...] = ()
    amount: float | None = None
    unit: str = ""
    reason: str = ""
