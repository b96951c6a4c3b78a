"""``swardbook cut plan``, ``cut machine`` and ``cut blades``: planning the mowing."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.cut_payload import next_cut_payload
from swardbook.cli.doors import Door, door_options, zone_told
from swardbook.cli.minding import mind_these, tell_these, with_cautions
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.results import keep_options, show_answer
from swardbook.cli.telling import short_id
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.machines import Machine
    from swardbook.book.mowing import ClipAnswer, CutPlan, Going
    from swardbook.planning.blades import BladeCare, Since
    from swardbook.planning.mowing import NextCut


@click.command()
@click.option("--height", default="", help="Height of the next cut; none: as the last. Bare is mm.")
@click.option("--to", "wanted", default="", help="Height of cut wanted in the end; bare is mm.")
@click.option("--grass", default="", help="Height of the grass, measured today; bare is mm.")
@click.option("--line", default="", help="Direction against the long side, degrees.")
@click.option("--sides", default="", help="Sides of the zone, such as 32x25.6; bare is m.")
@click.option("--forecast", type=click.Path(dir_okay=False, path_type=Path), default=None,
              metavar="FILE.csv", help="Forecast days, in the form of a weather file; none: what"
              " the book has after today.")  # fmt: skip
@picture_option("the lines to follow")
@zone_told("needed where there are several")
@keep_options
@door_options
def plan(
    door: Door, height: str, wanted: str, grass: str, line: str, sides: str, forecast: Path | None,
    picture: Path | None, zone: str, keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Plan the next cut: the day and why, height, line, time, clip and blades.

    The day is the sooner of the one-third rule, by growth, and of the seeding clock. Heights that
    you measure and note (diary add reading, quantity 'sward height') set growth right.
    """
    from swardbook.book.fields import degrees, quantity
    from swardbook.book.mowing import cut_to_keep, draw_lines, plan_cut
    from swardbook.planning.mowing import Wish

    check_places(picture)
    said = (("--height", height), ("--to", wanted), ("--grass", grass))
    wish = Wish(*(quantity(text, "mm", name) if text else None for name, text in said))
    book = door.book()
    found = plan_cut(book, zone, wish, sides, degrees(line, "--line") if line else None,
                     forecast=forecast)  # fmt: skip
    payload, lines = with_picture(picture, lambda: draw_lines(
        book, found.zone.name, found.going, found.next.line.last_deg),
        _payload(found), _lines(found))  # fmt: skip
    kept = cut_to_keep(found, {"height": height, "to": wanted, "grass": grass, "sides": sides})
    show_answer(door, book, kept, payload, lines, zone=found.zone.name, keeping=keeping)


@click.command()
@click.option("--kind", default="", type=click.Choice(("", "cylinder", "rotary")),
              show_choices=False, metavar="KIND", help="cylinder or rotary.")  # fmt: skip
