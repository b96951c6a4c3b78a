"""A trial is set out, kept, shuffled again and read back at the command line."""

from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from pypdf import PdfReader

from swardbook.husbandry.ground import Plot
from swardbook.records.opening import open_store
from swardbook.settings import Settings
from tests.cli.conftest import Run
from tests.support.books import put_made_up_ground

PLOT = ("-z", "Old bed")
MIXTURES = ("Bobbin", "Rye=35", "Bent=9", "Tall=45")
GROUND = (
    "--plot", "1,5x2", "--sides", "20.25x9.5", "--ends", "wet south, dry north", "--across",
    "west, east", "--tap", "east",
)  # fmt: skip


@pytest.fixture
def bed(ground: Run) -> Run:
    """The small ground with a bed for a trial, cut by a 0.51 m cylinder mower."""
    ground("zone", "add", "Old bed", "--use", "trial", "--sides", "20.25x9.5", "--height-of-cut",
           "10", "--mower", "cylinder", "--mower-width", "510")  # fmt: skip
    ground("lot", "add", "--code", "BB-0417", "--name", "Bobbin", "--part",
           "chewings fescue=80", "--part", "browntop bent=20", "--weight", "40")  # fmt: skip
    return ground


@pytest.fixture
def made_up(run: Run, book_home: Path) -> Run:
    """The made-up ground."""
    put_made_up_ground(book_home)
    return run


def test_the_same_seed_gives_the_same_bytes_and_another_another_plan(bed: Run) -> None:
    asked = ("set-out", *MIXTURES, *PLOT, *GROUND, "--json", "--seed")
    assert bed(*asked, "7").text == bed(*asked, "7").text
    orders = [[plot["mixture"] for plot in bed(*asked, seed).json["plots"]] for seed in ("7", "8")]
    assert orders[0] != orders[1]


def test_a_plan_tells_plots_passes_grams_and_what_it_can_show(bed: Run) -> None:
    told = bed("set-out", *MIXTURES, *PLOT, *GROUND, "--seed", "7", "--json").json
    assert len(told["plots"]) == 20
    assert told["ground"]["passes"] == 3
    assert told["ground"]["overlap_mm"] == 15
    rye = next(each for each in told["seed_to_weigh"] if each["name"] == "Rye")
    assert (rye["each_g"], rye["total_g"]) == (105, 420)
    shows = told["shows"]
    assert shows["error_df"] == 12
    assert shows["needed_gap_planned_pair"] < shows["needed_gap_any_pair"]
    assert told["spread_from"].startswith("judged: usual")
    assert {each["name"] for each in told["entries"] if each["control"]} == {"Unsown"}


def test_the_gap_is_asked_in_the_users_own_unit(bed: Run) -> None:
    one = bed("set-out", *MIXTURES, *PLOT, "--trait", "plants", "--gap", "2", "--sd", "0.5")
    assert "2 times" in one.text
    assert "as you gave it" in one.text
    rating = bed("set-out", *MIXTURES, *PLOT, "--trait", "quality").text
    assert "steps of the 1-9 rating" in rating
    assert "published" in rating
    assert "above 1" in bed("set-out", *MIXTURES, *PLOT, "--trait", "plants", "--gap", "0.5",
                            code=2).text  # fmt: skip


def test_one_plot_each_is_no_comparison(bed: Run) -> None:
    told = bed("set-out", *MIXTURES, *PLOT, "--design", "single")
    assert "describe these, not rank them" in told.text
    assert "3 or more of each" in told.text
    assert "Nothing is left to judge a difference by" in told.text


def test_the_tap_at_one_side_is_told_before_sowing(bed: Run) -> None:
    text = " ".join(bed("set-out", *MIXTURES, *PLOT, *GROUND).text.split())
    assert "The tap is at the east side" in text
    assert "Who waters the far side?" in text


def test_a_trial_that_does_not_fit_is_refused_with_what_it_needs(bed: Run) -> None:
    text = bed("set-out", *MIXTURES, *PLOT, "--repeats", "12", "--sides", "20.25x9.5", "--rows",
               "1", code=2).text  # fmt: skip
    assert "guards included" in text


