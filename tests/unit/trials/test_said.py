"""The made-up trial: each planted truth is found, or refused."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from functools import cache

import numpy as np
import pytest

from swardbook.demo.trial_records import plots, trial_entries
from swardbook.evidence import Verdict
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.husbandry.ground import Plot
from swardbook.husbandry.happenings import Count
from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.occasions import Occasion
from swardbook.trials.crossing import crossings
from swardbook.trials.design import Kind
from swardbook.trials.readings import Taken, TrialDay, day_of_counts, day_of_readings
from swardbook.trials.said import Asked, DaySaid, is_balanced, say_day

WEED = "annual meadow-grass"
SOWN_ON = date(2010, 9, 1)
LAST, SPRING = date(2011, 9, 21), date(2011, 5, 18)
ASKED = Asked(5.0, True, ("Unsown",), SOWN_ON)


@cache
def occasions() -> Mapping[date, Occasion]:
    found: dict[date, tuple[PlaceCount, ...]] = {}
    for entry in trial_entries():
        if isinstance(entry.what, Count):
            found[entry.day] = (*found.get(entry.day, ()), *entry.what.places)
    return {day: Occasion(day, places) for day, places in sorted(found.items())}


def read(day: date, kind: str = WEED) -> TrialDay:
    found = day_of_counts(plots(), occasions()[day], kind)
    assert found is not None
    return found


@cache
def last(how: Taken = Taken.AS_PLANNED) -> DaySaid:
    return say_day(plots(), read(LAST), replace(ASKED, how=how))


def test_the_means_of_the_last_count_are_those_of_the_reference_run() -> None:
    said = last()
    order = said.means.ordered(lower_first=True)
    assert [said.means.names[at] for at in order] == [
        "Bobbin", "Pocketwatch", "Thimble", "Candlewick", "Wheelbarrow", "Teacake", "Gatepost",
        "Umbrella", "Unsown", "Haystack",
    ]  # fmt: skip
    assert [round(float(said.means.values[at]), 1) for at in order] == pytest.approx(
        [8.8, 10.5, 13.5, 14.2, 17.0, 22.2, 25.0, 26.6, 41.7, 42.0], abs=0.11
    )
    assert said.analysis is not None
    assert said.analysis.error.df == 25
    assert said.analysis.spread == pytest.approx(6.5, abs=0.05)


def test_two_alike_are_too_close_to_call_and_not_called_equal() -> None:
    assert last().pair("Bobbin", "Thimble").verdict is Verdict.TOO_CLOSE


def test_the_needed_gaps_are_some_ten_and_some_sixteen_and_go_with_the_level() -> None:
    pairs = last().pairs
    assert np.median([each.needed_planned for each in pairs]) == pytest.approx(9.75, abs=0.05)
    assert np.median([each.needed for each in pairs]) == pytest.approx(16.4, abs=0.1)
    low, high = last().pair("Pocketwatch", "Bobbin"), last().pair("Gatepost", "Haystack")
    assert low.needed == pytest.approx(11.6, abs=0.1)
    assert high.needed == pytest.approx(18.3, abs=0.1)


def test_only_just_clear_pairs_say_so() -> None:
    said = last()
    assert [{p.first, p.second} for p in said.pairs if p.is_only_just] == [{"Teacake", "Haystack"}]
    assert not said.pair("Bobbin", "Haystack").is_only_just


def test_the_tall_one_is_clearly_behind_all_sown_ones_that_hold_the_ground_better() -> None:
    said = last()
    sown = set(said.means.names) - {"Haystack", "Unsown"}
    behind = {name for name in sown if said.pair(name, "Haystack").verdict is Verdict.CLEAR}
    assert behind == sown - {"Gatepost", "Umbrella"}
    assert said.pair("Gatepost", "Haystack").verdict is Verdict.LEANING
    assert said.pair("Umbrella", "Haystack").verdict is Verdict.TOO_CLOSE


def test_no_one_is_named_inside_the_needed_gap() -> None:
    said = last()
    assert said.level == (
        "Bobbin",
        "Candlewick",
        "Pocketwatch",
        "Teacake",
        "Thimble",
        "Wheelbarrow",
    )
    assert max(chance.best for chance in said.chances) < 0.8
    assert sum(chance.best for chance in said.chances) == pytest.approx(1)
    assert "Unsown" not in {chance.name for chance in said.chances}


def test_blocks_fall_from_wet_to_dry() -> None:
    analysis = last().analysis
    assert analysis is not None
    told = [mean for _, mean in analysis.block_means]
    assert told == sorted(told, reverse=True)
    bobbin = last().means.values[last().means.place("Bobbin")]
    fitted = np.array(told) - np.mean(told) + bobbin
    assert fitted == pytest.approx([17.4, 7.7, 7.3, 2.6], abs=0.1)


def test_the_mis_sown_plot_is_left_out_or_counts_as_what_it_is_and_is_told() -> None:
    told = {each.plot: each.why for each in last().chosen.left_out}
    assert told["3-08"] == "sown with Pocketwatch, planned Teacake"
    as_sown = last(Taken.AS_SOWN)
    assert as_sown.means.plots[as_sown.means.place("Pocketwatch")] == 5
    assert "3-08" not in {each.plot for each in as_sown.chosen.left_out}


def test_the_fuel_plot_is_out_with_its_reason_and_never_nought() -> None:
    out = {each.plot: each.why for each in last().chosen.left_out}
    assert "Fuel" in out["1-10"]
    assert last().means.plots[last().means.place("Umbrella")] == 3
    before = say_day(plots(), read(SPRING), ASKED)
    assert "1-10" not in {each.plot for each in before.chosen.left_out}


def test_each_block_is_one_counters_so_that_mixtures_are_safe() -> None:
    spring = read(SPRING)
    assert spring.counters == {1: "Ines", 2: "Ines", 3: "Odalys", 4: "Odalys"}
    assert spring.two_counters == ()


def test_early_counts_are_so_far_and_late_ones_are_not() -> None:
    early = {day: say_day(plots(), read(day), ASKED).is_so_far for day in occasions()}
    assert list(early.values()) == [True, True, True, True, False, False]


def test_the_quick_one_leads_on_cover_and_is_passed() -> None:
    days = [(day, say_day(plots(), read(day, "sown"), replace(ASKED, lower_first=False)).means)
            for day in occasions()]  # fmt: skip
    turned = crossings(days, lower_first=False)
    assert ("Gatepost", "Bobbin") in {(each.early, each.late) for each in turned}
    first = days[0][1]
    assert first.names[first.ordered(lower_first=False)[0]] == "Gatepost"


def test_a_shuffle_agrees_that_mixtures_differ() -> None:
    assert last().shuffled is not None
    assert last().shuffled.p == 0.0005  # type: ignore[union-attr]


def test_each_stands_against_the_unsown_ground() -> None:
    made = last().against
    assert made is not None
    p = dict(zip(made.names, made.p, strict=True))
    assert p["Bobbin"] < 0.001
    assert p["Haystack"] > 0.9


def two_of_each() -> tuple[Plot, ...]:
    return tuple(plot for plot in plots() if plot.block <= 2)


def test_fewer_than_three_of_each_are_described_and_not_ranked() -> None:
    said = say_day(two_of_each(), read(LAST), ASKED)
    assert "Described, not ranked: fewer than 3 plots" in said.refusals[0]
    assert (said.pairs, said.chances, said.level) == ((), (), ())


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (replace(ASKED, is_shuffled=False), "chosen, not shuffled"),
        (replace(ASKED, uneven_care=("water: 3 times on most plots, 5 on 1-01",)), "not alike"),
    ],
)
def test_a_plan_that_was_not_shuffled_or_cared_for_alike_is_not_ranked(
    asked: Asked, words: str
) -> None:
    said = say_day(plots(), read(LAST), asked)
    assert words in said.refusals[0]
    assert said.pairs == ()


def test_plants_are_compared_as_ratios() -> None:
    chance = np.random.Generator(np.random.Philox(key=5))
    places = tuple(
        PlaceCount(
            plot.name, Method.PLANTS,
            {WEED: float(chance.poisson(40 if plot.planned == "Unsown" else 8))}, 1.0, "Ines",
        )
        for plot in plots()
    )  # fmt: skip
    found = day_of_counts(plots(), Occasion(LAST, places), WEED)
    assert found is not None
    assert found.are_plants
    said = say_day(plots(), found, replace(ASKED, smallest=float(np.log(1.5))))
    pair = said.pair("Bobbin", "Unsown")
    assert pair.verdict is Verdict.CLEAR
    assert np.exp(pair.difference) == pytest.approx(0.2, abs=0.08)


def test_several_readings_of_a_plot_are_one_figure() -> None:
    own = [(plot.name, 5.0 + block, "Ines") for plot in plots() for block in (0, 2)]
    found = day_of_readings(plots(), own, LAST, "S6", "1-9")
    assert set(found.figures.values()) == {6.0}
    assert not is_balanced(last().chosen)


def test_a_latin_square_in_the_book_takes_rows_and_columns_out() -> None:
    letters = ["ABCD", "BCDA", "CDAB", "DABC"]
    square = [
        Plot(f"{r}{c}", "Z", r + 1, c + 1, letters[r][c], row=r + 1, column=c + 1)
        for r in range(4) for c in range(4)
    ]  # fmt: skip
    figures = {
        p.name: 10.0 * p.row + 5 * p.column + "ABCD".index(p.planned) * 3 + (p.row * p.column) % 3
        for p in square
    }
    day = TrialDay(LAST, "", figures, "mm", {}, {})
    said = say_day(square, day, Asked(3.0, False, kind=Kind.LATIN))
    assert said.analysis is not None
    assert said.analysis.design == "Latin square"
    assert said.analysis.error.df == 6


def test_heights_within_mixtures_are_a_split_plot() -> None:
    laid = [
        Plot(f"{b}{m}{h}", "Z", b, 1, m, treatment=h)
        for b in (1, 2, 3) for m in "AB" for h in ("10 mm", "20 mm")
    ]  # fmt: skip
    figures = {p.name: 5.0 * (p.planned == "A") + p.block + len(p.treatment)
               + 0.3 * (p.block * (p.planned == "B")) + 0.2 * p.block * (p.treatment == "20 mm")
               for p in laid}  # fmt: skip
    said = say_day(laid, TrialDay(LAST, "", figures, "mm", {}, {}), Asked(1.0, True))
    assert said.split is not None
    assert said.split.sub.names == ("10 mm", "20 mm")
    assert said.pair("A", "B").difference != 0


def test_a_model_of_points_gives_a_second_opinion() -> None:
    second = last().second
    assert second is not None
    assert second.model == "points (beta-binomial)"
    assert second.shuffled.p < 0.01


@pytest.mark.parametrize(("blocks", "has_opinion"), [(4, False), (6, True)])
def test_ratings_in_steps_wait_for_six_blocks(blocks: int, has_opinion: bool) -> None:
    chance = np.random.Generator(np.random.Philox(key=blocks))
    laid = [Plot(f"{b}{m}", "Z", b, 1, m) for b in range(1, blocks + 1) for m in "ABCD"]
    figures = {
        plot.name: float(np.clip(np.round(5 + len(plot.name) / 2 + chance.normal()), 1, 9))
        for plot in laid
    }
    day = day_of_readings(laid, [(n, x, "Ines") for n, x in figures.items()], LAST, "", "1-9")
    said = say_day(laid, day, Asked(1.0, False))
    assert (said.second is not None) == has_opinion


def test_plots_that_never_differ_show_nothing() -> None:
    laid = [Plot(f"{b}{m}", "Z", b, 1, m) for b in (1, 2, 3) for m in "AB"]
    day = TrialDay(LAST, "", {plot.name: 4.0 for plot in laid}, "%", {}, {})
    with pytest.raises(NotEnoughDataError, match="sown alike that differ"):
        say_day(laid, day, Asked(5.0, True))
