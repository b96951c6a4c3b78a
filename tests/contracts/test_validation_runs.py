"""The long validation runs, a few cases of each: the same bits again, gone on with if stopped."""

import json
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from tools import harder_twin, self_consistency
from tools.cases_on_file import run_cases
from tools.county_series import COUNTIES
from tools.harder_twin_page import BAND, page, rows_of, table
from tools.made_up_lawns import nothing_found
from tools.self_consistency import Design
from tools.self_consistency_page import Held
from tools.twin_work import lawn_weather, really_done
from tools.twin_world import Twin, groups, lawns, settings

from swardbook.model.chance import Chance
from swardbook.model.inputs import Operations
from swardbook.model.operations import no_operations
from swardbook.model.unknowns import Unknowns

TRIAL, DRAWS = "a trial", 64
CASES = ["a", "b", "c", "d"]


def doubled(case: str) -> Mapping[str, Any]:
    return {"is": case * 2}


def test_a_stopped_run_goes_on_where_it_was_and_ends_alike(tmp_path: Path) -> None:
    asked: list[str] = []

    def stops(case: str) -> Mapping[str, Any]:
        if case == "c":
            raise KeyboardInterrupt
        return doubled(case)

    def notes(case: str) -> Mapping[str, Any]:
        asked.append(case)
        return doubled(case)

    file = tmp_path / "runs" / "cases.jsonl"
    with pytest.raises(KeyboardInterrupt):
        run_cases(file, "one making", CASES, stops)
    with file.open("a", encoding="utf-8") as torn:
        torn.write('{"case": "c", "resu')
    went_on = run_cases(file, "one making", CASES, notes)
    assert asked == ["c", "d"]
    assert went_on == run_cases(tmp_path / "whole.jsonl", "one making", CASES, doubled)
    assert list(went_on) == CASES
    assert [json.loads(line).get("case") for line in file.read_text().splitlines()[1:]] == CASES


def test_a_run_of_another_making_begins_anew(tmp_path: Path) -> None:
    file = tmp_path / "cases.jsonl"
    run_cases(file, "one making", CASES, doubled)
    again = run_cases(file, "another", CASES, lambda case: {"is": case})
    assert again == {case: {"is": case} for case in CASES}


def test_processes_change_nothing(tmp_path: Path) -> None:
    one = run_cases(tmp_path / "one.jsonl", "m", CASES, doubled)
    two = run_cases(tmp_path / "two.jsonl", "m", CASES, doubled, processes=2)
    assert json.dumps(one) == json.dumps(two)


def test_a_lawn_drawn_and_learned_again_has_the_same_ranks() -> None:
    case = "0 1"
    once, again = (self_consistency.ranked(TRIAL, DRAWS, case) for _ in range(2))
    assert once == again
    assert once["refusal"] or all(0 < rank < 1 for rank in once["ranks"].values())
    assert once != self_consistency.ranked("another trial", DRAWS, case)


def test_the_figures_of_a_place_are_drawn_from_all_that_can_be_found_there() -> None:
    design, lane = Design.of(1), 2
    drawn = self_consistency._drawn(TRIAL, 1)
    seeing = self_consistency._one(drawn.seeing, lane)
    stood = [self_consistency._one(each, lane) for each in drawn.at_counts]
    place = nothing_found(design.lawn)[0][0]
    first = list(self_consistency._chances([], place, stood[:1], seeing))
    before = [replace(place, found={"annual meadow-grass": 9.0})]
    second = list(self_consistency._chances(before, place, stood, seeing))
    assert len(first) == len(second) == 26
    assert sum(first) == pytest.approx(1, abs=1e-9)
    assert sum(second) == pytest.approx(1, abs=1e-9)


def test_ranks_are_held_against_their_levels() -> None:
    even = Held("even", (np.arange(1000) + 0.5) / 1000)
    assert (even.share(0.8), even.share(0.9)) == (0.8, 0.9)
    assert even.is_met
    assert even.even > 0.99
    narrow = Held("too sure", np.r_[np.full(150, 0.02), np.full(700, 0.5), np.full(150, 0.99)])
    assert narrow.share(0.8) == pytest.approx(0.7)
    assert not narrow.is_met
    assert narrow.even < 1e-9


