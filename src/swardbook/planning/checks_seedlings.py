"""Conditions that living seedlings set: age, cuts and the tug test, in three tiers."""

from __future__ import annotations

from swardbook.foundation.dates import say
from swardbook.handbook.parameters import parameter, value
from swardbook.planning.checks_weather import diary
from swardbook.planning.situation import Situation, months_before
from swardbook.planning.sowings import (
    Sowing,
    cuts_since,
    is_bare,
    is_next_season,
    setting_age,
    small_and_young,
    tug_of,
    weeks_grown,
    weeks_needed,
)
from swardbook.planning.states import Condition, Rank, State

AGE, CUTS, TUG = "seedling age", "cuts since sowing", "tug test"


def grass_there(sit: Situation) -> Condition:
    """Tell whether there is any grass to work on."""
    if is_bare(sit):
        return _seedlings("grass", State.NOT_MET, "stripped and not sown since", "diary")
    return _seedlings("grass", State.MET, "a sward", "diary")


def age_for_verticut(sit: Situation) -> Condition:
    """Tell whether the youngest sowing is old enough for a light verticut."""
    sowing = setting_age(sit)
    if sowing is None or _is_grown(sit, sowing):
        return _no_seedlings(sit, AGE, sowing)
    weeks, needed = weeks_grown(sit, sowing), weeks_needed(sowing)
    source = f"diary, sown {say(sowing.day)}"
    told = f"{_weeks(weeks.grown)}, {needed:.0f} wanted"
    key = "verticut_growing_weeks"
    if weeks.at_most < needed:
        return _seedlings(AGE, State.NOT_MET, told, source, key, f"{needed:.0f} growing weeks")
    if weeks.grown < needed:
        told += f", {weeks.unknown} more with weather missing"
        return _seedlings(AGE, State.UNKNOWN, told, source, key)
    return _seedlings(AGE, State.MET, told + _miss(sit), source, key)


def cuts_for_verticut(sit: Situation) -> Condition:
    """Tell whether the youngest sowing had enough cuts for a light verticut."""
    return _cuts(sit, value("verticut_cuts"), "verticut_cuts")


def cuts_for_brush(sit: Situation) -> Condition:
    """Tell whether the first cuts are done, so that brushing pulls nothing out."""
    return _cuts(sit, value("brush_cuts"), "brush_cuts")


def cuts_for_feed(sit: Situation) -> Condition:
    """Tell whether seedlings are ready for a follow-up feed."""
    return _cuts(sit, value("seedling_feed_cuts"), "seedling_feed_cuts")


def tug_test(sit: Situation) -> Condition:
    """Tell whether seedlings of the slowest component hold when tugged."""
    sowing = setting_age(sit)
    if sowing is None or _is_grown(sit, sowing):
        return _no_seedlings(sit, TUG, sowing)
    test, not_tugged = tug_of(sit, sowing)
    if test is None:
        told = f"not done since sowing on {say(sowing.day)}"
        return _seedlings(TUG, State.UNKNOWN, told, "", until="a tug test")
    if not test.what.passed:
        told = "roots gave before the leaf tore"
        return _seedlings(TUG, State.NOT_MET, told, diary(test), until="a tug test that passes")
    if not_tugged:
        told = f"passed, but {not_tugged} is the slowest; tug that"
        return _seedlings(TUG, State.UNKNOWN, told, diary(test), until="a tug test of it")
    return _seedlings(TUG, State.MET, "passed", diary(test))