def test_unknown_mixtures_and_ends_are_named(bed: Run) -> None:
    assert "Bobbin" in bed("set-out", "Bobbing", "Rye=35", *PLOT, code=2).text
    assert "wet south, dry north" in bed("set-out", *MIXTURES, *PLOT, "--ends", "south",
                                         code=2).text  # fmt: skip
    assert "each mixture once" in bed("set-out", "Rye=35", "rye=30", *PLOT, code=2).text


def test_a_rate_that_makes_sense_in_another_unit_is_asked_about(bed: Run) -> None:
    text = bed("set-out", "Rye=35 oz/yd2", "Bobbin", *PLOT, code=2).text
    assert "1,187 g/m²" in text
    assert "Did you mean 35 g/m²?" in text


def test_a_kept_plan_is_read_back_as_it_was(bed: Run) -> None:
    asked = ("set-out", *MIXTURES, *PLOT, *GROUND, "--seed", "7")
    planned = bed(*asked, "--keep", "--who", "Ines", "--json").json
    again = bed("set-out", "--json").json
    assert planned.pop("kept_as")
    assert planned.pop("notes") == again.pop("notes") == []
    assert [each["name"] for each in planned.pop("seed_to_weigh")]
    again.pop("seed_to_weigh")
    for rate in (*planned["entries"], *again["entries"]):
        rate.pop("rate_is_usual")
    assert again == planned


def test_shuffling_again_changes_the_plan_and_keeps_the_old_one_in_the_diary(bed: Run) -> None:
    bed("set-out", *MIXTURES, *PLOT, *GROUND, "--seed", "7", "--keep")
    first = bed("set-out", "--json").json
    told = bed("shuffle", "--seed", "8", "--json").json
    assert told["seed"] == 8
    assert [plot["mixture"] for plot in told["plots"]] != [
        plot["mixture"] for plot in first["plots"]
    ]
    assert bed("set-out", "--json").json["plots"] == told["plots"]
    assert "seed 8" in bed("diary", "show", *PLOT).text
    assert bed("shuffle", "--json").json["seed"] not in {7, 8}


def test_a_plot_moved_by_hand_needs_a_reason_and_marks_the_plan(bed: Run) -> None:
    bed("set-out", *MIXTURES, *PLOT, *GROUND, "--seed", "7", "--keep")
    assert "--reason" in bed("shuffle", "--move", "1-01=1-05", code=2).text
    told = bed("shuffle", "--move", "1-01=1-05", "--reason", "it suits it")
    assert "chosen, not shuffled" in told.text
    assert bed("set-out", "--json").json["shuffled"] is False
    assert bed("shuffle", "--json").json["shuffled"] is True


def test_once_sown_a_plan_is_history(bed: Run) -> None:
    bed("set-out", *MIXTURES, *PLOT, *GROUND, "--seed", "7", "--keep")
    bed("sow", "--lot", "BB-0417", "--rate", "30", "--area", "12", *PLOT)
    told = bed("shuffle", code=1).text
    assert "was sown on" in told
    assert "history" in told
    assert "history" in bed("set-out", *MIXTURES, *PLOT, "--keep", code=1).text


def test_the_plan_is_drawn(bed: Run, tmp_path: Path) -> None:
    file = tmp_path / "plan.svg"
    told = bed(
        "set-out", *MIXTURES, *PLOT, *GROUND, "--seed", "7", "--picture", str(file), "--json"
    )
    root = ET.fromstring(file.read_text(encoding="utf-8"))
    text = " ".join("".join(node.itertext()) for node in root.iter())
    for name in ("Bobbin", "Rye", "Unsown", "4-05", "wet south"):
        assert name in text
    assert len(told.json["picture"]["tables"][0]["rows"]) == 20
    before = file.read_bytes()
    bed("set-out", *MIXTURES, *PLOT, *GROUND, "--seed", "7", "--picture", str(file))
    assert file.read_bytes() == before


