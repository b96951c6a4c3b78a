"""What could be done in one zone this week: each candidate a task with its reasons."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from swardbook.foundation.dates import say
from swardbook.foundation.provenance import Sourced
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.ground import Use
from swardbook.husbandry.happenings import Cut, Verticut
from swardbook.planning.checks_seedlings import first_cut_heights
from swardbook.planning.checks_site import QUIET_SOURCE
from swardbook.planning.checks_weather import drought
from swardbook.planning.clock import ClockState, SeedingClock, seeding_clock
from swardbook.planning.clumps import DIG, clumps_standing, what_came_back, what_it_takes
from swardbook.planning.counts_now import against_tolerance, is_cared_for
from swardbook.planning.feeding import feeding, is_fed_here
from swardbook.planning.fit import Fit, fit_today
from swardbook.planning.heads import is_heads_season
from swardbook.planning.how import caution_of, how_to, next_line_deg, verticut_depth
from swardbook.planning.mowing import due_by_heights
from swardbook.planning.pulling import plant_density, pulling, pulling_hours, roughly
from swardbook.planning.situation import Situation
from swardbook.planning.sowings import cuts_since, is_bare, setting_age, weeks_grown
from swardbook.planning.states import Condition, Overall, Rank, State
from swardbook.planning.stock import lot_for
from swardbook.planning.take_rate import take_rate
from swardbook.planning.tasks import HoursRange, Status, Task
from swardbook.planning.water import seedbed_water, young_seedbed

MOWING_GROWTH = "programme.cut_growth_least"


def water_task(sit: Situation) -> list[Task]:
    """Water a young seedbed or refills that dry today."""
    area = young_seedbed(sit)
    need = seedbed_water(sit, area) if area else None
    if need is None or need.doses == 0 or fit_today(sit, "water").overall is Overall.NOT_FIT:
        return []
    how = "hose" if need.hose_allowed and need.minutes is not None else "cans"
    minutes = need.minutes if how == "hose" and need.minutes is not None else need.can_minutes
    when = f"today, {need.doses} times" if need.doses > 1 else "today, once"
    who = f"Last watered by {need.watered_by}. " if need.watered_by else ""
    few = area <= value("seedling_zone_share") * sit.zone.area_m2
    name = "Water the refills" if few else "Water the seedbed, little and often"
    litres = f"{_round_litres(need.litres)} L, {how}" if need.litres >= 1 else "under 1 L, a can"
    return [
        _task(
            sit, "water", name, when,
            HoursRange(minutes / 60, minutes / 60),
            f"{who}{need.low_mm:.1f} to {need.high_mm:.1f} mm are missing after today's rain.",
            "rain comes, or the top 15 mm is still damp", 0,
            (f"{sit.zone.name} {need.doses} x {need.dose_mm:.1f} mm: {litres}",),
        )
    ]  # fmt: skip


def cut_task(sit: Situation) -> list[Task]:
    """Cut: for the clock, or because it grows; or hold off and say why."""
    if is_bare(sit):
        return []
    clock, growth = seeding_clock(sit), sit.lately.growth
    last = sit.latest(Cut)
    gap = sit.age(last.day) if last else None
    grows = growth is not None and growth >= value(MOWING_GROWTH)
    weedy = is_cared_for(sit) and against_tolerance(sit).weed_beyond is not False
    urgent = weedy and clock.state in {ClockState.PAST, ClockState.NEAR}
    if gap == 0 or (not urgent and not grows) or (last is None and setting_age(sit) is None):
        return []
    if not sit.is_between(value("mowing_from"), value("mowing_to")):
        return []
    fine = sit.zone.height_of_cut_mm <= value("verticut_fine_height")
    usual = value("cut_gap_fine" if fine else "cut_gap_lawn")
    due, by_height = due_by_heights(sit) if not urgent else (None, "")
    if not urgent and gap is not None and (gap < usual if due is None else not due):
        return []
    fit = fit_today(sit, "cut")
    if fit.condition("first cuts").state is State.NOT_MET and gap is None:
        return []
    why = clock.because if urgent else f"Last cut {gap} days ago." if gap else "No cut yet."
    why += by_height
    name = _cut_name(sit, clock)
    past = clock.days_past or 0
    rank = 1 if urgent and 0 < past <= value("shed_days") else 2
    if gap is not None and grows and gap >= value("step_down_factor") * usual:
        why += " After such a gap step down over days, box on; the clock is reset only in part."
    task = from_fit(sit, fit, name, cut_hours(sit), why, "the ground is soft or frozen", rank)
    sowing = setting_age(sit)
    first = sowing is not None and cuts_since(sit, sowing.day) == 0
    at = f"{sit.zone.height_of_cut_mm:g} mm"
    if sowing is not None and first:
        at = first_cut_heights(sit, sowing)
    return [replace(task, materials=(f"{sit.zone.name}: {at}",))]


def verticut_task(sit: Situation) -> list[Task]:
    """Verticut lightly where weed grass is beyond tolerance; or hold off and say why."""
    if not is_cared_for(sit) or is_bare(sit) or not is_heads_season(sit):
        return []
    if against_tolerance(sit).weed_beyond is False:
        return []
    if not sit.is_between(value("flush_from"), value("verticut_season_to")):
        return []
    last, cut_lately = sit.latest(Verticut), sit.latest(Cut, value("growing_now_days"))
    if cut_lately is None or (last and sit.age(last.day) < value("verticut_gap_days")):
        return []
    sowing = setting_age(sit)
    least = value("verticut_growing_weeks")
    if sowing is not None and weeks_grown(sit, sowing).at_most < least:
        return []
    fit = fit_today(sit, "verticut")
    slower = parameter("verticut_slower")
    cut = cut_hours(sit)
    hours = HoursRange(cut.low * slower.low, cut.high * slower.high)
    told = f"last one {sit.age(last.day)} days ago" if last else "none in the book"
    since = f"{sit.zone.name}: {told}."
    why = f"It stands prostrate plants up for the cut straight after, box on. {since}"
    name = "Verticut lightly, tips only"
    line = next_line_deg(sit)
    at = f"{sit.zone.name}: {verticut_depth(sit)}" + (f", line {line:+.0f}°" if line else "")
    task = from_fit(sit, fit, name, hours, why, "lines show for days, or gaps rise", 6)
    return [replace(task, materials=(at, "unit washed after, box emptied off the site"))]


def pull_task(sit: Situation) -> list[Task]:
    """Pull where weed plants stand beyond tolerance and were counted or seen heading."""
    density, _ = plant_density(sit)
    if not is_cared_for(sit) or density is None or density == 0 or is_bare(sit):
        return []
    if not sit.is_between(value("opening_from"), value("germination_autumn_to")):
        return []
    fit = fit_today(sit, "pull")
    found = pulling(sit)
    hours = pulling_hours(sit, sit.zone.area_m2, density * sit.zone.area_m2)
    told = found.told
    if (
        found.plants is not None
        and found.weeks is not None
        and found.weeks[0] <= value("pull_weeks_most")
    ):
        told = f"About {roughly(found.plants)} plants stand by the last count."
    why = f"{told} {found.first[0].upper()}{found.first[1:]}."
    if against_tolerance(sit).weed_beyond is False:
        why += " Within what is fine here; taken while they are few, it stays so."
    span = HoursRange(hours.low, hours.high)
    return [from_fit(sit, fit, "Pull annual meadow-grass", span, why,
                      "roots stay in, or holes stay open", 5)]  # fmt: skip


def dig_task(sit: Situation) -> list[Task]:
    """Dig clumps of Yorkshire fog beyond what is fine; out of season hold off and say why."""
    found = clumps_standing(sit)
    if not is_cared_for(sit) or is_bare(sit) or against_tolerance(sit).clumps_beyond is not True:
        return []
    if found.standing is None or found.counted_on is None:
        return []
    fine = sit.zone.tolerance.clumps
    why = (
        f"{found.standing} clump{'s' if found.standing > 1 else ''} (Holcus lanatus) by the"
        f" count of {say(found.counted_on)}; {fine or 'none'}"
        f" {'is' if fine < 2 else 'are'} fine here. Early autumn or a moist spring is the time."
    )
    wrong = "the ground is dry and joints snap, or a hole stays open"
    task = from_fit(sit, fit_today(sit, DIG), "Dig out clumps of Yorkshire fog",
                     _times(parameter("clump_hours"), found.standing),
                     f"{why} {what_came_back(sit)}".rstrip(), wrong, 4)  # fmt: skip
    if task.status is Status.HELD_OFF:
        return [task]
    deep, holes = what_it_takes(sit, found.standing)
    take = take_rate(sit)
    took = () if take is None else (f"of refills {take.words}: look again after six weeks",)
    return [replace(task, materials=(f"{sit.zone.name}: {deep}", holes, *took))]


def feed_task(sit: Situation) -> list[Task]:
    """Feed if it is due; hold off if it would be due but is not fit."""
    if is_bare(sit) or not sit.is_between(value("feed_season_from"), value("feed_low_until")):
        return []
    if not is_fed_here(sit):
        return []
    found = feeding(sit)
    waited = found.last_on is None or sit.age(found.last_on) >= value("feed_gap_days")
    in_season = sit.is_between(value("feed_season_from"), value("feed_season_to"))
    if not found.is_due and not (waited and in_season and found.fit.overall is Overall.NOT_FIT):
        return []
    hours = per_area(sit, "feed_hours")
    area = sit.zone.area_m2
    task = from_fit(sit, found.fit, "Feed", hours, found.told,
                     "growth is strong without it, or rain will wash it out", 7)  # fmt: skip
    grams = (
        f"{sit.zone.name}: at most {_weight(found.most * area)} of nitrogen, {found.most:.1f} g/m²"
    )
    return [task if task.status is Status.HELD_OFF else replace(task, materials=(grams,))]


def sow_task(sit: Situation) -> list[Task]:
    """Sow bare ground, or oversow where bare is beyond tolerance, by component."""
    bare = is_bare(sit)
    if not bare and (against_tolerance(sit).bare_beyond is not True or young_seedbed(sit) > 0):
        return []
    job = "sow" if bare else "oversow"
    fit = fit_today(sit, job)
    soil = fit.condition("soil and season")
    if not bare and (soil.state is State.NOT_MET or not _is_oversowing_time(sit, soil)):
        return []
    name = "Sow" if bare else "Oversow the thin places"
    why = f"Bare ground goes to the nearest seed. {soil.because[0].upper()}{soil.because[1:]}."
    stock = lot_for(sit)
    wrong = "it cannot be kept damp, or heavy rain is due"
    task = from_fit(sit, fit, name, per_area(sit, "sow_hours"), why, wrong, 3)
    lot = (f"{sit.zone.name}: {stock.lot.mixture} {stock.lot.code}",) if stock else ()
    if sit.zone.use is Use.TRIAL:
        lot = (f"{sit.zone.name}: each plot its own mixture, by the plan",)
    return [replace(task, materials=(*lot, *task.materials))]


def leaves_task(sit: Situation) -> list[Task]:
    """Leaves off a new sward every two or three days in autumn."""
    sowing = setting_age(sit)
    autumn = sit.is_between(value("leaves_from"), value("leaves_to"))
    if sowing is None or not autumn or sit.age(sowing.day) > value("leaves_new_sward_days"):
        return []
    if cuts_since(sit, sowing.day) < value("brush_cuts"):
        return []
    fit = fit_today(sit, "brush")
    why = "Leaves smother a new sward in days."
    hours = per_area(sit, "brush_hours")
    return [from_fit(sit, fit, "Take leaves off", hours, why, "leaf is frozen", 4)]


CANDIDATES: tuple[Callable[[Situation], list[Task]], ...] = (
    water_task, cut_task, sow_task, dig_task, pull_task, verticut_task, feed_task, leaves_task,
)  # fmt: skip


def _cut_name(sit: Situation, clock: SeedingClock) -> str:
    sowing = setting_age(sit)
    if sowing is not None and cuts_since(sit, sowing.day) == 0:
        return "Cut gently, raised" if sowing.is_oversowing else "First cut, high"
    if not clock.is_running:
        return "Cut"
    return "Cut with the box on" if clock.box_works else "Cut, and rake up: no box"


def _is_oversowing_time(sit: Situation, soil: Condition) -> bool:
    """Spring or autumn, and no drought: midsummer seed in a sward is seed lost.

    Past years of weather tell how long autumn lasts here; without them it ends by custom.
    """
    if drought(sit).state is State.NOT_MET:
        return False
    spring = sit.is_between(value("opening_from"), value("oversow_spring_to"))
    last = sit.season_day <= value("oversow_autumn_to") or soil.state is State.MET
    return spring or (sit.season_day >= value("oversow_autumn_from") and last)


def from_fit(
    sit: Situation, fit: Fit, name: str, hours: HoursRange, why: str, wrong_if: str, urgency: int
) -> Task:
    """Make the task of a job by how fit it is today: due, due after a look, or held off."""
    against = fit.deciding
    if fit.overall is Overall.NOT_FIT:
        against = tuple(each for each in against if each.source != QUIET_SOURCE)
        if not against:
            return _task(sit, fit.job, name, "tomorrow", hours, why, wrong_if, urgency)
        waits = against[0].until or against[0].name
        task = _task(sit, fit.job, name, f"waits for {waits}", hours, why, wrong_if, 9)
        because = f"{against[0].name}: {against[0].because}"
        rank = None if against[0].rank is Rank.LOOKS else against[0].rank
        return replace(task, status=Status.HELD_OFF, held_off_because=because, loses_to=rank)
    look = ", ".join(f"{each.name} ({each.because})" for each in against[:2])
    when = "today" if fit.overall is Overall.FIT else f"today, after a look: {look}"
    return _task(sit, fit.job, name, when, hours, why, wrong_if, urgency)


def _task(
    sit: Situation, job: str, name: str, when: str, hours: HoursRange, why: str, wrong_if: str,
    urgency: int, materials: tuple[str, ...] = (),
) -> Task:  # fmt: skip
    caution = caution_of(sit, job)
    note = how_to(sit, job)
    return Task(
        name, job, (sit.zone.name,), Status.DUE, when, hours, why, wrong_if,
        caution, urgency,
        (*materials, *((note,) if note and job == "sow" else ())),
    )  # fmt: skip


def _round_litres(litres: float) -> str:
    return (
        f"{round(litres, -1 if litres < 1000 else -2):,.0f}" if litres >= 100 else f"{litres:.0f}"
    )


def _weight(grams: float) -> str:
    return f"{grams / 1000:.1f} kg" if grams >= 1000 else f"{grams:.0f} g"


def cut_hours(sit: Situation) -> HoursRange:
    """Hours that cutting the zone takes, by the width of its mower [h]."""
    rate = parameter("cut_rate_wide")
    width = sit.zone.mower.width_mm / 1000
    return _times(rate, sit.zone.area_m2 / 1000 / width)


def per_area(sit: Situation, key: str) -> HoursRange:
    """Hours that a job takes on the zone's area [h]."""
    return _times(parameter(key), sit.zone.area_m2 / 1000)


def _times(rate: Sourced, amount: float) -> HoursRange:
    return HoursRange(rate.low * amount, rate.high * amount)
