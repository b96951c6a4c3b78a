"""What a person types by slip: never refused in the garden, parked with a ready fix."""

import shlex

import pytest

from tests.cli.conftest import Run

COURT = ("--zone", "main court")


def test_f01_ounces_meant_as_grams_are_kept_and_parked(ground: Run) -> None:
    told = ground("feed", "--rate", "35 oz/yd2", "--product", "sand mix", *COURT).text
    assert "35 oz/yd2 is 1,187 g/m². Did you mean 35 g/m²?" in told
    assert "--set rate_g_m2=35 " in told


def test_f02_the_ready_fix_of_a_slipped_point_can_be_run_as_it_stands(ground: Run) -> None:
    told = ground("sow", "--rate", "20", "--area", "8192", *COURT, "--json").json
    assert told["entry"]["what"]["area_m2"] == 8192
    assert "Use 819.2?" in told["entry"]["needs_a_look"]
    ground(*shlex.split(told["fixes"][0])[1:])
    [entry] = ground("diary", "show", "--json").json["entries"]
    assert (entry["what"]["area_m2"], entry["needs_a_look"]) == (819.2, "")
    assert len(ground("diary", "show", "--all", "--json").json["entries"]) == 2


def test_f06_a_cut_just_after_sowing_is_parked(ground: Run) -> None:
    ground("sow", "--rate", "30", "--when", "4 Sep", *COURT)
    assert "3 days after sowing" in ground("cut", "--when", "7 Sep", *COURT).text


def test_f07_the_future_is_refused_and_offers_the_year_before(ground: Run) -> None:
    told = ground("cut", "--when", "14 March 2012", code=2).text
    assert "Use Mon 14 March 2011?" in told
    assert ground("diary", "show", "--json").json["entries"] == []


def test_f09_a_verticut_depth_without_a_datum_is_parked(ground: Run) -> None:
    for depth in ("2", "-2", "−2"):
        told = ground("verticut", "--depth", depth, "--zone", "short court").text
        assert "2 mm below the tips, above the soil, or into the soil?" in told


def test_f10_centimetres_meant_as_millimetres_are_parked(ground: Run) -> None:
    ground("cut", "--height", "8", "--when", "yesterday", *COURT)
    told = ground("cut", "--height", "8 cm", *COURT).text
    assert "8 cm is meadow height; the last was 8 mm." in told
    assert "height of cut 7.9 mm" in ground("cut", "--height", "5/16 in", *COURT).text


def test_f23_f24_water_by_time_and_in_a_restriction(ground: Run) -> None:
    closure = ("--set", "what=hose", "--set", "until=14 October 2011")
    ground("diary", "add", "closure", *closure, "--when", "1 October", code=None)
    told = ground("water", "--mm", "3", "--by", "hose", *COURT).text
    assert "You noted a hosepipe restriction. Can or tank?" in told
    assert "should" not in told


def test_f26_f27_readings_out_of_this_world_are_parked(ground: Run) -> None:
    soil = ("--set", "quantity=soil temperature", "--set", "value=31", "--set", "unit=°C")
    told = ground("diary", "add", "reading", *soil, "--when", "8 March").text
    assert "31 °F is −0.6 °C; 31 °C is summer sand. Which?" in told
    assert "5.6?" in ground("diary", "add", "reading", "-s", "quantity=pH", "-s", "value=56").text


def test_f29_two_cuts_by_two_people_are_both_kept(ground: Run) -> None:
    ground("cut", "--who", "Bram", *COURT)
    assert "One cut or two?" in ground("cut", "--who", "Ines", *COURT).text
    assert len(ground("diary", "show", "--json").json["entries"]) == 2


def test_f30_a_verticut_of_seedlings_offers_the_other_zone(ground: Run) -> None:
    ground("sow", "--rate", "30", "--when", "3 Sep", "--zone", "short court")
    told = ground("verticut", "--zone", "short court").text
    assert "Short court was sown 35 days ago. Main court?" in told
    assert "'zone=Main court'" in told


def test_f38_awkward_text_is_stored_and_shown_intact(ground: Run) -> None:
    note = "Ines’s 🌱, “so”\nnext, line; =1+1" * 100
    ground("cut", *COURT, "--note", note)
    [entry] = ground("diary", "show", "--json").json["entries"]
    assert entry["note"] == note


def test_f39_a_decimal_comma_is_understood(ground: Run) -> None:
    told = ground("water", "--mm", "3,5", *COURT, "--json").json
    assert told["entry"]["what"]["depth_mm"] == 3.5


def test_n08_kitchen_remedies_get_the_caution_and_no_rate(ground: Run) -> None:
    told = ground("diary", "add", "note", "--set", "text=vinegar on the path").text
    assert "is not a plant-protection use; it can harm soil, and may be unlawful" in told


