"""What would lose a seasoned practitioner in five minutes, looked for in every command at work."""

from __future__ import annotations

import re
import shlex
from datetime import date, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.cli.conftest import Run, fill, made_once

COURT = ("--zone", "Main court")
BOBBIN = ("--part", "chewings fescue=40", "--part", "slender creeping red fescue=40",
          "--part", "browntop bent=20")  # fmt: skip
POCKETWATCH = ("--part", "perennial ryegrass=90", "--part", "browntop bent=10")


def sky(run: Run, folder: Path, rain: float = 8.0, tmax: float = 16.0, tmin: float = 7.0) -> None:
    rows = ["date,tmin,tmax,rain"]
    for back in range(400, -1, -1):
        day = date(2011, 10, 8) - timedelta(days=back)
        rows.append(f"{day},{tmin},{tmax},{rain * (day.day % 4 == 1)}")
    (folder / "sky.csv").write_text("\n".join(rows), encoding="utf-8")
    run("weather", "import", str(folder / "sky.csv"))


@pytest.fixture
def sward(run: Run, book_home: Path) -> Run:
    """The main court as a grown sward of Bobbin that was cut five days ago, under a mild sky."""
    return made_once(run, book_home, "sward", grow)


def grow(ground: Run) -> None:
    fill(ground)
    ground("lot", "add", "--code", "BB-1", "--name", "Bobbin", "--weight", "40", *BOBBIN)
    ground("lot", "add", "--code", "PW-1", "--name", "Pocketwatch", "--weight", "4", *POCKETWATCH)
    ground("sow", "--lot", "BB-1", "--rate", "30", "--when", "4 September 2009", *COURT)
    for day in ("20 September", "27 September", "3 October"):
        ground("cut", "--height", "8", "--boxed", "--filled", "--when", day, *COURT)
    with TemporaryDirectory() as folder:
        sky(ground, Path(folder))


def words(run: Run, *arguments: str) -> str:
    return " ".join(run(*arguments).text.split())


STOPS = {
    "frost noted": ("frost", "--set", "state=frost"),
    "waterlogged noted": ("underfoot", "--set", "state=waterlogged"),
}


@pytest.mark.parametrize("stop", STOPS)
def test_no_plan_sends_a_machine_out_on_frost_or_sodden_ground(sward: Run, stop: str) -> None:
    sward("diary", "add", *STOPS[stop], *COURT)
    cut = words(sward, "cut", "plan", *COURT)
    assert "cut today" not in cut.partition(".")[0]
    assert "today is not fit" in cut
    assert stop in cut.partition("Growth")[0]
    assert "not fit today" in words(sward, "verticut", "plan", *COURT)
    back = words(sward, "catch-up", *COURT, "--since", "1 July", "--height", "60")
    assert "Mowing: not today (" in back
    assert stop in back
    for asked, job in ((("--tine", "13", "--spacing", "50"), "tine"), ((), "")):
        told = words(sward, "materials", "spoil", *asked, "--depth", "100", *COURT)
        assert not job or f"{job} today: not fit" in told


def test_no_plan_lowers_the_cut_feeds_or_verticuts_in_drought(sward: Run) -> None:
    sward("diary", "add", "drought sign", *COURT)
    cut = sward("cut", "plan", *COURT, "--grass", "40", "--to", "8", "--json").json
    assert "footprinting" in cut["lower_waits_for"]
    told = words(sward, "cut", "plan", *COURT, "--grass", "40", "--to", "8")
    assert "Not lower now (drought" in told
    assert not re.search(r"\d\. (Mon|Tue|Wed|Thu|Fri|Sat|Sun) ", told)
    back = words(sward, "catch-up", *COURT, "--since", "1 July", "--height", "60")
    assert "not lower yet (drought" in back
    assert "Hold off today: drought" in words(sward, "feed", "plan", *COURT, "--nitrogen", "12")
    assert "✗ drought" in words(sward, "verticut", "plan", *COURT)
    order = ("materials", "feed", "--npk", "12-0-9", "--nitrogen", "1", *COURT)
    assert "feed today: not fit" in words(sward, *order)


