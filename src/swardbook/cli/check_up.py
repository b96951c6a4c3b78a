"""``swardbook check-up``: what the book rests on, looked over; findings by how soon to act."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options

if TYPE_CHECKING:
    from swardbook.book.findings import CheckUp


@click.command("check-up")
@door_options
def command(door: Door) -> None:
    """Look the whole book over: which database runs, every entry, pictures, copies, space, clock.

    Nothing is changed. It ends with 1 where something has to be done.
    """
    from swardbook.book.check_up import check_up
    from swardbook.cli.copy import clock_now
    from swardbook.settings import read_settings

    found = check_up(read_settings(os.environ), clock_now())
    door.show(_payload(found), _lines(found))
    if not found.is_well:
        raise SystemExit(1)


def _payload(found: CheckUp) -> dict[str, Any]:
    return {
        "is_well": found.is_well,
        "findings": [
            {"severity": each.severity.word, "about": each.about, "found": each.words,
             "what_to_do": each.remedy}
            for each in found.findings
        ],
        "looked_at": {each.about: each.words for each in found.looked},
    }  # fmt: skip


def _lines(found: CheckUp) -> list[str]:
    lines = [f"{each.about.capitalize()}: {each.words}." for each in found.looked]
    for each in found.findings:
        lines += ["", f"{each.severity.word.capitalize()}, {each.about}: {each.words}.",
                  f"  {each.remedy}"]  # fmt: skip
    lines += ["", "Nothing has to be done." if found.is_well else "Something has to be done."]
    return lines
