"""The week's tasks with their reasons."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.planning.tasks import Task, Worth
    from swardbook.planning.week import Week


@click.command()
@click.option("--zone", "-z", default="", help="Zone, by name; none: the whole site.")
@click.option(
    "--worth/--no-worth", default=True,
    help="Say what each task is worth (the default; takes a while the first time), or do not.",
)  # fmt: skip
@door_options
def command(door: Door, zone: str, worth: bool) -> None:
    """List what to do this week: what, how long, why now; and what is held off, with the reason."""
    from swardbook.book.plan import week

    book = door.book()
    if worth:
        from swardbook.book.worth import worth_of

        found = week(book, zone, worth_of(book, tell=lambda told: click.echo(told, err=True)))
    else:
        found = week(book, zone)
    named = {"zone": book.ground().zone(zone).name} if zone else {}
    door.show({**named, **payload(found)}, lines(found, worth), book)


def payload(week: Week) -> dict[str, Any]:
    """Give the week as one plain object."""
    return {
        "hours_there_are": week.hours_there_are,
        "hours_due_low": round(week.hours.low, 2),
        "hours_due_high": round(week.hours.high, 2),
        "left_out": week.left_out,
        "tasks": [
            {
                "name": task.name,
                "job": task.job,
                "zones": list(task.zones),
                "status": task.status.value,
                "when": task.when,
                "hours_low": round(task.hours.low, 2),
                "hours_high": round(task.hours.high, 2),
                "whole_hours_low": None if task.whole is None else round(task.whole.low, 2),
                "whole_hours_high": None if task.whole is None else round(task.whole.high, 2),
                "materials": list(task.materials),
                "kept": list(task.kept),
                "why": task.why,
                "worth": _worth(task.worth),
                "wrong_if": task.wrong_if,
                "caution": task.caution,
                "held_off_because": task.held_off_because,
                "loses_to": task.loses_to.value if task.loses_to else None,
            }
            for task in week.tasks
        ],
    }


def _worth(worth: Worth) -> dict[str, Any]:
    return {
        "words": worth.words,
        "value": worth.value,
        "low": worth.low,
        "high": worth.high,
        "unit": worth.unit,
    }


def lines(week: Week, shows_worth: bool) -> list[str]:
    """Write the week as lines, task by task."""
    if not week.tasks:
        return ["Nothing is due this week. Leaving it be is work too."]
    told = [*under("", week.hours_words, 0), ""]
    number = 0
    for task in week.tasks:
        if task.held_off_because:
            told += _held(task)
        else:
            number += 1
            told += _due(task, number, shows_worth)
    more = f"{week.left_out} more can wait; ask for one zone to see them." if week.left_out else ""
    return [*told, more] if more else told


def _due(task: Task, number: int, shows_worth: bool) -> list[str]:
    where = task.zone or "whole site"
    lines = under(
        task.status.shape, f"{number}. {task.name}: {where}. {_capital(task.hours_words)}.", 0
    )
    lines += under("", f"{task.when[0].upper()}{task.when[1:]}.")
    lines += under("", f"Why now: {task.why}")
    if task.materials:
        lines += under("", f"With: {'; '.join(each.rstrip('.') for each in task.materials[:6])}.")
    lines += _kept(task)
    worth = f"Worth: {task.worth.words}. " if shows_worth else ""
    lines += under("", f"{worth}Wrong if {task.wrong_if}.")
    if task.caution:
        lines += under("", f"Mind: {task.caution}")
    return [*lines, ""]


def _kept(task: Task) -> list[str]:
    return [line for each in task.kept for line in under("", f"Plan: {each}")]


def _capital(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}"


def _held(task: Task) -> list[str]:
    lines = under(task.status.shape, f"Held off: {task.name}, {task.zone}.", 0)
    lines += under("", f"{task.held_off_because[0].upper()}{task.held_off_because[1:]}.")
    lines += _kept(task)
    loses = f"It loses to {task.loses_to.value}, and " if task.loses_to else "It "
    lines += under("", f"{loses}{task.when}.")
    return [*lines, ""]