def test_heads_without_a_box_are_never_verticut_or_cut_without_a_warning(sward: Run) -> None:
    sward("zone", "set", "Main court", "--box", "no")
    sward("diary", "add", "heads", "--when", "yesterday", *COURT)
    assert "would spread seed" in words(sward, "verticut", "plan", *COURT)
    assert "heads standing, no box" in words(sward, "cut", "plan", *COURT)


def test_a_height_below_what_was_sown_lives_with_names_the_component(sward: Run) -> None:
    for asked in (
        ("cut", "plan", *COURT, "--to", "4"),
        ("zone", "set", "Main court", "--height-of-cut", "4"),
    ):
        told = words(sward, *asked)
        assert "Chewings fescue (Bobbin) lives with 6 to" in told
        assert "thins out" in told
    assert "lives with" not in words(sward, "zone", "set", "Main court", "--height-of-cut", "12")


@pytest.mark.parametrize(
    "remedy",
    ["salt", "vinegar", "bleach", "diesel", "washing-up liquid", "washing up liquid",
     "boiling brine"],
)  # fmt: skip
@pytest.mark.parametrize(
    "verb",
    ["cut --note '{}'", "pull --plants 5 --note '{}'", "refill --holes 3 --note '{}'",
     "clean-down --unit mower --note '{}'", "diary add note --set 'text={} on the moss'",
     "diary add treatment --set 'product_name={}'", "clumps dig --clumps 2 --note '{}'"],
)  # fmt: skip
def test_a_household_remedy_is_kept_with_the_caution_and_gets_no_rate(
    ground: Run, remedy: str, verb: str
) -> None:
    told = words(ground, *shlex.split(verb.format(f"{remedy} on the weeds")), *COURT)
    assert f"{remedy.capitalize()} is not a plant-protection use" in told
    assert "may be unlawful" in told
    assert not re.search(r"\b(safe|works|per litre|ml|g/m²)\b", told)
    assert remedy in ground("diary", "show", "--all", "--needs-a-look").text


def test_a_withdrawn_or_unnumbered_product_is_history_and_nothing_repeats_it(sward: Run) -> None:
    made_up = ("--set", "product_name=Zorbax Made Up", "--when", "yesterday")
    told = words(sward, "diary", "add", "treatment", *made_up, *COURT)
    assert "never copied forward" in told
    for asked in (("week", "--no-worth"), ("morning",), ("feed", "plan", *COURT),
                  ("catch-up",), ("route", "compare", *COURT)):  # fmt: skip
        assert "zorbax" not in words(sward, *asked).casefold()


@pytest.mark.parametrize("ph", ["4.5", "5.4", "7.2", "8.1"])
def test_no_ph_brings_lime(sward: Run, ph: str) -> None:
    told = words(sward, "survey", "ph", ph, "--keep", *COURT).casefold()
    told += words(sward, "feed", "plan", *COURT).casefold()
    assert not re.search(r"\b(add|give|spread|apply|use|needs?) (some )?lime\b|liming", told)


def test_a_moist_grown_sward_is_never_sprinkled_and_a_restriction_leaves_the_hose_off(
    sward: Run, tmp_path: Path
) -> None:
    sky(sward, tmp_path, rain=20)
    wet = sward("water", "plan", *COURT, "--days", "7", "--json").json["days"]
    waterings = [each for each in wet if each["mm"]]
    assert "2011-10-08" not in {each["day"] for each in waterings}
    assert len(waterings) <= 3
    assert min(each["mm"] for each in waterings) > 3
    sky(sward, tmp_path, rain=0, tmax=24)
    closed = ("--set", "what=hose", "--set", "until=20 October 2011", "--when", "7 October")
    sward("diary", "add", "closure", *closed, code=None)
    told = words(sward, "water", "plan", *COURT)
    assert re.search(r"cans|stored rain", told)
    assert "supplier" in told


