"""Several trials together."""

import numpy as np
import pandas as pd
import pytest
import statsmodels.formula.api as smf
from statsmodels.stats.anova import anova_lm

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.trials.plots import Factor, PlotTable
from swardbook.trials.several import together


def trials(count: int) -> dict[str, PlotTable]:
    chance = np.random.Generator(np.random.Philox(key=9))
    found = {}
    for number in range(count):
        entry = Factor.of("mixture", [f"m{n % 4}" for n in range(12)])
        block = Factor.of("block", [f"b{n // 4}" for n in range(12)])
        values = chance.normal(size=12) + entry.codes + chance.normal(size=4)[entry.codes]
        found[f"t{number}"] = PlotTable(tuple(map(str, range(12))), entry, values, block)
    return found


def test_the_claim_over_trials_rests_on_how_mixtures_change_between_them() -> None:
    given = trials(3)
    made = together(given)
    data = pd.concat(
        pd.DataFrame(
            {"y": t.values, "m": t.entry.codes, "b": t.block.codes if t.block else 0, "t": name}
        )
        for name, t in given.items()
    )
    judge = anova_lm(smf.ols("y ~ C(t) + C(t):C(b) + C(m) + C(m):C(t)", data).fit())
    assert made.crossing.f == pytest.approx(judge.loc["C(m):C(t)", "F"])
    ratio = judge.loc["C(m)", "mean_sq"] / judge.loc["C(m):C(t)", "mean_sq"]
    assert made.over_trials.entries.f == pytest.approx(ratio)
    assert made.over_trials.error.df == 6
    assert set(made.each) == {"t0", "t1", "t2"}


def test_one_trial_is_not_several() -> None:
    with pytest.raises(NotEnoughDataError):
        together(trials(1))
