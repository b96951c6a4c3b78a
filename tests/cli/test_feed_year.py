"""The year's feed at the command line."""

import pytest

from tests.cli.conftest import Run

COURT = ("--zone", "main court")


def test_feed_still_records_and_has_a_plan_and_a_ledger_under_it(ground: Run) -> None:
    ground("feed", "--rate", "25", "--npk", "12-0-9", "--when", "30 March", *COURT)
    found = ground("feed", "ledger", *COURT, "--json").json
    assert found["given_g_m2"] == 3.0
    assert found["feeds"][0]["potassium_g_m2"] == pytest.approx(1.868, abs=0.001)
    assert found["clippings_nitrogen_g_m2"] is None
    text = ground("feed", "ledger", *COURT).text
    assert "30 March  feed     25    3.0  0.0  1.9  -   3.0" in text
    assert "leave two strips at half rate" in " ".join(text.split())


def test_a_plan_kept_is_the_plan_from_then_on(ground: Run) -> None:
    told = " ".join(ground("feed", "plan", *COURT, "--nitrogen", "8", "--keep").text.split())
    assert "8.0 g N/m² from Tue 1 March 2011" in told
    assert "No year of weather in the book" in told
    assert "Kept " in told
    again = ground("feed", "plan", *COURT, "--json").json
    assert again["year_g_m2"] == 8
    assert sum(each["for_spring_g_m2"] for each in again["months"]) == pytest.approx(8, abs=0.01)
    assert again["months"][0]["by_growth_g_m2"] is None


def test_phosphate_is_left_out_where_the_soil_has_enough(ground: Run) -> None:
    assert "No phosphorus test here" in ground("feed", "plan", *COURT).text
    reading = ("-s", "quantity=P", "-s", "value=60", "-s", "unit=mg/kg")
    ground("diary", "add", "reading", *reading, *COURT)
    assert "ample in phosphorus: nitrogen only" in ground("feed", "plan", *COURT).text


def test_cautions_of_feed_and_iron_stand_beside_the_plan(ground: Run) -> None:
    told = " ".join(ground("feed", "plan", *COURT).text.split())
    assert "Iron stains stone" in told
    assert "The label's rate decides" in told
    assert "no moss, disease or worm dose" in told


@pytest.mark.parametrize("verb", ["plan", "ledger"])
def test_a_zone_is_asked_for(ground: Run, verb: str) -> None:
    assert "Say --zone NAME" in ground("feed", verb, code=2).text


def test_f20_a_rate_far_above_those_used_is_asked_about_without_a_dose(ground: Run) -> None:
    ground("feed", "--rate", "25", "--npk", "12-0-9", "--when", "30 March", *COURT)
    told = ground("feed", "--product", "moss killer", "--rate", "200", *COURT).text
    assert "Far above the feeds you have used" in told
    assert "the label decides" in told


def test_f22_a_scorching_dose_is_asked_about(ground: Run) -> None:
    told = ground("feed", "--rate", "50", "--npk", "46-0-0", *COURT).text
    assert "23 g N/m² in one go is several times a usual dose and can scorch" in told