def test_every_wrong_number_of_the_twin_is_one_that_the_model_draws() -> None:
    known: set[str] = set()
    for lawn in lawns().values():
        story = Twin.of(lawn, COUNTIES[0], 1999).story()
        known |= set(Unknowns.of(story.kinds).names)
    named = {row["key"] for row in settings()["shift"]} | set(settings()["squares"]["keys"])
    assert named <= known
    assert all(row["why"] for row in settings()["shift"])


def test_the_twin_is_asked_at_least_twelve_hundred_times() -> None:
    every = [twin for _, twins in groups(TRIAL) for twin in twins]
    plans = settings()["runs"]["programmes"]
    assert len(every) * len(plans) >= 1200
    assert {twin.plan.key for twin in every} == set(plans)
    assert all(len(twin.lawn.place_names()) >= 12 for twin in every)


def test_without_faults_what_is_done_is_what_is_written() -> None:
    work = no_operations(60)
    for row, each in zip(work, np.linspace(0.1, 1, len(work)), strict=True):
        row[::7] = each
    work.cut[:] = work.cut > 0
    work.cut_height[:] = 25.0 * work.cut
    none = dict.fromkeys(settings()["work"], 0.0) | {
        name: [1.0, 1.0] for name in ("box_catches", "pulling_hours_real", "refill_reaches")
    }
    done = really_done(work, np.ones(60), 25.0, none, Chance(("none",)))
    for name, written, real in zip(Operations._fields, work, done, strict=True):
        assert np.array_equal(written, real), name


def test_two_plans_alike_up_to_a_day_are_really_alike_up_to_it() -> None:
    short, long = no_operations(40), no_operations(60)
    for work in (short, long):
        work.cut[::5], work.cut_height[::5], work.feed[::9] = 1.0, 25.0, 1.0
    one, other = (
        really_done(work, np.ones(len(work.cut)), 25.0, settings()["work"], Chance(("plans",)))
        for work in (short, long)
    )
    for name, first, second in zip(Operations._fields, one, other, strict=True):
        assert np.array_equal(first, second[:40]), name
    assert not np.array_equal(one.cut, short.cut)


def one_lawn(twin: Twin) -> bool:
    return harder_twin.name_of(twin) == "cambridge sown_in_august 1999"


@cache
def forecasts(folder: Path) -> Mapping[str, Any]:
    return harder_twin.run(folder, TRIAL, DRAWS, only=one_lawn)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("harder-twin")


@pytest.mark.slow
def test_a_forecast_made_again_has_the_same_bits(folder: Path) -> None:
    made = forecasts(folder)
    (case,) = made
    again = harder_twin.forecast(str(folder / harder_twin.TRUTHS), DRAWS, case)
    assert json.dumps(made[case]) == json.dumps(again)
    kept = (folder / "harder-twin.jsonl").read_bytes()
    harder_twin.run(folder, TRIAL, DRAWS, only=one_lawn)
    assert (folder / "harder-twin.jsonl").read_bytes() == kept


@pytest.mark.slow
def test_each_forecast_is_a_row_and_a_refused_one_too(folder: Path) -> None:
    made = forecasts(folder)
    (case,) = made
    truths = harder_twin._truths(str(folder / harder_twin.TRUTHS))
    assert not made[case]["refusal"]
    rows = rows_of(made, truths)
    assert [row["programme"] for row in rows] == settings()["runs"]["programmes"]
    for row in rows:
        assert (
            row["october_plants_low"] <= row["october_plants_middle"] <= row["october_plants_high"]
        )
        assert row["october_plants_truth"] >= 0
    refused = rows_of({case: {"way": "whole", "refusal": "too few"}}, truths)
    assert len(table([*rows, *refused]).splitlines()) == 1 + 8
    told = page([*rows, *refused], DRAWS)
    assert "4 refused" in told
    assert f"{BAND[0]:.0%} to {BAND[1]:.0%}" in told


def test_the_weather_of_a_lawn_is_not_that_of_the_station() -> None:
    story = Twin.of(lawns()["taken_on"], COUNTIES[1], 2001).story()
    drivers = lawn_weather(story.drivers, settings()["weather"], Chance(("a lawn",)))
    assert np.all(drivers.rain >= 0)
    assert np.corrcoef(drivers.tmean, story.drivers.tmean)[0, 1] > 0.95
    assert not np.array_equal(drivers.rain, story.drivers.rain)
    assert np.array_equal(drivers.season_day, story.drivers.season_day)