@click.option("--width", default="", help="Width it cuts: '51 cm', '20 in'; bare is mm.")
@click.option("--overlap", default="", help="Overlap of passes; bare is mm.")
@click.option("--speed", default="", help="Speed: '1.2 m/s', '4.3 km/h', '3 mph'; bare is m/s.")
@click.option("--turn", default="", help="Seconds for one turn.")
@click.option("--blades", default="", help="Blades of the cylinder.")
@click.option("--turns", default="", help="Turns of the cylinder a minute.")
@click.option("--gears", default="", help="Ground-driven: teeth on wheel and cylinder, 63:14.")
@click.option("--wheel", default="", help="Ground-driven: width of the wheel; bare is mm.")
@click.option("--bench", default="", help="Bench height: bottom blade to rollers; bare is mm.")
@click.option("--sinks", default="", help="How far the rollers sink into the sward; bare is mm.")
@click.option("--vibration", default="", help="Vibration by its plate or sheet, m/s².")
@click.option("--height", default="", help="Height of cut, where there is no bench height.")
@keep_options
@door_options
def machine(
    door: Door, zone: str, kind: str, height: str, keeping: dict[str, str] | None, **said: str
) -> None:  # fmt: skip
    """Tell the clip of a cylinder mower against its height of cut; keep its facts once.

    What was kept before holds where nothing is said now. The facts are for all zones cut with such
    a mower; with --zone for that zone alone.
    """
    from dataclasses import replace

    from swardbook.book.fields import quantity
    from swardbook.book.machines import kept_machine, machine_of, mower_name
    from swardbook.book.mowing import clip_of

    book = door.book()
    ground = book.ground()
    part = ground.zone(zone) if zone else None
    about = mower_name(kind or (part.mower.kind if part else "cylinder"))
    typed = machine_texts(said)
    known = machine_of(ground, about, part.name if part else "", typed)
    at = quantity(height, "mm", "--height") if height else None
    at = at or (part.height_of_cut_mm if part else None)
    clip = clip_of(replace(known, bench_mm=None) if height and not said["bench"] else known,
                   part, at)  # fmt: skip
    lines = machine_lines(known)
    lines += _clip_lines(clip) if clip else under("", _no_clip(known, at), 0)
    payload = {"machine": machine_payload(known), "clip": _clip_payload(clip)}
    kept = kept_machine(about, known, typed)
    payload, lines = with_cautions(payload, lines, "cut")
    show_answer(door, book, kept, payload, lines, zone=part.name if part else "", keeping=keeping)


@click.command()
@click.option("--zone", "-z", default="", help="A zone that the mower cuts.")
@click.option("--did", default="", metavar="WHAT",
              help="Note work: ground, back-lapped, sharpened, replaced or set.")  # fmt: skip
@click.option("--paper", type=float, default=None, metavar="PLACES",
              help="Note a paper test: places of ten cut clean along the blade.")  # fmt: skip
@click.option("--when", "-w", default="today", show_default=True, metavar="DAY")
@click.option("--who", default="", help="Who did it.")
@click.option("--note", default="", help="Anything else.")
@door_options
def blades(
    door: Door, zone: str, did: str, paper: float | None, when: str, who: str, note: str
) -> None:  # fmt: skip
    """Tell the hours since blades had an edge and were set, what is due, and the signs.

    With --did or --paper it is noted first.
    """
    from swardbook.book.mowing import blades_of, note_blades
    from swardbook.handbook.cautions import cautions_for
    from swardbook.planning.blades import SIGNS

    book = door.book()
    noted = note_blades(book, zone, did.strip().casefold(), paper, when=when, who=who, note=note)
    care = blades_of(book, zone)
    minded = [each for each in cautions_for("cut") if each.key == "blades"]
    lines = [f"Kept {short_id(each)}." for each in noted] + _blade_lines(care)
    lines += ["", "Signs of blades that want an edge or setting:"]
    lines += [part for sign in SIGNS for part in under("-", sign)]
    lines += mind_these(minded)
    payload = {"kept_as": [short_id(each) for each in noted], **_blades_payload(care),
               "signs": list(SIGNS), "cautions": tell_these(minded)}  # fmt: skip
    door.show(payload, lines, book)


def machine_texts(said: dict[str, str]) -> dict[str, str]:
    """Turn options of a machine into texts by its fields; gears stand for two."""
    names = {"width": "width_mm", "overlap": "overlap_mm", "speed": "speed_m_s", "turn": "turn_s",
             "blades": "blades", "tips": "blades", "turns": "turns_min", "wheel": "wheel_mm",
             "bench": "bench_mm", "sinks": "sinks_mm", "vibration": "vibration_m_s2",
             "blade": "blade_mm", "spacing": "spacing_mm"}  # fmt: skip
    texts = {names[name]: text for name, text in said.items() if name in names and text}
    if gears := said.get("gears", ""):
        texts |= {"wheel_teeth": gears, "cylinder_teeth": gears}
    return texts


def machine_payload(known: Machine) -> dict[str, float | None]:
    """Give all that is known of a machine, by its fields."""
    from dataclasses import asdict

    return asdict(known)


