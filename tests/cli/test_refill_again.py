"""`materials refill` reckons with what took here before, by the user's own looks."""

import pytest

from tests.cli.conftest import Run

SHORT = ("--zone", "short court")
ASKED = ("materials", "refill", "--holes", "40", "--size", "80", *SHORT)


def test_holes_to_fill_again_go_by_what_took_in_this_season(ground: Run) -> None:
    told = ground(*ASKED, "--json").json
    assert told["took_here"] is None
    assert told["again_holes"] is None
    for day, then, taken in (("20 September 2010", "1 November 2010", "15"),
                             ("5 April 2011", "20 May 2011", "4")):  # fmt: skip
        ground("refill", *SHORT, "--holes", "20", "--size", "90", "--when", day)
        ground("refill", *SHORT, "--check", "20", taken, "--when", then)
    registers = ground("refill", "register", *SHORT, "--json").json["registers"]
    assert registers[0]["zone"] == "Short court"
    told = ground(*ASKED, "--json").json
    assert told["took_here"] == {"season": "autumn", "taken": 15, "looked": 20,
                                 "low_share": 0.5313, "high_share": 0.8881}  # fmt: skip
    assert told["again_holes"] == 10
    assert told["again_holes_low"] == pytest.approx(40 * (1 - 0.8881), abs=0.1)
    assert told["again_holes_high"] == pytest.approx(40 * (1 - 0.5313), abs=0.1)
    assert told["again_seed_g"] == pytest.approx(told["seed_g"] * (1 - 0.5313), abs=0.1)
    text = " ".join(ground(*ASKED).text.split())
    assert "15 of 20 filled in autumn took here (53 to 89 %): of these 40 look for 4 to 19" in text