def first_cut(sit: Situation) -> Condition:
    """Tell whether a cut is a seedling's first, which wants a tug test and a dry leaf."""
    sowing = setting_age(sit)
    if sowing is None or _is_grown(sit, sowing):
        return _no_seedlings(sit, "first cuts", sowing)
    done = cuts_since(sit, sowing.day)
    if done >= value("verticut_cuts"):
        told = f"{done} cuts since sowing{_miss(sit)}"
        return _seedlings("first cuts", State.MET, told, f"diary, sown {say(sowing.day)}")
    if sowing.is_oversowing:
        return _cut_in_oversown(sit, sowing, done)
    tug = tug_test(sit)
    if done >= 1 and tug.state is State.UNKNOWN:
        told = f"{done} cut{'s' if done > 1 else ''} since sowing"
        return _seedlings("first cuts", State.MET, told, f"diary, sown {say(sowing.day)}")
    weeks = weeks_grown(sit, sowing)
    until = f"a tug test, a dry leaf, and {first_cut_heights(sit, sowing)}"
    young = weeks.at_most < value("first_cut_weeks")
    if done == 0 and young and tug.state is not State.MET:
        told = f"sown {say(sowing.day)}, {_weeks(weeks.grown)}: too young to cut"
        source = f"diary, sown {say(sowing.day)}"
        return _seedlings("first cuts", State.NOT_MET, told, source, "first_cut_weeks", until)
    told = f"tug test {tug.because}"
    return _seedlings("first cuts", tug.state, told, tug.source, until=until)


def awaits_first_cut(sit: Situation) -> Sowing | None:
    """Give the seedbed that has not been cut yet, if the zone is one."""
    sowing = setting_age(sit)
    if sowing is None or sowing.is_oversowing or _is_grown(sit, sowing):
        return None
    return None if cuts_since(sit, sowing.day) else sowing


def raised_height(sit: Situation) -> float:
    """Height of cut of a sward that was oversown and whose seedlings are young [mm]."""
    return value("oversow_height_raise") * sit.zone.height_of_cut_mm


def first_cut_heights(sit: Situation, sowing: Sowing) -> str:
    """Say at what height a first cut is made and to what."""
    if sowing.is_oversowing:
        return f"raised to {raised_height(sit):.0f} mm, sharp blade, dry leaf"
    at, to = first_cut_mm(sowing)
    return f"{at:.0f} mm of grass, cut to {to:.0f} mm"


def first_cut_mm(sowing: Sowing) -> tuple[float, float]:
    """Give the height of grass at a first cut, and the height of that cut [mm]."""
    from swardbook.planning.kinds import components

    groups = {each.group for each in components(sowing.lot)} if sowing.lot else set()
    kind = "ryegrass" if "ryegrass" in groups else "fine"
    return value(f"first_cut_{kind}"), value(f"first_cut_{kind}_to")


def grown_for_scarify(sit: Situation) -> Condition:
    """Tell whether the next sowing season has come, at least 6 months after the last sowing."""
    sowing = setting_age(sit)
    if sowing is None:
        return _no_seedlings(sit, AGE, sowing)
    source = f"diary, sown {say(sowing.day)}"
    if is_next_season(sit, sowing):
        return _seedlings(AGE, State.MET, "next sowing season" + _miss(sit), source)
    told = f"sown {say(sowing.day)}; waits for the next sowing season, at least 6 months"
    waits = "the next sowing season"
    return _seedlings(AGE, State.NOT_MET, told, source, "scarify_months", waits)


def past_tender(sit: Situation) -> Condition:
    """Tell whether seedlings are past the months in which rolling and iron hurt them."""
    sowing = setting_age(sit)
    if sowing is None:
        return _no_seedlings(sit, AGE, sowing)
    source = f"diary, sown {say(sowing.day)}"
    if sowing.day > months_before(sit.today, value("tender_months")):
        told = "seedlings under 3 months; no rolling beyond firming"
        return _seedlings(AGE, State.NOT_MET, told, source, "tender_months", "3 months")
    return _seedlings(AGE, State.MET, "past 3 months", source, "tender_months")


def kneeling(sit: Situation) -> Condition:
    """Tell whether people may kneel without a board."""
    sowing = setting_age(sit)
    if sowing is None or sowing.day <= months_before(sit.today, value("tender_months")):
        return _no_seedlings(sit, AGE, sowing)
    source = f"diary, sown {say(sowing.day)}"
    return Condition(
        AGE, State.NOT_MET, "seedlings under 3 months: kneel and stand on a board only",
        source, "tender_months", Rank.SEEDLINGS, blocks=False,
    )  # fmt: skip


