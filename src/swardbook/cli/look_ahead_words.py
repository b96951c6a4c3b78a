"""The look-ahead in words: a minute's reading."""

from __future__ import annotations

from typing import TYPE_CHECKING

from swardbook.cli.output import table
from swardbook.cli.wrapping import heading, under

if TYPE_CHECKING:
    from swardbook.book.look_ahead import Change, ZoneLookAhead
    from swardbook.model.prospects import Contrast, Range

MARKS = {"better": "■", "holding": "◧", "slipping": "□", "cannot say": "?"}


def lines_of(found: ZoneLookAhead) -> list[str]:
    """Write a look-ahead in lines."""
    return [
        *_head(found), "",
        *_programmes(found), "",
        *_ways_ahead(found), "",
        *_how_sure(found), "",
        *_changes(found),
        *_held_back(found),
    ]  # fmt: skip


def _head(found: ZoneLookAhead) -> list[str]:
    look = found.look
    lines = heading(f"{found.zone}: the look-ahead, {found.label}")
    now = _weed(look.now, found)
    lines += under(
        "", f"Annual meadow-grass (Poa annua) is likely at {now} tonight."
        f" {_best(found)} No figure here is a promise: each range holds four of five of"
        f" {look.question.draws:,} draws.", 0,
    )  # fmt: skip
    if found.why_not_full:
        lines += under("", f"No verdict on next year. {found.why_not_full}", 0)
    return lines


def _best(found: ZoneLookAhead) -> str:
    """Say what the order of programmes lets one say, and no more."""
    look = found.look
    by_key = {each.programme.key: each for each in look.prospects}
    first = look.question.plans[0]
    best = by_key[look.ranking[0]]
    if best.programme.key == first.key:
        return f"No programme is likely to leave less by next October than {first.name.lower()}."
    made = best.against["autumn"]
    return (
        f"{best.programme.name} is likely to leave least by next October;"
        f" against {first.name.lower()}: {made.verdict.value}."
    )


def _programmes(found: ZoneLookAhead) -> list[str]:
    first = found.look.question.plans[0].name
    heads = ("programme", "next year", "less than last Oct.", "hours a year", "GBP a year",
             f"against {first.lower()}")  # fmt: skip
    rows = []
    for each in found.look.prospects:
        year = found.years[each.programme.key].value
        since = each.since_last_autumn
        rows.append((
            each.programme.name,
            f"{MARKS[year]} {year}",
            f"{_tenths(since.share_less)} in 10" if since else "not known",
            _span(each.hours_year),
            _span(each.money_year) if found.is_priced else "not told",
            _against(each.against["autumn"], each.programme.name == first),
        ))  # fmt: skip
    lines = table(heads, rows)
    if found.weekly_hours is not None:
        lines.append(f"There are {found.weekly_hours:g} hours a week for the whole site.")
    return lines


def _ways_ahead(found: ZoneLookAhead) -> list[str]:
    days = [f"{each.day.day} {each.day:%b %Y}" for each in found.look.horizons]
    unit = "plants a m²" if found.look.question.by_plants else "% of the ground"
    lines = [f"Annual meadow-grass, {unit}, likely range; then seed, gaps and fog by {days[1]}."]
    heads = ("programme", *days, "seed a m²", "bare %", "fog %")
    rows = []
    for each in found.look.prospects:
        autumn = each.at["autumn"]
        rows.append((
            each.programme.name,
            *(_weed(each.at[mark.key], found, bare=True) for mark in found.look.horizons),
            _span(autumn["seed_returned"]),
            _span(autumn["bare"]),
            _span(autumn["yorkshire_fog_cover"]),
        ))  # fmt: skip
    lines += table(heads, rows)
    return [*lines, "Yorkshire fog (Holcus lanatus) is general knowledge: no count teaches it yet."]


def _how_sure(found: ZoneLookAhead) -> list[str]:
    from swardbook.book.look_ahead import plain_name

    look = found.look
    lines = heading("How sure")
    years = f"{len(look.past_years)} past years of this site, {look.past_years[0]} to"
    lines += under("", f"Weather ahead: {years} {look.past_years[-1]}. Every programme meets the"
                       " same draws and the same weather.", 0)  # fmt: skip
    if look.expected:
        last = look.expected[-1]
        unit = "%" if last.unit == "%" else "plants a m²"
        inside = "inside" if last.was_inside else "outside"
        lines += under(
            "", f"Last count, {last.day.day} {last.day:%B %Y}: {_figure(last.found)} {unit} found,"
            f" {_figure(last.at80.low)} to {_figure(last.at80.high)} expected before it: {inside}."
            f" Fewest effective draws: {look.effective_draws:,.0f} of {look.question.draws:,}.", 0,
        )  # fmt: skip
    moved = [plain_name(each.unknown) for each in look.moved[:3]]
    if moved:
        lines += under("", f"Your counts moved most: {'; '.join(moved)}.", 0)
    if found.judged:
        names = "; ".join(each.name for each in found.judged[:3])
        lines += under("", f"The order leans on judged numbers: {names}.", 0)
    return lines


def _changes(found: ZoneLookAhead) -> list[str]:
    if not found.changes:
        return []
    lines = heading("What would change the advice")
    by_key = {each.programme.key: each.programme.name for each in found.look.prospects}
    told: list[str] = []
    for each in found.changes:
        done = each.measurement.does if each.measurement else ""
        if done and done in told:
            continue
        told.append(done)
        lines += under("-", _change(each, by_key), 0)
    return [*lines, ""]


def _change(change: Change, names: dict[str, str]) -> str:
    name = change.name[0].upper() + change.name[1:]
    if change.turn:
        low, high = names[change.turn.low], names[change.turn.high]
        words = f"{name}: if low {low.lower()} is ahead, if high {high.lower()}."
    else:
        words = f"{name}: moves the two best apart or together."
    if change.measurement is None:
        return words
    return f"{words} {change.measurement.does} (about {change.measurement.hours:g} h)."


def _held_back(found: ZoneLookAhead) -> list[str]:
    reasons: dict[str, None] = {}
    for each in found.look.question.plans:
        reasons |= dict.fromkeys(each.held_back)
    if not reasons:
        return []
    return [*heading("What this zone allows"), *(f"- {each}" for each in reasons)]


def _weed(measures: object, found: ZoneLookAhead, *, bare: bool = False) -> str:
    by_plants = found.look.question.by_plants
    key = "annual_meadow_grass_plants" if by_plants else "annual_meadow_grass_cover"
    span = _span(measures[key])  # type: ignore[index]
    if bare:
        return span
    return f"{span} plants a square metre" if by_plants else f"{span} % of the ground"


def _against(made: Contrast, same: bool) -> str:
    return "-" if same else f"{_way(made)}{made.verdict.value}"


def _way(made: Contrast) -> str:
    if made.verdict.value in {"clear", "clear but small", "leaning"}:
        return "less: " if made.difference < 0 else "more: "
    return ""


def _tenths(share: float) -> str:
    return f"{min(max(round(10 * share), 0), 10)}"


def _span(found: Range) -> str:
    low, high = _figure(found.at80.low), _figure(found.at80.high)
    return low if low == high else f"{low} to {high}"


def _figure(number: float) -> str:
    """Write no more figures than a range of this kind bears."""
    if number < 0.5:
        return "0" if number < 0.05 else f"{number:.1f}"
    if number < 10:
        return f"{number:.1f}".removesuffix(".0") if number < 3 else f"{number:.0f}"
    step = 10 ** max(len(str(int(number))) - 2, 0)
    return f"{round(number / step) * step:,.0f}"


__all__ = ["lines_of"]
