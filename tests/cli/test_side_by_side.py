"""``swardbook side-by-side`` on the made-up ground, from question to answer."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

from swardbook.husbandry.ground import Plot
from swardbook.observations.counts import Method, PlaceCount
from tests.support.books import TODAY, put_made_up_ground, small_book
from tests.tutorials.test_pages import plain, run


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    place = tmp_path_factory.mktemp("side")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(place)
        patch.setenv("SWARDBOOK_HOME", str(place / "book"))
        patch.delenv("SWARDBOOK_DATABASE", raising=False)
        put_made_up_ground(place / "book")
        yield place


def asked(words: str = "") -> Result:
    result = run(f"swardbook side-by-side {words}")
    assert result.exit_code == 0, result.output
    return result


def told(words: str = "") -> Any:
    return json.loads(asked(f"{words} --json").output)


def test_it_names_no_one_inside_the_needed_gap(home: Path) -> None:
    answer = plain(asked().output)
    assert "Too close to call: no needed gap parts Bobbin, Candlewick, Pocketwatch" in answer
    assert "Only just clear: Teacake and Haystack, 19.8 apart, 19.6 needed" in answer
    assert "any pair picked after looking by about 16 points: from 12 points where" in answer
    for never in ("winner", "number 1", "rank 1"):
        assert never not in answer.casefold()


def test_each_planted_truth_is_found_or_refused(home: Path) -> None:
    found = told()
    pairs = {frozenset((p["first"], p["second"])): p for p in found["pairs"]}
    assert pairs[frozenset(("Bobbin", "Thimble"))]["verdict"] == "too close to call"
    assert pairs[frozenset(("Bobbin", "Haystack"))]["verdict"] == "clear"
    out = {each["plot"]: each["why"] for each in found["left_out"]}
    assert out["1-10"].startswith("Fuel spilt")
    assert out["3-08"] == "sown with Pocketwatch, planned Teacake"
    (overlap,) = found["counters"]
    assert (overlap["shared_plots"], overlap["may_correct"]) == (8, False)
    assert [overlap["difference"], *overlap["interval_95"]] == pytest.approx(
        [8.5, -1.5, 18.5], abs=0.06
    )
    beside = {each["mixture"]: each for each in found["beside"]}
    assert beside["Haystack"]["below_comfort"][0]["species"] == "tall fescue"
    assert "cannot be taken out" in beside["Pocketwatch"]["cannot_be_undone"][0]
    assert beside["Bobbin"]["cannot_be_undone"] == []
    assert beside["Bobbin"]["cost_per_m2"] == "0.282"
    blocks = list(found["analysis"]["block_means"].values())
    assert blocks == sorted(blocks, reverse=True)


def test_before_ten_months_it_says_so_far_and_who_is_slow(home: Path) -> None:
    answer = plain(asked("--trait sown --day 2010-10-06").output)
    assert "So far: too early for an end state." in answer
    assert "Slow by nature: Bobbin, Candlewick, Thimble, Umbrella." in answer
    found = told("--trait sown --day 2010-10-06")
    assert found["so_far"] is True
    turned = {(each["ahead_first"], each["ahead_later"]) for each in found["crossings"]}
    assert ("Gatepost", "Bobbin") in turned
    assert told("--day 2011-07-13")["so_far"] is False


@pytest.mark.long
def test_other_plots_may_count_and_what_then_changes_is_told(home: Path) -> None:
    assert told("--plots sown")["plots_counted"] == "as sown"
    answer = plain(asked().output)
    assert (
        "Plots counted as sown (39 plots): then Teacake and Unsown clear (leaning above)." in answer
    )


@pytest.mark.long
def test_a_pair_named_beforehand_needs_less(home: Path) -> None:
    (pair,) = told("--pair Bobbin=Teacake")["planned_pairs"]
    assert pair["p"] < 0.05
    assert "Named beforehand, Bobbin less Teacake: −13.4" in asked(
        "--pair Bobbin=Teacake"
    ).output.replace("-13.4", "−13.4")


@pytest.mark.long
def test_a_choice_shows_how_firmly_it_stands(home: Path) -> None:
    choice = told('--weigh "annual meadow-grass=2" --weigh sown=1')["choice"]
    assert choice["ever_first"] == ["Bobbin"]
    assert choice["stable"] is True
    assert choice["comes_first"][0]["share"]["Bobbin"] < 0.8
    answer = plain(asked('--weigh "annual meadow-grass=2" --weigh sown=1').output)
    assert "but not surely: the plots leave it open" in answer


def test_the_mean_over_time_has_its_own_analysis(home: Path) -> None:
    found = told("--over-time")
    assert found["occasion"] == "mean over time"
    assert 0.2 <= found["over_time"]["epsilon"] <= 1
    assert found["over_time"]["mixtures_p"] < 0.001


def test_three_pictures_are_written(home: Path) -> None:
    found = told("--picture m.svg --paths-picture p.svg --plan-picture v.svg")
    for name, file in (("picture", "m.svg"), ("paths_picture", "p.svg"), ("plan_picture", "v.svg")):
        assert found[name]["file"] == file
        assert (home / file).read_text(encoding="utf-8").startswith("<svg")
    assert "too close to call" in found["picture"]["sentence"]
    assert "Crossed out: does not count" in found["plan_picture"]["key"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("--pair Bobbin", "two mixtures"),
        ("--weigh sown", "a trait and its weight"),
        ("--weigh sown=1", "two traits or more"),
        ("--day 2011-05-01", "2011-05-18"),
        ("--smallest 0", "above 0"),
        ("--zone 'Lime walk'", "no plots"),
        ("--trait nonsense", "nonsense"),
    ],
)
def test_what_cannot_be_asked_is_told(home: Path, words: str, says: str) -> None:
    result = run(f"swardbook side-by-side {words}")
    assert result.exit_code == 2
    assert says in plain(result.output)


def test_one_tub_of_each_is_described_and_not_ranked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """F32, and the refusal to take frames for repeats."""
    from swardbook.book.diary import write
    from swardbook.foundation.dates import When
    from swardbook.husbandry.happenings import Count

    book = small_book(tmp_path / "tubs")
    for number, name in enumerate(("Bobbin", "Thimble"), 1):
        book.store.save_plot(Plot(f"T{number}", "Main court", 1, number, name))
    frames = tuple(
        PlaceCount(f"T{tub}", Method.POINTS, {"annual meadow-grass": float(hits)}, 25, "Ines", n)
        for tub, counts in ((1, (3, 4, 5, 3)), (2, (7, 6, 8, 7)))
        for n, hits in enumerate(counts, 1)
    )
    write(book, Count(frames), When.on(TODAY), zone="Main court")
    book.store.close()
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "tubs"))
    monkeypatch.delenv("SWARDBOOK_DATABASE", raising=False)
    words = f"swardbook side-by-side --on {TODAY}"
    answer = plain(run(words).output)
    assert "described, not ranked" in answer
    assert "Borrowed, not measured here" in answer
    found = json.loads(run(f"{words} --json").output)
    assert found["verdict"] == "not enough data"
    assert [each["looks"] for each in found["plots"]] == [4, 4]
    assert "pairs" not in found


@pytest.mark.long
def test_trials_together_rest_on_how_mixtures_change_between_them(home: Path) -> None:
    from swardbook.book.opening import open_book
    from swardbook.book.side_by_side import SideAsked
    from swardbook.book.trials_together import trials_together
    from swardbook.settings import Settings

    book = open_book(Settings(home / "book"), lambda: TODAY)
    for copy in ("Lime Walk", "Short court"):
        for plot in book.ground().plots:
            if plot.zone == "Trial ground":
                place = "L" if copy == "Lime Walk" else "S"
                book.store.save_plot(
                    Plot(f"{place}{plot.name}", copy, plot.block, plot.number, plot.planned)
                )
    from swardbook.book.diary import write
    from swardbook.foundation.dates import When
    from swardbook.husbandry.happenings import Count

    for letter, copy, more in (("L", "Lime Walk", 2), ("S", "Short court", 1)):
        frames = tuple(
            PlaceCount(
                f"{letter}{plot.name}", Method.POINTS,
                {"annual meadow-grass": float(
                    3 + more + len(plot.planned) % 5 + (plot.number * plot.block) % 3)}, 25, "Ines",
            )
            for plot in book.ground().plots if plot.zone == "Trial ground"
        )  # fmt: skip
        write(book, Count(frames), When.on(TODAY), zone=copy)
    made = trials_together(book, SideAsked("Trial ground"), ("Lime Walk", "Short court"))
    assert made.made.over_trials.error.df == 18
    assert made.made.crossing.p < 0.001
    book.store.close()
    words = '--zone "Trial ground" --with "Lime walk" --with "Short court"'
    assert told(words)["together"]["error_df"] == 18
    answer = plain(asked(words).output)
    assert "A claim over trials rests on that change, never on plots" in answer
    two = plain(asked('--zone "Trial ground" --with "Lime walk"').output)
    assert "fewer than three trials are not ranked" in two
    assert run('swardbook side-by-side --zone "Trial ground" --with "Trial ground"').exit_code == 2


def test_weights_point_at_the_bag_that_went_elsewhere(home: Path) -> None:
    """What side by side leaves out as mis-sown is what weighing back gives away."""
    found = run(
        'swardbook square-up --zone "Trial ground" --sown "1 September 2010"'
        " --left PW-0555=550 --left TC-0771=685"
    )
    assert found.exit_code == 1
    answer = plain(found.output)
    assert "90 g light" in answer
    assert "105 g heavy" in answer
    assert "Mix-up?" in answer
    assert "3-08" in answer
