"""The plot is the unit, always."""

import numpy as np
import pytest

from swardbook.foundation.errors import RefusedError
from swardbook.trials.plots import Factor, PlotTable, plot_figures
from tests.support.trials import expected


def test_frames_of_one_plot_are_not_taken_for_repeats() -> None:
    with pytest.raises(RefusedError, match="the plot is the unit"):
        PlotTable(("1-01", "1-01"), Factor.of("m", "ab"), np.array([3.0, 4.0]))


def test_frames_come_together_to_one_figure_and_none_is_never_nought() -> None:
    assert plot_figures({"1-01": [4.0, 8.0], "1-02": []}) == {"1-01": 6.0}


def test_ten_photographs_of_a_tub_would_mislead_as_often_as_is_known() -> None:
    """What refusing them saves: the share of false differences between two tubs alike."""
    from scipy.stats import t

    for case in expected("survey_pseudorep"):
        rho, n = case["rho"], case["n"]
        inflation = np.sqrt((1 + (n - 1) * rho) / (1 - rho))
        limit = t.ppf(0.975, 2 * n - 2)
        assert 2 * t.sf(limit / inflation, 2 * n - 2) == pytest.approx(case["exact"], rel=1e-8)


def test_levels_keep_their_order_and_drop_out_with_their_plots() -> None:
    made = Factor.of("mixture", ["Thimble", "Bobbin", "Thimble"])
    assert made.levels == ("Thimble", "Bobbin")
    assert made.only(np.array([False, True, False])).levels == ("Bobbin",)
