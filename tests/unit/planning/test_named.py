"""Plants named in a zone, and what the plan makes of them."""

from datetime import date, timedelta

from swardbook.husbandry.happenings import Sow
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.planning.named import (
    ABOUT,
    name_again,
    names_kept,
    plants_named,
    sown_here,
    weeds_named,
)
from swardbook.planning.situation import Situation, situation
from tests.support.grounds import MAY, ZONE, ground, on, weather


def named(plant: str, verdict: str = "sure", age: str = "plant") -> WorkedOut:
    given = {"verdict": verdict, "age": age} | ({"plant": plant} if plant else {})
    return WorkedOut(ABOUT, f"{plant}, {verdict}", named=given)


def look(*days_and_names: tuple[int, WorkedOut], warm: float = 18.0) -> Situation:
    entries = [on(MAY - timedelta(days=400), Sow("BB-0417", 30.0))]
    entries += [on(MAY - timedelta(days=back), what) for back, what in days_and_names]
    sky = weather(date(2011, 1, 1), MAY, tmin=warm - 10, tmax=warm)
    return situation(ground(*entries), ZONE, sky, MAY)


def test_a_weed_named_here_is_a_weed_the_zone_has() -> None:
    sit = look((30, named("creeping bent", "probably")), (9, named("couch")))
    assert weeds_named(sit) == ("creeping bent", "couch")
    assert [each.verdict for each in plants_named(sit)] == ["probably", "sure"]
    assert names_kept(sit.ground.diary) == {"creeping bent", "couch"}


def test_what_was_sown_here_is_no_weed_and_neither_is_what_is_no_grass() -> None:
    sit = look((30, named("browntop bent")), (9, named("field wood-rush")))
    assert sown_here(sit.ground, ZONE) == {
        "chewings fescue", "slender creeping red fescue", "browntop bent"
    }  # fmt: skip
    assert weeds_named(sit) == ()
    assert [each.is_sown for each in plants_named(sit)] == [True, False]


def test_the_last_naming_counts_and_what_cannot_be_told_names_nothing() -> None:
    sit = look((30, named("couch", "probably")), (9, named("couch")), (3, named("", "cannot tell")))
    (only,) = plants_named(sit)
    assert (only.verdict, only.day) == ("sure", MAY - timedelta(days=9))
    assert names_kept(sit.ground.diary) == {"couch"}


def test_an_old_name_is_forgotten() -> None:
    assert weeds_named(look((800, named("couch")))) == ()


def test_a_seedling_without_a_name_is_looked_at_again_after_three_growing_weeks() -> None:
    seedling = named("", "cannot tell", "seedling")
    (task,) = name_again(look((22, seedling)))
    assert task.name.startswith("Look again at the seedlings")
    assert "3 growing weeks" in task.why
    assert "taste nothing" in task.caution
    assert name_again(look((15, seedling))) == []
    assert name_again(look((40, seedling), warm=10.0)) == []
    assert name_again(look((22, seedling), (2, named("annual meadow-grass")))) == []
