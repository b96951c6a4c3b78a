"""What each section of the first screen says; a line has a mark, a place and a few words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.foundation.dates import say
from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import HoldOff
from swardbook.planning.clock import ClockState, SeedingClock, seeding_clock
from swardbook.planning.clumps import DIG
from swardbook.planning.counts_now import against_tolerance, is_cared_for
from swardbook.planning.disease import disease_watch
from swardbook.planning.feeding import feeding, is_fed_here
from swardbook.planning.fit import stops_today
from swardbook.planning.heads import Reset
from swardbook.planning.pulling import plant_density, pulling, span
from swardbook.planning.refills import bare_counted, refilling
from swardbook.planning.situation import Situation
from swardbook.planning.sowing import Answer, ComponentAnswer, SowingAnswer, sowing_answer
from swardbook.planning.sowings import is_bare
from swardbook.planning.states import Condition, Rank, State
from swardbook.planning.stock import Stock, lot_for
from swardbook.planning.take_rate import take_rate
from swardbook.planning.tasks import Status
from swardbook.planning.water import seedbed_water, young_seedbed
from swardbook.planning.week import Week

Value = str | float | int | bool | None


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a section.

    Parameters
    ----------
    zones : tuple of str
        Where.
    shape, word : str
        State by mark and by word.
    text : str
        A few words.
    values : mapping of str to value
        The numbers in it, units in the names.
    """

    zones: tuple[str, ...]
    shape: str
    word: str
    text: str
    values: Mapping[str, Value]


def stops(zones: Sequence[Situation]) -> list[Line]:
    """Say what stops people and machines today, and what each waits for."""
    found: dict[tuple[str, State, str], list[tuple[Situation, Condition]]] = {}
    for sit in zones:
        here = stops_today(sit)
        stopped = [each for each in here if each.state is State.NOT_MET]
        for each in stopped or here:
            found.setdefault((each.name, each.state, each.because), []).append((sit, each))
    lines = []
    for (name, state, because), where in found.items():
        wait = where[0][1].until
        fit = f" Next fit when {wait}." if wait else ""
        lines.append(Line(
            _names([sit for sit, _ in where], zones), state.shape, state.value,
            f"{name}: {because}.{fit}",
            {"condition": name, "waits_for": wait, "source": where[0][1].source},
        ))  # fmt: skip
    return sorted(lines, key=lambda line: line.word != State.NOT_MET.value)


def drying(zones: Sequence[Situation]) -> list[Line]:
    """Say which seedbeds and refills dry, who waters, and the litres."""
    lines = []
    for sit in zones:
        area = young_seedbed(sit)
        need = seedbed_water(sit, area) if area else None
        if area and need is None:
            lines.append(Line(
                (sit.zone.name,), "?", "don't know",
                "No weather for today: press a finger in; a seedbed is kept damp, not wet.",
                {"doses": None},
            ))  # fmt: skip
        if need is None or not need.doses:
            continue
        hose = need.hose_allowed and need.minutes is not None
        minutes = need.minutes if hose and need.minutes is not None else need.can_minutes
        who = f"Last watered by {need.watered_by}." if need.watered_by else "Who waters?"
        by = "hose" if hose else "cans, the hose is restricted" if not need.hose_allowed else "cans"
        lines.append(Line(
            (sit.zone.name,), "☐", "due",
            f"{need.doses} x {need.dose_mm:.1f} mm, {need.litres:.0f} L,"
            f" {minutes:.0f} min by {by}. {who}",
            {"doses": need.doses, "dose_mm": round(need.dose_mm, 2),
             "litres": round(need.litres, 0), "minutes": round(minutes, 0),
             "hose_allowed": need.hose_allowed, "watered_by": need.watered_by},
        ))  # fmt: skip
    return lines


