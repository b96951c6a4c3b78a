"""What is wrong, at the front door."""

from tests.cli.conftest import Run

HERE = ("what-is-wrong", "--zone", "Main court")


def test_causes_come_in_order_with_check_and_what_is_not_done(ground: Run) -> None:
    told = ground(*HERE, "-s", "pink threads", "--json").json
    shares = [each["share_percent"] for each in told["causes"]]
    assert shares == sorted(shares, reverse=True)
    assert told["causes"][0]["cause"] == "red thread"
    for each in told["causes"]:
        assert each["check"]
        assert each["not_do"]
        assert each["grade"] in {"published", "common practice", "judged"}
    assert any("names and doses no" in each["says"] for each in told["cautions"])
    text = ground(*HERE, "-s", "pink threads").text
    assert "Check:" in text
    assert "Not:" in text


def test_without_weather_nothing_that_hangs_on_it_is_likely(ground: Run) -> None:
    told = ground(*HERE, "--json").json
    wanting = [each for each in told["causes"] if each["weather"]]
    states = {fit["state"] for each in wanting for fit in each["weather"]}
    assert "don't know" in states
    assert "likely" not in {each["likelihood"] for each in wanting}


def test_the_signs_are_listed_without_a_zone_or_a_book(run: Run) -> None:
    told = run("what-is-wrong", "--signs", "--json").json["signs"]
    assert len(told) >= 25
    assert "Which zone?" in run("what-is-wrong", "-s", "casts", code=2).text


def test_counted_grubs_are_a_sign_and_bring_the_caution_of_soapy_water(ground: Run) -> None:
    told = ground(*HERE, "--grubs", "leatherjackets", "--found", "60", "--json").json
    assert told["grubs"]["verdict"] == "above it"
    assert told["grubs"]["threshold_grade"] == "published"
    assert "legless grubs" in told["seen"]
    assert told["causes"][0]["cause"] == "leatherjackets"
    assert any("no treatment" in each["says"] for each in told["cautions"])
    none = ground(*HERE, "--grubs", "chafers", "--found", "0", "--json").json
    assert none["not_seen"] == ["curved grubs"]
    assert "together" in ground(*HERE, "--grubs", "chafers", code=2).text


def test_a_likely_pest_is_kept_as_seen_and_anything_else_as_words(ground: Run) -> None:
    kept = ground(*HERE, "--grubs", "leatherjackets", "--found", "60", "--keep", "--json").json
    assert "leatherjackets" in kept["kept"]["words"]
    words = ground(*HERE, "-s", "yellowing", "--keep", "--json").json["kept"]["words"]
    assert "what is wrong" in words
    shown = ground("diary", "show").text
    assert "leatherjackets" in shown
    assert "no sign seen" in ground(*HERE, "--keep", code=2).text


def test_an_unknown_sign_gets_the_nearest(ground: Run) -> None:
    assert "pink threads" in ground(*HERE, "-s", "pink thread", code=2).text


PATCHES = ("-s", "orange patches", "-s", "cotton")


def test_no_feed_is_named_beside_a_disease_that_it_would_make_worse(ground: Run) -> None:
    both = ground(*HERE, *PATCHES, "-s", "pink threads", "--json").json
    by_name = {each["cause"]: each for each in both["causes"]}
    assert by_name["Microdochium patch"]["likelihood"] != "unlikely"
    assert by_name["red thread"]["feed_waits"] == "No feed before Microdochium patch is ruled out."
    alone = ground(*HERE, "-s", "pink threads", "--on", "5 May 2011", "--json").json["causes"][0]
    assert (alone["cause"], alone["feed_waits"]) == ("red thread", None)
    november = ground(*HERE, "-s", "pink threads", "--on", "20 November 2010", "--json").json
    assert "late autumn" in november["causes"][0]["feed_waits"]


def test_a_disease_that_is_only_suspected_asks_for_a_look_before_feed_or_verticut(
    ground: Run,
) -> None:
    ground(*HERE, *PATCHES, "--keep")
    for job in ("feed", "verticut"):
        [fit] = ground("fit", job, "--zone", "Main court", "--json").json["fit"]
        [disease] = [each for each in fit["conditions"] if each["name"] == "disease"]
        assert disease["state"] == "don't know"
        assert "Microdochium patch possible" in disease["because"]
    over = ("--set", "name=Microdochium patch", "--set", "active=no")
    ground("diary", "add", "disease", *over, "--zone", "Main court")
    assert "Microdochium patch possible" not in ground("fit", "feed", "-z", "Main court").text


def test_worms_are_found_by_their_name_and_left_alive(ground: Run) -> None:
    told = ground(*HERE, "-s", "worms", "--json").json
    assert told["causes"][0]["cause"] == "worm casts"
    assert "left alive" in told["causes"][0]["not_do"]
    assert any("left alive" in each["says"] for each in told["cautions"])
