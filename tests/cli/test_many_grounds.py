"""Several grounds in one book, on the command line."""

from pathlib import Path

import pytest

from tests.cli.conftest import Run

ALMSHOUSE = ("begin", "--name", "Almshouse Green", "--latitude", "51", "--elevation", "20")
IN_IT = ("--ground", "almshouse-green")


@pytest.fixture
def two(ground: Run) -> Run:
    """The small ground, and another beside it in the same book."""
    ground(*ALMSHOUSE)
    ground("zone", "add", "Green", "--sides", "12x9", "--use", "court", "--height-of-cut", "8",
           *IN_IT)  # fmt: skip
    return ground


def test_begin_with_another_name_says_clearly_that_it_is_a_further_ground(ground: Run) -> None:
    told = ground(*ALMSHOUSE).text
    assert "further ground" in told
    assert "holds 2 now" in " ".join(told.split())
    assert "--ground almshouse-green" in told


def test_without_a_name_a_command_names_the_grounds_and_writes_nothing(two: Run) -> None:
    told = two("cut", "-z", "Green", code=2).text
    assert "almshouse-green" in told
    assert "fennowick-croquet-club" in told
    assert "--ground" in told
    assert two("diary", "show", *IN_IT, "--json").json["entries"] == []


def test_what_is_recorded_on_one_ground_is_on_that_one(
    two: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    two("cut", "-z", "Green", *IN_IT)
    assert len(two("diary", "show", "--ground", "Almshouse Green", "--json").json["entries"]) == 1
    monkeypatch.setenv("SWARDBOOK_GROUND", "fennowick-croquet-club")
    assert two("diary", "show", "--json").json["entries"] == []
    assert len(two("zone", "show", "--json").json["zones"]) == 2
    assert len(two("zone", "show", *IN_IT, "--json").json["zones"]) == 1


def test_an_unknown_ground_is_refused_with_the_nearest(two: Run) -> None:
    assert "almshouse-green" in two("week", "--ground", "almshouse-gren", code=2).text


def test_all_lawns_is_kept_up_by_each_command_that_writes(two: Run) -> None:
    def listed() -> dict[str, dict[str, object]]:
        lawns = two("all-lawns", "--json").json["lawns"]
        return {each["ground"]: each for each in lawns}

    before = listed()["almshouse-green"]
    assert (before["entries"], before["last_entry"]) == (0, None)
    two("cut", "-z", "Green", "--height", "8", *IN_IT)
    after = listed()["almshouse-green"]
    assert (after["entries"], after["silent_days"], after["not_of_now"]) == (1, 0, None)
    assert listed()["fennowick-croquet-club"]["not_of_now"] == "not looked at yet"
    told = two("all-lawns", "--look", "--json").json
    assert told["not_of_now"] == 0
    assert two("all-lawns", "--json").json == told


def test_all_lawns_in_words_says_what_may_have_changed(two: Run) -> None:
    told = " ".join(two("all-lawns").text.split())
    assert "fennowick-croquet-club ~" in told
    assert "--look looks them over" in told
    assert "~" not in two("all-lawns", "--look").text
    assert "1 more" in two("all-lawns", "--most", "1").text


def test_all_lawns_of_a_book_of_one_ground_lists_that_one(ground: Run) -> None:
    assert len(ground("all-lawns", "--json").json["lawns"]) == 1


def test_a_ground_goes_out_and_comes_in_beside_others(
    two: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    archive = str(tmp_path / "one.zip")
    two("export", archive, *IN_IT)
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "elsewhere"))
    two("begin", "--name", "Home", "--latitude", "52", "--elevation", "20")
    two("import", archive, code=2)
    assert "Almshouse Green is in" in two("import", archive, "--beside").text
    assert len(two("all-lawns", "--json").json["lawns"]) == 2