def test_n09_a_record_without_authorisation_is_history_only(ground: Run) -> None:
    told = ground("diary", "add", "treatment", "--set", "product_name=old can").text
    assert "never copied forward" in told


@pytest.mark.parametrize(
    ("npk", "elements"), [("12-0-9", []), ("12-0-9", ["--elements"]), ("10-10-10", ["--elements"])]
)
def test_n23_every_figure_of_a_feed_has_its_unit_and_oxides_their_names(
    ground: Run, npk: str, elements: list[str]
) -> None:
    told = ground("feed", "--rate", "25 g/m2", "--npk", npk, *elements, *COURT, "--json").json
    gave = told["given"]
    assert set(gave) == {
        "nitrogen_g_m2", "p2o5_g_m2", "k2o_g_m2", "phosphorus_g_m2", "potassium_g_m2",
    }  # fmt: skip
    if elements:
        assert gave["potassium_g_m2"] == pytest.approx(25 * float(npk.split("-")[2]) / 100)
    else:
        assert gave["k2o_g_m2"] == pytest.approx(25 * float(npk.split("-")[2]) / 100)
    same = ground("feed", "--rate", "250 kg/ha", "--npk", npk, *elements, *COURT, "--json").json
    assert same["given"] == pytest.approx(gave)


def test_n23_gallons_say_whose_they_are(ground: Run) -> None:
    assert "gal_uk, gal_us" in ground("water", "--litres", "10 gal", *COURT, code=2).text


def test_n29_a_correction_shows_old_and_new_who_when_and_why(ground: Run) -> None:
    first = ground("cut", "--height", "12", "--who", "Bram", *COURT, "--json").json
    ground("put-right", first["short_id"], "--set", "height_of_cut_mm=8", "--reason", "misread")
    shown = ground("diary", "show", "--all").text
    assert "height of cut 12 mm, by Bram. [corrected by " in shown
    assert "height of cut 8 mm, by Bram." in shown
    assert "Put right: misread" in shown
    withdrawn = ground("put-right", first["short_id"], "--withdraw", "--reason", "not us").text
    assert "Withdrawn: cut of Sat 8 October 2011. not us" in withdrawn
    assert [each["what"]["kind"] for each in ground("diary", "show", "--json").json["entries"]] == [
        "note"
    ]
    assert len(ground("diary", "show", "--all", "--json").json["entries"]) == 3


def test_a_correction_takes_one_of_three_ways(ground: Run) -> None:
    first = ground("cut", *COURT, "--json").json["short_id"]
    for ways in ([], ["--withdraw", "--as-it-stands"], ["--set", "note=x", "--withdraw"]):
        told = ground("put-right", first, "--reason", "x", *ways, code=2)
        assert "one of --set, --as-it-stands or --withdraw" in told.text


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["cut", "--zone", "main cort"], "Did you mean Main court"),
        (["cut", "--height", "tall"], "--height: read 'tall'"),
        (["cut", "--when", "31 June"], "the date"),
        (["sow", "--lot", "BB-0417"], "No lot called 'BB-0417'"),
        (["feed", "--npk", "12-0"], "12-0-9"),
        (["feed", "--rate", "30 m"], "m is no g/m2"),
        (["pull", "--species", "yorkshir fog"], "Did you mean"),
        (["refill", "--check", "3", "4"], "looked at first"),
        (["fit", "mow"], "Did you mean cut?"),
        (["fit", "scarfy"], "Did you mean scarify"),
        (["diary", "add", "frosty"], "Did you mean frost"),
        (["diary", "add", "frost", "--set", "stat=frost"], "Did you mean state"),
        (["diary", "add", "frost", "--set", "state"], "field=value"),
        (["put-right", "ffff", "--withdraw", "--reason", "x"], "No entry called 'ffff'"),
        (["zone", "show", "nowhere"], "No zone called 'nowhere'"),
        (["import", "none.zip"], "a file that is there"),
    ],
)
def test_what_cannot_be_understood_says_what_can_and_keeps_nothing(
    ground: Run, arguments: list[str], words: str
) -> None:
    told = ground(*arguments, code=2)
    assert words in told.text
    assert "Traceback" not in told.text
    assert ground("diary", "show", "--json").json["entries"] == []


