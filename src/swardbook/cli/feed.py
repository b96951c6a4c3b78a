"""``swardbook feed``: record a feed with its label figures."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options, entry_options

if TYPE_CHECKING:
    from swardbook.husbandry.labels import Given


@click.command()
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
    """Record a feed; label figures are read as oxides unless you say otherwise."""
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
