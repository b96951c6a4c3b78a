"""``swardbook materials``: what a job takes, from a zone of the book or a typed area."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options, zone_told
from swardbook.cli.materials_shared import AREA, answer, book_if
from swardbook.cli.minding import mind, told_cautions
from swardbook.cli.results import keep_options
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.materials import DressingOrder, SeedBags, Spoil
    from swardbook.book.refill_materials import RefillOrder


class LazyMaterials(click.Group):
    """The group; the feed commands stand in a module of their own."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Give the names in the order of the work."""
        return ["seed", "dressing", "spoil", "refill", *_FEED]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Find a command, importing the feed ones only when asked."""
        if cmd_name in _FEED:
            from swardbook.cli import materials_feed

            found: click.Command = getattr(materials_feed, cmd_name)
            return found
        return super().get_command(ctx, cmd_name)


_FEED = ("feed", "need", "spreader", "sprayer")


@click.group(cls=LazyMaterials)
def command() -> None:
    """Work out what a job takes: seed, dressing, spoil, refills, feed, spreader and sprayer.

    Each takes a zone of the book or --area; with --keep the answer stays in the diary.
    """


@command.command()
@click.option("--rate", default="", help="Rate of both directions together; bare is g/m².")
@click.option("--bay", "bays", multiple=True, metavar="NAME=AREA", help="A bay; once for each.")
@click.option("--parts", default=1, show_default=True, help="Equal bays, where none is named.")
@click.option("--lot", default="", metavar="CODE", help="Lot of the book.")
@click.option("--spare", type=click.FloatRange(0, 1), default=None,
              help="Kept of the same lot, as a part.  [default: 0.15]")  # fmt: skip
@click.option("--bag", default="", metavar="WEIGHT", help="Weight of one bag as bought; bare is g.")
@AREA
@keep_options
@door_options
def seed(
    door: Door, rate: str, bays: tuple[str, ...], parts: int, lot: str, spare: float | None,
    bag: str, area: str, zone: str, keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Weigh out seed for each bay, to the gram, halved for two directions at right angles."""
    from swardbook.book.fields import quantity
    from swardbook.book.materials import seed_bags
    from swardbook.book.squaring import BAGS
    from swardbook.book.worked_out import Answer

    book = book_if(door, zone, lot, keeping)
    bag_g = quantity(bag, "g", "--bag") if bag else None
    found = seed_bags(book, zone, area, bays, parts, rate, lot, spare, bag_g)
    words = f"{_kg(found.order.sown_g)} in {len(found.bags)} bays at {found.rate_g_m2:g} g/m²"
    kept = Answer(
        BAGS, words, {"rate": rate, "area": area, "bays": ", ".join(bays)},
        {**{f"{each.bay} bag_g": float(each.whole_g) for each in found.bags},
         "spare_g": found.order.spare_g, "rate_g_m2": found.rate_g_m2},
        {"lot": found.lot} if found.lot else {},
    )  # fmt: skip
    answer(door, book, kept, _seed_payload(found), _seed_lines(found), zone, keeping)


def _seed_lines(found: SeedBags) -> list[str]:
    from swardbook.cli.output import table

    order = found.order
    rows = [
        (
            bag.bay,
            f"{bag.area_m2:,.1f}",
            f"{bag.whole_g:,}",
            f"{bag.first_g:,}",
            f"{bag.second_g:,}",
        )
        for bag in found.bags
    ]
    lines = table(("bay", "m²", "whole g", "first way g", "across g"), rows)
    lines += ["", *under("", f"In all {_kg(order.sown_g)} at {found.rate_g_m2:g} g/m², and"
                             f" {_kg(order.spare_g)} spare of the same lot for the year's"
                             " refills.", 0)]  # fmt: skip
    if order.bags is not None:
        lines += [f"Buy {order.bags} bag{'s' * (order.bags != 1)}, {_kg(order.bought_g)}."]
    if found.lot and found.in_hand_g is not None:
        short = found.short_g or 0.0
        state = f"{_kg(short)} short; another lot is another seed" if short > 0 else "enough"
        lines += under("", f"{found.lot}: {_kg(found.in_hand_g)} in hand by the book, {state}.", 0)
    lines += _live_lines(found)
    lines += under("", "Each bag is spread over its bay one way, its other half across. Weigh back"
                       " what is left: swardbook square-up.", 0)  # fmt: skip
    return [*lines, *mind("sow")]


