"""Feed, need by the soil test, spreader and sprayer: the rest of ``swardbook materials``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options, zone_told
from swardbook.cli.materials_shared import AREA, answer, book_if
from swardbook.cli.minding import mind, told_cautions
from swardbook.cli.results import keep_options
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.feed_materials import FeedOrder, SoilNeed, SprayerSetting, SpreaderAnswer


@click.command()
@click.option("--npk", required=True, help="Label figures, 12-0-9: N, P₂O₅ and K₂O as printed.")
@click.option("--nitrogen", default="", help="Nitrogen wanted; bare is g/m².")
@click.option("--rate", default="", help="Product in place of nitrogen; bare is g/m².")
@click.option("--elements", is_flag=True, help="The label prints P and K as elements.")
@click.option("--bag", default="", help="What a bag holds: '25 kg'.")
@AREA
@zone_told("needed without --area")
@keep_options
@door_options
def feed(
    door: Door, npk: str, nitrogen: str, rate: str, elements: bool, bag: str, area: str, zone: str,
    keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Work out product for a dose of nitrogen, with P and K as oxide and as element.

    With --zone and neither --nitrogen nor --rate the dose is the next one of the feed plan kept.
    """
    from dataclasses import asdict

    from swardbook.book.feed_materials import feed_order
    from swardbook.book.fields import quantity
    from swardbook.book.materials import area_of
    from swardbook.book.worked_out import Answer

    book = book_if(door, zone, keeping)
    size = area_of(book, zone, area)
    dose = None
    if book is not None and zone and not nitrogen and not rate:
        from swardbook.book.feed_year import planned_dose

        dose = planned_dose(book, zone)
        nitrogen = nitrogen if dose is None else f"{dose:.1f} g/m2"
    found = feed_order(
        size, npk, nitrogen, rate, quantity(bag, "kg", "--bag") / 1000 if bag else None, elements
    )
    gives, lines = found.gives, _feed_lines(found, npk, size, elements)
    if dose is not None:
        lines += under("", f"The dose is the next one of the feed plan kept for {zone}, at most"
                           f" {dose:.1f} g N/m².", 0)  # fmt: skip
    kept = Answer("feed order", f"{found.kg:.2f} kg of {npk}, {gives.nitrogen:.1f} g N/m²",
                  {"npk": npk, "nitrogen": nitrogen, "rate": rate},
                  {"product_g_m2": found.product_g_m2, "product_kg": found.kg,
                   "nitrogen_g_m2": gives.nitrogen})  # fmt: skip
    payload = {
        "product_g_m2": round(found.product_g_m2, 3), "each_pass_g_m2": round(found.pass_g_m2, 3),
        "area_m2": size, "product_kg": round(found.kg, 4), "bags": found.bags,
        "gives": {f"{name}_g_m2": round(part, 4) for name, part in asdict(gives).items()},
        "more_than_one_dose": found.is_much, "asked": found.asked or None,
        "cautions": told_cautions("feed"),
    }  # fmt: skip
    answer(door, book, kept, payload, [*lines, *mind("feed")], zone, keeping, "feed")


def _feed_lines(found: FeedOrder, npk: str, size: float, elements: bool) -> list[str]:
    gives, bags = found.gives, "" if found.bags is None else f", {found.bags} bags"
    lines = [
        *under("", f"{found.product_g_m2:.1f} g/m² of {npk}: two passes across each other of"
                   f" {found.pass_g_m2:.1f}; {found.kg:.2f} kg on {size:,.1f} m²{bags}.", 0),
        *under("", f"Gives N {gives.nitrogen:.1f}, P₂O₅ {gives.p2o5:.1f} (P"
                   f" {gives.phosphorus:.1f}), K₂O {gives.k2o:.1f} (K {gives.potassium:.1f})"
                   " g/m²; " + ("P and K read as elements." if elements else
                                "label read as N–P₂O₅–K₂O."), 0),
    ]  # fmt: skip
    lines += under("", found.asked, 0) if found.asked else []
    if found.is_much:
        lines += under("", "That is more nitrogen than one usual dose of quick feed, and can"
                           " scorch: split it, unless the label says it is slow.", 0)  # fmt: skip
    return lines


