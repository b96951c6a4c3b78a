"""Catching up at the command line."""

from tests.cli.conftest import Run

COURT = ("--zone", "main court")


def test_one_zone_or_the_site_is_told_in_five_lines(ground: Run) -> None:
    """E31."""
    ground("cut", "--height", "8", "--when", "8 July", *COURT)
    ground("cut", "--height", "8", "--when", "8 July", "--zone", "short court")
    one = ground("catch-up", *COURT, "--height", "60", "--json").json
    assert len(one["lines"]) == 5
    assert one["zones"][0]["since"] == "2011-07-08"
    assert one["zones"][0]["cuts"][0]["cut_mm"] == 40
    assert "Walk the lawn first" in ground("catch-up", *COURT, "--height", "60").text
    site = ground("catch-up", "--json").json
    assert len(site["lines"]) == 5
    assert "92 days since Fri 8 July 2011" in site["lines"][0]
    assert [each["zone"] for each in site["zones"]] == ["Main court", "Short court"]
    text = ground("catch-up").text
    assert len(text.splitlines()) <= 10
    assert "height not known in Main court, Short court" in " ".join(text.split())


def test_records_that_end_on_other_days_are_told_by_the_longest_absence(ground: Run) -> None:
    """E31."""
    ground("cut", "--height", "8", "--when", "8 July", *COURT)
    ground("cut", "--height", "8", "--when", "1 October", "--zone", "short court")
    told = ground("catch-up", "--json").json["lines"]
    assert len(told) == 5
    assert told[0].startswith("Changed: longest in Main court, 92 days since Fri 8 July 2011")
    scolding = ("should", "forgot", "neglect", "failed", "too long", "overdue")
    assert not any(word in " ".join(told).casefold() for word in scolding)


def test_a_day_that_is_not_before_today_is_refused(ground: Run) -> None:
    assert "the last day there" in ground("catch-up", "--since", "today", *COURT, code=2).text
    assert "an entry from before today" in ground("catch-up", *COURT).text


def test_kept_answers_that_have_aged_are_among_what_lapsed(ground: Run) -> None:
    ground("cut", "--height", "8", "--when", "8 July", *COURT)
    ground("materials", "dressing", *COURT, "--depth", "3", "--keep", "--when", "8 July")
    fresh = ground("catch-up", *COURT, "--json").json
    assert fresh["aged"] == []
    ground("zone", "set", "Main court", "--area", "700")
    for words in (COURT, ()):
        told = ground("catch-up", *words, "--since", "8 July", "--json").json
        assert len(told["lines"]) == 5
        assert "kept answers that have aged: dressing (swardbook look-over)" in told["lines"][1]
        [aged] = told["aged"]
        assert (aged["zone"], aged["about"]) == ("Main court", "dressing")
        assert aged["again"].startswith("swardbook materials dressing")
