"""Checks that are due: look for heads, tug, check tufts, look at refills, look at disease."""

from __future__ import annotations

from swardbook.foundation.dates import say
from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.species import Species
from swardbook.husbandry.happenings import Cut, Seedlings, Sow, TuftCheck
from swardbook.planning.clock import ClockState, seeding_clock
from swardbook.planning.counts_now import against_tolerance, is_cared_for
from swardbook.planning.disease import disease_watch
from swardbook.planning.heads import heads_left, latest_look
from swardbook.planning.how import caution_of
from swardbook.planning.kinds import components, known_species, slowest
from swardbook.planning.named import name_again
from swardbook.planning.refills import DUG, REFILLS, due_checks
from swardbook.planning.situation import Situation, months_before
from swardbook.planning.sowing import first_seen_days, soil_now
from swardbook.planning.sowings import (
    Sowing,
    cuts_since,
    is_bare,
    setting_age,
    tug_of,
    weeks_grown,
    weeks_needed,
)
from swardbook.planning.tasks import HoursRange, Status, Task


def heads_look(sit: Situation) -> list[Task]:
    """Look for heads: the clock has not started, or the last look is old."""
    spring = sit.is_between(value("heads_season_from"), value("flush_to") + value("look_days"))
    if not is_cared_for(sit) or not spring or is_bare(sit):
        return []
    clock, look = seeding_clock(sit), latest_look(sit)
    if clock.state is ClockState.NOT_STARTED:
        if look is not None and sit.age(look.day) < value("look_days"):
            return []
        hint = clock.hint
        told = "Nobody has looked for heads here this season"
        if hint is not None and hint.reached_on is not None:
            first = hint.reached_on
            told += f"; by warmth they typically begin about {first.day} {first:%B}, a hint only"
        elif hint is not None:
            return []
        return [_look(sit, "heads", "Look for heads, and note them seen or not", told + ".", 3)]
    return []


def tuft_check(sit: Situation) -> list[Task]:
    """Check tufts after the next boxed cut: it alone tells what share of heads went."""
    if not is_cared_for(sit) or not sit.is_between(value("flush_from"), value("feed_season_to")):
        return []
    if not seeding_clock(sit).is_running:
        return []
    if against_tolerance(sit).weed_beyond is False:
        return []
    last = sit.latest(TuftCheck)
    left = heads_left(sit)
    if (last is not None and sit.age(last.day) < value("tuft_again_days")) or not left:
        return []
    cut = sit.latest(Cut)
    if cut is None or sit.age(cut.day) > value("growing_now_days"):
        return []
    told = "Boxed cuts count only in part until 20 tufts are looked at after one."
    return [_look(sit, "tufts", "After the next cut look at 20 tufts for heads", told, 4)]


def tug(sit: Situation) -> list[Task]:
    """Tug a seedling when a first cut or a verticut comes within reach."""
    sowing = setting_age(sit)
    if sowing is None or is_bare(sit) or not is_cared_for(sit):
        return []
    if sowing.day <= months_before(sit.today, 12):
        return []
    test, not_tugged = tug_of(sit, sowing)
    if test is not None and test.what.passed and not not_tugged:
        return []
    if test is not None and sit.age(test.day) < value("look_days"):
        return []
    weeks = weeks_grown(sit, sowing).grown
    near_verticut = weeks >= weeks_needed(sowing) - 2 and sit.is_between(
        value("opening_from"), value("opening_to")
    )
    near_cut = (
        not sowing.is_oversowing
        and cuts_since(sit, sowing.day) == 0
        and weeks >= value("first_cut_weeks")
    )
    if not near_cut and not near_verticut:
        return []
    if (sit.lately.growth or 0.0) < value("growing_now_potential") / 2:
        return []
    last = slowest(sowing.lot) if sowing.lot else None
    which = f" of {last.english.lower()}, the slowest" if last else ""
    why = f"Sown {say(sowing.day)}; a cut or verticut waits for it."
    return [_look(sit, "tug", f"Tug a few seedlings{which}", why, 3)]


