"""``swardbook jobs``: what the machine does by itself, what came of it, and what failed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, clock_now, door_options
from swardbook.cli.output import table

if TYPE_CHECKING:
    from swardbook.records.job import Job

HEADS = ("number", "work", "ground", "state", "for the last time", "so far or why")


@click.group()
def command() -> None:
    """See what the machine does by itself: nights, weather, copies, letters, photographs."""


@command.command("list")
@click.option("--failed", is_flag=True, help="Only those that failed.")
@click.option("--most", default=20, show_default=True, type=click.IntRange(1, 100_000),
              help="How many to show.")  # fmt: skip
@door_options
def listed(door: Door, failed: bool, most: int) -> None:
    """List the jobs of the book, the latest first: what waits, runs, is done or failed, and why."""
    from swardbook.book.machine_jobs import KINDS, jobs_counted, jobs_listed

    book = door.any_book()
    found = jobs_listed(book, ("failed",) if failed else (), most)
    counts = jobs_counted(book)
    told = ", ".join(f"{many} {state}" for state, many in counts.items())
    names = {key: kind.name for key, kind in KINDS.items()}
    lines = [f"Jobs: {told}."]
    if found:
        lines += ["", *table(HEADS, [_row(each, names) for each in found])]
    if counts["failed"]:
        lines += ["", "One that failed is done again with: swardbook jobs again NUMBER"]
    door.show({"counts": counts, "jobs": [_plain(each) for each in found]}, lines, book)


@command.command("again")
@click.argument("number", type=int)
@door_options
def again(door: Door, number: int) -> None:
    """Let a job that failed be done again."""
    from swardbook.book.machine_jobs import do_again

    book = door.any_book()
    job = do_again(book, number, clock_now())
    lines = [f"{job.key} waits to be done again; a worker takes it: swardbook worker"]
    door.show({"job": _plain(job)}, lines, book)


@command.command("ask")
@click.argument("kind", type=click.Choice(["night", "letter", "photos", "weather", "copy"]))
@click.argument("files", nargs=-1, type=click.Path(path_type=Path))
@click.option("--zone", "-z", default="", help="Zone of photographs, by name.")
@click.option("--size", default="", help="Sides of a photographed plot, such as '1.2x1 m'.")
@click.option("--leave-out", default="", metavar="WORDS",
              help="What a letter leaves out, with commas.")  # fmt: skip
@door_options
def ask(
    door: Door, kind: str, files: tuple[Path, ...], zone: str, size: str, leave_out: str
) -> None:
    """Ask for work that a worker does later: a letter, a batch of photographs, a fetch, a copy.

    ``night`` asks for all that is done each night. The same asked twice is done once.
    """
    from swardbook.book.machine_jobs import ask_for, ask_for_night, asked_with

    book = door.any_book() if kind in {"night", "copy"} else door.book()
    now = clock_now()
    if kind == "night":
        new = ask_for_night(book, book.today, now)
    else:
        given = asked_with(book, kind, files, zone, size, leave_out)
        ground = "" if kind == "copy" else book.store.slug()
        new = ask_for(book, kind, now, given, ground=ground, mark=given.pop("mark"))
    told = "1 job waits" if new == 1 else f"{new} jobs wait"
    lines = [f"{told} for a worker: swardbook worker" if new else "It was asked for before."]
    door.show({"new": new}, lines, book)


def _row(job: Job, names: dict[str, str]) -> tuple[str, ...]:
    at = job.ended_at or job.began_at or job.made_at
    so_far = job.progress if job.state == "running" else job.reason
    return (
        str(job.id), names.get(job.kind, job.kind), job.ground or "-", job.state,
        f"{at.astimezone():%-d %b %H:%M}", so_far or "-",
    )  # fmt: skip


def _plain(job: Job) -> dict[str, Any]:
    return {
        "number": job.id,
        "work": job.kind,
        "ground": job.ground or None,
        "key": job.key,
        "state": job.state,
        "attempt": job.attempt,
        "most_attempts": job.most_attempts,
        "progress": job.progress or None,
        "share_done": job.share,
        "reason": job.reason or None,
    }
