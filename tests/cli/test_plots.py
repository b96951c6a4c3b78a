"""A trial is recorded as it happened, plot by plot."""

from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.support.books import put_made_up_ground

PLOT = ("-z", "Old bed")
NAMES = [f"{block}-{number:02d}" for block in (1, 2, 3) for number in (1, 2, 3, 4)]


@pytest.fixture
def trial(ground: Run) -> Run:
    """A trial of three mixtures and a control in three blocks, kept and not yet sown."""
    ground("zone", "add", "Old bed", "--use", "trial", "--sides", "20.25x9.5", "--height-of-cut",
           "10", "--mower", "cylinder", "--mower-width", "510")  # fmt: skip
    for code, name in (("BB-0417", "Bobbin"), ("GP-2240", "Gatepost"), ("HS-1009", "Haystack")):
        ground("lot", "add", "--code", code, "--name", name, "--part", "perennial ryegrass=100",
               "--weight", "1")  # fmt: skip
    ground("set-out", "Bobbin=30", "Gatepost=35", "Haystack=45", *PLOT, "--repeats", "3", "--plot",
           "1.5x2", "--sides", "20.25x9.5", "--seed", "4", "--keep", "--when",
           "1 September")  # fmt: skip
    return ground


def sown(trial: Run) -> Run:
    trial("plots", "sown", "--when", "2 September", "--who", "Ines", "--used", "GP-2240=310")
    return trial


def planned(run: Run) -> dict[str, str]:
    return {plot["name"]: plot["planned"] for plot in run("plots", "show", "--json").json["plots"]}


def test_a_plan_is_sown_lot_by_lot_in_one_go_and_only_once(trial: Run) -> None:
    told = trial("plots", "sown", "--when", "2 September", "--used", "GP-2240=310", "--json").json
    lots = {each["what"]["lot"]: each["what"] for each in told["entries"]}
    assert set(lots) == {"BB-0417", "GP-2240", "HS-1009"}
    assert lots["BB-0417"]["used_g"] == 270
    assert lots["GP-2240"]["used_g"] == 310
    assert lots["HS-1009"]["area_m2"] == 9
    assert "sown before" in trial("plots", "sown", code=1).text
    assert trial("plots", "show", "--json").json["sown_on"] == "2011-09-02"


def test_a_mix_up_keeps_what_was_planned_and_what_was_sown(trial: Run) -> None:
    sown(trial)
    plot = next(name for name, mixture in planned(trial).items() if mixture == "Haystack")
    assert "--reason" in trial("plots", "sown-as", f"{plot}=Bobbin", code=2).text
    trial(
        "plots", "sown-as", f"{plot}=Bobbin", "--reason", "its bag was left over", "--who", "Ines"
    )
    found = trial("plots", "show").text
    assert "mis-sown: Bobbin, planned Haystack" in found
    text = " ".join(trial("diary", "show", *PLOT).text.split())
    assert "its bag was left over" in text
    assert "Bobbing" not in text
    assert "Bobbin" in trial("plots", "sown-as", f"{plot}=Bobbing", "--reason", "x", code=2).text
    trial("plots", "sown-as", f"{plot}=Haystack", "--reason", "it was not so")
    assert "mis-sown" not in trial("plots", "show").text


def test_a_plot_is_left_out_with_reason_and_day_and_comes_back(trial: Run) -> None:
    sown(trial)
    assert "--reason" in trial("plots", "leave-out", "1-02", code=2).text
    told = trial("plots", "leave-out", "1-02", "--reason", "fuel spilt", "--when", "20 September")
    assert "out from Tue 20 September 2011: fuel spilt" in told.text
    assert "shown with and without" not in told.text
    trial("plots", "leave-out", "1-02", "--back", "--reason", "another plot it was")
    assert "fuel spilt" not in trial("plots", "show").text


def test_leaving_out_after_the_results_says_so(trial: Run) -> None:
    sown(trial)
    trial("plots", "read", *(f"{name}=6" for name in NAMES), "--trait", "quality")
    told = trial("plots", "leave-out", "1-02", "--reason", "it looks wrong", "--when", "5 October")
    assert "shown with and without it" in " ".join(told.text.split())


def test_ratings_are_kept_and_a_blank_is_never_nought(trial: Run) -> None:
    told = trial("plots", "read", "1-01=6", "1-02=6,5", "1-03=", "1-04=n/a", "--trait", "quality",
                 "--who", "Ines", "--json").json  # fmt: skip
    readings = told["entries"][0]["what"]["readings"]
    assert [each["value"] for each in readings] == [6, 6.5, None, None]
    assert "kept as not read" in told["understood"][2]["understood"][0]
    assert told["entries"][0]["what"]["unit"] == "1-9"


