"""``swardbook count plan`` and ``count presence``: before a count, and what looks miss."""

from __future__ import annotations

from math import ceil, inf
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.count_planning import CountPlan, PresenceShown
    from swardbook.observations.count_plans import Expected, FewOrMany, PlantsPlan, SoFar
    from swardbook.observations.point_plans import PointsPlan


@click.command()
@click.option("--zone", "-z", required=True, help="The zone to be counted.")
@click.option("--species", default="annual meadow-grass", show_default=True, help="The kind.")
@click.option("--method", default="", help="plants or points; as last time if not said.")
@click.option("--precision", type=float, default=None, metavar="%",
              help="Standard error wanted, as % of the figure; 25 if not said.")  # fmt: skip
@click.option("--half-width", type=float, default=None, metavar="POINTS",
              help="Cover by points: half the length of the range wanted.")  # fmt: skip
@click.option("--change", type=float, default=None, metavar="TIMES",
              help="Change to be shown at a second count: 0.5 is half as many.")  # fmt: skip
@click.option("--area", "frame_m2", type=float, default=None, help="Area of the frame in m2.")
@click.option("--per-m2", type=float, default=None, help="Plants a m2, if you know better.")
@click.option("--clumping", type=float, default=None, help="k, if you know better.")
@click.option("--few", type=float, default=None, help="So few a m2 is fine; with --many.")
@click.option("--many", type=float, default=None, help="So many a m2 is not; with --few.")
@click.option("--so-far", default="", help="Plants in the first frames, such as 3,0,1,5.")
@click.option("--share", type=float, default=None, metavar="%",
              help="Share of places that none found is to rule out; 5 if not said.")  # fmt: skip
@click.option("--sees", type=float, default=None, metavar="%",
              help="How often one look sees it where it is; 100 if not said.")  # fmt: skip
@door_options
def plan(
    door: Door, zone: str, species: str, method: str, half_width: float | None,
    so_far: str, **said: float | None,
) -> None:  # fmt: skip
    """Say how many frames to count, when to stop, and what the first frames say.

    Frames at random over the zone, in random order: what is near is alike.
    """
    from swardbook.book.count_planning import ask_of_plants, plan_count
    from swardbook.book.count_sheet import read_kind

    asked = ask_of_plants(so_far, **said)
    book = door.book()
    made = plan_count(book, zone, read_kind(species), asked, method, half_width)
    lines = [_head(made)]
    if made.plants is not None:
        lines += _plants_lines(made.plants)
    if made.points is not None:
        lines += _points_lines(made.points)
    door.show(_payload(made), lines, book)


@click.command()
@click.option("--zone", "-z", required=True, help="The zone.")
@click.option("--species", default="annual meadow-grass", show_default=True, help="The kind.")
@click.option("--sees", type=float, default=None, metavar="%",
              help="How often one look notes it where it is, if you know.")  # fmt: skip
@click.option("--spares", type=float, default=100.0, metavar="%", show_default=True,
              help="How often a look notes none where there is none.")  # fmt: skip
@door_options
def presence(door: Door, zone: str, species: str, sees: float | None, spares: float) -> None:
    """Show the share of places that hold a kind, and what one look misses.

    Looks by two counters, or within three weeks, at the same places tell it.
    """
    from swardbook.book.count_planning import show_presence
    from swardbook.book.count_sheet import read_kind

    book = door.book()
    known = None if sees is None else sees / 100
    shown = show_presence(book, zone, read_kind(species), known, spares / 100)
    door.show(_presence_payload(shown), _presence_lines(shown), book)


def _head(made: CountPlan) -> str:
    from swardbook.handbook.species import in_words

    how = "plants in frames" if made.plants is not None else "cover by points"
    return f"{made.zone}, {in_words(made.kind)}: a count of {how}"