def machine_lines(known: Machine, blades: str = "blades") -> list[str]:
    """Tell what is known of a machine in one line."""
    said = {"width_mm": "{:g} mm wide", "overlap_mm": "overlap {:g} mm", "speed_m_s": "{:.2g} m/s",
            "turn_s": "{:g} s a turn", "blades": f"{{:g}} {blades}",
            "turns_min": "{:g} turns a minute", "wheel_mm": "wheel {:g} mm",
            "bench_mm": "bench {:g} mm", "blade_mm": "blade {:g} mm",
            "spacing_mm": "spacing {:g} mm", "vibration_m_s2": "vibration {:g} m/s²"}  # fmt: skip
    told = [words.format(getattr(known, name)) for name, words in said.items()
            if getattr(known, name) is not None]  # fmt: skip
    return under("", f"Machine: {', '.join(told)}." if told else "Nothing known of the machine.", 0)


def going_lines(going: Going, work: str) -> list[str]:
    """Tell lines, distance and time."""
    mown, walk = going.mown, going.walking
    shape = "(as a square; --sides tells better)"
    if going.sides_m:
        shape = f"at {line_words(going.line_deg)}"
    laps = f", after {mown.laps} lap{'s' * (mown.laps > 1)} round the edge" if mown.laps else ""
    taken = f" ({', '.join(walk.taken)} as usual)" if walk.taken else ""
    often = "" if going.times == 1 else f", gone over {going.times} times"
    at = f"at {walk.speed_m_s:.2g} m/s{taken}, emptying the box not counted"
    lines = under("", f"{work}: {mown.number} passes {shape}{laps}, {mown.distance_m:,.0f} m"
                      f"{often}, about {going.hours * 60:.0f} minutes {at}.", 0)  # fmt: skip
    if going.vibration is None:
        return lines
    felt = going.vibration
    return lines + under("", f"Vibration: {felt.points:.0f} points; one person reaches the action"
                             f" value of a day (100) after {felt.action_h:.1f} h and its limit"
                             f" (400) after {felt.limit_h:.1f} h.", 0)  # fmt: skip


def line_words(line_deg: float) -> str:
    """Tell a direction against the long side."""
    if line_deg % 90:
        return f"{line_deg:+.0f}°"
    return "0° (along the long side)" if line_deg % 180 == 0 else "90° (across the long side)"


def going_payload(going: Going) -> dict[str, Any]:
    """Give lines, distance and time."""
    felt = going.vibration
    return {
        "line_deg": going.line_deg,
        "sides_m": list(going.sides_m) if going.sides_m else None,
        "passes": going.mown.number,
        "laps": going.mown.laps,
        "distance_m": round(going.mown.distance_m, 1),
        "turns": going.mown.turns,
        "times": going.times,
        "time_h": round(going.hours, 3),
        "taken_as_usual": list(going.walking.taken),
        "vibration_points": None if felt is None else round(felt.points, 1),
        "hours_to_action_value": None if felt is None else round(felt.action_h, 2),
        "hours_to_limit_value": None if felt is None else round(felt.limit_h, 2),
    }


def _payload(found: CutPlan) -> dict[str, Any]:
    return {**next_cut_payload(found.next), "lines": going_payload(found.going),
            "clip": _clip_payload(found.clip), "blades": _blades_payload(found.blades),
            "cautions": tell_these(found.cautions)}  # fmt: skip


