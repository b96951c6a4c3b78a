"""What a mixture has come to five weeks, six months and a year after sowing, with ranges."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from swardbook.book.from_seed import Years
from swardbook.book.seed import MixtureAnswer
from swardbook.handbook.parameters import value
from swardbook.model.compiling import Kernel
from swardbook.model.from_seed import Bed, Grown, Seeding, grow_from_seed
from swardbook.model.prospects import Range

LOOKS = {
    "5 weeks": "choose.weeks_first",
    "6 months": "choose.half_year",
    "12 months": "choose.year",
}


@dataclass(frozen=True, slots=True)
class Look:
    """What a mixture has come to some time after sowing: shares of the ground, four in five.

    Parameters
    ----------
    when : str
        ``5 weeks``, ``6 months`` or ``12 months``.
    sown, bare, weed, fog : Range
        Sown grass, bare ground, annual meadow-grass, Yorkshire fog. [-]
    components : tuple of tuple of str and Range
        Each component of the mixture. [-]
    """

    when: str
    sown: Range
    bare: Range
    weed: Range
    fog: Range
    components: tuple[tuple[str, Range], ...]


def looks_of(
    answer: MixtureAnswer, bed: Bed, day: date, years: Years, kernel: Kernel, threads: int
) -> tuple[Look, ...]:
    """Grow a mixture on from its sowing for a year, and look at it three times.

    Parameters
    ----------
    answer : MixtureAnswer
        The mixture with its rate.
    bed : Bed
        The bed.
    day : date
        The day of sowing.
    years : Years
        The site's past years.
    kernel : Kernel
        The compiled model.
    threads : int
        Threads; change no bit.
    """
    seeding = Seeding(answer.question.known_parts, answer.rate_g_m2, day)
    grown = grow_from_seed(
        seeding, bed, years.courses, round(value("choose.year")), years.chance, kernel,
        cut=True, every=7, threads=threads,
    )  # fmt: skip
    return tuple(_look(grown, when, round(value(key))) for when, key in LOOKS.items())


def _look(grown: Grown, when: str, days: int) -> Look:
    at = int(np.argmin(np.abs(grown.days - days)))
    kinds = grown.kinds.kinds
    return Look(
        when,
        Range.of(grown.sown[at]),
        Range.of(grown.bare[at]),
        Range.of(grown.weed[at]),
        Range.of(grown.fog[at]),
        tuple(
            (kind.species, Range.of(part[at]))
            for kind, part in zip(kinds, grown.components, strict=True)
        ),
    )
