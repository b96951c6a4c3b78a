"""Clumps, refills and cleaning down at the command line."""

import pytest

from tests.cli.conftest import Run

COURT = ("--zone", "main court")


def test_clumps_dug_and_looked_at_stand_in_a_register(ground: Run) -> None:
    told = ground("clumps", "dig", "--clumps", "40", "--margin", "100", "--place", "south end",
                  "--when", "14 August", *COURT).text  # fmt: skip
    assert "the site's own heap does not kill the seed" in told
    flush = ground("clumps", "dig", "--clumps", "18", "--margin", "0", "--to", "skip", "--when",
                   "16 August", *COURT).text  # fmt: skip
    assert "own heap" not in flush
    ground("clumps", "check", "--looked", "40", "2", "--place", "south end", *COURT)
    ground("clumps", "check", "--looked", "18", "7", "--margin", "0 mm", "--standing", "15", *COURT)
    text = " ".join(ground("clumps", "register").text.split())
    assert "15 standing by the count of Sat 8 October 2011" in text
    assert "with the full margin: 2 of 40 came back (1 to 17 %)" in text
    assert "34 points more than with the full margin (12 to 57)" in text
    assert "the cause is not shown" in text
    [found] = ground("clumps", "register", *COURT, "--json").json["registers"]
    assert found["by_margin"]["verdict"] == "clear"
    assert [each["went_to"] for each in found["dug"]] == [None, "skip"]


def test_few_clumps_are_not_compared(ground: Run) -> None:
    ground("clumps", "dig", "--clumps", "4", "--when", "14 August", *COURT)
    ground("clumps", "check", "--looked", "4", "1", "--margin", "100", *COURT)
    text = " ".join(ground("clumps", "register", *COURT).text.split())
    assert "not enough data; 10 looked at in each are wanted" in text
    assert "No clumps dug or counted yet" in ground("clumps", "register", "--on", "1 May 2011").text


def test_refills_still_record_and_have_a_register_by_season(ground: Run) -> None:
    ground(
        "refill", "--holes", "38", "--size", "55", "--place", "tags", "--when", "27 August", *COURT
    )
    ground("refill", "--check", "38", "30", "--place", "tags", *COURT)
    text = " ".join(ground("refill", "register", *COURT).text.split())
    assert "30 of 38" in text
    assert "in autumn: 30 of 38 took (64 to 89 %)" in text
    assert "refills of one season only were looked at" in text
    assert "up to 40 or 50 mm: " in text
    assert "treated seed wants gloves" in text


def test_clean_down_orders_zones_and_records(ground: Run) -> None:
    text = " ".join(ground("clean-down").text.split())
    assert "leave a clean zone before a weedy one" in text
    assert "Main court: not counted, so as if weedy" in text
    assert "Last wash: none noted" in text
    told = ground("clean-down", "--unit", "verticut unit", "--washed", "--box", "on site").text
    assert "clean-down: unit verticut unit, washed, box emptied on site" in told
    after = " ".join(ground("clean-down").text.split())
    assert "Last wash: Sat 8 October 2011" in after
    assert "Boxes emptied on the site: 1" in after
    assert "site's own heap does not kill the seed" in after


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["clumps", "check", *COURT], "--looked LOOKED REGROWN, or --standing"),
        (["clumps", "check", "--looked", "3", "4", *COURT], "looked at first"),
        (["clumps", "dig", "--margin", "wide", *COURT], "--margin"),
        (["clumps", "register", "--zone", "nowhere"], "No zone called 'nowhere'"),
        (["clean-down", "--box", "heap"], "'off site', 'on site'"),
    ],
)
def test_what_cannot_be_read_is_told_plainly(ground: Run, arguments: list[str], words: str) -> None:
    assert words in ground(*arguments, code=2).text
