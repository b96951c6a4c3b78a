"""The look-ahead as a person asks for it, on the made-up ground."""

import re

import pytest

from tests.cli.conftest import Run
from tests.support.model import kernel

ASK = ("look-ahead", "--zone", "Turf nursery", "--draws", "128")
PROMISES = re.compile(r"\b(will|guarantee\w*|promise[sd]|certain|eradicat\w*|weed-free)\b", re.I)


@pytest.fixture
def made_up(run: Run) -> Run:
    """The made-up book, with the model compiled for the tests."""
    kernel()
    run("demo")
    return run


@pytest.mark.long
def test_the_same_question_prints_the_same_bytes(made_up: Run) -> None:
    first, second = (made_up(*ASK, "--json").result.stdout for _ in range(2))
    assert first == second


def test_the_object_says_what_it_rests_on(made_up: Run) -> None:
    told = made_up(*ASK, "--json").json
    assert told["label"] == "general knowledge only"
    assert told["may_be_sealed"] is False
    assert {each["next_year"] for each in told["programmes"]} == {"cannot say"}
    assert told["past_years_of_weather"][-1] == 2010
    autumn = told["programmes"][0]["at"]["autumn"]
    assert {"annual_meadow_grass_cover_percent", "bare_percent"} <= set(autumn)
    assert told["programmes"][0]["against_the_first"]["autumn"]["difference"] == 0


def test_a_person_reads_it_in_a_minute_and_finds_no_promise(made_up: Run) -> None:
    text = made_up(*ASK).text
    assert "general knowledge only" in text
    assert "No verdict on next year" in text
    assert "What would change the advice" in text
    assert not PROMISES.search(text.replace("No figure here is a promise", ""))
    assert len(text.splitlines()) < 80


@pytest.mark.long
def test_one_programme_may_be_asked_for(made_up: Run) -> None:
    told = made_up(*ASK, "--programme", "Cut only", "--json").json
    assert [each["key"] for each in told["programmes"]] == ["as_recorded", "cut_only"]


def test_an_unknown_programme_offers_the_nearest(made_up: Run) -> None:
    told = made_up(*ASK, "--programme", "cut only and box", code=2)
    assert "Did you mean" in told.text


def test_draws_that_fill_no_block_are_refused(made_up: Run) -> None:
    told = made_up("look-ahead", "--zone", "Surround", "--draws", "100", code=2)
    assert "multiple of 64" in told.text


def test_the_trial_ground_is_not_enough_for_one_answer(made_up: Run) -> None:
    told = made_up("look-ahead", "--zone", "Trial ground")
    assert "one mixture over most of the zone" in told.text


def test_the_verdict_stands_before_any_leader_and_lines_fit_a_screen(made_up: Run) -> None:
    text = made_up(*ASK).text
    shown = text[text.index("Turf nursery: the look-ahead") :]
    told = made_up(*ASK, "--json").json["least_weed_next_october"]
    first = shown.splitlines()[2]
    assert first.casefold().startswith(told["verdict"])
    assert (told["leader"] is None) == (len(told["cannot_be_told_apart"]) > 1)
    assert max(map(len, shown.splitlines())) <= 80
    assert "tonight" not in shown


def test_with_few_draws_it_says_that_they_tell_no_worth(made_up: Run) -> None:
    assert "draws are too few to say what a measurement is worth" in flat(made_up(*ASK).text)


@pytest.mark.long
def test_the_worth_of_each_measurement_is_told_and_a_price_of_hours_changes_the_choice(
    made_up: Run,
) -> None:
    told = made_up(*ASK[:3], "--draws", "512", "--json").json
    worth = told["worth_of_measuring"]
    assert worth["choice"] == told["order_by_weed_next_october"][0]
    unit = "plants_per_m2" if told["weed_told_in"] == "plants" else "cover_points"
    most = worth["knowing_everything"]["estimate"][unit]
    for each in worth["measurements"]:
        assert each["hours"] > 0
        assert each["worth"]["estimate"][unit] <= most
        assert each["worth"]["standard_error"][unit] >= 0
        if each["worth"]["says"] == "would not change the choice":
            assert each["worth"]["spares"][unit] == 0
    named = [each["key"] for each in worth["measurements"]]
    assert worth["measure_first"] is None or worth["measure_first"] in named

    price = worth["price_of_an_hour_a_week_that_changes_it"]
    dear = made_up(*ASK[:3], "--draws", "512", "--hour-price", str(2 * price[unit]))
    shown = dear.result.stdout
    names = {each["key"]: each["name"].lower() for each in told["programmes"]}
    assert "comes out best on average" in flat(shown)
    assert f"{names[worth['choice']]} comes out best" not in flat(shown)
    assert not PROMISES.search(shown.replace("No figure here is a promise", ""))
    assert max(map(len, shown.splitlines())) <= 80


@pytest.mark.long
def test_a_price_below_nothing_is_refused(made_up: Run) -> None:
    refused = made_up(*ASK, "--hour-price", "-1", code=2)
    assert "--hour-price" in refused.result.stderr
    assert "-1" in refused.result.stderr


def flat(text: str) -> str:
    return " ".join(text.split())