def _plants_lines(made: PlantsPlan) -> list[str]:
    known = made.expected
    error = f"{100 * made.relative_error:.0f} %"
    told = [
        f"Expected: {_range(known.per_m2, known.interval)} plants/m², {known.density_from};"
        f" clumping k {_range(known.clumping, known.clumping_interval)} in frames of"
        f" {known.frame_m2:g} m², {known.clumping_from}.",
        f"{made.frames} frames give a standard error of {error} of the figure"
        f"{_unknown(made.frames_range)}.",
        f"{made.frames_to_show} frames each time, at new places, show {made.ratio:.2g} times as"
        f" many {100 * made.chance_shown:.0f} times in 100. Fixed pegs need fewer.",
        *_stop_words(made, known),
        f"{made.places_without} places without a find say that fewer than"
        f" {100 * made.share_ruled_out:g} % of places hold it,"
        f" {_seeing(made.sees)}.",
    ]
    lines = [part for each in told for part in under("-", each)]
    if made.few_or_many is not None:
        lines += under("-", _short_words(made.few_or_many))
    if made.so_far is not None:
        lines += [part for each in _so_far_words(made, made.so_far) for part in under("--", each)]
    return lines


def _seeing(sees: float) -> str:
    if sees == 1:
        return "if a look never misses it"
    return f"if a look sees it {100 * sees:.0f} times in 100"


def _stop_words(made: PlantsPlan, known: Expected) -> list[str]:
    if not made.lines:
        return []
    steps = ", ".join(f"{plants} plants in {frames} frames" for frames, plants in made.lines)
    law = " By the power law of this zone's own counts." if known.law else ""
    return [f"Stop early at, or above: {steps}.{law}"]


def _short_words(short: FewOrMany) -> str:
    longest = max(short.frames_at_few, short.frames_between, short.frames_at_many)
    return (
        f"Telling {short.few:g} a m² or fewer from {short.many:g} or more takes about"
        f" {ceil(min(short.frames_at_few, short.frames_at_many))} to {ceil(longest)} frames;"
        f" wrong {100 * short.wrong_at_few:.0f} times in 100 at {short.few:g},"
        f" {100 * short.wrong_at_many:.0f} at {short.many:g}."
    )


def _so_far_words(made: PlantsPlan, so_far: SoFar) -> list[str]:
    low, high = so_far.interval
    if so_far.plants:
        first = f"{so_far.per_m2:.2g} plants/m² ({low:.2g} to {high:.2g})"
    else:
        first = f"none found; could still be up to {high:.2g} a m², more in clumps"
    told = [f"So far {so_far.frames} frames: {first}."]
    if so_far.is_enough:
        told.append("Stop: the precision wanted is reached.")
    elif so_far.still is not None:
        told.append(f"Count on: about {so_far.still} more frames for the precision wanted.")
    else:
        left = max(0, made.places_without - so_far.frames)
        share = f"{100 * made.share_ruled_out:g} % of places"
        told.append(f"Count on: {left} more without a find rule out {share}.")
    if so_far.finding is not None:
        told.append(_FINDINGS[so_far.finding.value])
    return told


_FINDINGS = {
    "few": "Few or many: few. That is settled, you can stop.",
    "many": "Few or many: many. That is settled, you can stop.",
    "count on": "Few or many: not settled yet, count on.",
}


def _points_lines(made: PointsPlan) -> list[str]:
    told = [
        f"Expected: cover {made.cover:.0f} %, {made.based_on}.",
        f"{made.places} places of {made.points_in_frame:g} points give the cover to ±"
        f"{made.half_width:g} points{_unknown(made.places_range)}.",
        f"Points in one frame are alike: alone, {made.points_if_independent} would do.",
    ]
    return [part for each in told for part in under("-", each)]


def _presence_lines(shown: PresenceShown) -> list[str]:
    from swardbook.foundation.dates import say
    from swardbook.handbook.species import in_words

    made = shown.made
    days = say(made.first) if made.first == made.last else f"{say(made.first)} to {say(made.last)}"
    told = [f"Noted at {made.noted} of {made.places} places: {_percent(made.apparent)} of them."]
    if made.corrected is not None:
        told.append(f"Put right for what looks miss and mistake: {_percent(made.corrected)}.")
    if made.occupancy is not None:
        told.append(
            f"By the {made.looked_twice} places looked at again: one look sees it"
            f" {100 * made.occupancy.detection:.0f} times in 100 where it is, and"
            f" {_percent(made.occupancy.interval)} of places hold it."
        )
        told.append("Taken to be the same plants at every look, and no look a mistake.")
    else:
        told.append(made.refusal)
    if made.abundance is not None:
        told.append(
            f"About {made.abundance.per_place:.2g} plants a place, of which one count takes in"
            f" {100 * made.abundance.detection:.0f} %: a weak figure, from few places."
        )
    head = f"{shown.zone}, {in_words(shown.kind)}, {days}"
    return [head, *(part for each in told for part in under("-", each))]