@pytest.mark.parametrize(
    ("more", "plots"),
    [
        (("--design", "latin"), 25),
        (("--design", "split", "--within", "10 mm", "--within", "20 mm", "--repeats", "3"), 30),
        (("--design", "augmented", "--once", "New=30", "--once", "Other=30", "--repeats", "2"), 12),
        (("--design", "row-column", "--repeats", "4"), 20),
        (("--design", "strips", "--repeats", "3", "--passes", "2"), 15),
        (("--design", "tubs", "--plot", "0.4x0.6"), 20),
    ],
)
def test_each_design_is_set_out_kept_and_read_back(
    bed: Run, more: tuple[str, ...], plots: int
) -> None:
    told = bed(
        "set-out", *MIXTURES, *PLOT, "--seed", "5", *more, "--sd", "5", "--keep", "--json"
    ).json
    assert len(told["plots"]) == plots
    again = bed("set-out", "--json").json
    assert again["plots"] == told["plots"]
    assert again["design"] == told["design"]
    assert again["shows"] == told["shows"]


def test_the_made_up_trial_is_read_from_the_book(made_up: Run) -> None:
    told = made_up("set-out", "-z", "Trial ground", "--json").json
    assert len(told["plots"]) == 40
    assert told["seed"] is None
    assert told["spread_from"].startswith("measured")
    words = " ".join(each["words"] for each in told["spoils"])
    assert "Haystack is cut at 10 mm" in words
    assert "Shuffle" not in " ".join(each["mend"] for each in told["spoils"])
    assert "history" in made_up("shuffle", "-z", "Trial ground", code=1).text


def test_the_papers_are_written_as_one_pdf_that_is_never_written_over_something_else(
    bed: Run, tmp_path: Path
) -> None:
    file = tmp_path / "papers.pdf"
    asked = ("set-out", *MIXTURES, *PLOT, *GROUND, "--seed", "7", "--pdf")
    assert bed(*asked, str(file), "--json").json["pdf"] == str(file)
    words = "".join(page.extract_text() for page in PdfReader(file).pages)
    assert "Yorkshire fog" in words
    assert "yorkshire fog" not in words
    before = file.read_bytes()
    assert before.startswith(b"%PDF-")
    assert "Papers:" in bed(*asked, str(file)).text
    assert file.read_bytes() == before
    other = tmp_path / "letter.pdf"
    other.write_text("a letter", encoding="utf-8")
    assert "left as it is" in bed(*asked, str(other), code=2).text
    assert other.read_text(encoding="utf-8") == "a letter"
    assert "ends in .pdf" in bed(*asked, str(tmp_path / "papers.txt"), code=2).text


def test_papers_of_plots_whose_place_is_not_kept_are_not_made_up(
    bed: Run, book_home: Path, tmp_path: Path
) -> None:
    store = open_store(Settings(book_home))
    for number in (1, 2):
        store.save_plot(Plot(f"1-0{number}", "Old bed", 1, number, f"Mixture {number}"))
    store.close()
    file = tmp_path / "papers.pdf"
    assert "plots alone" in bed("set-out", *PLOT, "--pdf", str(file)).text
    assert not file.exists()


def test_the_papers_of_the_made_up_trial_print_from_the_book(made_up: Run, tmp_path: Path) -> None:
    file = tmp_path / "papers.pdf"
    told = made_up("set-out", "-z", "Trial ground", "--pdf", str(file), "--json").json
    assert told["ground"]["length_m"] == 20.25
    assert sum(each["total_g"] for each in told["seed_to_weigh"]) == 3468
    assert file.read_bytes().startswith(b"%PDF-")


NINE = (
    "BB-0417=30", "Thimble=9", "Candlewick=35", "Gatepost=35", "Teacake=35", "Wheelbarrow=35",
    "Pocketwatch=30", "Umbrella=35", "Haystack=45",
)  # fmt: skip


