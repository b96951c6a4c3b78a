"""The look-ahead in words: a minute's reading."""

from __future__ import annotations

from typing import TYPE_CHECKING

from swardbook.cli.look_ahead_advice import advice_lines
from swardbook.cli.output import table
from swardbook.cli.trial_learned import learned_told
from swardbook.cli.wrapping import heading, under

if TYPE_CHECKING:
    from datetime import date

    from swardbook.book.look_ahead import ZoneLookAhead
    from swardbook.model.expecting import Expected
    from swardbook.model.prospects import Contrast, Range

MARKS = {"better": "■", "holding": "◧", "slipping": "□", "cannot say": "?"}
_REST = ("seed_returned", "bare", "yorkshire_fog_cover")


def lines_of(found: ZoneLookAhead) -> list[str]:
    """Write a look-ahead in lines."""
    return [
        *_head(found), "",
        *_programmes(found), "",
        *_work(found), "",
        *_ways_ahead(found), "",
        *_how_sure(found), "",
        *advice_lines(found),
        *_held_back(found),
    ]  # fmt: skip


def _head(found: ZoneLookAhead) -> list[str]:
    look = found.look
    lines = heading(f"{found.zone}: the look-ahead, {found.label}")
    now = _weed(look.now, found)
    lines += under(
        "", f"{_best(found)} Today annual meadow-grass (Poa annua) is likely at {now}."
        f" No figure here is a promise: each range holds four of five of"
        f" {look.question.draws:,} draws.", 0,
    )  # fmt: skip
    if found.why_not_full:
        lines += under("", f"No verdict on next year. {found.why_not_full}", 0)
    return lines


def _best(found: ZoneLookAhead) -> str:
    """Say the verdict first, and name a leader only where one stands apart."""
    led = found.look.leading
    if led is None:
        return ""
    names = {each.programme.key: each.programme.name for each in found.look.prospects}
    said, group = led.verdict.value.capitalize(), [names[key] for key in led.group]
    if led.is_leader:
        word = "is likely to leave" if said.startswith("Clear") else "may leave"
        return f"{said}: {_inside(group[0])} {word} least by next {_autumn(found)}."
    told = f"{said} by next {_autumn(found)}: {_listed(group)}."
    if led.behind:
        told += f" {_begun(_listed([names[key] for key in led.behind]))} likely leave"
        told += ("s" if len(led.behind) == 1 else "") + " more."
    return f"{told} {_decides(found, led.group)}"


def _autumn(found: ZoneLookAhead) -> str:
    day = next(each.day for each in found.look.horizons if each.key == "autumn")
    return f"{day:%B}"


def _decides(found: ZoneLookAhead, group: tuple[str, ...]) -> str:
    """Say what decides between programmes that cannot be told apart: hours, then money."""
    of = {each.programme.key: each for each in found.look.prospects}
    quick = min(group, key=lambda key: of[key].hours_year.median)
    told = (
        f"Hours then decide: {_inside(of[quick].programme.name)} takes fewest,"
        f" {span(of[quick].hours_year)} a year"
    )
    if not found.is_priced:
        return f"{told}."
    cheap = min(group, key=lambda key: of[key].money_year.median)
    if cheap == quick:
        return f"{told}, and least money."
    return f"{told}; least money {_inside(of[cheap].programme.name)}."


def _listed(names: list[str]) -> str:
    *most, last = [_inside(each) for each in names]
    return f"{', '.join(most)} and {last}" if most else last


def _inside(name: str) -> str:
    """Write a programme's name inside a sentence; capitals that a person gave it are kept."""
    return name[0].lower() + name[1:] if name[1:].islower() else name


def _begun(text: str) -> str:
    return text[0].upper() + text[1:]


def _programmes(found: ZoneLookAhead) -> list[str]:
    first = found.look.question.plans[0].name
    heads = (
        "programme",
        "next year",
        f"against {first.lower()}",
        f"less than last {_autumn(found)[:3]}.",
    )
    rows = []
    for each in found.look.prospects:
        year, since = found.years[each.programme.key].value, each.since_last_autumn
        rows.append((
            each.programme.name,
            f"{MARKS[year]} {year}",
            _against(each.against["autumn"], each.programme.name == first),
            f"{_tenths(since.share_less)} in 10" if since else "not known",
        ))  # fmt: skip
    return table(heads, rows)


