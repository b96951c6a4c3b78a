"""Estimates, intervals, comparisons and the six verdicts."""

from swardbook.evidence.counts import (
    Density,
    LogRatio,
    common_clumping,
    density,
    none_in_a_frame,
    poisson_exact,
    quadrats_needed,
    ratio_of_samples,
    variance_of_counts,
)
from swardbook.evidence.cover import Cover, plain_half_width, point_cover, points_needed
from swardbook.evidence.estimates import Estimate, Interval, normal_quantile, t_quantile
from swardbook.evidence.hours import Pace, Pass, fit_pace
from swardbook.evidence.none_found import (
    chance_of_missing,
    densest_unseen,
    largest_unseen_share,
    looks_needed,
)
from swardbook.evidence.paired import (
    PairedChange,
    paired_change,
    paired_log_ratio,
    places_needed,
    places_to_show,
    sign_test,
)
from swardbook.evidence.proportions import clopper_pearson, newcombe, wilson
from swardbook.evidence.removal import TwoPasses, two_pass_removal
from swardbook.evidence.verdicts import Comparison, Spread, Verdict, log_of, verdict

__all__ = [
    "Comparison",
    "Cover",
    "Density",
    "Estimate",
    "Interval",
    "LogRatio",
    "Pace",
    "PairedChange",
    "Pass",
    "Spread",
    "TwoPasses",
    "Verdict",
    "chance_of_missing",
    "clopper_pearson",
    "common_clumping",
    "densest_unseen",
    "density",
    "fit_pace",
    "largest_unseen_share",
    "log_of",
    "looks_needed",
    "newcombe",
    "none_in_a_frame",
    "normal_quantile",
    "paired_change",
    "paired_log_ratio",
    "places_needed",
    "places_to_show",
    "plain_half_width",
    "point_cover",
    "points_needed",
    "poisson_exact",
    "quadrats_needed",
    "ratio_of_samples",
    "sign_test",
    "t_quantile",
    "two_pass_removal",
    "variance_of_counts",
    "verdict",
    "wilson",
]
