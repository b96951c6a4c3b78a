"""Weed-grass biology and population arithmetic as printed, against the model's functions."""

from __future__ import annotations

from functools import cache

import numpy as np

from swardbook.foundation.provenance import Grade
from swardbook.foundation.quantities import convert
from swardbook.handbook.sources import sources
from swardbook.model.drivers import seasonal_readiness
from swardbook.model.populations import growth_factor, half_life, life_table, replaced
from swardbook.model.processes.flowering import flowering_rate
from swardbook.model.processes.hand_weeding import left_after_passes
from swardbook.model.processes.seed_bank import yearly_left
from tests.support.checks import Check

ALIVE = (843, 722, 527, 316, 144, 54, 15, 3)
SEEDS = (0, 300, 620, 430, 210, 60, 30, 10)
STAGES = np.array(
    [
        [0.2, 0, 100, 300, 100],
        [0.05, 0, 0, 0, 0],
        [0, 0.75, 0, 0, 0],
        [0, 0, 0.75, 0, 0],
        [0, 0, 0, 0.75, 0],
    ]
)
TAKES = np.array(
    [
        [0, 0.09, 0.32, 0.23, 0.37],
        [0.08, 0, 0.16, 0.06, 0.09],
        [0.06, 0.06, 0, 0.44, 0.11],
        [0.02, 0.06, 0.05, 0, 0.03],
        [0.02, 0.03, 0.05, 0.03, 0],
    ]
)
"""Creeping bent, Yorkshire fog, rough meadow-grass, perennial ryegrass, crested dogstail."""
POLYNOMIAL = "abstract: polynomial of flowering rate by degree-days above -5 °C"


@cache
def _peak() -> tuple[float, float, float, float]:
    """Peak and its place, and where the curve leaves nothing, to a hundredth of a degree-day."""
    warmth = np.arange(0, 2000, 0.01)
    rate = flowering_rate(warmth)
    on = warmth[rate > 0]
    return float(warmth[np.argmax(rate)]), float(rate.max()), float(on[0]), float(on[-1])


def _left_after_six_years() -> float:
    """Share of a bank left in worked soil after six years without seed rain, by the model."""
    from swardbook.model.inputs import Drivers
    from swardbook.model.operations import no_operations
    from swardbook.model.parameters import SownKind, SownKinds, central_parameters
    from swardbook.model.season import run_reference
    from swardbook.model.start import Start, start_state

    parameters = central_parameters(SownKinds((SownKind("perennial ryegrass", 500.0),)))
    weed = parameters.weeds[0]._replace(immigration=np.zeros(1))
    parameters = parameters._replace(weeds=(weed, *parameters.weeds[1:]))
    days = 6 * 365
    season = np.asarray(np.arange(days) % 365 + 1, dtype=np.float64)
    same = np.ones(days)
    wave = np.cos(2 * np.pi * (season - 200) / 365)
    drivers = Drivers(
        10 + 6.5 * wave, 2 * same, 1.5 + 1.3 * wave, 10 + 7 * wave, season,
        seasonal_readiness(season), 0 * same, 0 * same,
    )  # fmt: skip
    work = no_operations(days)
    work.scarify[60::120] = 2
    state = start_state(Start(bare=1.0, seed_bank={"annual_meadow_grass": 1000}), parameters)
    mixed = state.weeds[0]
    mixed = mixed._replace(ready=mixed.ready * 0, buried=mixed.ready + mixed.buried)
    state = state._replace(weeds=(mixed, *state.weeds[1:]))
    work.pull_hours[:] = 1.0
    final = run_reference(state, parameters, drivers, work, every=days).final.weeds[0]
    return float((final.dormant + final.ready + final.buried)[0] - final.returned[0]) / 1000


def _check(
    key: str, what: str, source: str, place: str, expected: float, tolerance: float, got: float,
    grade: Grade | None = None,
) -> Check:  # fmt: skip
    if grade is None:
        remembered = sources()[source].how_read.startswith("from memory")
        grade = Grade.JUDGED if remembered else Grade.PUBLISHED
    return Check(f"model-{key}", what, source, place, expected, tolerance, grade, lambda: got)