def clocks(zones: Sequence[Situation]) -> list[Line]:
    """Read the seeding clock of each zone that weed work is done in, most pressing first."""
    found: dict[tuple[int, int, str, str, str], list[tuple[Situation, SeedingClock]]] = {}
    for sit in zones:
        if not is_cared_for(sit) or is_bare(sit):
            continue
        clock = seeding_clock(sit)
        past = clock.days_past or 0
        late = sit.season_day > value("flush_to")
        if clock.state is ClockState.RESTING or (clock.state is ClockState.NOT_STARTED and late):
            continue
        fine = against_tolerance(sit).weed_beyond is False
        last = past > value("shed_days") or fine or not clock.is_running
        told = clock_words(clock) + (" Weed share is fine here." if fine else "")
        key = (int(last), -past, clock.state.shape, clock.state.value, told)
        found.setdefault(key, []).append((sit, clock))
    lines = []
    for (_, _, shape, word, told), where in sorted(found.items(), key=lambda each: each[0][:2]):
        clock = where[0][1]
        lines.append(Line(
            _names([sit for sit, _ in where], zones), shape, word, told,
            {"degree_days": _round(clock.degree_days),
             "limit_degree_days": clock.working.degree_days, "days_past": clock.days_past,
             "days_in_hand": _round(clock.days_in_hand)},
        ))  # fmt: skip
    return lines


def clock_words(clock: SeedingClock) -> str:
    """Say a clock in a few words: heads seen, lifted, boxed."""
    if not clock.is_running or clock.heads_began is None or clock.last_left is None:
        return clock.because
    past, left = clock.days_past, clock.last_left
    heads = f"heads since {_day(clock.heads_began)}"
    boxed = {
        Reset.FULL: f"lifted and boxed {_day(left.day)}",
        Reset.PARTIAL: f"boxed {_day(left.day)}, in part",
        Reset.NONE: "no boxed cut since",
    }[left.reset]
    if past and past > value("shed_days"):
        return f"{heads}; {boxed}; seed has fallen here."
    hand = "" if clock.days_in_hand is None else f"about {_days(clock.days_in_hand)} in hand"
    tail = f"{_days(past)} past" if past else hand
    return f"{heads}; {boxed}; {tail}."


def gaps(zones: Sequence[Situation]) -> list[Line]:
    """Tell open gaps by size, the same lot in hand, and the days to the last sowing."""
    lines = []
    for sit in zones:
        if not is_cared_for(sit):
            continue
        found = refilling(sit)
        beyond = against_tolerance(sit).bare_beyond is True
        if not found.advice and not beyond:
            lines += _too_few_places(sit)
            continue
        parts = [
            f"{each.holes} {'hole' if each.holes == 1 else 'holes'} {each.size}: {each.says}"
            for each in found.advice
        ]  # fmt: skip
        if beyond and found.bare_share is not None and found.counted_on is not None:
            fine = sit.zone.tolerance.bare
            parts.append(
                f"bare {found.bare_share:.0%} on {found.counted_on.day}"
                f" {found.counted_on:%B}, {fine:.0%} is fine"
            )
        lot, left = _lot_words(found.stock), _days_to_last(found.sowing)
        last = "" if left is None else f"; {_last_words(left)}"
        if not sit.is_between(value("opening_from"), value("germination_autumn_to")):
            last = "; for spring"
        told = f"{lot}{last}".removeprefix("; ")
        said = f"{'; '.join(parts)}." + (f" {told[0].upper()}{told[1:]}." if told else "")
        take = take_rate(sit)
        took = "" if take is None else f" {take.words}."
        lines.append(Line(
            (sit.zone.name,), "☐", "open", f"{said}{took}",
            {"holes": sum(each.holes or 0 for each in found.advice),
             "bare_share": _round(found.bare_share, 3),
             "lot": found.stock.lot.code if found.stock else None, "days_to_last_sowing": left,
             "refills_taken": take.taken if take else None,
             "refills_looked_at": take.looked if take else None},
        ))  # fmt: skip
    return lines


def _days_to_last(sowing: SowingAnswer | None) -> int | None:
    """Give the days left to the last sowing, where that is near or has just gone by [d]."""
    components = sowing.components if sowing is not None else ()
    days = [each.days_left for each in components if each.days_left is not None]
    near = bool(days) and -value("last_date_told_days") < min(days) <= value("last_date_near_days")
    return min(days) if near else None


