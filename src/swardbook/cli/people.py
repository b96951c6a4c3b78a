"""``swardbook people``: who may log in to the pages, and as what."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli import people_asked
from swardbook.cli.doors import Door, clock_now, door_options

if TYPE_CHECKING:
    from swardbook.records.person import Person


@click.group()
def command() -> None:
    """Who may log in to the pages from another machine, and as what.

    An owner does everything, a worker writes down what was done and seen, a reader only looks.
    Passwords are asked for on the terminal, never taken from the command.
    """


@command.command("list")
@door_options
def list_(door: Door) -> None:
    """Show who has access to the ground."""
    from swardbook.book.people import people
    from swardbook.cli.output import table

    book = door.book()
    found = people(book)
    rows = [(each.name, each.initials, each.role, _own(each)) for each in found]
    none = ["Nobody has an account. Add an owner with `swardbook people add NAME --role owner`."]
    lines = [*table(("name", "initials", "role", "password"), rows)] if rows else none
    door.show({"people": [_payload(each) for each in found]}, lines, book)


@command.command(short_help="Let somebody in; asks for their first password.")
@click.argument("name")
@click.option("--role", required=True, help="owner, worker or reader.")
@click.option("--initials", default="", help="What their entries carry; none: from the name.")
@click.option("--mine", is_flag=True, help="The password is your own; it need not be changed.")
@door_options
def add(door: Door, name: str, role: str, initials: str, mine: bool) -> None:
    """Let somebody in; asks for their first password, which they change at the first log-in."""
    from swardbook.book.people import add_person, read_role

    book, known = door.book(), read_role(role)
    person = add_person(book, name, initials, known, _password(), clock_now(), must_change=not mine)
    _show(door, person, f"{person.name} ({person.initials}) is let in as {person.role}.", book)


@command.command(short_help="Change what somebody is to the ground.")
@click.argument("name")
@click.argument("role")
@door_options
def role(door: Door, name: str, role: str) -> None:
    """Change what somebody is to the ground: owner, worker or reader."""
    from swardbook.book.people import change_role

    book = door.book()
    person = change_role(book, name, role, is_own_machine=True)
    _show(door, person, f"{person.name} is {person.role} from now on.", book)


@command.command(short_help="End somebody's access; what they wrote stays.")
@click.argument("name")
@click.option("--nothing-more", is_flag=True, help="Take nothing that still waits on their phone.")
@door_options
def end(door: Door, name: str, nothing_more: bool) -> None:
    """End somebody's access; what they wrote stays in the diary under their initials.

    What still waits on their phone is taken for some days and put aside for an owner to decide
    about, under `swardbook people left-behind`.
    """
    from swardbook.book.leaving import until
    from swardbook.book.people import end_access

    book = door.book()
    last = None if nothing_more else until(book, clock_now())
    person = end_access(book, name, last)
    told = f"{person.name} is let in no more. What they wrote stays."
    if last is not None:
        told += f" What waits on their phone is taken until {people_asked.day(last)}."
    _show(door, person, told, book)


@command.command("new-password", short_help="Give somebody a new first password.")
@click.argument("name")
@door_options
def new_password(door: Door, name: str) -> None:
    """Give somebody a new first password; wherever they are logged in, that ends."""
    from swardbook.book.people import give_password

    book = door.book()
    person = give_password(book, name, _password(), asker=None)
    told = f"{person.name} has a new first password, and changes it at the next log-in."
    _show(door, person, told, book)


def _password() -> str:
    typed: str = click.prompt(
        "First password", hide_input=True, confirmation_prompt="The same again", err=True
    )
    return typed


def _own(person: Person) -> str:
    return "first one, not yet changed" if person.must_change else "their own"


def _payload(person: Person) -> dict[str, Any]:
    return {
        "name": person.name, "initials": person.initials, "role": person.role,
        "must_change_password": person.must_change,
    }  # fmt: skip


def _show(door: Door, person: Person, told: str, book: Any) -> None:
    door.show({"person": _payload(person)}, [told], book)


for each in (
    people_asked.invite, people_asked.invitations, people_asked.withdraw, people_asked.grounds,
    people_asked.phones, people_asked.second_factor_off, people_asked.left_behind,
    people_asked.forget_name, people_asked.record,
):  # fmt: skip
    command.add_command(each)
