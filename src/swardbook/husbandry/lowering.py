"""Height of cut and the one-third rule: when to cut, and how to come down from high grass."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, inf, log

from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value

_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class LoweringCut:
    """One cut on the way down.

    Parameters
    ----------
    day : int
        Days after the first cut. [d]
    grass_mm, cut_mm : float
        Height of the grass before it, and of the cut. [mm]
    is_over_third : bool
        Whether it takes more than the rule allows.
    """

    day: int
    grass_mm: float
    cut_mm: float
    is_over_third: bool = False

    @property
    def share_off(self) -> float:
        """Share of the height that it takes [-]."""
        return 1 - self.cut_mm / self.grass_mm


def due_height_mm(height_of_cut_mm: float) -> float:
    """Give the height of grass at which a cut takes just a third.

    Parameters
    ----------
    height_of_cut_mm : float
        Height of cut. [mm]

    Returns
    -------
    float
        Height of the grass. [mm]
    """
    return _height(height_of_cut_mm) / (1 - value("leaf_third"))


def days_to_due(height_of_cut_mm: float, growth_mm_d: float, grass_mm: float = 0.0) -> float:
    """Give the days until a cut takes just a third.

    Parameters
    ----------
    height_of_cut_mm : float
        Height of cut. [mm]
    growth_mm_d : float
        Growth in height. [mm d⁻¹]
    grass_mm : float
        Height of the grass now; as just cut if it is lower than the cut. [mm]

    Returns
    -------
    float
        Days, 0 if it is due, without end if grass stands still. [d]
    """
    growth = require("growth", growth_mm_d, 0, 50, "mm/d")
    due = due_height_mm(height_of_cut_mm)
    left = due - max(require("height of the grass", grass_mm, 0, 2000, "mm"), height_of_cut_mm)
    if left <= _SLACK:
        return 0.0
    return left / growth if growth > 0 else inf


def cuts_to_lower(grass_mm: float, wanted_mm: float) -> int:
    """Give how many cuts of a third lead from one height to another, were nothing to grow.

    Parameters
    ----------
    grass_mm, wanted_mm : float
        Height of the grass, and of the cut wanted. [mm]

    Returns
    -------
    int
        Cuts: ``ln(h0 / ht) / ln 1.5``, rounded up; 0 if it is no higher.
    """
    ratio = _height(grass_mm) / _height(wanted_mm)
    return max(ceil(-log(ratio) / log(1 - value("leaf_third")) - _SLACK), 0)


def come_down(
    grass_mm: float, wanted_mm: float, growth_mm_d: float
) -> tuple[LoweringCut, ...]:  # fmt: skip
    """Plan the cuts from high grass to the height wanted, each taking a third at most.

    Parameters
    ----------
    grass_mm, wanted_mm : float
        Height of the grass now, and of the cut wanted. [mm]
    growth_mm_d : float
        Growth in height between the cuts. [mm d⁻¹]

    Returns
    -------
    tuple of LoweringCut
        The cuts, the first on day 0. Days between them are as usual, or fewer where grass grows
        so fast that a cut would not come lower; where even a daily cut does not, the last one
        takes more than a third and says so.

    Raises
    ------
    OutOfRangeError
        If a height or the growth makes no sense.
    """
    growth = require("growth", growth_mm_d, 0, 50, "mm/d")
    grass, wanted = _height(grass_mm), _height(wanted_mm)
    keep = 1 - value("leaf_third")
    day, cuts = 0, [LoweringCut(0, grass, max(wanted, grass * keep))]
    while cuts[-1].cut_mm > wanted + _SLACK:
        last = cuts[-1].cut_mm
        gap = _days_between(last, wanted, growth, keep)
        stuck = gap is None or len(cuts) + 1 >= value("mowing.steps_most")
        day += gap or 1
        now = last + growth * (gap or 1)
        cut = wanted if stuck else max(wanted, now * keep)
        cuts.append(LoweringCut(day, now, cut, is_over_third=cut < now * keep - _SLACK))
    return tuple(cuts)


def _days_between(last: float, wanted: float, growth: float, keep: float) -> int | None:
    for gap in range(int(value("mowing.step_days")), 0, -1):
        lower = max(wanted, (last + growth * gap) * keep)
        if lower <= max(value("mowing.step_gain") * last, wanted):
            return gap
    return None


def _height(mm: float) -> float:
    return require("height", mm, 2, 2000, "mm", "8 cm is 80 mm.")
