"""The morning look: the first screen."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.planning.morning import Morning


@click.command()
@door_options
def command(door: Door) -> None:
    """Tell what stops you today, what is drying, what is due, and what is held off and why."""
    from swardbook.book.plan import morning

    book = door.book()
    found = morning(book)
    door.show(payload(found), lines(found), book)


def payload(look: Morning) -> dict[str, Any]:
    """Give the morning look as one plain object."""
    return {
        "site": look.site,
        "weekly_hours": look.weekly_hours,
        "sections": [
            {
                "key": section.key,
                "title": section.title,
                "nothing": section.nothing if not section.lines else "",
                "lines": [
                    {
                        "zones": list(line.zones),
                        "word": line.word,
                        "text": line.text,
                        **line.values,
                    }
                    for line in section.lines
                ],
            }
            for section in look.sections
        ],
    }


def lines(look: Morning) -> list[str]:
    """Write the morning look as lines, at most a screen."""
    told = []
    for section in look.sections:
        if not section.lines:
            told += under("", f"{section.title}. {section.nothing}", 0)
            continue
        told.append(section.title)
        for line in section.shown:
            where = f"{', '.join(line.zones)}: " if line.zones else ""
            told += under(line.shape, f"{where}{line.text}")
        if section.more:
            told.append(f"  and {section.more} more")
    return [*told, "", "More: swardbook week, swardbook fit, swardbook clock."]
