"""The seeding clock of a zone: the warmth since heads last left the lawn."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from swardbook.foundation.dates import say
from swardbook.foundation.workings import Input, Workings
from swardbook.handbook.parameters import parameter, value
from swardbook.planning.cut_gaps import GapAnalysis, analyse_gaps
from swardbook.planning.heads import (
    HeadsLeft,
    Reset,
    StartHint,
    box_works,
    first_heads,
    heads_left,
    is_heads_season,
    is_spring_flush,
    latest_look,
    season_start,
    start_hint,
)
from swardbook.planning.situation import Situation
from swardbook.planning.warmth import mean_air, warmth_since


class ClockState(StrEnum):
    """How the clock stands."""

    RESTING = "resting"
    NOT_STARTED = "not started"
    IN_HAND = "in hand"
    NEAR = "near the limit"
    PAST = "past the clock"

    @property
    def shape(self) -> str:
        """The mark shown beside the word."""
        marks = {"resting": "-", "not started": "?", "in hand": "○", "near the limit": "◐"}
        return marks.get(self.value, "●")


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit of the clock: days' worth at the clock's temperature, and as warmth."""

    name: str
    days: float
    degree_days: float


@dataclass(frozen=True, slots=True)
class SeedingClock:
    """The clock of one zone on one day.

    Parameters
    ----------
    zone : str
        Name of the zone.
    today : date
        The day.
    state : ClockState
        How it stands against the working limit.
    because : str
        One sentence.
    heads_began : date or None
        First heads noted this season in the zone.
    hint : StartHint or None
        Typical start by warmth, where no heads are noted.
    last_left : HeadsLeft or None
        When heads last left, fully or partly.
    last_full : HeadsLeft or None
        When they last left for certain.
    degree_days, degree_days_full : float or None
        Warmth since the two. [°C d]
    days_without_weather : int
        Days taken at the clock's own temperature for want of weather.
    working, longest : Limit
        The working limit now, and the default.
    days_in_hand : float or None
        Days to the working limit at last week's warmth. [d]
    days_past : int or None
        Days past the clock.
    gaps : GapAnalysis or None
        Gaps between the season's cuts.
    """

    zone: str
    today: date
    state: ClockState
    because: str
    heads_began: date | None
    hint: StartHint | None
    last_left: HeadsLeft | None
    last_full: HeadsLeft | None
    degree_days: float | None
    degree_days_full: float | None
    days_without_weather: int
    working: Limit
    longest: Limit
    days_in_hand: float | None
    days_past: int | None
    box_works: bool
    gaps: GapAnalysis | None
    workings: Workings

    @property
    def share_used(self) -> float | None:
        """Warmth used of the working limit [-]."""
        return None if self.degree_days is None else self.degree_days / self.working.degree_days

    @property
    def is_running(self) -> bool:
        """Whether heads have begun and the season is on."""
        return self.state in {ClockState.IN_HAND, ClockState.NEAR, ClockState.PAST}


def seeding_clock(sit: Situation) -> SeedingClock:
    """Read the seeding clock of a zone.

    Parameters
    ----------
    sit : Situation
        The zone on its day.

    Returns
    -------
    SeedingClock
        The reading with its workings; it starts at the first heads noted this season.
    """
    began = first_heads(sit)
    if not is_heads_season(sit):
        return _idle(sit, ClockState.RESTING, "Out of the season of heads.")
    if began is None:
        return _idle(sit, ClockState.NOT_STARTED, _not_started(sit))
    return _running(sit, began.day)


def limits(sit: Situation) -> tuple[Limit, Limit]:
    """Give the working limit of the season and the default limit."""
    temperature = value("clock_temperature")
    default = value("clock_days")
    days = value("clock_flush_days") if is_spring_flush(sit) else default
    name = "working limit in the spring flush" if is_spring_flush(sit) else "working limit"
    return (
        Limit(name, days, days * temperature),
        Limit("default", default, default * temperature),
    )


def _not_started(sit: Situation) -> str:
    look, hint = latest_look(sit), start_hint(sit)
    if look is None and hint is not None and hint.reached_on is None:
        return "No heads noted yet; by warmth they usually begin later, a hint only."
    if look is not None:
        return f"Heads looked for on {say(look.day)}, none seen: not started."
    return "No heads noted here this season, seen or not: not started, please look."


def _idle(sit: Situation, state: ClockState, because: str) -> SeedingClock:
    working, longest = limits(sit)
    hint = start_hint(sit) if state is ClockState.NOT_STARTED else None
    told = Workings(f"Seeding clock of {sit.zone.name}", because, inputs=_limit_inputs())
    return SeedingClock(
        sit.zone.name, sit.today, state, because, None, hint, None, None, None, None, 0,
        working, longest, None, None, box_works(sit), _season_gaps(sit, None), told,
    )  # fmt: skip


