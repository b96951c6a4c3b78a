"""`swardbook sow when` and `sow watch` on the made-up ground."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from swardbook.cli.main import root
from tests.support.books import standing_on_made_up_ground

AUGUST, SHORT = ("--on", "2011-08-10"), ("--zone", "Short court")
FRAMES = "84,90,51,77,120,60"


@pytest.fixture(scope="module")
def made_up(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """The made-up ground, built once for these tests."""
    home = tmp_path_factory.mktemp("made_up") / "book"
    with standing_on_made_up_ground(home) as place:
        yield place


def sow(*words: str, code: int = 0) -> Result:
    told = CliRunner().invoke(root, ["sow", *words], prog_name="swardbook")
    assert told.exit_code == code, told.output
    return told


def asked(*words: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(sow(*words, "--json").stdout)
    return found


@pytest.fixture(scope="module")
def autumn(made_up: Path) -> dict[str, Any]:
    return asked("when", *SHORT, "--what", "Bobbin", *AUGUST, "--dates", "10")


def event(stand: dict[str, Any], name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(each for each in stand["events"] if each["event"] == name)
    return found


def test_chances_fall_and_go_turns_to_too_late_as_autumn_goes_on(autumn: dict[str, Any]) -> None:
    answers = [day["mixture"]["answer"] for day in autumn["days"]]
    assert answers[0] == "go"
    assert answers[-1] == "too late"
    assert answers == sorted(answers)
    for name in ("60 % cover", "90 % cover", "first mow"):
        chances = [event(day["mixture"], name)["chance_by"] for day in autumn["days"]]
        assert chances == sorted(chances, reverse=True)


def test_the_reason_counts_the_years_warm_enough(autumn: dict[str, Any]) -> None:
    late = autumn["days"][-1]["components"][0]
    assert late["years"] == 20
    assert late["years_warm_enough"] < 16
    assert "four in five wanted" in late["because"]


def test_each_chance_grows_week_by_week_and_events_come_in_order(autumn: dict[str, Any]) -> None:
    for day in autumn["days"]:
        for stand in (day["mixture"], *day["components"]):
            for each in stand["events"]:
                assert each["chance_after_weeks"] == sorted(each["chance_after_weeks"])
            shows, sixty, ninety = (
                event(stand, name)["chance_by"]
                for name in ("emergence", "60 % cover", "90 % cover")
            )
            assert shows >= sixty >= ninety


def test_conditions_are_met_not_met_or_dont_know(autumn: dict[str, Any]) -> None:
    states = {each["condition"]: each["state"] for each in autumn["conditions"]}
    assert states == {
        "frost": "met", "heavy rain on a slope": "don't know", "water": "met",
        "people": "don't know",
    }  # fmt: skip


def test_spring_waits_for_warm_soil_and_ryegrass_goes_first(made_up: Path) -> None:
    words = (*SHORT, "--on", "2011-03-14", "--dates", "3")
    rye, bent = (
        asked("when", "--what", "Gatepost", *words),
        asked("when", "--what", "TH-1182", *words),
    )
    assert bent["answer"] == "wait"
    assert "spring starts by soil warmth" in bent["because"]
    order = ("wait", "go")
    for one, other in zip(rye["days"], bent["days"], strict=True):
        assert order.index(one["mixture"]["answer"]) >= order.index(other["mixture"]["answer"])


def test_a_downpour_forecast_on_a_slope_waits_and_frost_is_read_from_it(
    made_up: Path, tmp_path: Path
) -> None:
    file = tmp_path / "forecast.csv"
    file.write_text(
        "date,tmin,tmax,rain\n2011-08-11,-1,18,0\n2011-08-12,9,17,22\n2011-08-13,8,17,1\n"
    )
    words = (*SHORT, *AUGUST, "--dates", "1", "--slope", "1:20", "--forecast", str(file))
    found = asked("when", "--what", "Bobbin", *words)
    assert found["answer"] == "wait"
    assert "22 mm" in found["because"]
    states = {each["condition"]: each["state"] for each in found["conditions"]}
    assert states["frost"] == "not met"
    assert found["forecast_to"] == "2011-08-13"
    level = asked("when", "--what", "Bobbin", *SHORT, *AUGUST, "--dates", "1", "--slope", "1")
    assert level["answer"] == "go"


OVERSOWN = ("when", "--zone", "Pavilion apron", "--what", "Gatepost", *AUGUST, "--dates", "1",
            "--method", "slit")  # fmt: skip


def test_an_oversowing_is_told_of_the_sward_that_stands_there(
    made_up: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SWARDBOOK_DRAWS", "64")
    found = asked(*OVERSOWN)
    stand = found["days"][0]["mixture"]
    names = [each["event"] for each in stand["events"]]
    assert names == ["emergence", "60 % cover", "90 % cover", "first mow"]
    now = found["present"]["sown_percent"]
    assert 40 < now["low"] < now["middle"] < now["high"] < 100
    assert found["present"]["rests_on"] == "learned from your counts"
    sixty = event(stand, "60 % cover")
    assert sixty["chance_by"] >= sixty["chance_by_without_seed"]
    assert 0 < stand["seed_adds_percent"]["middle"] < 20
    assert event(stand, "first mow")["days_middle"] < 21
    told = " ".join(sow(*OVERSOWN).stdout.split())
    assert "Pavilion apron tonight: sown grass" in told
    assert "without seed)" in told
    assert "go gently once seedlings show" in told


def test_an_oversowing_is_withheld_where_nothing_says_how_thin_it_is(
    made_up: Path, tmp_path: Path
) -> None:
    sow("when", *SHORT, *AUGUST, "--dates", "1")
    told = CliRunner().invoke(
        root, ["zone", "add", "New bit", "--use", "family lawn", "--area", "40",
               "--height-of-cut", "25"], prog_name="swardbook",
    )  # fmt: skip
    assert told.exit_code == 0, told.output
    words = ("when", "--zone", "New bit", "--what", "Gatepost", "--dates", "1",
             "--method", "broadcast on sward")  # fmt: skip
    found = asked(*words)
    assert [each["event"] for each in found["days"][0]["mixture"]["events"]] == ["emergence"]
    assert "a count of the zone: how thin it is decides" in found["withheld"]
    assert "Only seedlings are told" in " ".join(sow(*words).stdout.split())


def test_your_own_sowings_stand_beside_and_weigh_the_chances(
    made_up: Path, autumn: dict[str, Any]
) -> None:
    own = {(each["zone"], each["species"]): each for each in autumn["own_sowings"]}
    bent = own["Trial ground", "browntop bent"]
    assert (bent["seen_after_days"], bent["sown_on"]) == (17, "2010-09-01")
    assert bent["model_days"]["low"] <= bent["model_days"]["middle"] <= bent["model_days"]["high"]
    assert own["Short court", "chewings fescue"]["first_cut_after_days"] == 24
    assert autumn["weighed_by_own_sowings"]
    before = asked("when", *SHORT, "--what", "Bobbin", "--on", "2010-08-10", "--dates", "1")
    assert (before["own_sowings"], before["weighed_by_own_sowings"]) == ([], False)


@pytest.mark.long
def test_water_and_people_move_the_chances_and_are_told_with_the_answer(made_up: Path) -> None:
    words = ("when", *SHORT, "--what", "Bobbin", *AUGUST, "--dates", "1")
    here, nobody = asked(*words, "--here"), asked(*words, "--nobody-here")
    one, two = (
        event(each["days"][0]["mixture"], "60 % cover")["chance_by"] for each in (here, nobody)
    )
    assert two < one
    assert (here["kept_damp"], nobody["kept_damp"]) == (True, False)
    assert nobody["answer"] == "go"
    assert "Against it: water, nobody is here to water" in nobody["because"]
    told = " ".join(sow(*words, "--here").stdout.split())
    assert "Browntop bent: go; soil" in told


def test_nothing_is_called_failed_before_the_slowest_window_shuts(made_up: Path) -> None:
    early = asked(
        "watch", *SHORT, "--on", "2010-09-14", "--frames", "0,0,0,0,0,0", "--unsown", "0,0"
    )
    assert early["verdict"] == "too early to say"
    assert "nothing is called failed before" in early["because"]
    assert {each["state"] for each in early["windows"]} <= {"due now", "not due yet"}
    late = asked("watch", *SHORT, "--on", "2010-10-20", "--frames", FRAMES, "--unsown", "11,9")
    assert {each["state"] for each in late["windows"]} == {"window shut"}
    assert late["verdict"] == "fewer than usual"
    assert late["seedlings"]["share_of_viable"]["high"] < 0.25


def test_a_test_of_the_lot_goes_before_its_label_and_widens_the_share(made_up: Path) -> None:
    words = ("watch", *SHORT, "--frames", FRAMES, "--unsown", "11,9,13")
    before, after = (asked(*words, "--on", day) for day in ("2010-10-20", "2011-03-01"))
    assert before["viable_sown"]["by"] == "by the label"
    assert "74 of 100" in after["viable_sown"]["by"]
    assert "158 days after the sowing" in after["viable_sown"]["by"]
    live = after["viable_sown"]["per_m2"]
    assert live["low"] / live["value"] == pytest.approx(0.646 / 0.74, abs=0.001)
    assert live["high"] / live["value"] == pytest.approx(0.816 / 0.74, abs=0.001)
    one, two = (each["seedlings"]["share_of_viable"] for each in (before, after))
    assert two["value"] > one["value"]
    assert two["high"] / two["low"] > one["high"] / one["low"]
    told = " ".join(sow(*words, "--on", "2011-03-01").stdout.split())
    assert "Viable seed is by your germination test of Wed 9 February 2011" in told


def test_what_was_seen_goes_before_what_was_expected(made_up: Path) -> None:
    found = asked("watch", *SHORT, "--on", "2010-09-15")["windows"]
    states = {each["species"]: (each["state"], each["seen_on"]) for each in found}
    assert states["chewings fescue"] == ("seen up", "2010-09-15")
    assert states["browntop bent"] == ("due now", None)


def test_seedlings_nobody_named_are_not_told_as_not_due(made_up: Path) -> None:
    words = ("watch", *SHORT, "--on", "2010-09-08")
    assert {each["state"] for each in asked(*words)["windows"]} == {"not due yet"}
    up = asked(*words, "--frames", "3,4,5,1,0,2")
    assert {each["state"] for each in up["windows"]} == {"cannot tell"}
    assert any("Whose they are: cannot tell" in note for note in up["notes"])
    own = asked(*words, "--frames", "3,4,5,1,0,2", "--unsown", "40,60,50")
    assert {each["state"] for each in own["windows"]} == {"not due yet"}
    none = asked(*words, "--frames", "0,0,0,0,0,0")
    assert {each["state"] for each in none["windows"]} == {"not due yet"}


def test_windows_are_weighed_by_earlier_sowings_and_never_by_the_one_that_is_watched(
    made_up: Path,
) -> None:
    first = asked("watch", *SHORT, "--on", "2010-09-20")
    assert all(each["sown_on"] < "2010-09-04" for each in first["own_sowings"])
    again = asked("watch", "--zone", "Main court", "--on", "2011-09-20")
    assert again["weighed_by_own_sowings"]
    assert {each["sown_on"][:4] for each in again["own_sowings"]} == {"2010", "2011"}
    assert all(each["sown_on"] < "2011-09-13" for each in again["own_sowings"])


def test_a_window_that_has_shut_does_not_move_with_later_weather(made_up: Path) -> None:
    one, two = (
        asked("watch", *SHORT, "--on", day)["windows"] for day in ("2010-11-01", "2011-10-01")
    )
    assert [each["shuts"] for each in one] == [each["shuts"] for each in two]


def test_bent_is_due_last_and_windows_lie_in_order(made_up: Path) -> None:
    windows = asked("watch", *SHORT, "--on", "2010-09-14")["windows"]
    latest = {each["species"]: each["shuts"] for each in windows}
    assert max(latest, key=lambda name: latest[name]) == "browntop bent"
    assert all(each["opens"] <= each["shuts"] for each in windows)


def test_whose_seedlings_are_told_as_a_range(made_up: Path) -> None:
    words = ("--sown", "168", "--weed", "41", "--cannot-tell", "31", "--leaves", "3")
    found = asked("watch", *SHORT, "--on", "2010-09-30", *words)["whose"]
    assert (found["weed_share_least"], found["weed_share_most"]) == pytest.approx(
        (0.171, 0.3), abs=0.001
    )
    few = sow("watch", *SHORT, "--on", "2010-09-30", *words[:-1], "2").output
    assert "cannot tell" in few


def test_losses_come_with_the_check_and_what_is_not_done(made_up: Path) -> None:
    found = asked("watch", *SHORT, "--on", "2010-09-20", "--seen", "slime")
    losses = {each["loss"]: each for each in found["losses"]}
    wanted = {"birds", "slugs", "frit fly", "worm casts", "leaf smother", "wash-off"}
    assert wanted <= set(losses)
    assert all(each["check"] and each["not_do"] for each in losses.values())
    assert "lugs" in found["likeliest"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("when",), "--zone"),
        (("when", *SHORT, "--from", "2011-08-01", *AUGUST), "a day after"),
        (("when", *SHORT, "--what", "Bobbim", *AUGUST), "Bobbin"),
        (("when", *SHORT, "--by", "2011-08-11", *AUGUST), "a day after the sowing"),
        (("when", *SHORT, "--slope", "steep", *AUGUST), "1:20"),
        (("watch", *SHORT, "--frames", "84,9o"), "whole numbers"),
        (("watch", *SHORT, "--weed", "3"), "together"),
        (("--rate", "30", "when", *SHORT), "Options go behind"),
    ],
)
def test_a_slip_is_answered_with_what_was_meant(
    made_up: Path, words: tuple[str, ...], says: str
) -> None:
    assert says in sow(*words, code=2).output


def test_too_little_is_an_answer(made_up: Path) -> None:
    words = ("watch", *SHORT, "--on", "2010-10-20")
    few = asked(*words, "--frames", "84,90", "--unsown", "1,2")
    assert few["verdict"] == "not enough data"
    assert (
        "too few for a verdict: seedlings a square metre needs 6 frames, counted 2"
        in few["because"]
    )
    assert few["seedlings"] is None
    assert few["windows"] == asked(*words)["windows"]
    early = sow("watch", *SHORT, "--on", "2010-09-14", "--frames", "84,90").output
    assert "first from" in early
    assert "nothing is called failed before; the frames are too few" in " ".join(early.split())
    assert "Not enough" in sow("watch", "--zone", "Surround").output


def test_an_answer_is_kept(made_up: Path) -> None:
    words = ("--on", "2010-09-30", "--frames", FRAMES, "--unsown", "11,9", "--keep")
    assert "kept_as" in asked("watch", *SHORT, *words)
    assert "kept_as" in asked("when", *SHORT, "--dates", "1", "--keep")