def test_a_damaged_book_is_refused_with_exit_code_1_and_left_as_it_is(
    ground: Run, book_home: object
) -> None:
    from pathlib import Path

    file = Path(str(book_home)) / "book.sqlite3"
    raw = b"garbage" * 1000
    file.write_bytes(raw)
    told = ground("diary", "show", code=1)
    assert "left as it is" in told.text
    assert file.read_bytes() == raw


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (
            ["sow", "--rate", "-5"],
            "rate: read '−5 g/m²'; understood here: nothing below 0. 5 g/m²?",
        ),
        (["cut", "--height", "-8"], "height of cut: read '−8 mm'"),
        (["water", "--litres", "-300"], "litres: read '−300'"),
        (["diary", "add", "pull", "--set", "plants=-5"], "plants: read '−5'"),
        (["survey", "area", "--sides", "0,3,0 every 2"], "a space after each comma"),
        (["survey", "area", "--sides", "9x9", "--accuracy", "3 m"], "positions of a --file"),
        (["survey", "rings", "abc"], "the ring: read 'abc'"),
        (["survey", "soil-test", "K", "--nitrogen", "9"], "NUTRIENTS: read 'K'"),
    ],
)
def test_what_has_no_truth_in_it_is_refused_with_the_likely_fix(
    ground: Run, arguments: list[str], words: str
) -> None:
    assert words in ground(*arguments, *COURT, code=2).text
    assert ground("diary", "show", "--json").json["entries"] == []


def test_a_correction_below_nothing_is_refused_and_the_entry_stays(ground: Run) -> None:
    first = ground("cut", "--height", "8", *COURT, "--json").json["short_id"]
    ground("put-right", first, "--set", "height_of_cut_mm=-8", "--reason", "x", code=2)
    [entry] = ground("diary", "show", "--json").json["entries"]
    assert entry["what"]["height_of_cut_mm"] == 8


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["cut", "--height", "0", *COURT], "The height of cut is 0 mm."),
        (["cut", "--height", "5 m"], "5000 mm where zones are cut at 8 to 8 mm. Another unit?"),
        (["cut", "--line", "4000"], "A line of 4000°"),
        (["diary", "add", "tuft check", "-s", "tufts=10", "-s", "with_heads=15", *COURT],
         "15 with heads of 10 tufts. The two swapped?"),
        (["diary", "add", "feed", "-s", "nitrogen_percent=46", "-s", "p2o5_percent=46",
          "-s", "k2o_percent=46"], "add to 138 %, more than there is"),
    ],
)  # fmt: skip
def test_what_cannot_be_so_is_kept_and_parked(
    ground: Run, arguments: list[str], words: str
) -> None:
    assert words in ground(*arguments).text
    assert len(ground("diary", "show", "--needs-a-look", "--json").json["entries"]) == 1


def test_what_is_not_known_is_quoted_briefly_and_few_of_many_names_are_listed(
    ground: Run,
) -> None:
    told = ground("mixture", "--part", "9" * 400 + "=100", code=2).text
    assert len(told) < 400
    assert "perennial ryegrass" in told
    assert told.rstrip().endswith("...")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["zone", "add", "New", "--use", "court", "--area", "9", "--height-of-cut", "8 cm"],
         "8 cm is meadow height. 8 mm?"),
        (["zone", "add", "Short court.", "--use", "court", "--area", "9", "--height-of-cut", "8"],
         "Short court and Short court. are alike. One lawn?"),
        (["cut", "plan", "--height", "8 cm", *COURT],
         "80 mm where the zone is cut at 8 mm. Another unit?"),
        (["materials", "feed", "--rate", "25 oz/yd2", "--npk", "12-0-9", "--area", "100"],
         "25 oz/yd2 is 848 g/m². Did you mean 25 g/m²?"),
        (["sow", "--rate", "35 oz/yd2", *COURT], "35 oz/yd2 is 1,187 g/m². Did you mean 35 g/m²?"),
    ],
)  # fmt: skip
def test_another_unit_or_another_name_is_asked_about_wherever_it_is_typed(
    ground: Run, arguments: list[str], words: str
) -> None:
    assert words in " ".join(ground(*arguments).text.split())


@pytest.mark.parametrize(
    "arguments",
    [["zone", "add", "New", "--use", "court", "--area", "9", "--height-of-cut", "0.3"],
     ["cut", "plan", "--height", "0.3", *COURT]],
)  # fmt: skip
def test_a_height_below_any_mower_was_perhaps_in_inches(ground: Run, arguments: list[str]) -> None:
    assert "0.3 in is 7.6 mm." in ground(*arguments, code=2).text


def test_a_cut_on_a_frost_morning_is_kept_and_asked_about(ground: Run) -> None:
    ground("diary", "add", "frost", "--set", "state=frost", *COURT)
    told = ground("cut", *COURT).text
    assert "Frost noted on Sat 8 October 2011. Cut after it cleared?" in told
    assert "should" not in told


def test_a_gate_code_in_a_note_is_asked_about(ground: Run) -> None:
    told = ground("water", "--mm", "3", *COURT, "--note", "gate code 4711").text
    assert "looks like a gate code. Keep it out of letters and exports?" in told


def test_a_day_with_strokes_is_said_with_the_month_as_a_word(ground: Run) -> None:
    assert "Mon 3 October 2011" in ground("cut", *COURT, "--when", "03/10/2011").text
    assert "Mon 3 October 2011" in ground("clean-down", "--unit", "mower", "--when", "3/10/11").text