def _live_lines(found: SeedBags) -> list[str]:
    from swardbook.cli.seed_words import about

    live = found.live
    if live is None:
        return []
    if not live.is_tested:
        return under(
            "",
            f"{about(live.per_m2)} seeds/m² can come up, by the label; where that is"
            " silent, by the least allowed.",
            0,
        )
    told = f"{about(live.per_m2)} ({about(live.low_per_m2)} to {about(live.high_per_m2)})" \
           " seeds/m² can come up, by your germination test."  # fmt: skip
    if live.rate_as_label_g_m2 > found.rate_g_m2:
        told += f" For as much live seed as its label says, sow {live.rate_as_label_g_m2:.3g} g/m²."
    return under("", told, 0)


def _seed_payload(found: SeedBags) -> dict[str, Any]:
    order = found.order
    return {
        "rate_g_m2": found.rate_g_m2,
        "bays": [
            {"bay": bag.bay, "area_m2": round(bag.area_m2, 3), "whole_g": bag.whole_g,
             "first_way_g": bag.first_g, "across_g": bag.second_g}
            for bag in found.bags
        ],
        "sown_g": round(order.sown_g, 1),
        "spare_g": round(order.spare_g, 1),
        "bags": order.bags,
        "bought_g": round(order.bought_g, 1),
        "lot": found.lot or None,
        "in_hand_g": found.in_hand_g,
        "short_g": found.short_g,
        "live_seed": None if found.live is None else {
            "per_m2": round(found.live.per_m2), "low_per_m2": round(found.live.low_per_m2),
            "high_per_m2": round(found.live.high_per_m2), "is_tested": found.live.is_tested,
            "rate_as_label_g_m2": round(found.live.rate_as_label_g_m2, 2),
        },
        "cautions": told_cautions("sow"),
    }  # fmt: skip


@command.command()
@click.option("--material", default="rootzone", show_default=True,
              help="rootzone, sand, sandy loam, loam, clay, compost ...")  # fmt: skip
