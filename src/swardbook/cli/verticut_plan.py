"""``swardbook verticut plan``, ``machine``, ``strips`` and ``read-back``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.cut_plan import (
    going_lines,
    going_payload,
    line_words,
    machine_lines,
    machine_payload,
    machine_texts,
)
from swardbook.cli.doors import Door, door_options, zone_told
from swardbook.cli.minding import mind_these, tell_these, with_cautions
from swardbook.cli.output import table
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.results import keep_options, show_answer
from swardbook.cli.verticut import datum_option
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.verticutting import Slices, TrialSetOut, VerticutAnswer
    from swardbook.planning.verticutting import Likely, VerticutPlan

WAYS = {"": "", "along": "strips along the long side", "across": "strips across it",
        "squares": "squares"}  # fmt: skip


@click.command()
@click.option("--depth", default="", help="Depth of the blade tips; none: the usual. Bare is mm.")
@datum_option()
@click.option("--passes", default=1, show_default=True, type=click.IntRange(1, 8))
@click.option("--sides", default="", help="Sides of the zone, such as 32x25.6; bare is m.")
@zone_told("needed where there are several")
@keep_options
@door_options
def plan(
    door: Door, depth: str, datum: str, passes: int, sides: str, zone: str,
    keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Plan a verticut: fit today, depth, line, what it opens, when that closes, what to do after.

    Scarifying is a depth --datum 'below surface'.
    """
    from swardbook.book.fields import quantity
    from swardbook.book.verticutting import answer_verticut, verticut_to_keep

    read = quantity(depth.replace("−", "-"), "mm", "--depth") if depth else None
    book = door.book()
    found = answer_verticut(book, zone, read, datum, passes, sides)
    kept = verticut_to_keep(found, {"depth": depth, "passes": f"{passes}", "sides": sides})
    show_answer(door, book, kept, _plan_payload(found), _plan_lines(found),
                zone=found.plan.zone, keeping=keeping)  # fmt: skip


@click.command()
@click.option("--blade", default="", help="Thickness of a blade; bare is mm.")
@click.option("--spacing", default="", help="From blade to blade; bare is mm.")
@click.option("--tips", default="", help="Tips or teeth round one blade.")
@click.option("--turns", default="", help="Turns of the shaft a minute.")
@click.option("--width", default="", help="Width it works; bare is mm.")
@click.option("--overlap", default="", help="Overlap of passes; bare is mm.")
@click.option("--speed", default="", help="Speed: '0.8 m/s', '3 km/h'; bare is m/s.")
@click.option("--turn", default="", help="Seconds for one turn.")
@click.option("--vibration", default="", help="Vibration by its plate or sheet, m/s².")
@keep_options
@door_options
def machine(door: Door, zone: str, keeping: dict[str, str] | None, **said: str) -> None:
    """Keep the facts of the verticut unit once: blades, spacing, tips, width, vibration."""
    from swardbook.book.machines import VERTICUT, kept_machine, machine_of

    book = door.book()
    ground = book.ground()
    name = ground.zone(zone).name if zone else ""
    typed = machine_texts(said)
    known = machine_of(ground, VERTICUT, name, typed)
    payload, lines = with_cautions(
        {"machine": machine_payload(known)}, machine_lines(known, "tips on each blade"), "verticut"
    )
    show_answer(door, book, kept_machine(VERTICUT, known, typed), payload, lines, zone=name,
                keeping=keeping)  # fmt: skip


@click.command()
@click.option("--sides", default="", help="Sides of the ground, such as 32x25.6; bare is m.")
@click.option("--pairs", default=8, show_default=True, type=int, help="Pairs, treated and not.")
@click.option("--way", default="", type=click.Choice(tuple(WAYS)), show_choices=False,
              metavar="WAY", help="along, across or squares; none: what has room.")  # fmt: skip