def _lines(found: CutPlan) -> list[str]:
    from swardbook.foundation.dates import say
    from swardbook.planning.states import Overall

    told = found.next
    on = "no cut yet" if told.cut_on is None else (
        "cut today" if told.cut_on == told.today else f"cut by {say(told.cut_on)}"
    )  # fmt: skip
    by = f", by the {told.decides}" if told.decides else ""
    if told.cut_on == told.today and told.fit.overall is Overall.NOT_FIT:
        why = "; ".join(f"{each.name}: {each.because}" for each in told.fit.deciding[:2])
        on, by = f"a cut is due{by}, but today is not fit ({why})", ""
    lines = under("", f"{told.zone}: {on}{by}. {told.because}", 0)
    lines += _growth_lines(told) + [
        part for each in told.too_low for part in under("Height:", each, 0)
    ]
    lines += _down_lines(told)
    lines += under(told.fit.overall.shape, f"Today: {told.fit.overall.value}. {told.fit.note}", 0)
    reasons = [f"{each.name}: {each.because}" for each in told.fit.deciding[:2]]
    lines += [part for each in reasons for part in under("", each)]
    lines += ["", *_direction(told), *going_lines(found.going, "Lines")]
    if found.clip is not None:
        lines += _clip_lines(found.clip)
    lines += [part for each in found.blades.due for part in under("Blades:", f"{each}.", 0)]
    if told.not_known:
        lines += ["", "Not known, and what rests on it:"]
        lines += [part for each in told.not_known for part in under("?", each)]
    return [*lines, *mind_these(found.cautions)]


def _growth_lines(told: NextCut) -> list[str]:
    growth, grass, third = told.growth, told.grass, told.third
    if growth is None:
        return under("", "Growth: not known, no weather up to today.", 0)
    low, high = growth.rate_range
    held = f"; {growth.held_back_by} holds it back most" if growth.held_back_by else ""
    lines = under("", f"Growth about {growth.rate:.1f} mm a day, likely {low:.1f} to {high:.1f}"
                      f" ({_spells(told)}){held}.", 0)  # fmt: skip
    if grass is not None:
        span = f", likely {grass.likely.low:.0f} to {grass.likely.high:.0f}"
        span = span if grass.likely.high - grass.likely.low >= 1 else ""
        on = f"{grass.since.day} {grass.since:%B}"
        lines += under("", f"The grass stands about {grass.height_mm:.0f} mm{span}, by the height"
                           f" {grass.because} on {on}.", 0)  # fmt: skip
    if third is not None:
        lines += under("", f"One-third rule at {told.cut_mm:g} mm: {_days(third.in_days)}"
                           f"{_span(third.soonest, third.latest)}.", 0)  # fmt: skip
    if told.ahead_from:
        lines += under("", f"Days ahead by {told.ahead_from}.", 0)
    clock = f"Seeding clock: {told.clock.state.value}"
    if told.clock_days:
        clock += f", {_days(told.clock_days)}"
    return lines + under("", f"{clock}.", 0)


def _spells(told: NextCut) -> str:
    assert told.growth is not None
    measured = told.growth.measured
    if not measured.spells:
        return "no height measured here"
    low, high = measured.range()
    return (
        f"{len(measured.spells)} spells measured here: {measured.ratio:.2f} of the expected,"
        f" {low:.2f} to {high:.2f}"
    )


def _days(days: float | None) -> str:
    from math import floor

    if days is None:
        return "farther off than can be foretold"
    whole = floor(days)
    return "due now" if whole == 0 else f"in {whole} day{'s' * (whole > 1)}"


def _span(soonest: float | None, latest: float | None) -> str:
    from math import floor

    if soonest is None or (latest is not None and floor(soonest) == floor(latest)):
        return ""
    if latest is None:
        return f", likely {floor(soonest)} days or more, how many cannot be foretold"
    return f", likely {floor(soonest)} to {floor(latest)} day{'s' * (floor(latest) > 1)}"


def _down_lines(told: NextCut) -> list[str]:
    from datetime import timedelta

    if not told.down:
        return []
    waits, lines = told.lower_waits, [""]
    if waits:
        lines += under("", f"Not lower now ({waits}). The way down once that is over:", 0)
    part = "until then heads below the blade stay and the clock is set back in part only"
    how_many = f"Down to {told.wanted_mm:g} mm in {len(told.down)} cuts, boxed"
    lines += under("", f"{how_many}; {part}:", 0)
    for n, cut in enumerate(told.down, 1):
        day = (told.cut_on or told.today) + timedelta(days=cut.day)
        over = ", more than a third: only if it must be" if cut.is_over_third else ""
        on = f"day {cut.day}" if waits else f"{day:%a} {day.day} {day:%B}"
        lines.append(f"  {n}. {on}: {cut.grass_mm:.0f} mm to"
                     f" {cut.cut_mm:.0f} mm, {100 * cut.share_off:.0f} % off{over}")  # fmt: skip
    return [*lines, ""]


