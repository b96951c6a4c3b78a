"""What a draw guesses, built again only where the guesses changed."""

import numpy as np

from swardbook.model.chance import Chance
from swardbook.model.rows import flatten
from swardbook.model.start import Start
from swardbook.model.unknowns import Latest, Unknowns
from tests.support.model import mixture

UNKNOWNS = Unknowns.of(mixture(), ("Ines",), (2010, 2011))
SCORES = UNKNOWNS.draw(100, Chance(("unknowns",)))
OTHER = np.where(np.arange(len(SCORES))[:, None] % 3 == 0, -SCORES, SCORES)
START = Start(bare=0.1, weeds={"annual_meadow_grass": 0.05}, spread=0.5)


def test_of_other_scores_only_the_changed_are_worked_out_and_all_are_as_if_anew() -> None:
    latest = Latest(UNKNOWNS)
    latest.usual(SCORES)
    for year in (2010, 2011):
        after_others, anew = latest.of(OTHER, year), Latest(UNKNOWNS).of(OTHER, year)
        for one, other in zip(flatten(after_others), flatten(anew), strict=True):
            np.testing.assert_array_equal(one, other)
    same, changed = UNKNOWNS.keys[1], UNKNOWNS.keys[0]
    before = UNKNOWNS.constants(SCORES)
    values = before[same], before[changed]
    after = UNKNOWNS.constants(OTHER, before)
    assert after[same] is values[0]
    assert not np.array_equal(after[changed], values[1])


def test_draws_laid_in_room_that_was_used_before_are_those_laid_anew() -> None:
    latest = Latest(UNKNOWNS)
    latest.laid(SCORES, 2010, latest.start(START, SCORES))
    again = latest.laid(OTHER, 2011, latest.start(START, OTHER))
    fresh = Latest(UNKNOWNS)
    anew = fresh.laid(OTHER, 2011, fresh.start(START, OTHER))
    np.testing.assert_array_equal(again.blocks, anew.blocks)
    np.testing.assert_array_equal(fresh.start(START, OTHER).zone.gap,
                                  UNKNOWNS.start(START, OTHER).zone.gap)  # fmt: skip
