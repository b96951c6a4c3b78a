"""Designs of plot trials against the textbooks: efficiencies, standard errors, error df."""

from __future__ import annotations

from math import sqrt

import numpy as np

from swardbook.foundation.provenance import Grade
from swardbook.trials.design import Design, Kind, error_df
from swardbook.trials.row_column import a_efficiency, pair_variances
from tests.support.checks import Check

_BALANCED = np.asarray([[n, (n + 1) % 7, (n + 3) % 7] for n in range(7)], dtype=np.intp).ravel()
_ITS_BLOCKS = np.repeat(np.arange(7, dtype=np.intp), 3)


def _augmented(one: int, other: int) -> float:
    """Standard error of a difference with three checks in five blocks, four new in each."""
    entries = [
        entry for block in range(5) for entry in (0, 1, 2, *range(3 + 4 * block, 7 + 4 * block))
    ]
    blocks = np.repeat(np.arange(5, dtype=np.intp), 7)
    table = pair_variances(np.asarray(entries, dtype=np.intp), [blocks])
    pairs = [(i, j) for i in range(23) for j in range(i + 1, 23)]
    return sqrt(table[pairs.index((one, other))])


def _df(kind: Kind, entries: int, blocks: int, levels: int = 0, within: bool = False) -> float:
    names = tuple(f"e{n}" for n in range(entries))
    design = Design(kind, names, blocks, tuple(f"l{n}" for n in range(levels)))
    return float(error_df(design, within))


CHECKS: list[Check] = [
    Check("trials.bibd_efficiency", "efficiency of seven entries in seven blocks of three",
          "cochran_cox_1957", "balanced incomplete blocks: v(k-1) / k(v-1)", 7 / 9, 1e-9,
          Grade.JUDGED,
          lambda: a_efficiency(_BALANCED, [_ITS_BLOCKS])),
    Check("trials.bibd_sed", "SED of the same design, in plot standard deviations",
          "cochran_cox_1957", "balanced incomplete blocks: √(2k / λv)", sqrt(6 / 7), 1e-9,
          Grade.JUDGED,
          lambda: sqrt(float(pair_variances(_BALANCED, [_ITS_BLOCKS]).mean()))),
    Check("trials.augmented_checks", "SED of two checks, five blocks", "federer_1956", "√(2/b)",
          sqrt(2 / 5), 1e-9, Grade.JUDGED, lambda: _augmented(0, 1)),
    Check("trials.augmented_same_block", "SED of two new entries in one block", "federer_1956",
          "√2", sqrt(2), 1e-9, Grade.JUDGED, lambda: _augmented(3, 4)),
    Check("trials.augmented_other_block", "SED of two new entries in two blocks", "federer_1956",
          "√(2(1 + 1/c))", sqrt(2 * (1 + 1 / 3)), 1e-9, Grade.JUDGED, lambda: _augmented(3, 7)),
    Check("trials.augmented_new_check", "SED of a new entry and a check", "federer_1956",
          "√(1 + 1/b + 1/c - 1/bc)", sqrt(1 + 1 / 5 + 1 / 3 - 1 / 15), 1e-9, Grade.JUDGED,
          lambda: _augmented(0, 3)),
    Check("trials.df_blocks", "error df, six entries in four blocks", "cochran_cox_1957",
          "randomised blocks: (t-1)(r-1)", 15, 0, Grade.JUDGED, lambda: _df(Kind.BLOCKS, 6, 4)),
    Check("trials.df_latin", "error df of a five by five Latin square", "cochran_cox_1957",
          "Latin squares: (t-1)(t-2)", 12, 0, Grade.JUDGED, lambda: _df(Kind.LATIN, 5, 5)),
    Check("trials.df_shuffled", "error df, five entries of four, no blocks", "cochran_cox_1957",
          "completely randomised: t(r-1)", 15, 0, Grade.JUDGED, lambda: _df(Kind.TUBS, 5, 4)),
    Check("trials.df_whole_plots", "error df of varieties in the oats trial", "yates_1935",
          "three varieties, four doses, six blocks", 10, 0, Grade.PUBLISHED,
          lambda: _df(Kind.SPLIT, 3, 6, 4)),
    Check("trials.df_sub_plots", "error df of doses in the oats trial", "yates_1935",
          "three varieties, four doses, six blocks", 45, 0, Grade.PUBLISHED,
          lambda: _df(Kind.SPLIT, 3, 6, 4, within=True)),
]  # fmt: skip
