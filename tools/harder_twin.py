"""Forecasts made on 1 November from counts of a harder twin: `python -m tools.harder_twin`.

What makes the twin harder stands in `tools/data/harder_twin.toml`, fixed before the first run. A
run that is stopped goes on where it was; one with another model begins anew.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable, Mapping, Sequence
from functools import cache, partial
from pathlib import Path
from typing import Any

import numpy as np
from benchmarks._measuring import the_kernel

from swardbook.book.look_ahead import Asked, chance_of, question_of
from swardbook.evidence.scoring import crps_from_sample
from swardbook.foundation.errors import SwardbookError
from swardbook.handbook.parameters import value
from swardbook.model.ahead import Ahead, Horizon, set_out
from swardbook.model.carrying import Look, run_programmes
from swardbook.model.chance import Array, Chance
from swardbook.model.day_heads import grown_up
from swardbook.model.growing import Grow, grower
from swardbook.model.look_ahead import Question
from swardbook.model.past import MEADOW_GRASS, Known, live_through
from swardbook.model.programmes import programmes
from swardbook.model.weather_ahead import weather_ahead
from swardbook.observations.counts import PlaceCount
from tools.cases_on_file import RUNS, Result, making_of, run_cases, say_so
from tools.county_series import county
from tools.made_up_lawns import COUNTER, ZONE, Lawn, book_of
from tools.twin_world import FILE, Truth, Twin, groups, lawns, live, settings

DRAWS = 512
"""Ranges with 512, 1,024 and 2,048 draws are as wide, within 2 in 100; the product takes 4,096."""
TRUTHS = "harder-twin-truths.jsonl"
HERE = Path(__file__).parent
DOCS = HERE.parent / "docs" / "reference"
CODE = ("harder_twin", "twin_world", "twin_work", "twin_count", "made_up_lawns", "county_series")
TARGETS = ("june_cover", "june_plants", "october_cover", "october_plants")
"""What is foretold: cover of annual meadow-grass [%] and its plants [plants m⁻²] on two days."""
SHARES = (0.1, 0.5, 0.9)
LEAST = {"cover": 0.01, "plants": 0.1}
"""What is added before tenfold steps are taken. [% and plants m⁻²]"""


def making(key: str, draws: int) -> str:
    """Fingerprint of what the forecasts are made with."""
    code = [(HERE / f"{name}.py").read_bytes() for name in CODE]
    return making_of(key, str(draws), FILE.read_bytes(), *code)


def run(
    folder: Path,
    key: str,
    draws: int = DRAWS,
    processes: int = 1,
    only: Callable[[Twin], bool] = lambda _: True,
    tell: Callable[[str], None] = lambda _: None,
) -> dict[str, Result]:
    """Run the twin's lawns, make every forecast, and hold each against what became of it.

    Parameters
    ----------
    folder : Path
        Where results are kept.
    key : str
        What the twin's luck is keyed by.
    draws : int
        Draws of a forecast.
    processes : int
        Processes to share the work among; change no bit.
    only : callable
        Which lawns.
    tell : callable
        Told in words how far it is.
    """
    made = making(key, draws)
    twins = {name: [each for each in every if only(each)] for name, every in groups(key)}
    twins = {name: every for name, every in twins.items() if every}
    years = {name: tuple(each.year for each in every) for name, every in twins.items()}
    truths = folder / TRUTHS
    tell("the twin's lawns")
    run_cases(truths, made, list(twins), partial(lived, key, years), processes, tell)
    cases = [name_of(twin) for every in twins.values() for twin in every]
    tell("the forecasts")
    work = partial(forecast, str(truths), draws)
    return run_cases(folder / "harder-twin.jsonl", made, cases, work, processes, tell)


def name_of(twin: Twin) -> str:
    """Name the case of a lawn."""
    return f"{twin.county.name} {twin.lawn.key} {twin.year}"


def twin_of(case: str) -> Twin:
    """Find the lawn of a case."""
    place, lawn, year = case.split()
    return Twin.of(lawns()[lawn], county(place), int(year))


def lived(key: str, years: Mapping[str, Sequence[int]], group: str) -> Result:
    """Run the lawns of one kind and county; gives what was counted and what became, by case."""
    place, lawn = group.split()[-2:]
    twins = [Twin.of(lawns()[lawn], county(place), year) for year in years[group]]
    found = live(twins, key, _grow())
    return {name_of(twin): _packed(truth) for twin, truth in zip(twins, found, strict=True)}


def forecast(truths: str, draws: int, case: str) -> Result:
    """Make the forecasts of one lawn on 1 November: learn once, then ask of every programme."""
    twin, truth = twin_of(case), _truths(truths)[case]
    counts = [_counted(twin.lawn, places) for places in truth["counts"]]
    book = book_of(twin.lawn, twin.county, twin.year - 1, twin.plan, twin.today, counts)
    names = tuple(programmes()[key].name for key in settings()["runs"]["programmes"])
    weather = twin.county.weather().until(twin.today)
    question, missing = question_of(Asked(book, weather, twin.today, draws, names), ZONE)
    chance = chance_of(book, question.story.zone)
    try:
        known = live_through(question.story, draws, chance, _grow())
    except SwardbookError as error:
        return {"refusal": str(error), "way": twin.plan.key}
    told: dict[str, Any] = {
        "way": twin.plan.key,
        "full": not missing,
        "refusal": known.learned.refusal,
        "effective": round(known.learned.effective_draws, 1),
        "steps": [weighing.steps for weighing in known.learned.weighings],
    }
    if known.learned.refusal:
        return told
    became = truth["became"]
    ahead = _ahead(question, known, twin, chance)
    weed, (cover, plants) = known.state.weeds[0], truth["tonight"]
    told["tonight"] = [
        _held("june_cover", 100 * weed.cover, 100 * cover),
        _held("june_plants", grown_up(weed), plants),
    ]
    return told | {"plans": _plans(question, ahead, twin, became)}


def _plans(
    question: Question, ahead: Ahead, twin: Twin, became: Mapping[str, Any]
) -> dict[str, list[dict[str, Any]]]:
    marks = [Horizon(*mark) for mark in zip(("june", "october"), twin.marks, strict=True)]
    plans = [plan for plan in question.plans if plan.key in became]
    found = {}
    for plan, (looks, _) in zip(
        plans, run_programmes(ahead, plans, MEADOW_GRASS, marks, _grow()), strict=True
    ):
        draws = [each for mark in marks for each in _read(looks[mark.key])]
        truth = [each for cover, plants in became[plan.key] for each in (100 * cover, plants)]
        found[plan.key] = [_held(*each) for each in zip(TARGETS, draws, truth, strict=True)]
    return found


def _ahead(question: Question, known: Known, twin: Twin, chance: Chance) -> Ahead:
    """Set out the way ahead as a look-ahead does, but no further than the last day foretold."""
    story, place = question.story, twin.county
    courses = weather_ahead(
        question.weather, story.today, twin.marks[-1], round(value("programme.courses")), chance
    )
    return set_out(
        known, known.state, known.scores, courses, story.zone,
        (place.latitude, place.elevation_m), story.today, chance.under("ahead"),
        story.young,
    )  # fmt: skip


def _read(look: Look) -> tuple[Array, Array]:
    return 100 * look.cover, look.plants


def _held(target: str, draws: Array, truth: float) -> dict[str, Any]:
    """Hold one range against what became."""
    return {
        "range": [_short(each) for each in np.quantile(draws, SHARES)],
        "truth": _short(truth),
        "crps": _short(crps_from_sample(draws, truth)),
        "crps_log": _short(crps_from_sample(on_log(target, draws), on_log(target, truth))),
        "below": round(float(np.mean(draws < truth)), 4),
    }


def on_log(target: str, figure: Any) -> Any:
    """Give figures by tenfold steps, with something added so that none is a figure too."""
    return np.log10(figure + LEAST[target.split("_")[1]])


def _short(number: float) -> float:
    return float(f"{number:.4g}")


def _packed(truth: Truth) -> dict[str, Any]:
    counts = [[dict(place.found) for place in places] for places in truth.counts]
    return {"counts": counts, "became": truth.became, "tonight": truth.tonight}


def _counted(lawn: Lawn, found: Sequence[Mapping[str, float]]) -> tuple[PlaceCount, ...]:
    return tuple(
        PlaceCount(name, lawn.method, dict(seen), lawn.looked, COUNTER)
        for name, seen in zip(lawn.place_names(), found, strict=True)
    )


@cache
def _truths(file: str) -> dict[str, Any]:
    rows = [json.loads(line) for line in Path(file).read_text(encoding="utf-8").splitlines()[1:]]
    return {case: truth for row in rows for case, truth in row["result"].items()}


@cache
def _grow() -> Grow:
    return grower(the_kernel())


def main(arguments: Sequence[str] | None = None) -> None:
    """Run everything and write the page."""
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("--key", default=settings()["runs"]["key"], help="key of the twin's luck")
    reader.add_argument("--draws", type=int, default=DRAWS)
    reader.add_argument("--processes", type=int, default=2)
    reader.add_argument("--folder", type=Path, default=RUNS)
    asked = reader.parse_args(arguments)
    the_kernel()
    results = run(asked.folder, asked.key, asked.draws, asked.processes, tell=say_so)
    if asked.key == settings()["runs"]["key"]:
        from tools.harder_twin_page import page, rows_of, table, tonight

        rows = rows_of(results, _truths(str(asked.folder / TRUTHS)))
        (DOCS / "harder-twin.csv").write_text(table(rows), encoding="utf-8")
        (DOCS / "harder-twin.md").write_text(
            page(rows, asked.draws, tonight(results)), encoding="utf-8"
        )


if __name__ == "__main__":
    main()
