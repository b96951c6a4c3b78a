"""``swardbook feed``: record a feed with its label figures; the year's plan and ledger."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.chosen import unit_in_chosen
from swardbook.cli.doors import Door, door_options, entry_options, zone_told
from swardbook.cli.minding import mind, told_cautions
from swardbook.cli.recording import Recording, is_recording
from swardbook.cli.results import keep_options, show_answer
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.husbandry.labels import Given
    from swardbook.planning.feed_year import FeedMonth, FeedYear


class FeedVerb(Recording):
    """Records when called alone."""

    module = "swardbook.cli.feed"
    plans = ("plan", "ledger")


@click.group(cls=FeedVerb, invoke_without_command=True)
@click.option("--product", default="", help="As the bag says; kept as typed.")
@click.option("--rate", default="", help="Of product: 25, '25 g/m2', '5 lb/1000ft2'; bare is g/m².")
@click.option("--npk", default="", help="Label figures, 12-0-9: N, P₂O₅ and K₂O as printed.")
@click.option("--elements", is_flag=True, help="The label prints P and K as elements.")
@click.option("--iron", type=click.FloatRange(0, 100), default=0.0, help="Iron, percent.")
@click.option("--watered-in/--not-watered-in", "watered_in", default=None)
@entry_options
@door_options
def command(
    door: Door, product: str, rate: str, npk: str, elements: bool, iron: float,
    watered_in: bool | None, **said: Any,
) -> None:  # fmt: skip
    """Record a feed; label figures are read as oxides unless you say otherwise.

    `feed plan` spreads the year's nitrogen over its months, `feed ledger` adds up what was given.
    """
    if not is_recording():
        return
    from dataclasses import asdict

    from swardbook.book.fields import rate_and_doubt
    from swardbook.cli.keeping import keep_and_answer
    from swardbook.husbandry.happenings import Feed
    from swardbook.husbandry.labels import given, read_label

    per_m2, asked = rate_and_doubt(rate)
    figures = read_label(npk, elements) if npk else None
    what = Feed(
        product=product,
        rate_g_m2=per_m2,
        nitrogen_percent=figures[0] if figures else None,
        p2o5_percent=figures[1] if figures else 0.0,
        k2o_percent=figures[2] if figures else 0.0,
        iron_percent=iron,
        watered_in=watered_in,
    )
    gave = given(what)
    payload = {f"{name}_g_m2": number for name, number in asdict(gave).items()} if gave else {}
    keep_and_answer(door, what, said, asked, _lines(gave, elements), {"given": payload})


def _lines(gave: Given | None, are_elements: bool) -> list[str]:
    if gave is None:
        return ["Give --rate and --npk to know the nitrogen."]
    read = "P and K read as elements" if are_elements else "label read as N–P₂O₅–K₂O"
    return [
        f"Gives N {gave.nitrogen:.1f}, P₂O₅ {gave.p2o5:.1f} (P {gave.phosphorus:.1f}),"
        f" K₂O {gave.k2o:.1f} (K {gave.potassium:.1f}) g/m²; {read}."
    ]


@click.command()
@click.option("--nitrogen", default="", help="Nitrogen of the year; bare is g/m².")
@zone_told("needed")
@keep_options
@door_options
def plan(door: Door, nitrogen: str, zone: str, keeping: dict[str, str] | None) -> None:
    """Plan the year's feed: two splits by month, what is left, what is due, and what to mind."""
    from swardbook.book.feed_year import feed_year_of, kept_plan

    book = door.book()
    found = feed_year_of(book, _zone(zone), nitrogen)
    lines = [*_plan_lines(found), *_mind_lines(found)]
    show_answer(door, book, kept_plan(found), _year_payload(found), lines, zone=zone,
                keeping=keeping)  # fmt: skip


@click.command()
@click.option("--zone", "-z", default="", help="Zone, by name.")
@door_options
def ledger(door: Door, zone: str) -> None:
    """Add up the year's feeds as elements, with what boxed clippings took away."""
    from swardbook.book.feed_year import feed_year_of

    book = door.book()
    found = feed_year_of(book, _zone(zone))
    door.show(_year_payload(found), _ledger_lines(found), book)


def _zone(zone: str) -> str:
    if not zone:
        raise click.UsageError("Which zone? Say --zone NAME.")
    return zone


def _plan_lines(found: FeedYear) -> list[str]:
    from swardbook.cli.output import table
    from swardbook.foundation.dates import say
    from swardbook.planning.feed_year import doses, what_is_due

    rows = [
        (f"{each.first:%B}", "?" if each.by_growth is None else f"{each.by_growth:.1f}",
         f"{each.by_spring:.1f}", str(doses(each.by_spring) or "-"), f"{each.given:.1f}",
         f"{each.filled} of {each.cuts}" if each.cuts else "-")
        for each in found.months
    ]  # fmt: skip
    unit = "g N/m²"
    lines = under("", f"{found.zone}: {found.year_g_m2:.1f} {unit} from {say(found.since)} to"
                      f" {say(found.until)}; {found.low:g} to {found.high:g} is common for this"
                      " turf.", 0)  # fmt: skip
    heads = ("month", "by warmth", "for spring", "feeds", "given", "box filled")
    lines += ["", *table(heads, rows, ("", unit, unit, "", unit))]
    told = (
        "By warmth alone a spring goes hungry; go by the second column and by the box."
        f" {unit_in_chosen(unit)} in all but the last two."
    )
    lines += ["", *under("", told, 0)]
    if found.weather_years == 0 or all(each.by_growth is None for each in found.months):
        lines += under("", "No year of weather in the book, so no split by warmth.", 0)
    lines += under("", f"Given {found.given:.1f}, left {max(found.left, 0):.1f} g N/m²."
                       f" {what_is_due(found)}", 0)  # fmt: skip
    return lines