@click.option("--letter", default="S", show_default=True, help="What their names begin with.")
@click.option("--seed", type=click.IntRange(0), default=None, help="Seed of the coin tosses.")
@click.option("--difference", type=float, default=None, help="To be shown, points of cover.")
@click.option("--spread", type=float, default=None, help="Spread within pairs, points of cover.")
@click.option("--heads", nargs=2, type=click.FloatRange(0, 100), default=None,
              metavar="LEFT TREATED", help="Tufts with heads to tell apart, %.")  # fmt: skip
@picture_option("the strips or squares")
@zone_told("needed where there are several")
@keep_options
@door_options
def strips(
    door: Door, sides: str, pairs: int, way: str, letter: str, seed: int | None,
    difference: float | None, spread: float | None, heads: tuple[float, float] | None,
    picture: Path | None, zone: str, keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Set out treated and untreated strips or squares, so that the ground tells what it does.

    Which of a pair is treated is a coin toss whose seed is kept. With --keep each gets a peg to
    count at; `verticut read-back` compares them.
    """
    from swardbook.book.verticutting import TrialAsked, draw_strips, keep_strips, set_out_strips
    from swardbook.book.worked_out import Answer

    check_places(picture)
    shares = None if heads is None else (heads[0] / 100, heads[1] / 100)
    book = door.book()
    asked = TrialAsked(sides, pairs, WAYS[way], letter, seed, difference, spread, shares)
    found = set_out_strips(book, zone, asked)
    kept = Answer("", "") if keeping is None else keep_strips(book, found, keeping["when"])
    payload, lines = with_picture(
        picture, lambda: draw_strips(book, found), _strips_payload(found), _strips_lines(found)
    )
    payload, lines = with_cautions(payload, lines, "verticut")
    show_answer(door, book, kept, payload, lines, zone=found.zone, keeping=keeping)


@click.command("read-back")
@click.option("--zone", "-z", default="", help="Zone, by name.")
@click.option(
    "--species", default="annual meadow-grass", show_default=True, help="What to compare."
)
@click.option("--smallest", type=float, default=None, metavar="POINTS",
              help="Smallest difference of cover worth acting on.  [default: 5]")  # fmt: skip
@door_options
def read_back(door: Door, zone: str, species: str, smallest: float | None) -> None:
    """Read back strips or squares that were counted: whether the verticutting did it."""
    from swardbook.book.count_sheet import read_kind
    from swardbook.book.mowing import one_zone
    from swardbook.book.verticutting import read_strips
    from swardbook.cli.compare import smallest_of, strips_told

    book = door.book()
    name, kind = one_zone(book, zone), read_kind(species)
    made = read_strips(book, name, kind, smallest_of(smallest))
    payload, lines = strips_told(made, name, kind)
    door.show({"species": kind, **payload}, lines, book)


def _plan_lines(found: VerticutAnswer) -> list[str]:
    told, lines = found.plan, list[str]()
    lines += under(told.fit.overall.shape,
                   f"{told.zone}, {told.fit.job}: {told.fit.overall.value} today.", 0)  # fmt: skip
    lines += [part for each in told.fit.deciding[:3]
              for part in under(each.state.shape, f"{each.name}: {each.because}")]  # fmt: skip
    if told.fit.waits_for:
        lines += under("", f"Next fit when: {'; '.join(told.fit.waits_for[:2])}.")
    lines += ["", *_how_lines(told), *_slices_lines(found.slices, told.passes)]
    lines += _closing_lines(told)
    lines += going_lines(found.going, "Lines")
    lines += ["", "Straight after:"]
    lines += [part for n, each in enumerate(told.after, 1) for part in under(f"{n}.", each)]
    if told.not_known:
        lines += ["", "Not known, and what rests on it:"]
        lines += [part for each in told.not_known for part in under("?", each)]
    return [*lines, *mind_these(found.cautions)]


def _how_lines(told: VerticutPlan) -> list[str]:
    depth = told.depth
    runs = f"{depth.above_soil_mm:g} mm above the soil" if depth.above_soil_mm >= 0 else (
        f"{-depth.above_soil_mm:g} mm in the soil"
    )  # fmt: skip
    told_depth = f"Depth {depth.depth_mm:g} mm {depth.datum} ({depth.because})"
    lines = under("", f"{told_depth}: the tips run {runs}. Set it on a bar off the ground, then"
                      " look at a first pass.", 0)  # fmt: skip
    if told.line_deg is None:
        return lines + under("", "Line: the last one is not noted; take one that crosses what"
                                 " shows, and note it.", 0)  # fmt: skip
    assert told.last_deg is not None
    line, last = line_words(told.line_deg), line_words(told.last_deg)
    return lines + under("", f"Line {line}, {told.crosses_deg:.0f}° across the last ({last})."
                             " Never the same again.", 0)  # fmt: skip


def _slices_lines(found: Slices, passes: int) -> list[str]:
    whence = "" if found.are_measured else "; blades as usual, measure yours"
    lines = under("", f"Blades pass over {100 * found.share:.0f} % of the surface in {passes}"
                      f" pass{'es' * (passes > 1)} ({found.blade_mm:g} mm every"
                      f" {found.spacing_mm:g} mm{whence}).", 0)  # fmt: skip
    if found.pitch_mm is not None:
        lines += under("", f"A tip strikes every {found.pitch_mm:.0f} mm along its line.", 0)
    if found.spoil_l is None:
        told = "Tips stay out of the soil: what comes up is leaf, shoots and moss."
        return lines + under("", f"{told} How much nobody has measured: note the boxes.", 0)
    return lines + under("", f"The slits held {found.spoil_l:,.0f} L as it lay, about"
                             f" {found.barrows:.0f}"
                             f" barrow{_s(found.barrows)} loose.", 0)  # fmt: skip


def _s(many: float | None) -> str:
    return "s" * (round(many or 0) != 1)


def _closing_lines(told: VerticutPlan) -> list[str]:
    opened = told.opened
    lines = under("", f"Bare ground added about {100 * opened.value:.1f} %, likely"
                      f" {100 * opened.low:.1f} % to {100 * opened.high:.1f} %.", 0)  # fmt: skip
    back, gaps = told.recovers_days, told.gaps_days
    if back is None or told.growth is None:
        why = "no weather up to today, or hardly any growth"
        return lines + under("", f"When it closes over: not told, for there is {why}.", 0)
    lines += under("", f"Closed over in about {back.value:.0f} days, likely {back.low:.0f} to"
                       f" {back.high:.0f}: the usual of full growth, at"
                       f" {100 * told.growth.of_full:.0f} % of it now."
                       " Here strips would tell.", 0)  # fmt: skip
    if gaps is None:
        return lines
    return lines + under("", "Bare spots wider than a thumb take longer: nine tenths in"
                             f" {gaps.low:.0f} to {gaps.high:.0f} days; refill what is"
                             " larger.", 0)  # fmt: skip


def _strips_lines(found: TrialSetOut) -> list[str]:
    laid, shows = found.laid, found.shows
    rows = [
        (each.name, "treated" if each.is_treated else "left",
         *(f"{corner:.2f} to {corner + size:.2f}"
           for corner, size in zip(each.corner_m, each.size_m, strict=True)))
        for each in laid.pieces
    ]  # fmt: skip
    lines = under("", f"{found.zone}: {shows.pairs} pairs of {laid.way}, each {laid.width_m:.2f} m"
                      f" wide; coin tosses by seed {found.seed}.", 0)  # fmt: skip
    lines += ["", *table(("name", "what", "m along", "m across"), rows), ""]
    lines += under("", "Treated and left differ in the verticut alone: cut, feed, water and seed"
                       " both alike, on the same days.", 0)  # fmt: skip
    if laid.way == "squares":
        lines += under("", "Squares are wide enough to cross the last line: cross it.", 0)
    else:
        lines += under("", "In strips the line is the strip: go up and down it, each time offset by"
                           f" half the spacing of the blades, {found.offset_mm:.0f} mm. The outer"
                           " passes are guards: count in the middle one.", 0)  # fmt: skip
    mark = "✓" if shows.is_enough else "✗"
    lines += under(mark, f"To show {shows.difference:g} points of cover where pairs spread by"
                         f" {shows.spread:g}: {shows.pairs_wanted} pairs; there are"
                         f" {shows.pairs}.", 0)  # fmt: skip
    lines += under("", f"To tell {100 * shows.share_untreated:.0f} % of tufts with heads from"
                       f" {100 * shows.share_treated:.0f} %: flag {shows.tufts} tufts treated"
                       f" and as many left, {shows.tufts_a_piece} in each. Tufts of one strip are"
                       " alike, so more pairs tell more than more tufts.", 0)  # fmt: skip
    return [*lines, *under("", "Count before the first pass and a season later, by one person who"
                               " does not look up which is which. Then: swardbook verticut"
                               " read-back.", 0)]  # fmt: skip


def _plan_payload(found: VerticutAnswer) -> dict[str, Any]:
    told, slices = found.plan, found.slices
    return {
        "zone": told.zone,
        "job": told.fit.job,
        "fit_today": told.fit.overall.value,
        "fit_deciding": [f"{each.name}: {each.because}" for each in told.fit.deciding],
        "waits_for": list(told.fit.waits_for),
        "depth_mm": told.depth.depth_mm,
        "datum": told.depth.datum,
        "tips_above_soil_mm": told.depth.above_soil_mm,
        "passes": told.passes,
        "line_deg": told.line_deg,
        "last_line_deg": told.last_deg,
        "crosses_deg": told.crosses_deg,
        "last_on": told.last_on.isoformat() if told.last_on else None,
        "blade_mm": slices.blade_mm,
        "spacing_mm": slices.spacing_mm,
        "blades_measured": slices.are_measured,
        "sliced_share": round(slices.share, 4),
        "spoil_l": None if slices.spoil_l is None else round(slices.spoil_l, 1),
        "spoil_barrows": None if slices.barrows is None else round(slices.barrows, 1),
        "strike_pitch_mm": None if slices.pitch_mm is None else round(slices.pitch_mm, 2),
        "bare_added_share": round(told.opened.value, 4),
        "bare_added_low_share": round(told.opened.low, 4),
        "bare_added_high_share": round(told.opened.high, 4),
        **_likely("recovers", told.recovers_days),
        **_likely("bare_spots_close", told.gaps_days),
        "lines": going_payload(found.going),
        "after": list(told.after),
        "not_known": list(told.not_known),
        "cautions": tell_these(found.cautions),
    }


def _likely(name: str, days: Likely | None) -> dict[str, float | None]:
    ends = (("", "value"), ("_low", "low"), ("_high", "high"))
    return {f"{name}{end}_days": None if days is None else round(getattr(days, part), 1)
            for end, part in ends}  # fmt: skip


def _strips_payload(found: TrialSetOut) -> dict[str, Any]:
    laid, shows = found.laid, found.shows
    return {
        "zone": found.zone,
        "way": laid.way,
        "width_m": round(laid.width_m, 3),
        "room_for_pairs": laid.fits,
        "seed": found.seed,
        "line_offset_mm": found.offset_mm,
        "pieces": [
            {"name": each.name, "pair": each.pair, "treated": each.is_treated,
             "along_from_m": round(each.corner_m[0], 3),
             "across_from_m": round(each.corner_m[1], 3),
             "along_m": round(each.size_m[0], 3), "across_m": round(each.size_m[1], 3)}
            for each in laid.pieces
        ],
        "difference_points": shows.difference,
        "spread_points": shows.spread,
        "pairs": shows.pairs,
        "pairs_wanted": shows.pairs_wanted,
        "enough_pairs": shows.is_enough,
        "tufts_each_side": shows.tufts,
        "tufts_each_piece": shows.tufts_a_piece,
        "share_with_heads_untreated": round(shows.share_untreated, 4),
        "share_with_heads_treated": round(shows.share_treated, 4),
    }  # fmt: skip
