"""What of the diary is learned from, and which weeds it names."""

from datetime import date

import pytest

from swardbook.book.zone_seen import seen_in, weeds_named
from swardbook.book.zone_story import story_of
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import (
    ClumpCheck,
    DigClumps,
    Happening,
    Heads,
    Pull,
    TuftCheck,
    WalkNoneFound,
)
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.model.seen import MEADOW_GRASS, Seen
from swardbook.model.state import USUAL_WEEDS
from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.occasions import Occasion
from tests.support.grounds import on

FOG = "yorkshire fog"


def read(*told: tuple[str, Happening]) -> list[Seen]:
    """Read some entries of the surround, without its counts."""
    ground = made_up_ground()
    entries = [on(date.fromisoformat(day), what) for day, what in told]
    found = seen_in(ground, ground.zone("Surround"), entries, TODAY, USUAL_WEEDS)
    return [each for each in found if not each.places]


def test_a_walk_that_found_none_is_read_for_the_weed_it_looked_for() -> None:
    poa, fog = read(
        ("2011-04-01", WalkNoneFound("Poa annua", 150.0)),
        ("2011-04-02", WalkNoneFound("velvet grass", 120.0)),
    )
    assert (poa.walked_m2, poa.species) == (150.0, MEADOW_GRASS)
    assert (fog.walked_m2, fog.species) == (120.0, FOG)
    assert read(("2011-04-01", WalkNoneFound("creeping bent", 150.0))) == []


def test_two_passes_are_read_and_a_second_that_tells_no_catch_is_not() -> None:
    good = read(("2011-03-19", Pull(plants=1484)), ("2011-03-26", Pull(plants=445)))
    assert [each.pulled for each in good] == [1484, 445]
    poor = read(("2011-03-19", Pull(plants=41)), ("2011-03-26", Pull(plants=35)))
    assert [each.pulled for each in poor] == [41]
    late = read(("2011-03-19", Pull(plants=41)), ("2011-04-26", Pull(plants=35)))
    assert [each.pulled for each in late] == [41, 35]


def test_days_of_one_round_of_digging_are_one_pass() -> None:
    (seen,) = read(
        ("2011-08-14", DigClumps(clumps=40)), ("2011-08-16", DigClumps(clumps=18)),
    )  # fmt: skip
    assert (seen.day, seen.dug, seen.species) == (date(2011, 8, 14), 58, FOG)


def test_tufts_and_notes_of_heads_are_looked_at_after_the_days_work() -> None:
    tufts, none, share, some = read(
        ("2011-05-28", TuftCheck(40, 9)),
        ("2011-05-29", Heads(seen=False)),
        ("2011-05-30", Heads(share_of_tufts=0.5)),
        ("2011-05-31", Heads()),
    )
    assert (tufts.tufts, none.tufts, share.tufts) == ((9, 40), (0, 10), (5, 10))
    assert list(some.tufts or ()) == [None, 10]
    assert all(each.is_after_work for each in (tufts, none, share, some))


def test_heads_without_anything_counted_are_not_learned_from() -> None:
    ground = made_up_ground()
    alone = [on(date(2011, 5, 29), Heads(seen=False))]
    nursery = ground.zone("Turf nursery")
    assert seen_in(ground, nursery, alone, TODAY, USUAL_WEEDS) == []
    walked = [*alone, on(date(2011, 5, 30), WalkNoneFound("poa annua", 35.0))]
    assert len(seen_in(ground, nursery, walked, TODAY, USUAL_WEEDS)) == 2


def test_only_clumps_dug_with_the_margin_tell_what_digging_kills() -> None:
    grown, standing = read(
        ("2011-10-06", ClumpCheck(looked=40, regrown=2, margin_mm=100)),
        ("2011-10-07", ClumpCheck(looked=18, regrown=7, margin_mm=0, standing=15)),
    )
    assert list(grown.regrown or ()) == [2, 40]
    assert standing.clumps == 15
    assert standing.regrown is None


@pytest.mark.parametrize("name", ["creeping bent", "Agrostis stolonifera"])
def test_a_weed_that_the_diary_names_runs_unless_it_was_sown(name: str) -> None:
    entries: list[DiaryEntry] = [on(date(2011, 5, 28), Pull(name, 3))]
    assert weeds_named(entries, [], ["browntop bent"]) == (*USUAL_WEEDS, "creeping_bent")
    assert weeds_named(entries, [], ["creeping bent"]) == USUAL_WEEDS


def test_a_weed_counted_runs_and_one_looked_for_in_vain_does_not() -> None:
    def counted(number: float) -> tuple[str, ...]:
        found = {"rough-stalked meadow-grass": number, MEADOW_GRASS: 2.0}
        place = PlaceCount("P", Method.POINTS, found, 25)
        return weeds_named([], [Occasion(date(2011, 5, 7), (place,))], [])

    assert counted(0.0) == USUAL_WEEDS
    assert counted(1.0) == (*USUAL_WEEDS, "rough_stalked_meadow_grass")


def test_the_made_up_main_court_is_read_in_full() -> None:
    seen = story_of(made_up_ground(), "Main court", made_up_weather(), TODAY).seen
    assert len([each for each in seen if each.places]) == 6
    assert any(each.dug == 58 for each in seen)
    assert any(each.tufts == (22, 40) for each in seen)
    assert any(each.clumps == 15 for each in seen)
    assert list(seen) == sorted(seen, key=lambda each: each.order)


def test_a_weed_grass_that_was_named_here_is_run_and_one_that_could_not_be_told_is_not() -> None:
    def kept(verdict: str, plant: str) -> DiaryEntry:
        what = WorkedOut("plant name", "", named={"verdict": verdict, "plant": plant})
        return on(date(2011, 6, 1), what)

    named = (*USUAL_WEEDS, "creeping_bent")
    assert weeds_named([kept("probably", "creeping bent")], [], []) == named
    assert weeds_named([kept("sure", "creeping bent")], [], ["creeping bent"]) == USUAL_WEEDS
    assert weeds_named([kept("cannot tell", "creeping bent")], [], []) == USUAL_WEEDS
    assert weeds_named([kept("sure", "field wood-rush")], [], []) == USUAL_WEEDS