def _mind_lines(found: FeedYear) -> list[str]:
    lines = [""]
    if found.phosphorus_ample:
        lines += under("-", "The soil test is ample in phosphorus: nitrogen only.", 0)
    elif found.phosphorus_ample is None:
        lines += under("-", "No phosphorus test here: whether the soil needs any is not known.", 0)
    for told in found.iron:
        lines += under("-", told, 0)
    return [*lines, *mind("feed", when=("iron",))]


def _ledger_lines(found: FeedYear) -> list[str]:
    from swardbook.cli.output import table
    from swardbook.foundation.dates import say
    from swardbook.handbook.parameters import value
    from swardbook.planning.feed_year import what_is_due

    rows = [
        (f"{each.day.day} {each.day:%B}", each.product or "feed", _said(each.rate_g_m2, 0),
         _said(each.nitrogen), _said(each.phosphorus), _said(each.potassium),
         _said(each.iron or None), f"{each.so_far:.1f}")
        for each in found.lines
    ]  # fmt: skip
    unit = "g/m²"
    lines = [f"{found.zone}, since {say(found.since)}; {unit_in_chosen(unit)} as elements.", ""]
    heads = ("day", "product", "rate", "N", "P", "K", "Fe", "N so far")
    lines += table(heads, rows, ("", "", *[unit] * 6))
    off = value("spreader_overlap")
    least = "at least " if found.not_known else ""
    strips = f"{found.given * (1 - off):.1f} to {found.given * (1 + off):.1f}"
    told = (
        f"Nitrogen {least}{found.given:.1f} g/m²; {found.low:g} to {found.high:g} is common for"
        f" this turf. With overlaps strips had {strips} g/m²."
    )
    lines += ["", *under("", told, 0)]
    if found.not_known:
        lines += under("", f"{found.not_known} feeds without rate or label figures.", 0)
    lines += under("", _exported_words(found), 0)
    lines += under("", f"Left of {found.year_g_m2:.1f} g/m²: {max(found.left, 0):.1f} g N/m²."
                       f" {what_is_due(found)}", 0)  # fmt: skip
    lines += under("", "Whom the feed favoured cannot be told from one rate everywhere: leave two"
                       " strips at half rate to learn it.", 0)  # fmt: skip
    return [*lines, *mind("feed", when=("iron",))]


def _exported_words(found: FeedYear) -> str:
    gone = found.exported
    if gone is None:
        return "Clippings taken off: not known; no boxed cut with weather beside it."
    told = (
        f"Boxed clippings took about {gone.middle:.0f} g N/m² ({gone.low:.0f} to {gone.high:.0f},"
        f" judged) in {gone.cuts} cuts: rather less in a hungry or dry sward."
    )
    return f"{told} {gone.not_told} cuts do not say." if gone.not_told else told


def _said(number: float | None, digits: int = 1) -> str:
    return "-" if number is None else f"{number:.{digits}f}"


def _year_payload(found: FeedYear) -> dict[str, Any]:
    from dataclasses import asdict

    from swardbook.planning.feed_year import what_is_due

    gone = found.exported
    return {
        "zone": found.zone,
        "since": found.since.isoformat(),
        "until": found.until.isoformat(),
        "year_g_m2": found.year_g_m2,
        "common_low_g_m2": found.low,
        "common_high_g_m2": found.high,
        "given_g_m2": round(found.given, 3),
        "left_g_m2": round(found.left, 3),
        "feeds_not_known": found.not_known,
        "feeds": [
            {"day": each.day.isoformat(), "product": each.product, "rate_g_m2": each.rate_g_m2,
             "nitrogen_g_m2": _r(each.nitrogen), "phosphorus_g_m2": _r(each.phosphorus),
             "potassium_g_m2": _r(each.potassium), "iron_g_m2": _r(each.iron),
             "nitrogen_so_far_g_m2": _r(each.so_far)}
            for each in found.lines
        ],
        "clippings_nitrogen_g_m2": None if gone is None else {
            name: round(part, 3) if isinstance(part, float) else part
            for name, part in asdict(gone).items()
        },
        "months": [_month_payload(each) for each in found.months],
        "weather_years": round(found.weather_years, 1),
        "next_from": found.next_from.isoformat() if found.next_from else None,
        "next_to": found.next_to.isoformat() if found.next_to else None,
        "next_at_most_g_m2": _r(found.next_g_m2),
        "due": what_is_due(found),
        "phosphorus_ample": found.phosphorus_ample,
        "iron": list(found.iron),
        "cautions": told_cautions("feed", when=("iron",)),
    }  # fmt: skip


def _month_payload(month: FeedMonth) -> dict[str, Any]:
    return {
        "from": month.first.isoformat(),
        "by_growth_g_m2": _r(month.by_growth),
        "for_spring_g_m2": _r(month.by_spring),
        "given_g_m2": _r(month.given),
        "cuts_that_filled_the_box": month.filled,
        "cuts_that_say": month.cuts,
    }


def _r(number: float | None) -> float | None:
    return None if number is None else round(number, 3)
