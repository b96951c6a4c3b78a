"""What is measured at and under a zone: rings, cores, a jar, pH, soil tests, slope, wear, tap."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from swardbook.book.fields import quantity
from swardbook.book.survey_facts import JAR, SLOPE, TAP, WEAR, SurveyFact, at_place
from swardbook.book.tins import read_infiltration
from swardbook.foundation.errors import BadInputError, NotEnoughDataError, UnknownNameError
from swardbook.foundation.quantities import read_number
from swardbook.handbook.parameters import value
from swardbook.handbook.textures import soil_beside
from swardbook.husbandry.bulk import MATERIALS, bulk_density
from swardbook.husbandry.ground import Zone
from swardbook.husbandry.happenings import Reading
from swardbook.husbandry.nutrients import NUTRIENTS, need_g_m2
from swardbook.husbandry.soundings import cores, jar, rings, slope, tap_l_min

ON_CORES = ("thatch", "rooting")
WEARS = ("none", "light", "moderate", "heavy")


def survey_rings(typed: Sequence[str], place: str = "", *, wetted: bool = True) -> SurveyFact:
    """Read ring tests of one place: ``25 mm in 22 min``, or mm an hour.

    Parameters
    ----------
    typed : sequence of str
        One for each ring.
    place : str
        Where in the zone, such as ``south end``.
    wetted : bool
        Whether the ground was wetted first; dry ground drinks fast at first.
    """
    rates = [read_infiltration(each, "the ring") for each in typed]
    found = rings(rates)
    least = int(value("rings_least"))
    notes = []
    if not found.is_enough:
        notes.append(
            "One ring test is one hole." if found.rings == 1 else f"{found.rings} rings are few."
        )
        notes[0] += f" Do {least} per zone, pre-wet, before calling drainage the cause."
    if not wetted:
        notes.append("Not wetted first: dry ground drinks, so these read too fast.")
    many = _many(found.rings, "ring")
    words = f"Drains {found.word}{at_place(place)}: {_span(rates, 'mm/h')}, {many}"
    said = place if wetted else f"{place}. Not wetted first".lstrip(". ")
    return SurveyFact(
        "drainage", words, tuple(notes), {"rings": "; ".join(typed), "place": place},
        {"slowest_mm_per_h": found.slowest, "middle_mm_per_h": found.middle,
         "fastest_mm_per_h": found.fastest, "rings": found.rings},
        {"drains": found.word, "enough_rings": "yes" if found.is_enough else "no"},
        tuple(Reading("infiltration", rate, "mm/h") for rate in rates), said,
    )  # fmt: skip


def survey_cores(typed: Sequence[str], what: str = "thatch", place: str = "") -> SurveyFact:
    """Read what cores show: the thatch on them, or how deep the roots go.

    Fewer than the handbook asks for are kept as readings, but give no mean.

    Parameters
    ----------
    typed : sequence of str
        A depth for each core; bare numbers are mm.
    what : str
        ``thatch`` or ``rooting``.
    place : str
        Where in the zone.
    """
    if what not in ON_CORES:
        raise UnknownNameError("thing to measure on a core", what, ON_CORES)
    depths = [quantity(each, "mm", what) for each in typed]
    readings = tuple(Reading(what, depth, "mm") for depth in depths)
    name = "Thatch" if what == "thatch" else "Roots"
    try:
        found = cores(depths, what)
    except NotEnoughDataError as lack:
        words = f"{name} {_span(depths, 'mm')} on {_many(len(depths), 'core')}"
        return SurveyFact(what, words, (str(lack),), {"cores": "; ".join(typed)},
                          {"cores": len(depths)}, {}, readings, place)  # fmt: skip
    words = (
        f"{name} {found.mean:.0f} mm ({found.low:.0f} to {found.high:.0f}),"
        f" mean of {found.cores} cores"
    )
    told = {f"{what}_mm": found.mean, "low_mm": found.low, "high_mm": found.high,
            "cores": found.cores}  # fmt: skip
    notes = (_thatch(found.mean),) if what == "thatch" else (_roots(found.mean),)
    return SurveyFact(what, words, notes, {"cores": "; ".join(typed)}, told, {}, readings, place)


def survey_jar(sand: str, silt: str, clay: str, zone: Zone | None = None) -> SurveyFact:
    """Read the layers of a jar, from the bottom up; bare numbers are mm."""
    heights = [quantity(each, "mm", "the jar") for each in (sand, silt, clay)]
    found = jar(*heights)
    words = (
        f"{found.name[0].upper()}{found.name[1:]}: sand {found.sand:.0f}, silt {found.silt:.0f},"
        f" clay {found.clay:.0f} %"
    )
    notes = ["A jar is read to about 10 points; clay settles for days and swells."]
    if found.may_be:
        notes.append(f"It may as well be {_or(found.may_be)}: a laboratory sheet would tell.")
    beside = soil_beside(found.name)
    if beside != found.name:
        notes.append(f"The book has no water figures for {found.name}: {beside} lies beside it.")
    if zone is not None and zone.soil not in {found.name, beside, *found.may_be}:
        notes.append(f"The book has {zone.soil} for {zone.name}: `swardbook zone set` changes it.")
    return SurveyFact(
        JAR, words, tuple(notes), {"sand": sand, "silt": silt, "clay": clay},
        {"sand_percent": found.sand, "silt_percent": found.silt, "clay_percent": found.clay},
        {"texture": found.name, "may_be": ", ".join(found.may_be), "soil": beside},
    )  # fmt: skip


def survey_ph(typed: str, place: str = "") -> SurveyFact:
    """Read a pH and say for which grasses it is in range; one that no soil has is asked about."""
    ph = read_number(typed)
    if ph is None:
        raise BadInputError("the pH", typed, "a number such as 6.4")
    given = {"pH": typed, "place": place}
    readings = (Reading("pH", ph),)
    low, high = value("look_ph_low"), value("look_ph_high")
    if not low <= ph <= high:
        meant = next((ph / by for by in (10, 100) if low <= ph / by <= high), None)
        asked = (f"{meant:g}?",) if meant is not None else ()
        words = f"pH {ph:g} is outside what soils have"
        return SurveyFact("pH", words, asked, given, {"ph": ph}, {"suits": ""}, readings, place)
    fits = [
        words
        for words, key in (("bent and fescue", "ph_fine"), ("ryegrass", "ph_ryegrass"))
        if value(f"{key}_low") <= ph <= value(f"{key}_high")
    ]
    told = f"suits {' and '.join(fits)}" if fits else "outside what lawn grasses like"
    notes = ("One sample is one spot: by walls and paths lime raises it.",)
    return SurveyFact(
        "pH", f"pH {ph:g}{at_place(place)}: {told}", notes, given, {"ph": ph},
        {"suits": ", ".join(fits)}, readings, place,
    )  # fmt: skip


def survey_soil_test(
    tested: Mapping[str, str], nitrogen: str, depth: str = "", zone: Zone | None = None
) -> SurveyFact:
    """Read a laboratory sheet (Mehlich-3) and say what a year's feed has to add.

    Parameters
    ----------
    tested : mapping of str to str
        Nutrient (``P``, ``K``, ``Ca``, ``Mg``, ``S``) to mg a kg.
    nitrogen : str
        Nitrogen meant for the year; bare numbers are g a m².
    depth : str
        Depth sampled; bare numbers are mm.
    zone : Zone, optional
        The zone; its soil gives the bulk density.
    """
    names = {each.casefold(): each for each in NUTRIENTS}
    if unknown := [each for each in tested if each.casefold() not in names]:
        raise UnknownNameError("nutrient", unknown[0], NUTRIENTS)
    if not tested:
        raise BadInputError("the soil test", "nothing", "nutrients such as K=45 P=12")
    meant = quantity(nitrogen, "g/m2", "--nitrogen")
    deep = quantity(depth, "mm", "--depth") if depth else value("soil_test_depth_mm")
    soil = zone.soil if zone is not None and zone.soil in MATERIALS else "loam"
    needs = []
    for name, typed in tested.items():
        number = read_number(typed)
        if number is None:
            raise BadInputError(name, typed, "mg a kg, such as 45")
        needs.append((number, need_g_m2(names[name.casefold()], number, meant, deep,
                                        bulk_density(soil))))  # fmt: skip
    short = [need for _, need in needs if need.need > 0]
    told = ", ".join(f"{need.nutrient} {need.need:.1f} g/m²" for need in short)
    words = f"A year's feed has to add {told}" if short else "Enough of what was tested for a year"
    rows = tuple(
        {"nutrient": need.nutrient, "tested_mg_per_kg": number, "used_g_m2": need.used,
         "has_to_stay_g_m2": need.floor, "held_g_m2": need.held, "need_g_m2": need.need}
        for number, need in needs
    )  # fmt: skip
    notes = (
        f"Least levels for Mehlich-3 extracts, sampled {deep:g} mm deep, soil taken as {soil};"
        f" with {meant:g} g/m² nitrogen. Another extract has other levels.",
    )
    return SurveyFact(
        "soil test", words, notes, {**tested, "nitrogen": nitrogen, "depth": depth},
        {f"{need.nutrient}_need_g_m2": need.need for _, need in needs}, {},
        tuple(Reading(f"soil {need.nutrient}", number, "mg/kg") for number, need in needs),
        rows=rows,
    )  # fmt: skip


def survey_slope(fall: str, run: str) -> SurveyFact:
    """Read how far the ground falls over how long a run; bare numbers are metres."""
    found = slope(quantity(fall, "m", "--fall") / 1000, quantity(run, "m", "--run") / 1000)
    ratio = f", 1 in {found.one_in:.0f}" if found.one_in else ""
    words = f"Falls {100 * found.share:.1f} %{ratio}"
    notes: tuple[str, ...] = ()
    if found.share >= value("slope_runs_off"):
        notes = (
            "Steep enough that heavy rain moves seed: sow in settled weather, rake across the"
            " slope. The slope limit in the mower's manual decides what may drive there.",
        )
    told = {"slope_percent": 100 * found.share, "slope_degrees": found.angle}
    return SurveyFact(SLOPE, words, notes, {"fall": fall, "run": run}, told)


def survey_wear(wear: str, place: str = "") -> SurveyFact:
    """Take how much a zone is walked and played on."""
    word = wear.strip().casefold()
    if word not in WEARS:
        raise UnknownNameError("wear", wear, WEARS)
    where = f", most{at_place(place)}" if place else ""
    words = "No wear" if word == "none" else f"{word[0].upper()}{word[1:]} wear{where}"
    return SurveyFact(WEAR, words, (), {"wear": wear, "place": place}, {}, {"wear": word})


def survey_tap(
    bucket: str, seconds: float, depth: str = "2 mm", zone: Zone | None = None,
    hose_l_min: float | None = None,
) -> SurveyFact:  # fmt: skip
    """Read how fast a bucket fills, and what that means for a watering.

    Parameters
    ----------
    bucket : str
        What it holds; bare numbers are litres.
    seconds : float
        How long it took. [s]
    depth : str
        A watering to reckon with.
    zone : Zone, optional
        The zone to water.
    hose_l_min : float, optional
        What the book has for the tap. [L min⁻¹]
    """
    rate = tap_l_min(quantity(bucket, "l", "--bucket"), seconds)
    mm = quantity(depth, "mm", "--mm")
    found = {"tap_l_min": rate}
    words = f"{rate:.1f} L/min at the tap"
    if zone is not None:
        litres = mm * zone.area_m2
        found |= {"watering_mm": mm, "watering_l": litres, "watering_min": litres / rate}
        words += (
            f"; {mm:g} mm on {zone.area_m2:g} m² is {litres:,.0f} L, {litres / rate:.0f} minutes"
        )
    notes = ["Check with your water supplier before you rely on a hose: rules differ and can"
             " change in the middle of a sowing."]  # fmt: skip
    if hose_l_min is not None and abs(hose_l_min - rate) > rate / 10:
        notes.append(f"The book has {hose_l_min:g} L/min for the site.")
    given = {"bucket": bucket, "seconds": f"{seconds:g}"}
    return SurveyFact(TAP, words, tuple(notes), given, found, {},
                      (Reading("water at the tap", rate, "L/min"),))  # fmt: skip


def _thatch(mean: float) -> str:
    if mean > value("thatch_act"):
        return f"Above about {value('thatch_act'):g} mm: seed lies dry on it; do this first."
    if mean > value("thatch_fine"):
        return (
            f"Between {value('thatch_fine'):g} and {value('thatch_act'):g} mm: scarify in season."
        )
    return f"Up to about {value('thatch_fine'):g} mm is fine."


def _roots(mean: float) -> str:
    if mean < value("roots_shallow"):
        return "Shallow: it dries out fast, and tight ground or thatch is the likely reason."
    return "Deep enough to go between waterings."


def _span(numbers: Sequence[float], unit: str) -> str:
    low, high = min(numbers), max(numbers)
    return f"{low:.0f} {unit}" if round(low) == round(high) else f"{low:.0f} to {high:.0f} {unit}"


def _many(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _or(names: Sequence[str]) -> str:
    return " or ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else list(names))