def _lot_words(stock: Stock | None) -> str:
    if stock is None:
        return ""
    weight = "" if stock.left_g is None else f" {stock.left_g / 1000:.1f} kg"
    return f"{'Same lot' if stock.is_same else 'Lot'} {stock.lot.code}{weight}"


def sow(zones: Sequence[Situation]) -> list[Line]:
    """Say sow go, wait or too late, component by component; lots that agree share a line."""
    found: dict[tuple[Answer, str], list[tuple[Situation, SowingAnswer]]] = {}
    seen = set()
    for sit in zones:
        stock = lot_for(sit)
        if stock is None or stock.lot.code in seen or not (stock.is_same or is_bare(sit)):
            continue
        if (stock.left_g is not None and stock.left_g <= 0) or not is_cared_for(sit):
            continue
        seen.add(stock.lot.code)
        answer = sowing_answer(sit, stock.lot)
        if answer.components:
            found.setdefault((answer.answer, _by_component(answer)), []).append((sit, answer))
    lines = []
    for (word, told), where in found.items():
        lots = ", ".join(f"{answer.mixture} {answer.lot}" for _, answer in where)
        first = where[0][1]
        soil = "" if first.soil is None else f" Soil {first.soil:.0f} °C."
        lines.append(Line(
            (), word.shape, word.value, f"{lots}: {told}.{soil}".replace("-0 °C", "0 °C"),
            {"lots": ", ".join(answer.lot for _, answer in where), "soil_c": _round(first.soil),
             **{each.species: each.answer.value for each in first.components}},
        ))  # fmt: skip
    return lines


def _by_component(answer: SowingAnswer) -> str:
    by_answer: dict[Answer, list[ComponentAnswer]] = {}
    for each in answer.components:
        by_answer.setdefault(each.answer, []).append(each)
    left = [each.days_left for each in answer.components if each.days_left is not None]
    near = bool(left) and abs(min(left)) <= value("last_date_near_days")
    days = f", {_last_words(min(left))}" if near and answer.answer is not Answer.WAIT else ""
    if len(by_answer) == 1:
        return f"{answer.answer.value} for every component{days}"
    return "; ".join(
        f"{word.value} for {', '.join(each.species for each in parts)}"
        for word, parts in by_answer.items()
    )


def checks(week: Week) -> list[Line]:
    """Give the checks due: heads, tug, refills, tufts, seedlings."""
    jobs = {"heads", "tug", "tufts", "refills", "clumps", "seedlings"}
    return [
        Line(task.zones, task.status.shape, task.status.value, f"{task.name}. {task.why}",
             {"job": task.job})
        for task in week.tasks
        if task.job in jobs
    ]  # fmt: skip


def pull(zones: Sequence[Situation]) -> list[Line]:
    """Say where an hour of pulling removes most seed."""
    lines = []
    for sit in zones:
        density, counted = plant_density(sit)
        in_season = sit.is_between(value("opening_from"), value("germination_autumn_to"))
        if not is_cared_for(sit) or density is None or counted is None or not in_season:
            continue
        found = pulling(sit)
        hours = "" if found.hours is None else f"; a pass is about {span(found.hours)} h"
        told = f"{density:.1f} plants/m² on {counted.day} {counted:%B}{hours}. First {found.first}."
        lines.append((density, Line(
            (sit.zone.name,), "☐", "due", told,
            {"plants_m2": round(density, 2), "plants": _round(found.plants, 0),
             "hours_low": _round(found.hours.low if found.hours else None),
             "hours_high": _round(found.hours.high if found.hours else None)},
        )))  # fmt: skip
    return [line for _, line in sorted(lines, key=lambda each: -each[0])]


def dig(week: Week) -> list[Line]:
    """Say where clumps are dug, how long it takes, and why now."""
    return [
        Line(task.zones, task.status.shape, task.status.value,
             f"{task.name}, {task.hours_words}. {task.why.split('; ', maxsplit=1)[0]}.",
             {"job": task.job, "hours_low": _round(task.hours.low),
              "hours_high": _round(task.hours.high)})
        for task in week.tasks
        if task.job == DIG and task.status is not Status.HELD_OFF
    ]  # fmt: skip