def _range(middle: float, interval: tuple[float, float]) -> str:
    low, high = interval
    return f"{middle:.2g}" if low == high else f"{middle:.2g} ({low:.2g} to {high:.2g})"


def _unknown(ends: tuple[int, int]) -> str:
    if ends[0] == ends[1]:
        return ""
    return f" ({ends[0]} to {ends[1]}, as what is expected may be off)"


def _percent(interval: tuple[float, float]) -> str:
    low, high = (f"{100 * end:.0f}" for end in interval)
    return f"{low} %" if low == high else f"{low} to {high} %"


def _payload(made: CountPlan) -> dict[str, Any]:
    return {
        "zone": made.zone,
        "kind": made.kind,
        "plants": _plants_payload(made.plants) if made.plants is not None else None,
        "points": _points_payload(made.points) if made.points is not None else None,
    }


def _plants_payload(made: PlantsPlan) -> dict[str, Any]:
    known, short, so_far = made.expected, made.few_or_many, made.so_far
    return {
        "frame_m2": known.frame_m2,
        "expected_plants_m2": known.per_m2,
        "expected_interval_plants_m2": list(known.interval),
        "expected_from": known.density_from,
        "clumping_k": known.clumping,
        "clumping_k_interval": list(known.clumping_interval),
        "clumping_from": known.clumping_from,
        "power_law": {"a": known.law.a, "b": known.law.b} if known.law else None,
        "relative_error": made.relative_error,
        "frames": made.frames,
        "frames_from_to": list(made.frames_range),
        "change_times": made.ratio,
        "frames_each_time_to_show_it": made.frames_to_show,
        "chance_shown": made.chance_shown,
        "stop_lines": [{"frames": n, "plants": plants} for n, plants in made.lines],
        "share_ruled_out": made.share_ruled_out,
        "sees": made.sees,
        "places_without_a_find": made.places_without,
        "few_or_many": None if short is None else {
            "few_plants_m2": short.few, "many_plants_m2": short.many,
            "slope_plants": short.test.slope, "low_plants": short.test.low,
            "high_plants": short.test.high, "wrong_at_few": short.wrong_at_few,
            "wrong_at_many": short.wrong_at_many, "mean_frames_at_few": short.frames_at_few,
            "mean_frames_between": short.frames_between,
            "mean_frames_at_many": short.frames_at_many,
        },
        "so_far": None if so_far is None else {
            "frames": so_far.frames, "plants": so_far.plants, "plants_m2": so_far.per_m2,
            "interval_plants_m2": list(so_far.interval),
            "stop_at_plants": None if so_far.line == inf else so_far.line,
            "precision_reached": so_far.is_enough, "frames_still": so_far.still,
            "few_or_many": so_far.finding.value if so_far.finding else None,
        },
    }  # fmt: skip


def _points_payload(made: PointsPlan) -> dict[str, Any]:
    return {
        "expected_cover_percent": made.cover,
        "expected_from": made.based_on,
        "points_in_frame": made.points_in_frame,
        "half_width_points": made.half_width,
        "places": made.places,
        "places_from_to": list(made.places_range),
        "points_if_independent": made.points_if_independent,
    }


def _presence_payload(shown: PresenceShown) -> dict[str, Any]:
    made = shown.made
    held, many = made.occupancy, made.abundance
    return {
        "zone": shown.zone,
        "kind": shown.kind,
        "counted_by": shown.method.value,
        "first_day": made.first.isoformat(),
        "last_day": made.last.isoformat(),
        "n_places": made.places,
        "n_noted": made.noted,
        "n_looked_at_again": made.looked_twice,
        "apparent_share_interval": list(made.apparent),
        "corrected_share_interval": list(made.corrected) if made.corrected else None,
        "share_that_holds_it": held.share if held else None,
        "share_that_holds_it_interval": list(held.interval) if held else None,
        "seen_by_one_look": held.detection if held else None,
        "plants_to_a_place": many.per_place if many else None,
        "counted_of_those_there": many.detection if many else None,
        "refusals": [made.refusal] if made.refusal else [],
    }