def test_weed_grass_on_the_sites_own_heap_is_asked_about(ground: Run) -> None:
    for asked in (
        ("clumps", "dig", "--clumps", "3", "--to", "the compost heap"),
        ("clean-down", "--heads-to", "compost"),
    ):
        assert "own heap kills neither the seed" in words(ground, *asked)
    assert "own heap kills" not in words(ground, "clean-down", "--heads-to", "skip")


def test_a_hole_gets_the_mixture_that_stands_around_it(sward: Run) -> None:
    told = words(sward, "refill", "--holes", "5", "--lot", "PW-1", *COURT)
    assert "Pocketwatch (PW-1) was not sown here, but Bobbin BB-1" in told
    assert "--set lot=BB-1" in told
    order = ("materials", "refill", "--holes", "5", "--size", "100", *COURT)
    assert "another mixture shows for years" in words(sward, *order, "--lot", "PW-1")
    assert "was not sown here" not in words(sward, *order, "--lot", "BB-1")
    assert "Needs a look" not in words(sward, "refill", "--holes", "5", "--lot", "BB-1", *COURT)


def test_sowing_thicker_to_be_safe_is_asked_about(sward: Run) -> None:
    told = words(sward, "sow", "--lot", "BB-1", "--rate", "60", "--zone", "Short court")
    assert "60 g/m² of Bobbin, which takes 25 to 30: crowded seedlings" in told


def test_the_south_sows_by_its_own_season(run: Run, tmp_path: Path) -> None:
    run("begin", "--name", "South", "--latitude", "43 S", "--elevation", "20", "--hose", "14")
    run("zone", "add", "Lawn", "--area", "100", "--use", "family lawn", "--height-of-cut", "25")
    run("lot", "add", "--code", "BB-1", "--name", "Bobbin", "--weight", "4", *BOBBIN)
    sky(run, tmp_path, tmax=18, tmin=9)
    told = words(run, "sow", "when", "--zone", "Lawn", "--what", "BB-1", "--on", "12 March 2011",
                 "--water", "--here", "--dates", "1")  # fmt: skip
    assert "too early" not in told.casefold()
    assert "wait until autumn" not in told.casefold()
    assert "too late" not in told.partition("frost")[0]


WHERE_A_DAY_GOES = [
    "cut --when '{}'", "cut plan --on '{}'", "sow --rate 30 --when '{}'", "sow when --from '{}'",
    "sow when --by '{}'", "mixture choose --sow-on '{}'", "square-up --sown '{}'",
    "catch-up --since '{}'", "refill --check 4 3 --sown-on '{}'", "weather show --from '{}'",
    "feed --rate 20 --when '{}'", "water --mm 3 --when '{}'", "verticut --when '{}'",
    "clumps dig --clumps 3 --when '{}'", "clean-down --unit mower --when '{}'",
    "hold-off verticut --reason dry --when '{}'", "survey ph 6 --keep --when '{}'",
    "diary add closure --set what=hose --set 'until={}'", "look-over --on '{}'", "fit --on '{}'",
    "name-plant --seen tip=boat --keep --when '{}'",
    "what-is-wrong --seen casts --keep --when '{}'",
    "pull --plants 4 --when '{}'", "compare --from '{}' --to today",
]  # fmt: skip


@pytest.mark.parametrize("command", WHERE_A_DAY_GOES)
def test_a_day_that_is_in_no_calendar_is_refused_and_nothing_is_kept(
    sward: Run, command: str
) -> None:
    before = sward("diary", "show", "--all", "--json").json["entries"]
    zone: tuple[str, ...] = () if command.startswith("weather") else COURT
    if command.startswith("square-up"):
        zone = (*COURT, "--used", "Main court=24 kg")
    for day in ("31 September", "30 February 2011", "32/1/2011", "2011-13-01", "someday"):
        told = words_of_a_refusal(sward, *shlex.split(command.format(day)), *zone)
        assert day.split()[0] in told
    assert sward("diary", "show", "--all", "--json").json["entries"] == before


def words_of_a_refusal(run: Run, *arguments: str) -> str:
    told = run(*arguments, code=2)
    assert "Traceback" not in told.text
    return " ".join(told.text.split())
