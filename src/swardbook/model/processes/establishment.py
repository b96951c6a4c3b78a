"""From seedling to plant: who survives, in open gap and in closed sward."""

from __future__ import annotations

from swardbook.model.numbers import Numbers, least, most, select


def survival(gap: Numbers, light_closed: Numbers, in_gap: Numbers, in_closed: Numbers) -> Numbers:
    """Share of seedlings that become plants.

    Seedlings stand more often in gaps than their area says, because that is where they came up.
    """
    share_in_gap = gap / (gap + light_closed * (1.0 - gap) + 1e-9)
    return in_closed + (in_gap - in_closed) * share_in_gap


def crowded(cover: Numbers, plants: Numbers, least_area: Numbers) -> Numbers:
    """How far plants are short of the least ground they can live on: 0 not, 1 wholly."""
    return most(1.0 - (cover + 1e-9) / (plants * least_area + 1e-9), 0.0)


def step_share(earned: Numbers, needed: Numbers) -> Numbers:
    """Share of a class of thirds that moves on today."""
    return least(3.0 * earned / needed, 1.0)


def take(
    method: Numbers, seedbed: Numbers, slit: Numbers, scarified: Numbers, sward: Numbers
) -> Numbers:
    """Share of viable seed that takes, by how it was sown: 0 seedbed, 1 slit, 2 and 3 broadcast."""
    broadcast = select(method > 2.5, sward, scarified)
    return select(method < 0.5, seedbed, select(method < 1.5, slit, broadcast))


def mixed_progress(progress: Numbers, old: Numbers, fresh: Numbers) -> Numbers:
    """Mean hydrothermal time of seed when fresh seed, with none, joins the old.

    Returns
    -------
    float or array
        Mean progress. [°C d]
    """
    return progress * old / (old + fresh + 1e-30)
