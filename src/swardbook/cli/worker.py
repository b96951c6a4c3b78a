"""``swardbook worker``: works the machine's jobs off, or lends this machine to a cluster."""

from __future__ import annotations

import os

import click

from swardbook.cli.doors import Door, clock_now, clock_today, door_options


@click.command()
@click.option("--processes", default=1, show_default=True, type=click.IntRange(1, 256),
              help="How many jobs at once.")  # fmt: skip
@click.option("--until-empty", is_flag=True, help="Leave when nothing waits.")
@click.option("--kind", "kinds", multiple=True, metavar="KIND",
              help="Only jobs of this kind; may be given again.")  # fmt: skip
@click.option("--nightly-at", default=None, type=click.IntRange(0, 23), metavar="HOUR",
              help="Ask for the night's work from this hour of the day on: weather, a safe copy,"
              " each lawn.")  # fmt: skip
@click.option("--cluster", default="", metavar="ADDRESS",
              help="Work for this Dask scheduler instead; no book is needed here.")  # fmt: skip
@door_options
def command(
    door: Door, processes: int, until_empty: bool, kinds: tuple[str, ...], nightly_at: int | None,
    cluster: str,
) -> None:  # fmt: skip
    """Work off what the book asks of the machine, until you stop it with Ctrl-C.

    Each job is held under a lease that its worker renews. One that is killed, or loses its power,
    costs a lease: another takes the job then. A process that dies is begun anew. Several workers,
    also on several machines over one PostgreSQL database, share the jobs.
    """
    from swardbook.book.machine_jobs import jobs_counted, kind_of
    from swardbook.settings import read_settings

    settings = read_settings(os.environ)
    if cluster:
        from swardbook.book.workers import lend

        click.get_current_context().exit(
            lend(settings, cluster, lambda words: click.echo(words, err=True))
        )
    for each in kinds:
        kind_of(each)
    from swardbook.book.machine_worker import Working, work_off

    book = door.any_book()
    working = Working(settings, clock_today, clock_now, until_empty, kinds, nightly_at)
    if not door.as_json:
        click.echo(f"Working jobs off, {processes} at once. Stop it with Ctrl-C.", err=True)
    work_off(working, processes, lambda words: click.echo(f"{words.capitalize()}.", err=True))
    counts = jobs_counted(book)
    told = ", ".join(f"{many} {state}" for state, many in counts.items())
    door.show({"jobs": counts}, [f"Jobs of the book: {told}."], book)
    if counts["failed"]:
        click.get_current_context().exit(1)