def ready_for_play(sit: Situation) -> Condition:
    """Tell whether a sward is rooted and grown enough for play; cover is looked at."""
    sowing = setting_age(sit)
    if sowing is None:
        return _no_seedlings(sit, AGE, sowing)
    weeks = weeks_grown(sit, sowing)
    source = f"diary, sown {say(sowing.day)}"
    needed = value("play_growing_weeks")
    told = f"{_weeks(weeks.grown)}; usually {needed:.0f} (8 to 14) and 90 % cover"
    if weeks.at_most < needed:
        state = State.UNKNOWN if sowing.is_oversowing else State.NOT_MET
        waits = "cover, rooting and growth"
        return _seedlings(AGE, state, told, source, "play_growing_weeks", waits)
    if weeks.grown < parameter("play_growing_weeks").high and not _is_grown(sit, sowing):
        return _seedlings(AGE, State.UNKNOWN, f"{told}; look at cover", source)
    return _seedlings(AGE, State.MET, told, source)


def _cut_in_oversown(sit: Situation, sowing: Sowing, done: int) -> Condition:
    """Tell how an oversown sward is cut: it is kept cut, gently, once loose seed lies still."""
    source, days = f"diary, oversown {say(sowing.day)}", sit.age(sowing.day)
    rest, key = value("oversow_rest_days"), "oversow_rest_days"
    if days < rest:
        told = f"oversown {days} days ago: a cut lifts loose seed"
        return _seedlings("first cuts", State.NOT_MET, told, source, key, f"{rest:.0f} days")
    gently = f"raised to {raised_height(sit):.0f} mm, sharp blade, dry leaf"
    tug = tug_test(sit)
    if done or tug.state is State.MET:
        told = f"{done} cut{'' if done == 1 else 's'} since oversowing; {gently}"
        return _seedlings("first cuts", State.MET, told, source, "oversow_height_raise")
    told = f"oversown {days} days ago: {gently}, and no seedling plucked"
    return _seedlings("first cuts", State.UNKNOWN, told, source, "oversow_height_raise")


def _cuts(sit: Situation, needed: float, key: str) -> Condition:
    sowing = setting_age(sit)
    if sowing is None or _is_grown(sit, sowing):
        return _no_seedlings(sit, CUTS, sowing)
    done = cuts_since(sit, sowing.day)
    told = f"{done}, at least {needed:.0f} wanted"
    state = State.MET if done >= needed else State.NOT_MET
    waits = "" if done >= needed else f"{needed:.0f} cuts"
    return _seedlings(CUTS, state, told, f"diary, cuts since {say(sowing.day)}", key, waits)


def _is_grown(sit: Situation, sowing: Sowing) -> bool:
    """Whether a sowing is past a year, or six months with a growing season's cuts."""
    if sowing.day <= months_before(sit.today, 12):
        return True
    return is_next_season(sit, sowing) and cuts_since(sit, sowing.day) >= value("verticut_cuts")


def _no_seedlings(sit: Situation, name: str, sowing: Sowing | None) -> Condition:
    if sowing is None:
        return _seedlings(name, State.MET, "no sowing in the book" + _miss(sit), "diary")
    return _seedlings(name, State.MET, "grown in" + _miss(sit), f"diary, sown {say(sowing.day)}")


def _weeks(number: int) -> str:
    return f"{number} growing week{'s' * (number != 1)}"


def _miss(sit: Situation) -> str:
    return "; miss the marked refills" if small_and_young(sit) else ""


def _seedlings(
    name: str, state: State, because: str, source: str, key: str = "", until: str = ""
) -> Condition:
    return Condition(name, state, because, source, key, Rank.SEEDLINGS, until=until)