@click.option("--depth", default="", help="Settled depth wanted; bare is mm.")
@click.option("--weight", default="", help="Weight there is, to get its depth: '4000 kg'.")
@click.option("--density", type=float, default=None, help="Settled bulk density, kg a litre.")
@click.option("--bag", default="", help="What a bag holds: '25 kg'.")
@AREA
@zone_told("needed without --area")
@keep_options
@door_options
def dressing(
    door: Door, material: str, depth: str, weight: str, density: float | None, bag: str,
    area: str, zone: str, keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Order a topdressing by depth and bulk density: loose volume, tonnes, barrows, bags."""
    from swardbook.book import materials
    from swardbook.book.fields import quantity
    from swardbook.book.worked_out import Answer

    book = book_if(door, zone, keeping)
    found = materials.dressing(
        materials.area_of(book, zone, area), material,
        quantity(depth, "mm", "--depth") if depth else None,
        quantity(weight, "kg", "--weight") / 1000 if weight else None,
        density, quantity(bag, "kg", "--bag") / 1000 if bag else None,
    )  # fmt: skip
    words = f"{found.depth_mm:.3g} mm of {material}: {found.loose_l / 1000:.2f} m³ loose"
    kept = Answer("dressing", words, {"material": material, "depth": depth, "weight": weight},
                  {"loose_l": found.loose_l, "weight_kg": found.kg, "depth_mm": found.depth_mm},
                  {"material": material})  # fmt: skip
    payload = {
        "material": found.material, "area_m2": found.area_m2,
        "depth_mm": round(found.depth_mm, 3), "settled_l": round(found.settled_l, 1),
        "loose_l": round(found.loose_l, 1), "weight_kg": round(found.kg, 1),
        "weight_low_kg": round(found.low_kg, 1), "weight_high_kg": round(found.high_kg, 1),
        "barrows": found.barrows, "bags": found.bags, "passes": found.passes,
        "deeper_than_seed_is_covered": found.is_deep,
        "density_kg_l": found.density, "density_from": found.density_from,
        "cautions": told_cautions("dress"),
    }  # fmt: skip
    answer(door, book, kept, payload, _dressing_lines(found), zone, keeping, "dress")


def _dressing_lines(found: DressingOrder) -> list[str]:
    span = ""
    if found.low_kg < found.high_kg:
        span = f" ({found.low_kg / 1000:.2f} to {found.high_kg / 1000:.2f} by the soil's range)"
    bags = "" if found.bags is None else f", {found.bags} bags"
    lines = [
        *under("", f"{found.depth_mm:.3g} mm of {found.material} on {found.area_m2:,.1f} m² is"
                   f" {found.settled_l:,.0f} L in place; order {found.loose_l / 1000:.2f} m³"
                   f" loose.", 0),
        *under("", f"Dry {found.kg / 1000:.2f} t{span}; damp it weighs more."
                   f" {_barrows(found.barrows)}{bags}.", 0),
    ]  # fmt: skip
    lines += under("", f"Bulk density {found.density:.2f} kg a litre, settled and dry"
                       f" ({found.density_from}).", 0)  # fmt: skip
    if found.is_deep:
        told = (
            "Deeper than seed is covered: on bare ground it is firmed before sowing; grass dies"
            f" under it, and takes {found.passes} passes for levels."
        )
        lines += under("", told, 0)
    else:
        lines += under("", f"In {found.passes} pass{'es' * (found.passes > 1)}, leaf tips showing"
                           " after each, of what matches the soil below.", 0)  # fmt: skip
    lines += under("", "A dressing does not drain a wet lawn; one that does not match makes a"
                       " layer that holds water.", 0)  # fmt: skip
    return [*lines, *mind("dress")]


@command.command()
@click.option("--tine", default="", help="Inside width of a hollow tine; bare is mm.")
@click.option("--blade", default="", help="Thickness of a blade; bare is mm.")
@click.option("--spacing", default="", help="Spacing of tines or blades; bare is mm.")
@click.option("--depth", default="", help="How deep; bare is mm. Alone: turf or soil taken off.")
@click.option("--passes", default=1, show_default=True, help="Passes of blades.")
@AREA
@zone_told("needed without --area")
@keep_options
@door_options
def spoil(
    door: Door, tine: str, blade: str, spacing: str, depth: str, passes: int, area: str,
    zone: str, keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Work out cores, thatch or stripped turf: volume as it lay, loose, and in barrows."""
    from swardbook.book import materials
    from swardbook.book.worked_out import Answer
    from swardbook.foundation.errors import BadInputError

    if not depth or (tine and blade) or bool(tine or blade) != bool(spacing):
        raise BadInputError(
            "the spoil", "not all of it",
            "--depth with --tine or --blade and --spacing, or --depth alone",
        )  # fmt: skip
    book = book_if(door, zone, keeping)
    size = materials.area_of(book, zone, area)
    found = _spoil(size, (tine, blade, spacing, depth), passes)
    words = f"{found.what}: {found.loose_l / 1000:.2f} m³ loose, {_barrows(found.barrows)}"
    kept = Answer(
        "spoil", words, {"depth": depth, "tine": tine, "blade": blade},
        {"solid_l": found.solid_l, "loose_l": found.loose_l}, {"what": found.what},
    )  # fmt: skip
    payload = {
        "what": found.what, "area_m2": size, "solid_l": round(found.solid_l, 1),
        "loose_l": round(found.loose_l, 1), "loose_low_l": round(found.loose_low_l, 1),
        "loose_high_l": round(found.loose_high_l, 1), "barrows": found.barrows,
        "fill_settled_l": round(found.fill_l, 1),
        "cautions": told_cautions("tine" if tine else "scarify"),
    }  # fmt: skip
    lines = under("", f"{found.what.capitalize()}: {found.solid_l:,.0f} L as it lay,"
                      f" {found.loose_low_l / 1000:.2f} to {found.loose_high_l / 1000:.2f} m³"
                      f" loose, about {_barrows(found.barrows)}.", 0)  # fmt: skip
    if found.fill_l:
        lines += under("", f"To fill it again: {found.fill_l:,.0f} L of dressing, settled.", 0)
    lines += under("", "Spoil with heads or roots of weed grass leaves the site, or is stacked"
                       " where nothing is sown.", 0)  # fmt: skip
    job = "tine" if tine else "scarify"
    answer(door, book, kept, payload, [*lines, *mind(job)], zone, keeping,
           job if spacing else "")  # fmt: skip


def _spoil(area_m2: float, typed: tuple[str, str, str, str], passes: int) -> Spoil:
    from swardbook.book import materials
    from swardbook.book.fields import quantity
    from swardbook.foundation.quantities import require

    names = ("--tine", "--blade", "--spacing", "--depth")
    tine, blade, spacing, depth = (
        quantity(text, "mm", name) if text else 0.0 for text, name in zip(typed, names, strict=True)
    )
    require("depth", depth, 0.5, 500, "mm")
    if typed[0]:
        return materials.cores(area_m2, tine, spacing, depth)
    if typed[1]:
        return materials.slits(area_m2, blade, spacing, depth, passes)
    return materials.stripped(area_m2, depth)


@command.command()
@click.option("--holes", type=click.IntRange(1), required=True, help="How many holes.")
@click.option("--size", required=True, help="Width of one; bare is mm.")
@click.option("--depth", default="", help="How deep they are; bare is mm.  [default: 60]")
@click.option("--lot", default="", metavar="CODE", help="Lot of the book: the same as was sown.")
@click.option("--bag", default="", help="Litres in a bag of soil.")
@keep_options
@door_options
def refill(
    door: Door, holes: int, size: str, depth: str, lot: str, bag: str, zone: str,
    keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Work out soil, seed of the same lot and cover for holes of one size."""
    from swardbook.book.fields import quantity
    from swardbook.book.refill_materials import refill_order
    from swardbook.book.worked_out import Answer

    book = book_if(door, zone, lot, keeping)
    found = refill_order(
        book, zone, holes, quantity(size, "mm", "--size"),
        quantity(depth, "mm", "--depth") if depth else None, lot,
        quantity(bag, "l", "--bag") if bag else None,
    )  # fmt: skip
    words = (
        f"{holes} holes of {found.hole_mm:g} mm: {found.soil_l:.0f} L soil, {found.seed_g:.0f} g"
    )
    kept = Answer("refill order", words, {"holes": str(holes), "size": size},
                  {"soil_l": found.soil_l, "seed_g": found.seed_g}, {"lot": found.lot})  # fmt: skip
    payload = {
        "holes": holes, "hole_mm": found.hole_mm, "depth_mm": found.depth_mm,
        "area_m2": round(found.area_m2, 4), "soil_loose_l": round(found.soil_l, 2),
        "cover_l": round(found.cover_l, 2), "seed_g": round(found.seed_g, 1),
        "seed_low_g": round(found.seed_low_g, 1), "seed_high_g": round(found.seed_high_g, 1),
        "barrows": found.barrows, "bags": found.bags, "closes_itself": found.closes_itself,
        "lot": found.lot or None, "in_hand_g": found.in_hand_g,
        "other_seed": found.other_seed or None, **_take_payload(found),
        "cautions": told_cautions("refill"),
    }  # fmt: skip
    answer(door, book, kept, payload, _refill_lines(found), zone, keeping)


def _refill_lines(found: RefillOrder) -> list[str]:
    bags = "" if found.bags is None else f", {found.bags} bags"
    lines = under("", f"{found.holes} holes of {found.hole_mm:g} mm, {found.area_m2:.2g} m² in all:"
                      f" {found.soil_l:.0f} L of weed-seed-free soil, loose"
                      f" ({_barrows(found.barrows)}{bags}), {found.cover_l:.1f} L of it kept for"
                      " the cover, and"
                      f" {found.seed_g:.0f} g of seed ({found.seed_low_g:.0f} to"
                      f" {found.seed_high_g:.0f}).", 0)  # fmt: skip
    if found.closes_itself:
        lines += under("", "Holes this small close themselves in a growing sward; one"
                           " seed-and-dressing brush over the strip is enough.", 0)  # fmt: skip
    if found.lot and found.in_hand_g is not None:
        short = found.in_hand_g < found.seed_g
        state = "not enough; another lot shows for years" if short else "enough"
        lines += under("", f"{found.lot}: {_kg(found.in_hand_g)} in hand by the book, {state}.", 0)
        lines += under("", found.other_seed, 0) if found.other_seed else []
    elif not found.lot:
        lines += under("", "Use the lot the zone was sown with: another shows for years.", 0)
    if found.take is not None and found.again is not None:
        low, high = round(found.again[1]), round(found.again[2])
        again = f"{low} to {high}" if low < high else f"{low}"
        lines += under("", f"{found.take.words}: of these {found.holes} look for {again} to fill"
                           f" again after six weeks; keep {found.spare_seed_g or 0:.0f} g and"
                           f" {found.spare_soil_l or 0:.0f} L for them.", 0)  # fmt: skip
    return [*lines, *mind("refill")]


def _take_payload(found: RefillOrder) -> dict[str, Any]:
    take, again = found.take, found.again
    return {
        "took_here": None if take is None else {
            "season": take.season or "any", "taken": take.taken, "looked": take.looked,
            "low_share": round(take.interval.low, 4), "high_share": round(take.interval.high, 4),
        },
        "again_holes_low": None if again is None else round(again[1], 1),
        "again_holes": None if again is None else round(again[0], 1),
        "again_holes_high": None if again is None else round(again[2], 1),
        "again_seed_g": None if again is None else round(found.spare_seed_g or 0.0, 1),
        "again_soil_l": None if again is None else round(found.spare_soil_l or 0.0, 2),
    }  # fmt: skip


def _kg(grams: float) -> str:
    return f"{grams / 1000:,.2f} kg" if grams >= 1000 else f"{grams:,.0f} g"


def _barrows(number: int) -> str:
    return f"{number} barrow{'s' * (number != 1)}"