def _running(sit: Situation, began: date) -> SeedingClock:
    left = heads_left(sit)
    last = _latest(sit, began, [each for each in left if each.reset is not Reset.NONE])
    full = _latest(sit, began, [each for each in left if each.reset is Reset.FULL])
    working, longest = limits(sit)
    since, missing = _clock_warmth(sit, last.day)
    since_full, _ = _clock_warmth(sit, full.day)
    past = _days_past(sit, last.day, working.degree_days)
    pace = mean_air(sit, value("look_days"))
    pace = value("clock_temperature") if pace is None else pace
    in_hand = None if past or pace <= 0 else (working.degree_days - since) / pace
    state = ClockState.PAST if past else ClockState.IN_HAND
    if not past and in_hand is not None and in_hand <= value("clock_near_days"):
        state = ClockState.NEAR
    because = _because(last, full, past, in_hand) + _unboxed_since(left, last)
    return SeedingClock(
        sit.zone.name, sit.today, state, because, began, None, last, full, since, since_full,
        missing, working, longest, in_hand, past or None, box_works(sit),
        _season_gaps(sit, began), _workings(sit, last, since, missing, (working, longest), because),
    )  # fmt: skip


def _latest(sit: Situation, began: date, resets: list[HeadsLeft]) -> HeadsLeft:
    look = latest_look(sit)
    start = HeadsLeft(began, Reset.NONE, "first heads of the season")
    last = resets[-1] if resets else start
    if look is not None and not look.what.seen and look.day > last.day:
        return HeadsLeft(look.day, Reset.FULL, "heads looked for, none seen")
    return last


def _clock_warmth(sit: Situation, day: date) -> tuple[float, int]:
    found = warmth_since(sit, day)
    return found.degree_days + found.missing * value("clock_temperature"), found.missing


def _days_past(sit: Situation, since: date, limit: float) -> int:
    """Whole days since the warmth from `since` reached the limit; 0 if it has not."""
    if _clock_warmth(sit, since)[0] <= limit:
        return 0
    total, day = 0.0, since
    while total <= limit:
        day += timedelta(days=1)
        here = sit.weather.between(day, day) if sit.weather is not None else None
        known = here is not None and len(here) > 0
        total += max(float(here.tmean[0]), 0.0) if here and known else value("clock_temperature")
    return sit.age(day) + 1


def _because(last: HeadsLeft, full: HeadsLeft, past: int, in_hand: float | None) -> str:
    when = f"{last.day.day} {last.day:%B}"
    verb = {
        Reset.FULL: f"Heads left on {when} ({last.because})",
        Reset.PARTIAL: f"Heads left in part on {when} ({last.because})",
        Reset.NONE: f"No boxed cut since the first heads on {when}",
    }[last.reset]
    ahead = round(max(in_hand or 0.0, 0.0))
    hand = "" if in_hand is None else f"; about {ahead} day{'s' if ahead != 1 else ''} in hand"
    tail = f"; {past} day{'s' if past != 1 else ''} past the clock" if past else hand
    if past > value("shed_days"):
        tail = f"; {past} days past the clock: seed has fallen here"
    never = full.reset is not Reset.FULL and last.reset is Reset.PARTIAL
    more = " How many stayed below the blade is not known." if never and last.share is None else ""
    return f"{verb}{tail}.{more}"


def _unboxed_since(left: list[HeadsLeft], last: HeadsLeft) -> str:
    number = sum(each.day > last.day and each.reset is Reset.NONE for each in left)
    if not number:
        return ""
    return f" {number} cut{'s' if number > 1 else ''} since without the box."


def _season_gaps(sit: Situation, began: date | None) -> GapAnalysis | None:
    first = began or season_start(sit)
    return analyse_gaps(sit, first, sit.today) if first < sit.today else None


def _limit_inputs() -> tuple[Input, ...]:
    keys = ("clock_days", "clock_flush_days", "clock_temperature", "heads_above_blade")
    return tuple(Input.of(key.replace("_", " "), parameter(key)) for key in keys)


def _workings(
    sit: Situation, last: HeadsLeft, since: float, missing: int,
    both: tuple[Limit, Limit], answer: str,
) -> Workings:  # fmt: skip
    working, longest = both
    days = sit.age(last.day)
    mean = since / days if days else 0.0
    return Workings(
        question=f"How long have heads stood in {sit.zone.name} on {say(sit.today)}?",
        answer=answer,
        formula="sum over days of max(0, (tmin + tmax) / 2), since heads last left",
        inputs=(
            Input("heads last left", say(last.day), source=f"diary: {last.because}"),
            Input("days since", days, "d", source="diary"),
            *_limit_inputs(),
        ),
        arithmetic=(
            f"{days} days at {mean:.1f} °C on average make {since:.0f} °C d",
            f"{working.name}: {working.days:g} x {value('clock_temperature'):g}"
            f" = {working.degree_days:.0f} °C d",
            f"default: {longest.days:g} x {value('clock_temperature'):g}"
            f" = {longest.degree_days:.0f} °C d",
        ),
        assumptions=(
            "Ten days is a rule of thumb; heads cut just after flowering can ripen some seed.",
            "A boxed cut with no lifting and no check of tufts takes an unknown share of heads.",
            *((f"{missing} days without weather are taken at 12 °C.",) if missing else ()),
        ),
    )