def test_what_cannot_be_taken_is_kept_as_typed_and_asked_about(trial: Run) -> None:
    told = trial("plots", "read", "1-01=65", "9-01=5", "1-02=good", "1-03=7", "--trait", "quality",
                 "--json").json  # fmt: skip
    entry = told["entries"][0]
    assert [each["value"] for each in entry["what"]["readings"]] == [None, None, None, 7]
    assert [each["as_typed"] for each in entry["what"]["readings"]] == ["65", "5", "good", ""]
    assert [each["what"]["likely"] for each in told["parked"]] == ["6.5?", "", ""]
    assert [each["what"]["column"] for each in told["parked"]] == ["quality", "plot", "quality"]


def test_a_cell_that_could_not_be_taken_waits_among_parked_rows_and_is_taken_in(
    trial: Run, tmp_path: Path
) -> None:
    file = tmp_path / "ratings.csv"
    file.write_text("plot,quality,note\n1-01,6,\n1-02,65,smudged\n7-77,5,\n", encoding="utf-8")
    day = ("--when", "5 October", "--who", "Ines", "--occasion", "R1")
    trial("plots", "read", "--file", str(file), *day)
    shown = trial("parked", "show").text
    assert "ratings.csv, line 3, quality: read '65'; understood here: 1 to 9. 6.5?" in " ".join(
        shown.split()
    )
    parked = trial("parked", "show", "--json").json["parked"]
    assert [each["what"]["column"] for each in parked] == ["quality", "plot"]
    first, second = (each["short_id"] for each in parked)
    assert f"swardbook parked take-in {first} --set 'quality=...'" in shown
    still = trial("parked", "take-in", first, "--set", "quality=0", "--reason", "ink", code=2)
    assert "Still parked" in still.text
    trial("parked", "take-in", first, "--set", "quality=6.5", "--reason", "a comma was lost")
    fresh = trial("parked", "take-in", second, "--set", "plot=1-03", "--reason", "misread",
                  "--json").json["entry"]  # fmt: skip
    assert fresh["when"]["first"] == "2011-10-05"
    assert fresh["what"]["readings"][0]["value"] == 5
    assert fresh["what"]["occasion"] == "R1"
    assert trial("parked", "show", "--json").json["parked"] == []
    read = {each["trait"]: each["plots"] for each in trial("plots", "show", "--json").json["read"]}
    assert read["quality"] >= 1


def test_a_reading_many_times_the_others_is_asked_about_and_kept(trial: Run) -> None:
    told = trial("plots", "read", "1-01=25", "1-02=24", "1-03=26", "1-04=300", "--trait", "height",
                 "--json").json["entries"][0]  # fmt: skip
    assert "1-04: 300, where others are about 25. Typed right?" in told["needs_a_look"]
    assert told["what"]["readings"][3]["value"] == 300


def test_a_column_headed_in_cm_or_inches_is_read_so(trial: Run, tmp_path: Path) -> None:
    file = tmp_path / "heights.csv"
    for head, typed, mm in (("height cm", "3", 30), ("Sward height (in)", "1.5", 38.1)):
        file.write_text(f"plot,{head}\n1-01,{typed}\n1-02,28 mm\n", encoding="utf-8")
        told = trial("plots", "read", "--file", str(file), "--json").json
        values = [each["value"] for each in told["entries"][0]["what"]["readings"]]
        assert values == [pytest.approx(mm), 28]


def test_heights_take_any_length_and_clippings_the_weight_of_a_plot(trial: Run) -> None:
    heights = trial("plots", "read", "1-01=3 cm", "1-02=28", "--trait", "height", "--json").json
    assert [each["value"] for each in heights["entries"][0]["what"]["readings"]] == [30, 28]
    told = trial("plots", "read", "1-01=450 g", "1-02=120", "1-03=tr", "--trait", "clippings",
                 "--json").json  # fmt: skip
    values = [each["value"] for each in told["entries"][0]["what"]["readings"]]
    assert values[:2] == [150, 120]
    assert 0 < values[2] < 1


def test_a_sheet_is_read_row_by_row_with_a_list_of_what_was_understood(
    trial: Run, tmp_path: Path
) -> None:
    file = tmp_path / "ratings.csv"
    file.write_text(
        "Ratings of the old bed;;;;\n"
        "Plot;Quality (1-9);Sward height mm;Who;Weather\n"
        "1-01;6,5;28;Ines;dry\n"
        "1-02;;30;Ines;\n"
        "1-03;12;n/a;Ines;\n"
        "\n"
        "7-77;5;25;Ines;\n",
        encoding="utf-8",
    )
    told = trial("plots", "read", "--file", str(file), "--when", "5 October", "--json").json
    traits = {each["what"]["trait"]: each["what"]["readings"] for each in told["entries"]}
    assert [each["value"] for each in traits["quality"]] == [6.5, None, None, None]
    assert [each["value"] for each in traits["sward height"]] == [28, 30, None, None]
    rows = {row["where"]: "; ".join(row["understood"]) for row in told["understood"]}
    assert "quality: 6.5" in rows["line 3, 1-01"]
    assert "not read: weather" in rows["line 3, 1-01"]
    assert "kept aside" in rows["line 5, 1-03"]
    assert "no plot '7-77'" in rows["line 7, 7-77"]


