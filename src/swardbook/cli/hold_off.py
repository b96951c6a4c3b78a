"""``swardbook hold-off``: a job held off, with the reason."""

from __future__ import annotations

from typing import Any

import click

from swardbook.cli.doors import Door, door_options, entry_options


@click.command()
@click.argument("job")
@click.option("--reason", required=True, help="Why: dry, no box, heads up and no rake ...")
@entry_options
@door_options
def command(door: Door, job: str, reason: str, **said: Any) -> None:
    """Record a job held off; restraint is worth recording."""
    from swardbook.book.plan import doubt_of_job
    from swardbook.cli.keeping import keep_and_answer
    from swardbook.husbandry.happenings import HoldOff

    doubt = doubt_of_job(job)
    keep_and_answer(door, HoldOff(job, reason), said, [doubt] if doubt else [])