def refill_looks(sit: Situation) -> list[Task]:
    """Look again at refills and at dug clumps when six weeks are over."""
    if not sit.is_between(value("opening_from"), value("heads_season_to")):
        return []
    due, tasks = due_checks(sit), []
    for job, what, name, then in (
        ("refills", REFILLS, "Look again at {}, taken or not", "what has not taken is open to the"
         " nearest seed"),
        ("clumps", DUG, "Look again at {}, back or not", "a joint left behind has shoots by now"),
    ):  # fmt: skip
        here = [each for each in due if each.what == what]
        if here:
            number = sum(each.number or 0 for each in here)
            many = f"{number} {what}" if number else what
            since = say(min(each.since for each in here))
            why = f"Six weeks are over since {since}; {then}."
            tasks.append(_look(sit, job, name.format(many), why, 4))
    return tasks


def emergence_look(sit: Situation) -> list[Task]:
    """Look for seedlings once they can be there; failure is never called before the slowest."""
    lately = sit.happened(Sow, within_days=value("emergence_look_days"))
    sown = [each for each in lately if each.is_dated]
    sowing = setting_age(sit)
    if not sown or sowing is None or sowing.lot is None:
        return []
    if cuts_since(sit, sowing.day) > 0 and not sowing.is_oversowing:
        return []
    days = sit.age(sowing.day)
    told = emergence_words(sit, sowing)
    if not told or days < value("first_look_days"):
        return []
    return [_look(sit, "seedlings", "Look for seedlings, component by component", told, 4)]


def emergence_words(sit: Situation, sowing: Sowing) -> str:
    """Say which components of a sowing are due, and that failure cannot be told before the last."""
    soil = soil_now(sit)[0]
    if sowing.lot is None or soil is None:
        return ""
    days = sit.age(sowing.day)
    told: dict[str, list[str]] = {}
    for species in components(sowing.lot):
        if _is_seen(sit, sowing, species):
            continue
        seen = first_seen_days(species, soil)
        if seen is None:
            word = f"no date, soil {soil:.0f} °C"
        elif days < seen[0]:
            word = f"not due before day {seen[0]:.0f}"
        elif days <= seen[1]:
            word = f"due, day {seen[0]:.0f} to {seen[1]:.0f}"
        else:
            word = f"due by day {seen[1]:.0f}, so look closely and count before you judge"
        told.setdefault(word, []).append(species.english)
    if not told:
        return ""
    parts = "; ".join(f"{', '.join(names)}: {word}" for word, names in told.items())
    return f"Day {days}. {parts}. No failure, and no second sowing, before the slowest."


def _is_seen(sit: Situation, sowing: Sowing, species: Species) -> bool:
    return any(
        each.what.first_seen and each.day >= sowing.day
        and known_species(each.what.species) == species
        for each in sit.happened(Seedlings)
    )  # fmt: skip


def disease_look(sit: Situation) -> list[Task]:
    """Look at disease or pests, if anything points to it; at most once a week."""
    if is_bare(sit):
        return []
    watch = disease_watch(sit)
    if not watch.look or not watch.for_what:
        return []
    why = f"{watch.because[0].upper()}{watch.because[1:]}; likelihood: {watch.likelihood}."
    return [
        _look(
            sit,
            "disease",
            f"Look for {watch.for_what}",
            f"{why} {watch.do[0].upper()}{watch.do[1:]}.",
            8,
        )
    ]


CHECKS = (heads_look, tug, tuft_check, refill_looks, emergence_look, name_again, disease_look)


def _look(sit: Situation, job: str, name: str, why: str, urgency: int) -> Task:
    hours = parameter("check_hours")
    caution = caution_of(sit, job)
    return Task(
        name, job, (sit.zone.name,), Status.DUE, "this week", HoursRange(hours.low, hours.high),
        why, "it was looked at and not written down", caution, urgency,
    )  # fmt: skip