@click.command()
@click.option("--test", "tests", multiple=True, metavar="NUTRIENT=MG_KG",
              help="A soil test, K=45; none: the zone's last readings.")  # fmt: skip
@click.option("--nitrogen", default="", help="Nitrogen of the year; bare is g/m².")
@click.option("--depth", default="100", show_default=True, help="Depth sampled; bare is mm.")
@click.option("--density", type=float, default=1.5, show_default=True, help="Kg a litre.")
@click.option("--least", multiple=True, metavar="NUTRIENT=MG_KG",
              help="Least that has to stay, where the extract was not Mehlich-3.")  # fmt: skip
@click.option("--water", default="", help="Irrigation of a year; bare is mm.")
@click.option("--in-water", multiple=True, metavar="NUTRIENT=MG_L", help="In it: K=10.")
@keep_options
@door_options
def need(
    door: Door, tests: tuple[str, ...], nitrogen: str, depth: str, density: float,
    least: tuple[str, ...], water: str, in_water: tuple[str, ...], zone: str,
    keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Work out what a soil test leaves to be given over a year, and what it has enough of."""
    from swardbook.book import feed_materials as feed_sums
    from swardbook.book.fields import quantity
    from swardbook.book.worked_out import Answer
    from swardbook.foundation.errors import BadInputError

    if not nitrogen:
        raise BadInputError("--nitrogen", "nothing", "nitrogen of the year, such as 10 g/m2")
    book = book_if(door, zone, keeping)
    read, source = feed_sums.read_tests(tests), "as typed"
    if not tests and book is not None and zone:
        name = book.ground().zone(zone).name
        read, source = feed_sums.tests_of_zone(book.ground(), name), f"readings of {name}"
    found = feed_sums.soil_need(
        read, quantity(nitrogen, "g/m2", "--nitrogen"), quantity(depth, "mm", "--depth"), density,
        feed_sums.read_tests(least), source, _brought(water, in_water),
    )  # fmt: skip
    words = ", ".join(f"{each.nutrient} {each.need:.1f}" for each in found.needs)
    kept = Answer(
        feed_sums.SOIL_NEED, f"{words} g/m² a year as elements",
        {"tests": ", ".join(tests), "nitrogen": nitrogen},
        {f"{each.nutrient.lower()}_need_g_m2": each.need for each in found.needs},
    )  # fmt: skip
    answer(door, book, kept, _need_payload(found), _need_lines(found), zone, keeping)


def _brought(water: str, in_water: tuple[str, ...]) -> dict[str, float]:
    from swardbook.book.feed_materials import read_tests
    from swardbook.book.fields import quantity
    from swardbook.foundation.errors import BadInputError
    from swardbook.husbandry.nutrients import carried_g_m2

    if bool(water) != bool(in_water):
        raise BadInputError("the water", "half of it", "--water and --in-water together")
    fell = quantity(water, "mm", "--water") if water else 0.0
    return {each: carried_g_m2(fell, mg) for each, mg in read_tests(in_water).items()}


def _need_lines(found: SoilNeed) -> list[str]:
    lines = under("", f"For {found.nitrogen_g_m2:g} g N/m² a year; tests {found.source}.", 0)
    for each, (oxide, amount) in zip(found.needs, found.oxide_g_m2.items(), strict=True):
        told = "ample: none needed" if each.need == 0 else (
            f"{each.need:.2f} g/m² a year, on a label {oxide} {amount:.2f}"
        )  # fmt: skip
        lines += under(
            "-", f"{each.nutrient}: taken up {each.used:.2f}, has to stay {each.floor:.2f}, there"
                 f" is {each.held:.2f} g/m²: {told}.",
        )  # fmt: skip
    if found.is_ample("P"):
        lines += under("", "Phosphorus is ample: consider nitrogen only. Phosphate feeds the"
                           " seedbed of annual meadow-grass too.", 0)  # fmt: skip
    if found.not_tested:
        lines += under("", f"Not tested, so not known: {', '.join(found.not_tested)}.", 0)
    lines += under("", "Least levels are for the Mehlich-3 extract; give --least for another. The"
                       " laboratory's own index stands above this sum.", 0)  # fmt: skip
    return lines


def _need_payload(found: SoilNeed) -> dict[str, Any]:
    return {
        "nitrogen_g_m2": found.nitrogen_g_m2, "tests_from": found.source,
        "needs": [
            {"nutrient": each.nutrient, "taken_up_g_m2": round(each.used, 4),
             "has_to_stay_g_m2": round(each.floor, 4), "there_is_g_m2": round(each.held, 4),
             "need_g_m2": round(each.need, 4), "oxide": oxide, "oxide_g_m2": round(amount, 4),
             "ample": each.need == 0}
            for each, (oxide, amount) in zip(found.needs, found.oxide_g_m2.items(), strict=True)
        ],
        "not_tested": list(found.not_tested),
    }  # fmt: skip


@click.command()
@click.argument("caught", nargs=-1)
@click.option("--width", default="", help="Effective width, to half of the middle; bare is m.")
@click.option("--run", default="", help="Length of the run; bare is m.")
@click.option("--rate", default="", help="Whole rate of product; bare is g/m².")
@click.option("--passes", default=2, show_default=True, help="Passes that share the rate.")
@click.option("--setting", type=float, default=None, help="Mark of the dial for these runs.")
@click.option("--dial", nargs=2, type=float, default=None, help="Its lowest and highest mark.")
@AREA
@keep_options
@door_options
def spreader(
    door: Door, caught: tuple[str, ...], width: str, run: str, rate: str, passes: int,
    setting: float | None, dial: tuple[float, float] | None, area: str, zone: str,
    keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Set a spreader: CAUGHT is the product of each run over a sheet, in g.

    With no catch it says what to catch, and how to do it.
    """
    from swardbook.book import feed_materials as feed_sums
    from swardbook.book.materials import area_of
    from swardbook.book.worked_out import Answer

    book = book_if(door, zone, keeping)
    size = area_of(book, zone, area) if zone or area else None
    if not caught:
        _walk_through(door, width, run, rate, passes)
        return
    found = feed_sums.spreader(caught, width, run, rate, passes, setting, dial, size)
    kept_setting = {} if setting is None else {"setting_mark": setting}
    kept = Answer(feed_sums.SPREADER, found.found.told,
                  {"rate": rate, "width": width, "run": run, "caught": ", ".join(caught)},
                  {"got_g_m2": found.found.got_g_m2, **kept_setting})  # fmt: skip
    answer(door, book, kept, _spreader_payload(found), _spreader_lines(found), zone, keeping)


def _walk_through(door: Door, width: str, run: str, rate: str, passes: int) -> None:
    from swardbook.book.fields import quantity
    from swardbook.foundation.errors import BadInputError
    from swardbook.husbandry.spreading import catch_for

    if not (width and run and rate):
        raise BadInputError("the run", "not all of it", "--width, --run and --rate")
    grams = catch_for(quantity(rate, "g/m2", "--rate") / passes,
                      quantity(width, "m", "--width") / 1000,
                      quantity(run, "m", "--run") / 1000)  # fmt: skip
    steps = (
        "Find the width: a row of trays across one pass; the edge is where a tray holds half of"
        " the middle one.",
        "Fill it part full, weigh it. Walk the run at the pace you will keep, open at the start,"
        " shut at the end. Weigh again, or sweep the sheet.",
        f"At this rate in {passes} passes each run should take {grams:.0f} g. Do it three times,"
        " then give the weights here with --setting and --dial.",
    )
    lines = [part for n, each in enumerate(steps, 1) for part in under(f"{n}.", each, 0)]
    payload = {"catch_g": round(grams, 1), "steps": list(steps), "cautions": told_cautions("feed")}
    door.show(payload, [*lines, *mind("feed")])


def _spreader_lines(answer_: SpreaderAnswer) -> list[str]:
    found = answer_.found
    lines = under("", f"{found.runs} run{'s' * (found.runs > 1)}: {found.low_g_m2:.1f} to"
                      f" {found.high_g_m2:.1f}, mean {found.got_g_m2:.1f} g/m² a pass; wanted"
                      f" {found.wanted_g_m2:.1f} ({answer_.catch_g:.0f} g a run).", 0)  # fmt: skip
    lines += under("", found.told, 0)
    if answer_.product_kg is not None:
        lines += [f"Product for the area: {answer_.product_kg:.2f} kg."]
    return [*lines, *mind("feed")]


def _spreader_payload(answer_: SpreaderAnswer) -> dict[str, Any]:
    found = answer_.found
    return {
        "runs": found.runs, "got_g_m2": round(found.got_g_m2, 3),
        "lowest_g_m2": round(found.low_g_m2, 3), "highest_g_m2": round(found.high_g_m2, 3),
        "wanted_g_m2": round(found.wanted_g_m2, 3), "off_share": round(found.off, 4),
        "is_set": found.is_set, "next_setting": found.setting, "held_back": found.is_held,
        "catch_g": round(answer_.catch_g, 1), "product_kg": answer_.product_kg,
        "words": found.told, "cautions": told_cautions("feed"),
    }  # fmt: skip


@click.command()
@click.argument("litres", nargs=-1, required=True)
@click.option("--run", required=True, help="A walk that was timed; bare is m.")
@click.option("--seconds", type=click.FloatRange(0.5, 3600), required=True, help="Its time.")
@click.option("--width", required=True, help="Width sprayed by all nozzles; bare is m.")
@click.option("--tank", default="", help="What the tank holds; bare is litres.")
@click.option("--label-rate", default="", help="As the label prints it; bare is g/m².")
@AREA
@keep_options
@door_options
def sprayer(
    door: Door, litres: tuple[str, ...], run: str, seconds: float, width: str, tank: str,
    label_rate: str, area: str, zone: str, keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Set a sprayer: LITRES is what each nozzle gives in a minute, clean water in a jug."""
    from swardbook.book import feed_materials as feed_sums
    from swardbook.book.fields import quantity
    from swardbook.book.materials import area_of
    from swardbook.book.worked_out import Answer

    book = book_if(door, zone, keeping)
    size = area_of(book, zone, area) if zone or area else None
    speed = quantity(run, "m", "--run") / 1000 / seconds
    found = feed_sums.sprayer(
        [quantity(each, "l", "a nozzle") for each in litres], speed,
        quantity(width, "m", "--width") / 1000, quantity(tank, "l", "--tank") if tank else None,
        size, quantity(label_rate, "g/m2", "--label-rate") if label_rate else None,
    )  # fmt: skip
    kept = Answer(feed_sums.SPRAYER, f"{found.l_ha:.0f} L/ha",
                  {"litres": ", ".join(litres), "run": run, "width": width},
                  {"water_l_ha": found.l_ha, "speed_m_s": speed})  # fmt: skip
    payload = {
        "water_l_ha": round(found.l_ha, 2), "water_l_100_m2": round(found.l_100_m2, 3),
        "speed_m_s": round(speed, 3), "together_l_min": round(found.nozzles.together_l_min, 4),
        "nozzles_to_look_at": list(found.nozzles.to_look_at),
        "tank_covers_m2": found.tank_m2, "tanks": found.tanks,
        "product_a_tank_g": found.product_tank_g, "product_g": found.product_g,
        "cautions": told_cautions("weeds", "water"),
    }  # fmt: skip
    answer(door, book, kept, payload, _sprayer_lines(found, speed), zone, keeping)


def _sprayer_lines(found: SprayerSetting, speed: float) -> list[str]:
    lines = under("", f"{found.l_ha:.0f} L/ha, that is {found.l_100_m2:.2f} L on 100 m², at"
                      f" {speed * 3.6:.1f} km/h.", 0)  # fmt: skip
    if found.nozzles.to_look_at:
        which = ", ".join(str(each) for each in found.nozzles.to_look_at)
        lines += under("", f"Nozzle {which} is more than a tenth from the mean: clean it, then"
                           " replace it.", 0)  # fmt: skip
    if found.tank_m2 is not None:
        many = "s" if found.tanks != 1 else ""
        tanks = "" if found.tanks is None else f"; {found.tanks} tank{many} for the area"
        lines += under("", f"A tank covers {found.tank_m2:.0f} m²{tanks}.", 0)
    if found.product_tank_g is not None:
        lines += under("", f"At the label's rate as you typed it {found.product_tank_g:.0f} g go"
                           " in a full tank.", 0)  # fmt: skip
    return [*lines, *mind("weeds", "water")]