def _direction(told: NextCut) -> list[str]:
    line = told.line
    last = "" if line.last_deg is None else f" The last was {line_words(line.last_deg)}."
    return under("", f"Next line {line_words(line.line_deg)} ({line.because})."
                     f"{last} Never along the last one; begin half a width in now and then, so that"
                     " wheels do not run where they ran.", 0)  # fmt: skip


def _clip_lines(clip: ClipAnswer) -> list[str]:
    top = "speed changes nothing" if clip.fastest_m_s is None else (
        f"up to {clip.fastest_m_s:.2f} m/s ({clip.fastest_m_s * 3.6:.1f} km/h) it stays within"
    )  # fmt: skip
    return under("", f"Clip {clip.clip_mm:.1f} mm, {clip.cuts_m:.0f} cuts a metre, against"
                     f" {clip.height_mm:.3g} mm ({clip.height_from}): {clip.against.value};"
                     f" {top}.", 0)  # fmt: skip


def _no_clip(known: Machine, height: float | None) -> str:
    if known.blades is None:
        return "For the clip of a cylinder say --blades with --turns, or with --gears and --wheel."
    if height is None and known.bench_mm is None:
        return "Say --bench, --height or --zone to hold the clip against."
    return "Say --turns of the cylinder, or --gears and --wheel. A rotary mower has no clip."


def _blade_lines(care: BladeCare) -> list[str]:
    lines = [f"Blades, {care.kind} mower:"]
    lines += _since_lines("an edge", care.since_edge)
    if care.kind == "cylinder":
        lines += _since_lines("setting", care.since_set)
    if care.paper is not None and care.paper_on is not None:
        on = f"{care.paper_on.day} {care.paper_on:%B}"
        lines += under("", f"Paper test of {on}: cut clean in {care.paper} of ten places.")
    for each in care.due:
        lines += under("☐", f"{each[0].upper()}{each[1:]}.")
    return lines


def _since_lines(what: str, since: Since) -> list[str]:
    when = "never noted; all cuts" if since.day is None else (
        f"{since.what} on {since.day.day} {since.day:%B %Y}; since then"
    )  # fmt: skip
    lack = f", {since.without_hours} of them without hours" if since.without_hours else ""
    return under("", f"Last {what}: {when} {since.hours:.1f} h in {since.cuts} cuts{lack}.")


def _clip_payload(clip: ClipAnswer | None) -> dict[str, Any] | None:
    if clip is None:
        return None
    top = None if clip.fastest_m_s is None else round(clip.fastest_m_s, 3)
    return {"clip_mm": round(clip.clip_mm, 3), "cuts_per_m": round(clip.cuts_m, 1),
            "height_mm": clip.height_mm, "height_from": clip.height_from,
            "verdict": clip.against.value, "fastest_m_s": top}  # fmt: skip


def _blades_payload(care: BladeCare) -> dict[str, Any]:
    told: dict[str, Any] = {}
    for name, since in (("edge", care.since_edge), ("set", care.since_set)):
        told |= {f"{name}_on": since.day.isoformat() if since.day else None,
                 f"hours_since_{name}_h": round(since.hours, 2),
                 f"cuts_since_{name}": since.cuts,
                 f"cuts_since_{name}_without_hours": since.without_hours}  # fmt: skip
    return {"mower": care.kind, **told, "paper_places_clean": care.paper,
            "paper_on": care.paper_on.isoformat() if care.paper_on else None,
            "due": list(care.due)}  # fmt: skip
