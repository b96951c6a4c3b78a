"""The made-up trial: the same draws everywhere, and what they hold."""

from datetime import date

import numpy as np
import pytest

from swardbook.demo.names import MEADOW_GRASS, TRIAL
from swardbook.demo.scenario import made_up_entries, made_up_ground
from swardbook.demo.trial_generator import COUNTED_ON, POINTS, adding_up, draw_trial
from swardbook.husbandry.happenings import Changed, Count, Sow
from swardbook.observations.counts import PlaceCount

PLAN = """
Wheelbarrow,Gatepost,Candlewick,Pocketwatch,Teacake,Thimble,Haystack,Bobbin,Unsown,Umbrella
Pocketwatch,Thimble,Umbrella,Teacake,Candlewick,Unsown,Gatepost,Haystack,Wheelbarrow,Bobbin
Gatepost,Thimble,Candlewick,Bobbin,Unsown,Umbrella,Wheelbarrow,Teacake,Haystack,Pocketwatch
Wheelbarrow,Haystack,Teacake,Pocketwatch,Bobbin,Unsown,Gatepost,Thimble,Umbrella,Candlewick
"""
TRUTH = {
    "Bobbin": 8.8, "Pocketwatch": 10.5, "Thimble": 13.5, "Candlewick": 14.2, "Wheelbarrow": 17.0,
    "Teacake": 22.2, "Gatepost": 25.0, "Umbrella": 26.6, "Unsown": 41.7, "Haystack": 42.0,
}  # fmt: skip


def counted(day: date) -> list[PlaceCount]:
    return [
        place for entry in made_up_ground().diary
        if entry.zone == TRIAL and entry.day == day and isinstance(entry.what, Count)
        for place in entry.what.places
    ]  # fmt: skip


def adjusted_means(day: date) -> dict[str, float]:
    """Mixture means of meadow-grass, adjusted for blocks by least squares; 3-08 left out."""
    mixtures = {plot.name: plot for plot in made_up_ground().plots if plot.zone == TRIAL}
    hits: dict[str, list[float]] = {}
    for place in counted(day):
        if place.counter == "Ines":
            hits.setdefault(place.place, []).append(place.found[MEADOW_GRASS] / place.looked * 100)
    names = sorted(TRUTH)
    rows, values = [], []
    for plot, shares in hits.items():
        if plot == "3-08":
            continue
        row = np.zeros(len(names) + 3)
        row[names.index(mixtures[plot].planned)] = 1
        block = mixtures[plot].block
        row[len(names) :] = [(block == b) - (block == 4) for b in (1, 2, 3)]
        rows.append(row)
        values.append(np.mean(shares))
    fitted = np.linalg.lstsq(np.array(rows), np.array(values), rcond=None)[0]
    return {name: float(fitted[n]) for n, name in enumerate(names)}


def test_the_plan_is_the_one_that_was_shuffled() -> None:
    trial = draw_trial()
    for block, line in enumerate(PLAN.split(), 1):
        assert [trial.plan[block, n] for n in range(1, 11)] == line.split(",")
    assert trial.mis_sown == (3, 8)
    assert trial.spoiled == (1, 10)


def test_there_are_984_placements_on_six_days() -> None:
    trial = draw_trial()
    assert len(trial.rows) == 984
    assert {row.day for row in trial.rows} == set(COUNTED_ON)
    assert sum(len(counted(day)) for day in COUNTED_ON) == 984


def test_every_frame_adds_up_and_keeps_its_meadow_grass() -> None:
    for row in draw_trial().rows:
        found = adding_up(row.hits)
        assert sum(found.values()) == POINTS
        assert found["amg"] == row.hits[1]


def test_the_last_count_has_the_adjusted_means_of_the_reference_run() -> None:
    found = adjusted_means(COUNTED_ON[5])
    assert found == pytest.approx(TRUTH, abs=0.051)


def test_the_second_counter_counts_whole_blocks_and_eight_shared_plots() -> None:
    by_counter = {
        name: {place.place for place in counted(COUNTED_ON[3]) if place.counter == name}
        for name in ("Ines", "Odalys")
    }
    assert len(by_counter["Ines"] & by_counter["Odalys"]) == 8
    whole = {f"{block}-{number:02d}" for block in (3, 4) for number in range(1, 11)}
    assert whole <= by_counter["Odalys"]


def test_the_mis_sown_plot_keeps_what_was_planned_and_what_was_sown() -> None:
    plot = next(each for each in made_up_ground().plots if each.name == "3-08")
    assert (plot.planned, plot.sown, plot.mixture) == ("Teacake", "Pocketwatch", "Pocketwatch")
    sown = [entry for entry in made_up_entries()
            if isinstance(entry.what, Sow) and entry.zone == TRIAL]  # fmt: skip
    corrections = [entry for entry in sown if entry.corrects is not None]
    kept = {entry.id for entry in sown}
    assert {entry.corrects for entry in corrections} <= kept
    by_lot = {entry.what.lot: entry.what for entry in made_up_ground().diary
              if isinstance(entry.what, Sow) and entry.zone == TRIAL}  # fmt: skip
    assert by_lot["TC-0771"].used_g == pytest.approx(315)
    assert by_lot["PW-0555"].used_g == pytest.approx(450)
    assert all(entry.written_on == date(2010, 11, 17) for entry in corrections)


def test_all_trial_seed_weighs_what_the_bag_list_says() -> None:
    planned = [
        entry.what
        for entry in made_up_entries()
        if isinstance(entry.what, Sow) and entry.zone == TRIAL and entry.corrects is None
    ]
    assert sum(what.used_g or 0 for what in planned) == pytest.approx(3468)


def test_the_spoiled_plot_is_left_out_with_its_reason_and_never_counted_as_none() -> None:
    plot = next(each for each in made_up_ground().plots if each.name == "1-10")
    assert plot.left_out_from == date(2011, 6, 9)
    assert "Fuel" in plot.why_left_out
    for day in COUNTED_ON[4:]:
        assert "1-10" not in {place.place for place in counted(day)}
    assert any(isinstance(entry.what, Changed) and "1-10" in entry.what.thing
               for entry in made_up_ground().diary)  # fmt: skip
