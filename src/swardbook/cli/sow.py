"""``swardbook sow``: record a sowing."""

from __future__ import annotations

from typing import Any

import click

from swardbook.cli.doors import Door, door_options, entry_options
from swardbook.cli.recording import Recording, is_recording

METHODS = ("seedbed", "slit", "broadcast on scarified", "broadcast on sward")


class SowVerb(Recording):
    """Records when called alone."""

    module = "swardbook.cli.sow_ahead"
    plans = ("when", "watch")


@click.group(cls=SowVerb, invoke_without_command=True)
@click.option("--lot", default="", help="Lot number on the bag, or on the stitched label.")
@click.option("--rate", default="", help="Rate: 30, '30 g/m2', '1 oz/yd2'; bare is g/m².")
@click.option("--area", default="", help="Area sown, if not the whole zone; bare is m².")
@click.option("--used", default="", help="Seed used: '13.8 kg'; bare is g.")
@click.option("--method", default="seedbed", show_default=True, type=click.Choice(METHODS))
@click.option("--watered/--not-watered", "watered", default=None)
@entry_options
@door_options
def command(
    door: Door, lot: str, rate: str, area: str, used: str, method: str, watered: bool | None,
    **said: Any,
) -> None:  # fmt: skip
    """Record a sowing; `sow when` looks ahead, `sow watch` looks at it come up."""
    if not is_recording():
        return
    from swardbook.book.fields import quantity, rate_and_doubt
    from swardbook.cli.keeping import keep_and_answer
    from swardbook.husbandry.happenings import Sow

    per_m2, asked = rate_and_doubt(rate)
    what = Sow(
        lot=lot,
        rate_g_m2=per_m2,
        area_m2=quantity(area, "m2", "--area") if area else None,
        used_g=quantity(used, "g", "--used") if used else None,
        method=method,
        watered=watered,
    )
    more = [] if lot else ["No lot given: the refills will want the same one. Add it when found."]
    keep_and_answer(door, what, said, asked, more)