def _table() -> list[Check]:
    work = "calhoun_frank_2021"
    rows = [
        ("flowering-800", "flowering rate at 800 °C d", 0.6009, 1e-4, flowering_rate(800.0)),
        ("flowering-600", "flowering rate at 600 °C d", 0.1400, 1e-4, flowering_rate(600.0)),
        ("flowering-1300", "flowering rate at 1300 °C d", 0.5871, 1e-4, flowering_rate(1300.0)),
        ("flowering-peak-at", "warmth at the peak [°C d]", 1045.86, 0.1, _peak()[0]),
        ("flowering-peak", "flowering rate at the peak", 0.8023, 1e-4, _peak()[1]),
        ("flowering-onset", "warmth at the onset [°C d]", 555.13, 0.1, _peak()[2]),
        ("flowering-end", "warmth at the end [°C d]", 1536.59, 0.1, _peak()[3]),
    ]
    checks = [
        _check(key, what, work, POLYNOMIAL, expected, tolerance, float(got))
        for key, what, expected, tolerance, got in rows
    ]
    bank = "roberts_feast_1973"
    season = np.arange(1.0, 366.0)
    wave = seasonal_readiness(season)
    table, ground = life_table(ALIVE, SEEDS), np.full(5, 0.2)
    memory = "from memory"
    return [
        *checks,
        _check("half-life-worked", "half-life at 32 % a year, worked soil [years]", bank,
               "abstract: rather less than 2 years", 1.797, 0.01, half_life(0.32)),
        _check("half-life-still", "half-life at 12 % a year, undisturbed [years]", bank,
               "abstract: about 6 years", 6.0, 0.7, half_life(0.12)),
        _check("constant-rate-worked", "left after six years at 32 % a year", bank,
               "abstract, by arithmetic; 0.059 was seen", 0.0989, 1e-3,
               float(yearly_left(1.0, 0.32, 6))),
        Check("model-bank-six-years", "left after six years of three cultivations, two passes each",
              bank, "abstract: 5.9 % of several species", 0.06, 0.03, Grade.PUBLISHED,
              _left_after_six_years),
        _check("readiness-best", "day of greatest readiness", "shemtov_fennimore_2003",
               "abstract: 5 November", 309, 0.5, float(season[np.argmax(wave)])),
        _check("readiness-least", "day of least readiness", "shemtov_fennimore_2003",
               "abstract: 20 June", 171, 0.5, float(season[np.argmin(wave)])),
        _check("two-passes", "share left after two passes of 90 %", "ucanr_handweeding_2014",
               "over 90 % a pass, two nearly all", 0.01, 1e-6, left_after_passes(0.9, 2)),
        _check("seed-mass", "seed mass from 1 196 000 a pound [mg]", "usgs_poa_annua",
               "seeds per pound", 0.3793, 1e-3, convert(1, "lb")[0] / 1_196_000 * 1000),
        _check("frame", "1.1 plants in 0.2 square feet [m⁻²]", "green_2019",
               "abstract", 59.2, 0.1, 1.1 / convert(0.2, "ft2")[0]),
        _check("life-offspring", "seeds a plant leaves in its life", "law_1975", memory, 846.0,
               0.01, table.offspring),
        _check("life-generation", "generation [quarters]", "law_1975", memory, 1.988, 0.01,
               table.generation),
        _check("life-mean", "mean life [quarters]", "law_1975", memory, 2.613, 0.01, table.life),
        _check("stages", "growth factor of the stage matrix", "stage_matrix_textbook", memory,
               2.09097, 1e-4, growth_factor(STAGES)),
        _check("replaced-10", "creeping bent after ten steps of replacement", "silvertown_1992",
               memory, 0.578, 1e-3, float(replaced(ground, TAKES, 10)[0])),
        _check("replaced-50", "Yorkshire fog after fifty steps of replacement", "silvertown_1992",
               memory, 0.193, 1e-3, float(replaced(ground, TAKES, 50)[1])),
    ]  # fmt: skip


CHECKS = _table()
