"""Ranges of several means, means against a control, angles, and the oats of Yates, as printed."""

from functools import cache, partial

import numpy as np

from swardbook.foundation.provenance import Grade
from swardbook.trials.dunnett import against_control
from swardbook.trials.means import Means
from swardbook.trials.shares import angle_of
from swardbook.trials.strata import SplitPlot, split_plot
from swardbook.trials.studentised import studentised_range
from tests.support.checks import Check
from tests.support.trials import column, factor, rows_of

_RANGES = {
    # (means, degrees of freedom, percent): printed
    (2, 10, 5): 3.15, (3, 5, 5): 4.60, (3, 10, 5): 3.88, (4, 12, 5): 4.20, (4, 20, 5): 3.96,
    (5, 20, 5): 4.23, (6, 24, 5): 4.37, (8, 16, 5): 4.90, (10, 30, 5): 4.82, (10, 60, 5): 4.65,
    (20, 40, 5): 5.36, (3, 10, 1): 5.27, (5, 20, 1): 5.29, (6, 24, 1): 5.37,
}  # fmt: skip
_CONTROLS = {
    # (treatments, degrees of freedom): printed, two-sided 5 %
    (2, 5): 3.03, (2, 10): 2.57, (2, 20): 2.38, (3, 10): 2.76, (3, 20): 2.54, (4, 10): 2.89,
    (4, 20): 2.65, (5, 20): 2.73, (9, 20): 2.95, (9, 60): 2.77,
}  # fmt: skip
_ANGLES = {
    # percent: degrees
    1: 5.74, 5: 12.92, 10: 18.43, 25: 30.00, 40: 39.23, 50: 45.00, 80: 63.43, 95: 77.08,
}  # fmt: skip
_OATS = {
    # what: (printed, tolerance)
    "varieties, F": (1.485, 0.0005), "manures, F": (37.69, 0.005), "together, F": (0.303, 0.0005),
    "whole plots, mean square": (601.3, 0.05), "sub-plots, mean square": (177.1, 0.05),
}  # fmt: skip


def _range(means: int, df: int, percent: int) -> float:
    return studentised_range(means, df).quantile(percent / 100)


def _angle(percent: int) -> float:
    return float(np.degrees(angle_of(np.array(percent / 100), 1e9)))


def _control(treatments: int, df: int) -> float:
    count = treatments + 1
    names = tuple(str(at) for at in range(count))
    means = Means(names, np.zeros(count), np.eye(count), np.full((count, count), float(df)),
                  np.full(count, 4))  # fmt: skip
    return against_control(means, "0").critical


@cache
def _oats() -> SplitPlot:
    rows = rows_of("oats.csv")
    return split_plot(
        column(rows, lambda row: float(row["Y"])),
        factor(rows, "B"), factor(rows, "V"), factor(rows, "N"),
    )  # fmt: skip


def _of_oats(what: str) -> float:
    wholes, within = _oats().strata[1:]
    return {
        "varieties, F": wholes.tests()[0].f, "manures, F": within.tests()[0].f,
        "together, F": within.tests()[1].f, "whole plots, mean square": wholes.error.ms,
        "sub-plots, mean square": within.error.ms,
    }[what]  # fmt: skip


CHECKS = [
    *(
        Check(
            f"studentised range {means} {df} {percent} %",
            f"Range of {means} means that is passed in {percent} % with {df} degrees of freedom",
            "harter_1960", "table of upper percentage points (from memory)", printed, 0.0051,
            Grade.JUDGED, partial(_range, means, df, percent),
        )
        for (means, df, percent), printed in _RANGES.items()
    ),
    *(
        Check(
            f"against a control {treatments} {df}",
            f"Two-sided 5 % point of {treatments} treatments against a control, {df} degrees of"
            " freedom",
            "dunnett_1964", "table of two-sided 5 % points (from memory)", printed, 0.0051,
            Grade.JUDGED, partial(_control, treatments, df),
        )
        for (treatments, df), printed in _CONTROLS.items()
    ),
    *(
        Check(
            f"angle of {percent} %", f"Angle whose sine squared is {percent} %", "bliss_1937",
            "table of angles, in degrees (from memory)", printed, 0.0051, Grade.JUDGED,
            partial(_angle, percent),
        )
        for percent, printed in _ANGLES.items()
    ),
    *(
        Check(
            f"oats {what}", f"Split plot of oats (Yates 1935): {what}", "venables_ripley_2002",
            "section 10.2, analysis of variance (from memory)", printed, tolerance,
            Grade.JUDGED, partial(_of_oats, what),
        )
        for what, (printed, tolerance) in _OATS.items()
    ),
]  # fmt: skip
