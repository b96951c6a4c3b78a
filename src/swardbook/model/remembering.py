"""What each draw remembers beside its state: last October, and what stood at each count.

A later visit to the same places is weighed given what the earlier ones showed of them, so what a
draw had standing at each of them goes along with it when draws are drawn again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swardbook.handbook.species import species_of_model
from swardbook.model.chance import Array
from swardbook.model.day_heads import grown_up, standing
from swardbook.model.day_weed import found_today
from swardbook.model.digging import clumps_found
from swardbook.model.observing import BARE, Standing
from swardbook.model.parameter_sets import Parameters
from swardbook.model.state import USUAL_WEEDS, SwardState

AUTUMN = 2
"""Rows for cover and plants of annual meadow-grass last October."""
LEVEL = AUTUMN
"""Row for the logarithm of the likelihood of all that was seen so far."""


@dataclass(frozen=True, slots=True)
class Memory:
    """How the rows beside the state are laid out.

    Parameters
    ----------
    weeds : tuple of str
        Weed grasses of the zone, as the handbook's keys name them.
    visits : int
        Occasions of counting.
    """

    weeds: tuple[str, ...]
    visits: int

    @property
    def rows(self) -> int:
        """How many rows there are."""
        return LEVEL + 1 + self.visits * self._each

    @property
    def _each(self) -> int:
        return 2 * len(self.weeds) + 1

    @property
    def kinds(self) -> tuple[str, ...]:
        """Kinds that frames can hold and the model does, in its order."""
        return (*(species_of_model(weed).key for weed in self.weeds), BARE)

    def empty(self, draws: int) -> Array:
        """Give rows of which nothing is known yet."""
        rows = np.full((self.rows, draws), np.nan)
        rows[LEVEL] = 0.0
        return rows

    def with_autumn(self, memory: Array, state: SwardState) -> Array:
        """Remember annual meadow-grass as it stands."""
        weed = state.weeds[0]
        return np.vstack([weed.cover, grown_up(weed), memory[AUTUMN:]])

    def with_visit(self, memory: Array, visit: int, state: SwardState) -> Array:
        """Remember what stands at a count."""
        rows = [row for weed in state.weeds for row in (weed.cover, grown_up(weed))]
        first = LEVEL + 1 + visit * self._each
        after = memory[first + self._each :]
        return np.vstack([memory[:first], *rows, state.zone.gap, after])

    def standing(self, memory: Array, visit: int) -> Standing:
        """Give what stood at a count."""
        first = LEVEL + 1 + visit * self._each
        rows, kinds = memory[first : first + self._each], self.kinds
        weeds = range(len(self.weeds))
        cover = {kinds[n]: rows[2 * n] for n in weeds} | {BARE: rows[-1]}
        return Standing({kinds[n]: rows[2 * n + 1] for n in weeds}, cover, {})


def standing_of(
    state: SwardState, parameters: Parameters, weeds: Sequence[str] = USUAL_WEEDS
) -> Standing:
    """Give what each draw has standing, as one who looks would meet it.

    Parameters
    ----------
    state : SwardState
        The draws.
    parameters : Parameters
        Their constants.
    weeds : sequence of str
        Their weed grasses, as the handbook's keys name them.
    """
    named = {species_of_model(weed).key: at for at, weed in enumerate(weeds)}
    here = {name: state.weeds[at] for name, at in named.items()}
    return Standing(
        plants={name: grown_up(weed) for name, weed in here.items()},
        cover={name: weed.cover for name, weed in here.items()} | {BARE: state.zone.gap},
        found={name: found_today(here[name], parameters.weeds[at]) for name, at in named.items()},
        clumps={name: clumps_found(here[name], parameters.weeds[at]) for name, at in named.items()},
        heading={name: _heading(state, at) for name, at in named.items()},
    )


def _heading(state: SwardState, place: int) -> Array:
    """Share of tillering and flowering plants that carry heads [-]."""
    weed = state.weeds[place]
    with_heads = np.minimum(standing(weed), weed.flowering)
    return np.asarray(with_heads / np.maximum(grown_up(weed), 1e-9))