def test_a_sheet_of_counts_or_of_nothing_is_told_where_to_go(trial: Run, tmp_path: Path) -> None:
    file = tmp_path / "counts.csv"
    file.write_text("plot,annual meadow-grass\n1-01,5\n", encoding="utf-8")
    assert "count add --file" in trial("plots", "read", "--file", str(file), code=2).text
    file.write_text("a,b\n1,2\n", encoding="utf-8")
    assert "a column called plot" in trial("plots", "read", "--file", str(file), code=2).text
    assert "--trait with PLOT=NUMBER" in trial("plots", "read", code=2).text


def test_two_readers_inside_a_block_are_asked_about_and_their_difference_is_told(
    trial: Run, tmp_path: Path
) -> None:
    file = tmp_path / "two.csv"
    rows = [("1-01", 6, "Ines"), ("1-02", 7, "Odalys"), ("2-01", 5, "Ines"), ("2-02", 5, "Ines")]
    file.write_text("plot,quality,counter\n" + "\n".join(f"{p},{v},{c}" for p, v, c in rows))
    told = trial("plots", "read", "--file", str(file), "--json").json
    assert "Two counters inside block 1" in told["entries"][0]["needs_a_look"]
    both = [(name, 5 + n % 3, "Ines") for n, name in enumerate(NAMES[:6])]
    both += [(name, 6 + n % 3 * (n < 5), "Odalys") for n, name in enumerate(NAMES[:6])]
    file.write_text("plot,colour,counter\n" + "\n".join(f"{p},{v},{c}" for p, v, c in both))
    told = trial("plots", "read", "--file", str(file), "--json").json
    assert "Two counters" not in told["entries"][0]["needs_a_look"]
    [pair] = trial("plots", "show", "--json").json["two_readers"]
    assert (pair["first"], pair["second"], pair["plots"]) == ("Ines", "Odalys", 6)
    assert pair["low"] < pair["difference"] < pair["high"]


def test_forty_plots_exactly_alike_are_asked_about(trial: Run) -> None:
    told = trial("plots", "read", *(f"{name}=6" for name in NAMES), "--trait", "quality", "--json")
    assert "12 plots exactly alike" in told.json["entries"][0]["needs_a_look"]


def test_unequal_care_shows_plot_by_plot_and_in_what_spoils_the_trial(trial: Run) -> None:
    sown(trial)
    trial("cut", "--height", "25", *PLOT, "--when", "1 October")
    trial("plots", "care", "water", "block 1", "1-02", "2-03", "--amount", "4 mm", "--reason",
          "the tap end", "--when", "20 September")  # fmt: skip
    found = trial("plots", "show", "--json").json
    jobs = {each["job"]: each for each in found["care"]}
    assert jobs["cut"]["even"] is True
    assert jobs["water"]["even"] is False
    assert jobs["water"]["times"]["1-02"] == 1
    assert jobs["water"]["times"]["3-01"] == 0
    spoils = {each["what"]: each for each in trial("set-out", "--json").json["spoils"]}
    assert spoils["care"]["answer"] == "spoils"
    assert "water" in spoils["care"]["words"]
    assert "watr" in trial("plots", "care", "watr", "1-01", code=2).text


def test_the_made_up_trial_shows_its_mix_up_and_its_spoiled_plot(run: Run, book_home: Path) -> None:
    put_made_up_ground(book_home)
    text = " ".join(run("plots", "show", "-z", "Trial ground").text.split())
    assert "mis-sown: Pocketwatch, planned Teacake" in text
    assert "out from Thu 9 June 2011: Fuel spilt, 0.8 m² dead." in text
    assert "sown Wed 1 September 2010" in text


def test_a_kind_of_plant_is_pointed_to_the_count_and_what_was_read_is_told(trial: Run) -> None:
    sown(trial)
    refused = trial("plots", "read", "1-01=6", "--trait", "annual meadow-grass", *PLOT, code=2).text
    assert "swardbook count add --place PLOT" in " ".join(refused.split())
    trial("plots", "read", "1-01=6", "--trait", "quality", *PLOT)
    told = " ".join(trial("side-by-side", *PLOT).text.split())
    assert "needs a day on which plots were read, with `swardbook count add" in told
    assert "but --trait 'quality' was read" in told
