"""Shares drawn in as in the worked example of Efron and Morris: eighteen batters."""

from __future__ import annotations

from swardbook.foundation.provenance import Grade
from swardbook.review.standing_out import drawn_in
from tests.support.checks import Check

HITS = (18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7)
"""Hits in each one's first 45 times at bat."""
SEASON = (
    0.346, 0.298, 0.276, 0.222, 0.273, 0.270, 0.263, 0.210, 0.269, 0.230, 0.264, 0.256, 0.303,
    0.264, 0.226, 0.285, 0.316, 0.200,
)  # fmt: skip
"""The rest of the season: what was to be foretold."""
TRIES = 45
LENT = TRIES * (1 - 0.212) / 0.212
"""As many tries lent as make their shrinking factor of 0.212."""
P = Grade.PUBLISHED
SOURCE = "efron_morris_1977"


def _drawn() -> tuple[float, ...]:
    return drawn_in(HITS, [TRIES] * len(HITS), LENT)


def _missed(found: tuple[float, ...]) -> float:
    return sum((got - true) ** 2 for got, true in zip(found, SEASON, strict=True))


CHECKS: list[Check] = [
    Check("batters-error", "how many times more the raw shares err, squared and added up", SOURCE,
          "text", 3.5, 0.05, P,
          lambda: _missed(tuple(each / TRIES for each in HITS)) / _missed(_drawn())),
    Check("batters-first", "best batter, drawn in by 0.212 towards the mean of 0.265", SOURCE,
          "figure", 0.294, 0.0005, P, lambda: _drawn()[0]),
]  # fmt: skip