def test_nine_mixtures_in_four_blocks_take_the_ground_and_the_seed_they_should(
    made_up: Run,
) -> None:
    asked = ("set-out", *NINE, "-z", "Trial ground", "--plot", "1.5x2", "--sides", "20.25x9.5")
    told = made_up(*asked, "--sd", "5", "--seed", "1", "--json").json
    assert round(told["shows"]["needed_gap_planned_pair"]) == 7
    assert round(told["shows"]["needed_gap_any_pair"]) == 12
    assert sum(each["total_g"] for each in told["seed_to_weigh"]) == 3468
    assert (told["ground"]["length_m"], told["ground"]["width_m"]) == (20.25, 9.5)
    assert told["ground"]["passes"] == 3
    assert told["notes"] == []
    assert "two seeds until you say otherwise" in " ".join(
        made_up("set-out", "Bobbin", "Gatepost", "-z", "Lime Walk", code=2).text.split()
    )


def test_mixtures_that_stand_once_need_more_than_checks(bed: Run) -> None:
    told = bed("set-out", *MIXTURES, *PLOT, "--design", "augmented", "--once", "New=30", "--once",
               "Other=30", "--sd", "5", "--json").json  # fmt: skip
    check = told["shows"]["needed_gap_planned_pair"]
    once = told["shows_once"]
    assert check < once["needed_gap_against_check"] < once["needed_gap_against_another"]


def test_in_a_split_plot_heights_are_told_apart_more_sharply_than_mixtures(bed: Run) -> None:
    told = bed("set-out", *MIXTURES, *PLOT, "--design", "split", "--within", "10 mm", "--within",
               "20 mm", "--repeats", "3", "--sd", "5", "--json").json  # fmt: skip
    assert (
        told["shows_within"]["needed_gap_planned_pair"] < told["shows"]["needed_gap_planned_pair"]
    )
    assert {plot["treatment"] for plot in told["plots"]} == {"10 mm", "20 mm"}
    assert told["shows"]["sd_whole"] == pytest.approx(5 * 0.6**0.5, abs=1e-4)
    assert told["shows_within"]["sd_whole"] is None
    said = bed("set-out", *MIXTURES, *PLOT, "--design", "split", "--within", "10 mm", "--within",
               "20 mm", "--repeats", "3", "--sd", "5", "--sd-whole", "8").text  # fmt: skip
    assert "Whole plots spread by 8 points beyond their parts" in " ".join(said.split())


def test_a_level_of_cover_is_supposed_and_spreads_go_with_it(bed: Run) -> None:
    asked = ("set-out", *MIXTURES, *PLOT, "--repeats", "4", "--gap", "10")
    plain, low = (bed(*asked, *more, "--json").json for more in ((), ("--level", "6")))
    assert (plain["supposed_level_percent"], low["supposed_level_percent"]) == (None, 6.0)
    for key in ("needed_gap_planned_pair", "needed_gap_any_pair", "sd"):
        assert low["shows"][key] < plain["shows"][key]
    assert low["shows"]["chance_any_pair"] > plain["shows"]["chance_any_pair"]
    told = " ".join(bed(*asked, "--level", "6").text.split())
    assert "from 6 % upward, where plots of a block spread by" in told
    assert "--level" in bed(*asked, "--level", "95", code=2).text


def test_tubs_are_asked_of_colour_and_change_places(bed: Run) -> None:
    told = bed("set-out", *MIXTURES, *PLOT, "--design", "tubs", "--plot", "0.4x0.6", "--json").json
    assert told["trait"] == "colour"
    assert len(told["tub_moves"]) == 6
    text = bed("set-out", *MIXTURES, *PLOT, "--design", "tubs", "--plot", "0.4x0.6").text
    assert "Every 14 days tubs change places" in " ".join(text.split())


def test_a_trial_kept_again_before_sowing_leaves_old_plots_out_and_loses_none(bed: Run) -> None:
    bed("set-out", *MIXTURES, *PLOT, *GROUND, "--seed", "7", "--keep")
    bed("set-out", *MIXTURES[:3], *PLOT, *GROUND, "--seed", "7", "--keep")
    told = bed("set-out", "--json").json
    assert len(told["plots"]) == 16
    states = bed("plots", "show", "--json").json["plots"]
    assert sum(each["why_left_out"] == "not in the plan any more" for each in states) == 4
