"""Split plots by sums, and by components where they are not balanced."""

import numpy as np
import pandas as pd
import pytest
import statsmodels.api as sm

from swardbook.foundation.errors import NotEnoughDataError, RefusedError
from swardbook.trials.reml import fit_components
from swardbook.trials.strata import SplitPlot, in_strata, split_plot
from tests.support.trials import column, expected, factor, rows_of


def oats(drop: int | None = None) -> SplitPlot:
    rows = rows_of("oats.csv")
    if drop is not None:
        del rows[drop]
    return split_plot(
        column(rows, lambda row: float(row["Y"])),
        factor(rows, "B"), factor(rows, "V"), factor(rows, "N"),
    )  # fmt: skip


def test_the_oats_of_yates_come_out_stratum_by_stratum() -> None:
    want, made = expected("oats_splitplot")["hand_and_scipy"], oats()
    blocks, wholes, within = made.strata
    assert blocks.error.ss == pytest.approx(want["SS"]["block"], rel=1e-9)
    assert [each.ss for each in wholes.lines] == pytest.approx([want["SS"]["wp"]], rel=1e-9)
    assert wholes.error.ss == pytest.approx(want["SS"]["err_a"], rel=1e-9)
    assert [each.ss for each in within.lines] == pytest.approx(
        [want["SS"]["sp"], want["SS"]["inter"]], rel=1e-9
    )
    tests = [*wholes.tests(), *within.tests()]
    theirs = [want["F_wp"], want["F_sp"], want["F_int"]]
    for ours, them in zip(tests, theirs, strict=True):
        assert (ours.f, ours.p) == pytest.approx(tuple(them), rel=1e-9)


def test_each_kind_of_difference_has_its_own_error() -> None:
    want, made = expected("oats_splitplot")["hand_and_scipy"], oats()
    got = (
        made.whole.errors[0, 1], made.sub.errors[0, 1], made.sub_within_whole,
        made.whole_within_sub, made.df_whole_within_sub,
    )  # fmt: skip
    keys = ("sed_wp", "sed_sp", "sed_sp_within_wp", "sed_wp_within_sp", "df_satt")
    assert got == pytest.approx([want[key] for key in keys], rel=1e-9)
    assert made.whole.difference(0, 1).df == 10
    assert made.whole.difference(0, 1).needed() == pytest.approx(want["lsd_wp"], rel=1e-8)


def test_components_agree_with_two_programs_and_with_the_sums() -> None:
    rows = rows_of("oats.csv")
    block, whole, sub = (factor(rows, name) for name in "BVN")
    figures = column(rows, lambda row: float(row["Y"]))
    model = fit_components(
        figures, [(whole,), (sub,), (whole, sub)], [(block,), (block.by(whole),)]
    )
    want = expected("oats_splitplot")
    theirs = [each["vcov"] for each in want["R_lmer"]["lmer_varcomp"]]
    assert model.variances[[1, 0, 2]] == pytest.approx(theirs, rel=1e-4)
    assert model.deviance == pytest.approx(want["R_lmer"]["reml"], abs=1e-5)
    means = model.means(whole)
    assert means.errors[0, 1] == pytest.approx(want["hand_and_scipy"]["sed_wp"], rel=1e-5)
    assert means.df[0, 1] == pytest.approx(10, rel=1e-4)
    assert model.means(sub).df[0, 1] == pytest.approx(45, rel=1e-4)


def test_a_split_plot_with_a_hole_agrees_with_another_program() -> None:
    made = oats(drop=9)
    assert made.components is not None
    rows = rows_of("oats.csv")
    del rows[9]
    figures = column(rows, lambda row: float(row["Y"]))
    block, whole, sub = (factor(rows, name) for name in "BVN")
    data = pd.DataFrame(
        {"y": figures, "cell": [f"c{code}" for code in whole.by(sub).codes],
         "b": block.codes, "w": block.by(whole).codes}
    )  # fmt: skip
    model = sm.MixedLM.from_formula(
        "y ~ 0 + cell", data, groups="b", re_formula="1", vc_formula={"w": "0 + C(w)"}
    ).fit(reml=True)
    variances = (model.cov_re.to_numpy()[0, 0], model.vcomp[0], model.scale)
    assert made.components.variances == pytest.approx(variances, rel=2e-3)
    assert made.whole.df[0, 1] < 45


def test_a_trial_that_is_not_balanced_has_no_sums_by_strata() -> None:
    rows = rows_of("oats.csv")[:-1]
    block, whole, sub = (factor(rows, name) for name in "BVN")
    with pytest.raises(RefusedError):
        in_strata(
            column(rows, lambda row: float(row["Y"])), [block, block.by(whole)],
            [(whole,), (sub,)],
        )  # fmt: skip


def test_a_component_that_luck_hides_keeps_its_degrees_of_freedom() -> None:
    rows = rows_of("oats.csv")
    whole, sub = factor(rows, "V"), factor(rows, "N")
    chance = np.random.Generator(np.random.Philox(key=3))
    figures = chance.normal(size=72)
    figures -= 0.8 * np.bincount(whole.codes, weights=figures)[whole.codes] / 24
    made = fit_components(figures, [(sub,)], [(whole,)])
    assert made.variances[0] < 0
    assert made.means(sub).df[0, 1] == pytest.approx(66, rel=1e-4)


def test_one_block_is_no_split_plot() -> None:
    rows = rows_of("oats.csv")[:12]
    with pytest.raises(NotEnoughDataError):
        split_plot(
            column(rows, lambda row: float(row["Y"])),
            factor(rows, "B"), factor(rows, "V"), factor(rows, "N"),
        )  # fmt: skip