def _work(found: ZoneLookAhead) -> list[str]:
    heads = ("programme", "hours a year", "hours a week in season", "GBP a year")
    rows = [
        (
            each.programme.name,
            span(each.hours_year),
            span(found.hours_week[each.programme.key]),
            span(each.money_year) if found.is_priced else "not told",
        )
        for each in found.look.prospects
    ]
    weeks = f"The hours are for this zone; the season of cuts has {found.season_weeks:.0f} weeks."
    if found.weekly_hours is not None:
        weeks += (
            f" There are {found.weekly_hours:g} hours a week of all people together for the whole"
            " site, not for this zone alone."
        )
    return [*table(heads, rows), *under("", weeks, 0)]


def _ways_ahead(found: ZoneLookAhead) -> list[str]:
    days = [f"{each.day.day} {each.day:%b %Y}" for each in found.look.horizons]
    unit = "plants a m²" if found.look.question.by_plants else "% of the ground"
    keys = [mark.key for mark in found.look.horizons]
    ways, rest = [], []
    for each in found.look.prospects:
        name, autumn = each.programme.name, each.at["autumn"]
        ways.append((name, *(_weed(each.at[key], found, bare=True) for key in keys)))
        rest.append((name, *(span(autumn[key]) for key in _REST)))
    return [
        f"Annual meadow-grass, {unit}, likely range.",
        *table(("programme", *days), ways), "",
        f"Its seed shed by {days[1]}; bare ground and fog on that day.",
        *table(("programme", "seed a m²", "bare %", "fog %"), rest),
        *under("", "Yorkshire fog (Holcus lanatus) and bare ground are learned from frames, and fog"
                   " from clumps, where they were looked for.", 0),
    ]  # fmt: skip


def _how_sure(found: ZoneLookAhead) -> list[str]:
    from swardbook.book.advice import plain_name

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
        lines += under("", _rest_of(look.expected_rest, last.day), 0)
    moved = [plain_name(each.unknown) for each in look.moved[:3]]
    if moved:
        lines += under("", f"Your counts moved most: {'; '.join(moved)}.", 0)
    for words in look.question.story.assumed:
        lines += under("", f"Assumed: {words}.", 0)
    for mark, words in learned_told(found.trial):
        lines += under(mark, words, 0)
    if found.hinges.judged:
        names = "; ".join(each.name for each in found.hinges.judged[:3])
        lines += under("", f"The order leans on judged numbers: {names}.", 0)
    return lines


def _rest_of(expected: tuple[Expected, ...], day: date) -> str:
    """Say what else was found on the day of the last count, against what was expected."""
    names = {"bare": "Bare ground", "yorkshire fog": "Yorkshire fog"}
    told = []
    for each in expected:
        if each.day == day:
            unit = "%" if each.unit == "%" else "plants a m²"
            name = names.get(each.kind, _begun(each.kind))
            inside = "inside" if each.was_inside else "outside"
            told.append(
                f"{name}: {_figure(each.found)} {unit} found, {_figure(each.at80.low)} to"
                f" {_figure(each.at80.high)} expected: {inside}."
            )
    return " ".join(told)


def _held_back(found: ZoneLookAhead) -> list[str]:
    reasons: dict[str, None] = {}
    for each in found.look.question.plans:
        reasons |= dict.fromkeys(each.held_back)
    young = found.look.question.story.young
    if young is not None and (still := young.weeks_still):
        weeks = f"{still} more growing week{'s' * (still != 1)}"
        reasons[f"no verticut before {weeks}: seedlings"] = None
    if not reasons:
        return []
    return [*heading("What this zone allows"), *(f"- {each}" for each in reasons)]


def _weed(measures: object, found: ZoneLookAhead, *, bare: bool = False) -> str:
    by_plants = found.look.question.by_plants
    key = "annual_meadow_grass_plants" if by_plants else "annual_meadow_grass_cover"
    told = span(measures[key])  # type: ignore[index]
    if bare:
        return told
    return f"{told} plants a square metre" if by_plants else f"{told} % of the ground"


def _against(made: Contrast, same: bool) -> str:
    return "-" if same else f"{way(made)}{made.verdict.value}"


def way(made: Contrast) -> str:
    """Say which way a difference goes, where it can be said."""
    if made.verdict.value in {"clear", "clear but small", "leaning"}:
        return "less: " if made.difference < 0 else "more: "
    return ""


def _tenths(share: float) -> str:
    return f"{min(max(round(10 * share), 0), 10)}"


def span(found: Range) -> str:
    """Write a likely range, with no more figures than it bears."""
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


__all__ = ["lines_of", "span", "way"]
