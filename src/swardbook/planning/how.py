"""How a job is done here and now: depth and its datum, the next line, the order of work."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from swardbook.handbook.cautions import Caution, cautions_for
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.happenings import Verticut
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.planning.checks_seedlings import awaits_first_cut, first_cut_heights
from swardbook.planning.heads import heads_standing, is_heads_season
from swardbook.planning.situation import Situation
from swardbook.planning.warmth import air_today


def how_to(sit: Situation, job: str) -> str:
    """Say how a job is done in this zone today; empty where nothing needs saying."""
    told = _HOW.get(job)
    return told(sit) if told else ""


def next_line_deg(sit: Situation) -> float | None:
    """Direction of the next verticut line: it crosses the last one, never along it.

    Returns
    -------
    float or None
        Against the long side; None where the last line is not noted. [°]
    """
    last = sit.latest(Verticut)
    if last is None or last.what.line_deg is None:
        return None
    cross = value("verticut_cross_deg")
    return -last.what.line_deg if abs(last.what.line_deg) * 2 >= cross else cross


def verticut_depth(sit: Situation) -> str:
    """Say the depth of a light verticut with its datum."""
    if sit.zone.height_of_cut_mm > value("verticut_fine_height"):
        return f"blade tips 0 to {value('verticut_lawn_clearance'):.0f} mm above the soil"
    return f"0 to {value('verticut_fine_depth'):.0f} mm below the effective height of cut"


def caution_of(sit: Situation, job: str) -> str:
    """Give the caution of a job, and the one that today calls for; empty if there is none."""
    found = cautions_of(sit, job)
    always = [each for each in found if not each.when]
    today = [each for each in found if each.when]
    return " ".join(each.cited for each in (*always[:1], *today[:1]))


def cautions_of(sit: Situation, job: str) -> tuple[Caution, ...]:
    """Give every caution of a job that holds today, those of the day first."""
    return cautions_for(job, circumstances(sit))


def circumstances(sit: Situation) -> frozenset[str]:
    """Tell what holds today that calls for a caution of its own."""
    found = set()
    air = air_today(sit)
    if air is not None and air[1] >= value("heat_limit") - 2:
        found.add("hot")
    if is_heads_season(sit) and heads_standing(sit):
        found.add("heads")
    if air is not None and air[0] <= value("frost_minimum"):
        found.add("frost")
    if "slope" in sit.zone.note.casefold() or _falls(sit):
        found.add("slope")
    if sit.zone.iron_stains_near:
        found.add("iron")
    if sit.is_between(value("pollen_from"), value("pollen_to")):
        found.add("pollen")
    return frozenset(found)


def _falls(sit: Situation) -> bool:
    """Tell whether a kept slope is one on which machines and seed slide."""
    kept = [
        each.what.found["slope_percent"]
        for each in sit.happened(WorkedOut)
        if each.what.about == "slope" and "slope_percent" in each.what.found
    ]
    return bool(kept) and kept[-1] >= 100 * value("slope_runs_off")


def _verticut(sit: Situation) -> str:
    line = next_line_deg(sit)
    cross = f" Line {line:+.0f}°, across the last." if line is not None else ""
    return (
        f"Tips only: {verticut_depth(sit)}.{cross} Cut straight after with the box on."
        " Clean zones before weedy ones; box emptied off the site, unit washed."
    )


def _cut(sit: Situation) -> str:
    sowing = awaits_first_cut(sit)
    if sowing is not None:
        heights = first_cut_heights(sit, sowing)
        return f"First cut of seedlings: {heights}, never more than a third off."
    third = value("leaf_third_firm_height")
    height = sit.zone.height_of_cut_mm
    rule = "Not more than a third off" + (" if it can be helped" if height < third else "")
    return f"{rule}: at most {height * 1.5:.0f} mm of grass to {height:g} mm."


def _pull(_: Situation) -> str:
    return (
        "Heading plants first, edges next, then the strips with most. Root and crown out,"
        " plants off the site, the hole filled the same day."
    )


def _dig_clumps(_: Situation) -> str:
    depth, margin = parameter("clump_depth"), value("clump_margin")
    return (
        f"{depth.low:.0f} to {depth.high:.0f} mm deep, {margin:.0f} mm beyond the last rooted"
        " node: a joint left behind comes again. Plants off the site, the hole filled level the"
        f" same day, and looked at again after {value('clump_check_days') / 7:.0f} weeks."
    )


def _sow(_: Situation) -> str:
    return (
        "Dig clumps, scarify, tine, dress, then sow, in two directions. Bent is barely covered:"
        f" {value('bent_depth_most'):.0f} mm at most. No thicker 'to be safe': crowded seedlings"
        " damp off."
    )


def _dress(_: Situation) -> str:
    return "What matches the soil below, worked in, leaf tips showing; a cap over clay perches."


def _scarify(_: Situation) -> str:
    return "Several shallow crossing passes, seed straight after; spoil off the site."


def _tine(_: Situation) -> str:
    return "Cores off, outfall first where water stands; a matching dressing brushed in after."


def _water(_: Situation) -> str:
    return "Seedbeds little and often; a grown sward deep and seldom, in turns the soil can take."


_HOW: Mapping[str, Callable[[Situation], str]] = {
    "verticut": _verticut, "cut": _cut, "pull": _pull, "dig clumps": _dig_clumps, "sow": _sow,
    "oversow": _sow, "dress": _dress, "scarify": _scarify, "tine": _tine, "water": _water,
}  # fmt: skip
