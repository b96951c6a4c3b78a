"""Places in order, against SciPy's."""

import numpy as np
from scipy.stats import rankdata

from swardbook.evidence.ranks import ranks


def test_ranks_are_those_of_scipy_ties_and_all() -> None:
    values = np.round(np.random.default_rng(1).normal(size=500), 1)
    assert len(np.unique(values)) < 100
    np.testing.assert_array_equal(ranks(values), rankdata(values))