def disease(zones: Sequence[Situation]) -> list[Line]:
    """Say look or leave; one look a week for the whole site."""
    for sit in zones:
        watch = disease_watch(sit)
        if watch.look and watch.for_what and not is_bare(sit):
            return [Line(
                (sit.zone.name,), "☐", "look",
                f"{watch.for_what}: {watch.because}; likelihood {watch.likelihood}.",
                {"for": watch.for_what, "likelihood": watch.likelihood, "do": watch.do},
            )]  # fmt: skip
    return []


def _too_few_places(sit: Situation) -> list[Line]:
    """Say that more is bare than is fine where it was looked for, but that is too few places."""
    share, day, places = bare_counted(sit)
    fine, least = sit.zone.tolerance.bare, value("bare_least_places")
    if share is None or day is None or round(100 * share) <= round(100 * fine) or places >= least:
        return []
    where = "one place" if places == 1 else f"{places} places"
    told = (
        f"bare {share:.0%} at {where} on {day.day} {day:%B}, {fine:.0%} is fine: too few places to"
        f" tell of the zone. Count at {least:.0f} or more."
    )
    return [Line((sit.zone.name,), State.UNKNOWN.shape, State.UNKNOWN.value, told,
                 {"bare_share": _round(share, 3), "places": places})]  # fmt: skip


def feed(zones: Sequence[Situation]) -> list[Line]:
    """Say where a feed is due, with growth by warmth beside growth as measured."""
    lines = []
    for sit in zones:
        if is_bare(sit) or not sit.is_between(value("feed_season_from"), value("feed_low_until")):
            continue
        found = feeding(sit)
        if not found.is_due or not is_fed_here(sit):
            continue
        growth = "not known" if found.growth is None else f"{found.growth:.2f}"
        told = (
            f"at most {found.most:.1f} g N/m²; {found.given:.1f} so far. Growth by warmth {growth},"
            f" {found.boxes.filled} of {found.boxes.cuts} cuts filled the box."
        )
        lines.append(Line(
            (sit.zone.name,), "☐", "due", told,
            {"most_g_n_m2": round(found.most, 2), "given_g_n_m2": round(found.given, 2),
             "growth_potential": _round(found.growth, 2), "boxes_filled": found.boxes.filled,
             "boxes": found.boxes.cuts},
        ))  # fmt: skip
    return lines


def held_off(zones: Sequence[Situation], week: Week) -> list[Line]:
    """Say what is held off and why: by the plan, and by what the diary says of this week."""
    lines = [
        Line(task.zones, task.status.shape, task.status.value,
             f"{task.name}: {task.held_off_because}.",
             {"job": task.job, "because": task.held_off_because,
              "loses_to": (task.loses_to or Rank.LOOKS).value})
        for task in week.of(Status.HELD_OFF)
    ]  # fmt: skip
    seen = set()
    for sit in zones:
        for each in sit.happened(HoldOff, within_days=value("look_days") - 1):
            if each.entry.id in seen:
                continue
            seen.add(each.entry.id)
            told = f"{each.what.job}, {say(each.day)}: {each.what.reason}."
            where = (each.entry.zone,) if each.entry.zone else ()
            lines.append(Line(where, "⊘", "held off", told, {"job": each.what.job,
                              "because": each.what.reason, "loses_to": ""}))  # fmt: skip
    return lines


def _last_words(left: int) -> str:
    if left < 0:
        return f"{-left} days past the last sowing"
    return f"{left} days to the last sowing"


def _names(here: Sequence[Situation], zones: Sequence[Situation]) -> tuple[str, ...]:
    return () if len(here) == len(zones) > 1 else tuple(sit.zone.name for sit in here)


def _days(number: float) -> str:
    return f"{number:.0f} day" + ("" if round(number) == 1 else "s")


def _day(day: date) -> str:
    return f"{day.day} {day:%b}"


def _round(number: float | None, digits: int = 1) -> float | None:
    return None if number is None else round(number, digits)
