"""The further commands of ``swardbook people``: invitations, leaving, phones, the record."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, clock_now, door_options

if TYPE_CHECKING:
    from datetime import datetime

    from swardbook.book.leaving import Waiting
    from swardbook.records.happened import Happened
    from swardbook.records.invitations import Invitation
    from swardbook.records.phones import Phone


@click.command("invite", short_help="Make an invitation: a code that is good once.")
@click.argument("whom")
@click.option("--role", required=True, help="owner, worker or reader.")
@click.option("--address", default="", metavar="ADDRESS",
              help="Where the pages are; then a link is given.")  # fmt: skip
@click.option("--picture", type=click.Path(dir_okay=False), default=None, metavar="FILE.svg",
              help="Write the link as a square picture for a phone's camera.")  # fmt: skip
@door_options
def invite(door: Door, whom: str, role: str, address: str, picture: str | None) -> None:
    """Make an invitation; whoever uses it chooses name and password. It is shown this once."""
    from swardbook.book import inviting
    from swardbook.foundation.errors import BadInputError

    if picture and not address:
        raise BadInputError("--picture", "no address", "--address ADDRESS beside it")
    book = door.book()
    to = inviting.link(address, "") if address else ""
    made, code = inviting.invite(book, whom, role, None, clock_now())
    to = f"{to}{code}" if address else ""
    if picture:
        inviting.save_picture(picture, to)
    lines = [
        f"An invitation for {made.name} as {made.role}, good once, until {day(made.ends_at)}.",
        f"Link: {to}" if to else "They open the page /join/ and type the code.",
        f"Code: {code}",
        "It is shown this once and kept nowhere. Give it by hand or voice.",
    ]
    told = {**_invitation(made), "code": code, "link": to or None, "file": picture}
    door.show({"invitation": told}, lines, book)


@click.command("invitations")
@door_options
def invitations(door: Door) -> None:
    """Show the invitations that can still be used."""
    from swardbook.book import inviting
    from swardbook.cli.output import table

    book = door.book()
    found = inviting.invitations(book, clock_now())
    rows = [(str(each.key), each.name, each.role, day(each.ends_at)) for each in found]
    lines = [*table(("number", "for whom", "as", "until"), rows)] if rows else ["None is open."]
    door.show({"invitations": [_invitation(each) for each in found]}, lines, book)


@click.command("withdraw", short_help="Let an invitation hold no more.")
@click.argument("number", type=int)
@door_options
def withdraw(door: Door, number: int) -> None:
    """Let an invitation hold no more."""
    from swardbook.book import inviting

    book = door.book()
    inviting.withdraw(book, number, clock_now())
    door.show({"withdrawn": number}, [f"Invitation {number} opens nothing any more."], book)


@click.command("left-behind", short_help="What came from people who had left.")
@click.option("--take-in", "taken", type=int, multiple=True, metavar="NUMBER",
              help="Take it into the diary, under their initials; may be given again.")  # fmt: skip
@click.option("--leave-out", "left_out", type=int, multiple=True, metavar="NUMBER",
              help="Leave it out of the diary; it stays here as it was sent.")  # fmt: skip
@click.option("--all", "everything", is_flag=True, help="Take all of it in.")
@door_options
def left_behind(
    door: Door, taken: tuple[int, ...], left_out: tuple[int, ...], everything: bool
) -> None:
    """Show what came from the phones of people who had left, and decide about it."""
    from swardbook.book import leaving

    book = door.book()
    for key in left_out:
        leaving.leave_out(book, key, clock_now())
    wanted = [each.left.key for each in leaving.left_behind(book)] if everything else taken
    for key in wanted:
        leaving.take_left_in(book, key, clock_now())
    waiting = leaving.left_behind(book)
    lines = []
    if wanted or left_out:
        lines.append(f"Taken in: {len(wanted)}. Left out: {len(left_out)}.")
    lines += [_left_line(each) for each in waiting] or ["Nothing waits to be decided about."]
    payload = {"taken_in": len(wanted), "left_out": len(left_out),
               "waiting": [_left(each) for each in waiting]}  # fmt: skip
    door.show(payload, lines, book)


@click.command("forget-name", short_help="Take a name out of the book; initials stay.")
@click.argument("name")
@door_options
def forget_name(door: Door, name: str) -> None:
    """Take the name of somebody who has left out of the book; initials stay in the diary."""
    from swardbook.book.leaving import forget_name as forget

    book = door.book()
    person = forget(book, name)
    told = f"The name is taken out; {person.initials} stays under what they wrote."
    more = "Notes that somebody typed are not changed, nor are copies made before."
    door.show({"initials": person.initials}, [told, more], book)


@click.command("phones", short_help="Where people are logged in; end one.")
@click.argument("name", default="")
@click.option("--end", "ended", type=int, default=None, metavar="NUMBER", help="End this log-in.")
@door_options
def phones(door: Door, name: str, ended: int | None) -> None:
    """Show each phone and desk on which somebody is logged in, with its last day; end one."""
    from swardbook.book import people
    from swardbook.book import phones as book_phones
    from swardbook.cli.output import table
    from swardbook.foundation.errors import BadInputError

    book = door.book()
    if ended is not None:
        if not name:
            raise BadInputError("--end", "no name", "the name of the person before it")
        book_phones.end_phone_of(book, name, ended, None)
    names = [name] if name else [each.name for each in people.people(book)]
    found = [
        (who, each) for who in names for each in book_phones.own_phones(book, who, clock_now())
    ]
    rows = [
        (str(each.key), who, each.device or "not told", each.seen_on.isoformat())
        for who, each in found
    ]
    lines = [*table(("number", "who", "what", "last seen"), rows)] if rows else [
        "Nobody is logged in."
    ]  # fmt: skip
    door.show({"phones": [_phone(who, each) for who, each in found]}, lines, book)


@click.command("second-factor-off", short_help="Switch somebody's second factor off.")
@click.argument("name")
@door_options
def second_factor_off(door: Door, name: str) -> None:
    """Switch off the second factor of somebody whose phone is lost; it stands in the record."""
    from swardbook.book.second_factor import end_for

    book = door.book()
    person = end_for(book, name, None)
    told = f"{person.name} logs in by password alone until they set a second factor up again."
    door.show({"name": person.name}, [told], book)


@click.command("grounds", short_help="What somebody is to each ground; change it.")
@click.argument("name")
@click.option("--give", "given", multiple=True, metavar="GROUND=ROLE",
              help="What they are to a ground from now on; none ends it.")  # fmt: skip
@door_options
def grounds(door: Door, name: str, given: tuple[str, ...]) -> None:
    """Show what one account is to each ground of the book; choose it for each."""
    from swardbook.book import leaving, per_ground
    from swardbook.cli.output import table

    book = door.any_book()
    for each in given:
        ground, _, role = each.partition("=")
        until = leaving.until(book, clock_now())
        per_ground.change_role_at(book, ground.strip(), name, role, None, until)
    person = book.store.people().named(name)
    found = per_ground.roles_over_grounds(book, person, None)
    rows = [(each.slug, each.name, each.role or "no access") for each in found]
    payload = {"name": person.name, "grounds": [
        {"ground": each.slug, "name": each.name, "role": each.role} for each in found
    ]}  # fmt: skip
    door.show(payload, [*table(("ground", "name", "role"), rows)], book)


@click.command("record", short_help="Who saw and did what.")
@click.option("--most", default=50, show_default=True, type=click.IntRange(1, 10_000),
              help="How many lines.")  # fmt: skip
@door_options
def record(door: Door, most: int) -> None:
    """Show who saw and did what: log-ins, access, what was taken out, the newest first."""
    from swardbook.book.who_did_what import who_did_what

    book = door.book()
    found = who_did_what(book, most=most)
    lines = [_done_line(each) for each in found.done] or ["Nothing yet."]
    if found.saw:
        lines += ["", f"Pages with personal data, kept for {found.kept_days} days:"]
        lines += [f"{each.day.isoformat()} {each.initials}: {each.what}" for each in found.saw]
    payload = {
        "done": [_done(each) for each in found.done],
        "saw": [{"day": each.day.isoformat(), "initials": each.initials, "what": each.what}
                for each in found.saw],
        "kept_days": found.kept_days,
    }  # fmt: skip
    door.show(payload, lines, book)


def day(when: datetime) -> str:
    """Write the day of a time by the clock of this machine."""
    from swardbook.foundation.dates import say

    return say(when.astimezone().date())


def _invitation(made: Invitation) -> dict[str, Any]:
    return {
        "number": made.key, "for_whom": made.name, "role": made.role,
        "until": made.ends_at.date().isoformat(),
    }  # fmt: skip


def _left(waiting: Waiting) -> dict[str, Any]:
    return {
        "number": waiting.left.key, "initials": waiting.left.initials, "kind": waiting.kind,
        "came_on": waiting.left.came_at.date().isoformat(), "fields": dict(waiting.words),
    }  # fmt: skip


def _left_line(waiting: Waiting) -> str:
    said = ", ".join(f"{name} {text}" for name, text in waiting.words)
    left = waiting.left
    return f"{left.key}: {left.initials}, {waiting.kind}, came {day(left.came_at)}. {said}"


def _phone(who: str, phone: Phone) -> dict[str, Any]:
    return {
        "number": phone.key, "name": who, "device": phone.device,
        "since": phone.began_at.date().isoformat(), "last_seen": phone.seen_on.isoformat(),
    }  # fmt: skip


def _done(each: Happened) -> dict[str, Any]:
    return {
        "at": each.at.isoformat(timespec="seconds"), "what": each.what, "about": each.about,
        "whom": each.whom, "initials": each.initials, "by": each.by,
    }  # fmt: skip


def _done_line(each: Happened) -> str:
    who = f"{each.initials}, {each.by}" if each.initials else each.by
    about = f": {each.about}" if each.about else ""
    whom = f", {each.whom}" if each.whom else ""
    return f"{each.at.astimezone():%Y-%m-%d %H:%M} {each.what}{about}{whom} ({who})"
