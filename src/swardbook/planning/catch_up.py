"""Catching up after a breakdown or an absence: what changed, lapsed, and can no longer be done."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from swardbook.foundation.dates import say, season_day_from
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import Closure, Cut, Pull
from swardbook.husbandry.lowering import LoweringCut, come_down
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.planning.clock import ClockState, seeding_clock
from swardbook.planning.clumps import dig_season
from swardbook.planning.comfort import waits_to_go_lower
from swardbook.planning.fit import fit_today
from swardbook.planning.growth import days_of
from swardbook.planning.leaf_growth import leaf_growth
from swardbook.planning.mowing import Grass, grass_today
from swardbook.planning.refills import due_checks
from swardbook.planning.situation import Situation, situation
from swardbook.planning.sowing import Answer, sowing_answer
from swardbook.planning.sowings import is_bare
from swardbook.planning.states import Overall, State
from swardbook.planning.stock import lot_for
from swardbook.planning.warmth import mean_air, rain_since


@dataclass(frozen=True, slots=True)
class CatchUp:
    """What somebody coming back to a zone has to know.

    Parameters
    ----------
    zone : str
        The zone.
    since : date
        The last day anything was noted, or the day told.
    last_cut : date or None
        The last cut.
    spell : str
        The days since, and their weather.
    changed : str
        The same with how dry it was, and the grass.
    lapsed : tuple of str
        Looks, closures and passes whose time came meanwhile.
    too_late : tuple of str
        What could be done when it was left, and cannot this season.
    grass : Grass or None
        How high the grass stands; None where it cannot be reckoned.
    down : tuple of LoweringCut
        Cuts down to the zone's height; empty where one cut does it, or grass is not known.
    mowing : str
        How to come down.
    clock : str
        The seeding clock, and how far a first cut resets it.
    days_past : int
        Days past the clock, 0 if it is not.
    waits : str
        Why no cut goes out, or none goes lower, today; empty where nothing speaks against it.
    """

    zone: str
    since: date
    last_cut: date | None
    spell: str
    changed: str
    lapsed: tuple[str, ...]
    too_late: tuple[str, ...]
    grass: Grass | None
    down: tuple[LoweringCut, ...]
    mowing: str
    clock: str
    days_past: int
    waits: str = ""

    @property
    def lines(self) -> tuple[str, ...]:
        """At most five lines."""
        return (
            f"Changed: {self.changed}",
            f"Lapsed: {'; '.join(self.lapsed) or 'nothing'}.",
            f"No longer this season: {'; '.join(self.too_late) or 'nothing has passed'}.",
            f"Mowing: {self.mowing}",
            f"Seeding clock: {self.clock}",
        )


def catch_up(sit: Situation, since: date | None = None, grass_mm: float | None = None) -> CatchUp:
    """Say what changed, lapsed and passed in a zone while nobody was there.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    since : date or None
        The last day there; None takes the last record before today.
    grass_mm : float or None
        Height of the grass measured today. [mm]

    Raises
    ------
    BadInputError
        If the day is not before today.
    NotEnoughDataError
        If there is no record and no day is told.
    """
    left = since or last_record(sit)
    if left is None:
        needed = "the last day there, or an entry from before today"
        raise NotEnoughDataError(f"coming back to {sit.zone.name}", needed, "none")
    if left >= sit.today:
        raise BadInputError("--since", say(left), f"the last day there, before {say(sit.today)}")
    then = situation(sit.ground, sit.zone.name, sit.weather, left)
    cut = sit.latest(Cut)
    growth = leaf_growth(sit)
    grass = grass_today(sit, growth, grass_mm)
    down = _down(sit, grass, growth.rate if growth else 0.0)
    waits = _waits(sit)
    return CatchUp(
        sit.zone.name, left, cut.day if cut else None, _spell(sit, left),
        _changed(sit, left, grass), _lapsed(sit, left), _too_late(then, sit), grass, down,
        _mowing(sit, grass, down, growth is None, waits), _clock(sit, down),
        seeding_clock(sit).days_past or 0, waits,
    )  # fmt: skip


def last_record(sit: Situation) -> date | None:
    """Find the last day before today on which anything was noted of the zone or the site."""
    days = [
        entry.day
        for entry in sit.ground.entries(sit.zone.name)
        if entry.day < sit.today and not isinstance(entry.what, WorkedOut)
    ]
    return max(days, default=None)


def _spell(sit: Situation, left: date) -> str:
    away = (sit.today - left).days
    fell, air = rain_since(sit, left), mean_air(sit, away)
    if fell is None or air is None:
        return f"{away} days since {say(left)}, weather of them is wanting"
    return f"{away} days since {say(left)}, rain {fell:.0f} mm, mean {air:.0f} °C"


def _changed(sit: Situation, left: date, grass: Grass | None) -> str:
    away, told = (sit.today - left).days, [_spell(sit, left)]
    days = days_of(sit.ground, sit.zone, sit.weather, sit.today)
    if days is not None:
        dry = int((days.stress[-away:] < value("drought_stress")).sum())
        if dry >= value("drought_days"):
            told.append(f"{dry} days dry enough to go off colour")
    if grass is not None:
        low, high = grass.likely
        told.append(
            f"grass about {grass.height_mm:.0f} mm"
            + (f" ({low:.0f} to {high:.0f})" if high - low > 1 else "")
        )
    return f"{', '.join(told)}."


def _lapsed(sit: Situation, left: date) -> tuple[str, ...]:
    told = [
        f"{each.what} of {_day(each.since)} wanted a look on {_day(each.due_on)}"
        for each in due_checks(sit) if each.due_on > left
    ]  # fmt: skip
    told += [
        f"closure to {each.what.what} ended {_day(each.what.until)}"
        for each in sit.happened(Closure)
        if each.what.until is not None and left < each.what.until < sit.today
    ]
    pull = sit.latest(Pull)
    if pull is not None and pull.what.pass_name == "A":
        ends = pull.day + timedelta(days=value("pull_pass_days"))
        if left <= ends < sit.today:
            told.append(f"the second pulling pass was for {_day(ends)}; the pair is broken")
    return tuple(told)


def _too_late(then: Situation, now: Situation) -> tuple[str, ...]:
    told = []
    stock = lot_for(then)
    if stock is not None and not is_bare(now) | is_bare(then):
        before = {each.species: each for each in sowing_answer(then, stock.lot).components}
        passed = [
            each.species
            for each in sowing_answer(now, stock.lot).components
            if each.answer is Answer.TOO_LATE
            and each.species in before
            and before[each.species].answer is not Answer.TOO_LATE
        ]
        if passed:
            told.append(f"sowing {', '.join(passed)}")
    if dig_season(then).state is State.MET and dig_season(now).state is not State.MET:
        told.append(f"digging clumps, until {dig_season(now).until}")
    for key, what in (
        ("verticut_season_to", "verticut"),
        ("feed_season_to", "an ordinary feed (low nitrogen only)"),
        ("feed_low_until", "autumn feed"),
    ):
        if _passed(then, now, value(key)):
            told.append(what)
    return tuple(told)


def _passed(then: Situation, now: Situation, season: float) -> bool:
    """Whether a season day went by between two days."""
    first = season_day_from(then.today + timedelta(days=1), int(season), now.site.latitude)
    return first <= now.today and now.season_day >= season


def _down(sit: Situation, grass: Grass | None, rate: float) -> tuple[LoweringCut, ...]:
    wanted = sit.zone.height_of_cut_mm
    if grass is None or is_bare(sit) or grass.height_mm <= wanted:
        return ()
    return come_down(grass.height_mm, wanted, rate)


def _mowing(
    sit: Situation, grass: Grass | None, down: tuple[LoweringCut, ...], is_blind: bool, waits: str
) -> str:
    wanted = sit.zone.height_of_cut_mm
    if is_bare(sit):
        return "nothing stands here."
    if grass is None:
        return f"measure the grass and say its height; then the way down to {wanted:g} mm is told."
    if not down:
        return f"it stands at its {wanted:g} mm."
    if len(down) == 1:
        return f"{waits}one cut to {wanted:g} mm does it, box on."
    steps = ", ".join(f"{each.cut_mm:.0f} mm on day {each.day}" for each in down)
    over = " The last takes more than a third." if down[-1].is_over_third else ""
    blind = " Growth between is not known for want of weather." if is_blind else ""
    return f"{waits}down in {len(down)} cuts, boxed and taken off: {steps}.{over}{blind}"


def _waits(sit: Situation) -> str:
    """Say what keeps the mower in, or the cut from going lower, before the way down is told."""
    cut = fit_today(sit, "cut")
    if cut.overall is Overall.NOT_FIT:
        why = ", ".join(f"{each.name}: {each.because}" for each in cut.deciding)
        return f"not today ({why}); then "
    lower = waits_to_go_lower(cut)
    return f"not lower yet ({lower}); then " if lower else ""


def _clock(sit: Situation, down: tuple[LoweringCut, ...]) -> str:
    clock = seeding_clock(sit)
    if clock.state in {ClockState.RESTING, ClockState.NOT_STARTED}:
        return clock.because
    part = (
        f" The first cut resets it only in part, until back at {sit.zone.height_of_cut_mm:g} mm"
        " or tufts are checked."
        if len(down) > 1 else ""
    )  # fmt: skip
    if clock.state is ClockState.PAST:
        fell = (clock.days_past or 0) > value("shed_days")
        seed = "seed has fallen" if fell else "cut and rake up before seed falls"
        return f"{clock.days_past} days past; {seed}.{part}"
    return f"{clock.state.value}.{part}"


def _day(day: date) -> str:
    return f"{day.day} {day:%B}"
