"""How far counts in frames of one size clump."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError


@dataclass(frozen=True, slots=True)
class Clumping:
    """Indices of clumping of counts in frames of one size.

    Parameters
    ----------
    frames : int
        How many frames.
    mean, variance : float
        Of the counts. [-]
    variance_to_mean : float
        About 1 where plants stand by chance, more where they clump. [-]
    morisita : float
        How many times as often as by chance two plants share a frame. [-]
    crowding : float
        Other plants in the frame of a plant, on average. [-]
    exponent : float
        Exponent k by moments; infinite where counts do not clump. [-]
    p : float
        Chance of so uneven counts if plants stood by chance. [-]
    """

    frames: int
    mean: float
    variance: float
    variance_to_mean: float
    morisita: float
    crowding: float
    exponent: float
    p: float


def clumping_of(counts: Sequence[float]) -> Clumping:
    """Tell how far counts in frames of one size clump.

    Parameters
    ----------
    counts : sequence of float
        Whole counts, one a frame. [-]

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two frames or two plants.
    OutOfRangeError
        If a count is below 0.

    Notes
    -----
    Variance over mean with its chi-square: Fisher, R. A., Thornton, H. G. and Mackenzie, W. A.,
    1922, Annals of Applied Biology 9, 325-359. Morisita, M., 1959, Memoirs of the Faculty of
    Science, Kyushu University E 2, 215-235. Lloyd, M., 1967, Journal of Animal Ecology 36, 1-30.
    """
    from scipy.special import chdtrc

    found = np.asarray(counts, dtype=np.float64)
    if (found < 0).any():
        raise OutOfRangeError("a count", float(found.min()), "0 or more", "")
    n, total = len(found), float(found.sum())
    if n < 2 or total < 2:
        raise NotEnoughDataError(
            "clumping", "two frames and two plants", f"{n} frames, {total:g} plants"
        )
    mean, variance = float(found.mean()), float(found.var(ddof=1))
    over = variance - mean
    return Clumping(
        n, mean, variance, variance / mean,
        n * float((found * (found - 1)).sum()) / (total * (total - 1)),
        mean + variance / mean - 1, mean**2 / over if over > 0 else float("inf"),
        float(chdtrc(n - 1, (n - 1) * variance / mean)),
    )  # fmt: skip
