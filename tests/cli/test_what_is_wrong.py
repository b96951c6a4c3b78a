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
