"""The made-up ground holds together: days, weather, order of work, money, hours."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise

import pytest

from swardbook.demo.names import APRON, LIME_WALK, MAIN, NURSERY, SHORT, SURROUND, TODAY, TRIAL
from swardbook.demo.scenario import made_up_entries, made_up_ground, made_up_weather
from swardbook.handbook.soils import soil
from swardbook.handbook.species import find_species
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import (
    Count,
    Cut,
    DigClumps,
    Dress,
    Feed,
    Happening,
    HoldOff,
    Refill,
    Scarify,
    Sow,
    Strip,
    Tine,
    TugTest,
    Verticut,
    Water,
)
from swardbook.husbandry.looks import odd
from swardbook.planning.fit import JOBS
from swardbook.planning.situation import situation
from swardbook.planning.states import Overall, add_up, deciding

GROUND = made_up_ground()
WEATHER = made_up_weather()
MACHINES = (Cut, Verticut, Scarify, Tine, Strip, Dress)
FEET_AND_MACHINES = (*MACHINES, Feed, Sow)


def of(*kinds: type[Happening]) -> list[DiaryEntry]:
    return [entry for entry in GROUND.diary if isinstance(entry.what, kinds)]


def days_of(zone: str, kind: type[Happening]) -> list[date]:
    return [entry.day for entry in of(kind) if entry.zone == zone]


def minimum(day: date) -> float:
    return float(WEATHER.tmin[WEATHER.index(day)])


def rain(first: date, last: date) -> float:
    return float(WEATHER.between(first, last).rain.sum())


def test_the_zones_add_up_to_the_club() -> None:
    assert sum(zone.area_m2 for zone in GROUND.zones) == pytest.approx(2145.0)
    assert {zone.name for zone in GROUND.zones} == {
        MAIN, SHORT, SURROUND, APRON, LIME_WALK, TRIAL, NURSERY
    }  # fmt: skip


def test_soils_and_species_are_those_of_the_handbook() -> None:
    for zone in GROUND.zones:
        assert soil(zone.soil).name == zone.soil
    for lot in GROUND.lots:
        assert sum(part.share_by_weight for part in lot.parts) == pytest.approx(1.0)
        for part in lot.parts:
            assert find_species(part.species).key == part.species


def test_pegs_and_squares_lie_in_zones_that_exist() -> None:
    per_zone = {zone.name: 0 for zone in GROUND.zones}
    for peg in GROUND.pegs:
        per_zone[peg.zone] += 1
    assert per_zone == {MAIN: 24, SHORT: 24, SURROUND: 12, APRON: 6, LIME_WALK: 12,
                        TRIAL: 0, NURSERY: 0}  # fmt: skip
    assert len(GROUND.squares) == 8
    assert {square.zone for square in GROUND.squares} == {SHORT}


def test_every_entry_has_an_identity_of_its_own_and_lies_before_today() -> None:
    entries = made_up_entries()
    assert len({entry.id for entry in entries}) == len(entries)
    assert all(entry.when.last <= TODAY for entry in entries)
    assert all(entry.written_on is not None and entry.when.first <= entry.written_on <= TODAY
               for entry in entries)  # fmt: skip


@pytest.mark.parametrize(
    ("day", "weekday"),
    [
        (date(2010, 8, 7), "Saturday"), (date(2010, 9, 28), "Tuesday"),
        (date(2011, 3, 12), "Saturday"), (date(2011, 4, 17), "Sunday"),
        (date(2011, 5, 14), "Saturday"), (TODAY, "Saturday"),
    ],
)  # fmt: skip
def test_the_calendar_is_the_real_one(day: date, weekday: str) -> None:
    assert f"{day:%A}" == weekday


def test_no_machine_goes_out_on_a_sunday() -> None:
    assert [entry for entry in of(*MACHINES) if entry.when.is_dated and entry.day.weekday() == 6
            ] == []  # fmt: skip


def test_no_machine_goes_out_in_frost_that_was_not_noted_as_thawed() -> None:
    thawed = {
        entry.day
        for entry in GROUND.diary
        if entry.what.kind == "frost" and getattr(entry.what, "state", "") == "thawed"
    }
    frosty = [
        entry for entry in of(*FEET_AND_MACHINES) if entry.when.is_dated and minimum(entry.day) < 0
    ]
    assert {entry.day for entry in frosty} <= thawed
    assert frosty, "one frosty morning with a thaw is part of the story"


def test_frost_is_noted_only_when_it_froze() -> None:
    for entry in GROUND.diary:
        if entry.what.kind == "frost" and getattr(entry.what, "state", "") != "thawed":
            assert minimum(entry.day) < 1.0, entry.day


def test_nothing_is_cut_while_it_rains_hard() -> None:
    for entry in of(Cut, Tine, Verticut, Scarify):
        if entry.when.is_dated:
            assert rain(entry.day, entry.day) < 10, (entry.zone, entry.day)


def test_tining_waits_for_dry_ground() -> None:
    for entry in of(Tine):
        assert rain(entry.day - timedelta(days=2), entry.day) < 5


def test_the_main_court_is_mended_in_order() -> None:
    order = (DigClumps, Scarify, Tine, Dress, Sow)
    for one, then in pairwise(order):
        before = [day for day in days_of(MAIN, one) if day.year == 2010]
        after = [day for day in days_of(MAIN, then) if day.year == 2010]
        assert max(before) < min(after)
    assert days_of(MAIN, Tine)[-1] < days_of(MAIN, Sow)[-1], "tined before the second sowing too"


def test_a_seedbed_is_not_cut_before_its_tug_test() -> None:
    for entry in of(Sow):
        if not isinstance(entry.what, Sow) or "sward" in entry.what.method:
            continue
        cuts = [day for day in days_of(entry.zone, Cut) if day > entry.day]
        tugs = [day for day in days_of(entry.zone, TugTest) if day > entry.day]
        assert min(tugs) < min(cuts), entry.zone
    assert min(days_of(SHORT, Cut)) == date(2010, 9, 28)
    assert min(day for day in days_of(MAIN, Cut) if day.year == 2011) == date(2011, 3, 12)


def test_no_feed_carries_iron_while_seedlings_are_young() -> None:
    assert all(entry.what.iron_percent == 0 for entry in of(Feed) if isinstance(entry.what, Feed))


def test_the_hose_rests_during_the_restriction() -> None:
    first, last = date(2011, 6, 6), date(2011, 7, 11)
    for entry in of(Water):
        if isinstance(entry.what, Water) and first <= entry.day <= last:
            assert entry.what.by in {"can", "tank"}


def test_the_untouched_squares_are_never_named_in_a_pull_area() -> None:
    pulled = {
        getattr(entry.what, "area_m2", None) for entry in GROUND.diary if entry.what.kind == "pull"
    }
    assert pulled == {GROUND.zone(SHORT).area_m2 - 8}


def test_each_lot_gives_out_no_more_than_was_bought() -> None:
    for lot in GROUND.lots:
        used = sum(
            entry.what.used_g or 0
            for entry in GROUND.diary
            if isinstance(entry.what, Sow | Refill) and entry.what.lot == lot.code
        )
        assert lot.bought_g is not None
        assert used <= lot.bought_g


def test_rates_areas_and_weights_of_sowings_agree() -> None:
    for entry in of(Sow):
        what = entry.what
        assert isinstance(what, Sow)
        assert what.rate_g_m2 is not None
        assert what.area_m2 is not None
        assert what.used_g == pytest.approx(what.rate_g_m2 * what.area_m2, rel=0.001)


def test_the_money_is_what_the_treasurer_has() -> None:
    assert sum((entry.money or Decimal(0) for entry in GROUND.diary), Decimal(0)) == Decimal(
        "5601.50"
    )


def test_the_volunteers_gave_347_hours() -> None:
    given = sum(entry.hours or 0 for entry in GROUND.diary if entry.who != "the crew")
    assert given == pytest.approx(347.0, abs=0.05)


def test_a_year_of_nitrogen_on_the_main_court_is_9_4_g() -> None:
    given = [
        entry.what.nitrogen_g_m2 or 0
        for entry in of(Feed)
        if isinstance(entry.what, Feed) and entry.zone == MAIN and entry.day.year == 2011
    ]
    assert sum(given) == pytest.approx(9.4)


def test_only_people_of_the_club_appear() -> None:
    people = {entry.who for entry in made_up_entries()}
    assert people <= {"Ines", "Bram", "Odalys", "Tobiah", "Maren", "the crew", "the rota"}


def test_counts_name_places_that_exist() -> None:
    places = {peg.name for peg in GROUND.pegs} | {each.name for each in GROUND.squares}
    places |= {plot.name for plot in GROUND.plots}
    counted = {
        place.place
        for entry in of(Count)
        if isinstance(entry.what, Count)
        for place in entry.what.places
    }
    assert counted <= places


def test_the_look_over_finds_only_what_was_meant() -> None:
    """Nine lots went in on one day by one hand."""
    found = {
        (entry.zone, entry.what.kind, entry.day) for entry in GROUND.diary if odd(entry, GROUND)
    }
    assert found <= {
        (TRIAL, "sow", date(2010, 9, 1)),
    }


def job_of(entry: DiaryEntry) -> str:
    if isinstance(entry.what, Sow):
        return "oversow" if "sward" in entry.what.method else "sow"
    return entry.what.kind


def not_fit(entry: DiaryEntry) -> str:
    """Why the job of an entry was not fit, by what the book held before it; empty if it was."""
    noted_first = {"frost", "underfoot", "drought sign", "tug test", "reading", "heads", "strip"}
    before = tuple(
        other for other in GROUND.diary
        if other.when.last < entry.day
        or (other.day == entry.day and other.what.kind in noted_first)
    )  # fmt: skip
    sit = situation(replace(GROUND, diary=before), entry.zone, WEATHER, entry.day)
    conditions = tuple(check(sit) for check in JOBS[job_of(entry)])
    if add_up(conditions) is not Overall.NOT_FIT:
        return ""
    return "; ".join(f"{each.name}: {each.because}" for each in deciding(conditions))


def test_what_was_done_was_fit_to_be_done_that_day() -> None:
    """A starter feed goes on the bare seedbed; everything else passes the check of its day."""
    refused = {}
    for entry in GROUND.diary:
        starter = isinstance(entry.what, Feed) and "starter" in entry.what.product
        if entry.zone and entry.when.is_dated and job_of(entry) in JOBS and not starter:
            why = "" if isinstance(entry.what, Water) else not_fit(entry)
            if why:
                refused[entry.day, entry.zone, entry.what.kind] = why
    assert refused == {}


def test_a_verticut_held_off_was_not_fit_that_day() -> None:
    for entry in of(HoldOff):
        if isinstance(entry.what, HoldOff) and entry.what.job == "verticut":
            stood_in = replace(entry, what=Verticut())
            assert not_fit(stood_in), entry.day
