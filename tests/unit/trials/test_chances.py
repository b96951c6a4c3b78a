"""Chances of being best: they agree with the verdicts beside them."""

from statistics import median

import numpy as np

from swardbook.evidence import Verdict
from swardbook.trials.analysis import analyse
from swardbook.trials.chances import best_chances
from swardbook.trials.pair_verdicts import pairs_said
from swardbook.trials.plots import Factor, PlotTable

BLOCKS = 4
ENTRY = Factor.of("mixture", list("ABC") * BLOCKS)
BLOCK = Factor.of("block", [str(plot // 3) for plot in range(3 * BLOCKS)])
PLOTS = tuple(str(plot) for plot in range(3 * BLOCKS))


def test_no_mixture_is_nearly_surely_best_beside_a_verdict_that_is_not_clear() -> None:
    source = np.random.Generator(np.random.Philox(key=3))
    tops, plain = [], []
    for _ in range(300):
        figures = np.array([0.0, 5.0, 6.0] * BLOCKS) + 3 * source.standard_normal(3 * BLOCKS)
        means = analyse(PlotTable(PLOTS, ENTRY, figures, BLOCK)).means
        pairs = pairs_said(means, True, 1.0)
        wider = median([each.needed / each.needed_planned for each in pairs])
        assert wider > 1
        chances = best_chances(means, True, draws=2_000, wider=wider)
        top = max(chances, key=lambda each: each.best)
        own = [each for each in pairs if top.name in each.names()]
        if any(each.verdict is not Verdict.CLEAR for each in own):
            tops.append(top.best)
            plain.append(max(each.best for each in best_chances(means, True, draws=2_000)))
    assert len(tops) > 100
    assert max(tops) < 0.98
    assert max(plain) > max(tops)
