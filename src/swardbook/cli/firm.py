"""``swardbook firm``: a firm's day over all its lawns."""

from __future__ import annotations

from importlib import import_module
from typing import Any

import click

from swardbook.cli.doors import Door, clock_today, door_options

BELOW: dict[str, str] = {
    # name: module; each is imported only when it is asked for
    "show": "firm", "yard": "firm", "person": "firm", "comes": "firm", "week": "firm_week",
    "stock": "firm_seed", "trace": "firm_seed", "template": "firm_template",
    "together": "firm_together", "part": "firm_together",
}  # fmt: skip


class LazyFirm(click.Group):
    """The group; its commands stand in modules of their own."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Give the names in the order of the work."""
        return list(BELOW)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import the module of one command."""
        if cmd_name not in BELOW:
            return None
        module = import_module(f"swardbook.cli.{BELOW[cmd_name]}")
        found: click.Command = getattr(module, cmd_name)
        return found


@click.group(cls=LazyFirm)
def command() -> None:
    """See a firm's day over all its lawns: who goes where, seed across lawns, templates."""


@click.command()
@door_options
def show(door: Door) -> None:
    """Show the yard, who goes out, who comes to which lawn, and where a place is missing."""
    from swardbook.book.firm import comes_of, position_of, rows_seen, workers_of, yard_of
    from swardbook.cli.output import table

    book = door.any_book()
    rows = rows_seen(book, None)
    yard = yard_of(rows)
    lawns = [row for row in rows if yard is None or row.slug != yard.slug]
    workers = workers_of(yard, lawns)
    lines = _yard_lines(yard)
    lines += table(
        ("who", "hours a day", "days"),
        [(each.name, f"{each.hours:g} h", ", ".join(day[:3] for day in each.days))
         for each in workers],
    ) if workers else ["Nobody is named yet: swardbook firm comes GROUND --who NAME"]  # fmt: skip
    lines += ["", *table(
        ("lawn", "who", "when", "place"),
        [(row.slug, comes_of(row).who or "nobody", _when(comes_of(row)),
          "yes" if position_of(row) else "not said") for row in lawns],
    )]  # fmt: skip
    door.show(
        {
            "yard": None if yard is None else yard.slug,
            "people": [{"name": each.name, "hours_a_day": each.hours, "days": list(each.days)}
                       for each in workers],
            "lawns": [{"ground": row.slug, "comes": _comes_payload(comes_of(row)),
                       "has_place": position_of(row) is not None} for row in lawns],
        },
        lines,
        book,
    )  # fmt: skip


@click.command()
@click.argument("lawn", metavar="GROUND")
@click.option("--begins", default="", metavar="TIME", help="When a day begins, such as 7:30.")
@door_options
def yard(door: Door, lawn: str, begins: str) -> None:
    """Name the ground that days begin and end at: one of its own, without zones.

    Where it lies is said once with `swardbook plan globe`; its seed is the firm's shed.
    """
    from swardbook.book.firm import name_yard, yard_of
    from swardbook.book.opening import at_ground

    book = door.any_book()
    name_yard(_at(door, book, lawn, at_ground), begins)
    found = yard_of(book.store.lawns(book.today))
    assert found is not None
    door.show({"yard": found.slug, "begins_h": found.begins}, _yard_lines(found), book)


@click.command()
@click.argument("name")
@click.option("--hours", default="", help="Hours out of the yard in a day.")
@click.option("--days", default="", help="Weekdays, apart by commas.  [default: Monday to Friday]")
@door_options
def person(door: Door, name: str, hours: str, days: str) -> None:
    """Say how long somebody is out in a day, and on which weekdays."""
    from swardbook.book.firm import set_worker, yard_of
    from swardbook.book.opening import at_ground
    from swardbook.foundation.errors import BadInputError

    book = door.any_book()
    there = yard_of(book.store.lawns(book.today))
    if there is None:
        raise BadInputError("the yard", "none", "a yard", "Name one: swardbook firm yard GROUND")
    made = set_worker(at_ground(book, there.slug, clock_today, book.today), name, hours, days)
    told = f"{made.name}: {made.hours:g} h on {', '.join(made.days)}."
    payload = {"name": made.name, "hours_a_day": made.hours, "days": list(made.days)}
    door.show(payload, [told], book)


@click.command()
@click.argument("grounds", nargs=-1, required=True, metavar="GROUND...")
@click.option("--who", default=None, help="Who comes; empty for nobody.")
@click.option("--days", default=None, help="Weekdays it may be worked on; empty for any.")
@click.option("--between", default=None, metavar="TIMES", help="Hours, such as 9:00-15:30.")
@door_options
def comes(
    door: Door, grounds: tuple[str, ...], who: str | None, days: str | None, between: str | None
) -> None:
    """Say who comes to a lawn, and when it may be worked on; what is not given stays."""
    from swardbook.book.firm import say_who_comes
    from swardbook.book.opening import at_ground

    book = door.any_book()
    there = [_at(door, book, each, at_ground) for each in grounds]
    found = [(each.store.slug(), say_who_comes(each, who, days, between)) for each in there]
    lines = [f"{slug}: {now.who or 'nobody'}, {_when(now)}." for slug, now in found]
    payload = {"lawns": [{"ground": slug, "comes": _comes_payload(now)} for slug, now in found]}
    door.show(payload, lines, book)


def _at(door: Door, book: Any, lawn: str, at_ground: Any) -> Any:
    return at_ground(book, lawn, clock_today, book.today if door.on else None)


def _yard_lines(yard: Any) -> list[str]:
    from swardbook.book.firm import clock_words

    if yard is None:
        return ["No yard yet: days begin at the first lawn. Name one with",
                "swardbook firm yard GROUND", ""]  # fmt: skip
    place = "" if yard.position else "; where it lies is not said: swardbook plan globe"
    return [f"Days begin at {clock_words(yard.begins)} at {yard.name}{place}.", ""]


def _when(now: Any) -> str:
    from swardbook.book.firm import clock_words

    days = ", ".join(day[:3] for day in now.days) or "any day"
    if now.opens is None:
        return days
    return f"{days}, {clock_words(now.opens)} to {clock_words(now.closes)}"


def _comes_payload(now: Any) -> dict[str, Any]:
    return {"who": now.who or None, "days": list(now.days), "opens_h": now.opens,
            "closes_h": now.closes}  # fmt: skip
