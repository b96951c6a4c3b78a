"""``swardbook diary``: show what was done and seen, or add anything else to it."""

from __future__ import annotations

from typing import Any

import click

from swardbook.cli.chosen import as_typed
from swardbook.cli.doors import Door, door_options, entry_options

_TREATMENT = (
    "Check the official register and the label today: they decide, with the law where you are.",
    "Kept for the record only. Keep such records as long as your rules ask (three years or more).",
)


@click.group()
def command() -> None:
    """Show the diary, or add any other entry to it."""


@command.command()
@click.option("--zone", "-z", default="", help="Only this zone, and the whole site's.")
@click.option("--kind", default="", help="Only this kind: cut, feed, count ...")
@click.option("--all", "everything", is_flag=True, help="Also entries that were corrected.")
@click.option("--needs-a-look", is_flag=True, help="Only those that need a look.")
@door_options
def show(door: Door, zone: str, kind: str, everything: bool, needs_a_look: bool) -> None:
    """Show the diary in the order in which things happened."""
    from swardbook.book.diary import show as shown
    from swardbook.book.fields import read_kind
    from swardbook.cli.telling import short_id, tell
    from swardbook.husbandry.codec import plain_entry

    book = door.book()
    found = shown(
        book, zone=zone, kind=read_kind(kind).kind if kind else "", with_corrected=everything,
        only_to_look_at=needs_a_look,
    )  # fmt: skip
    lines = []
    for each in found:
        mark = f" [corrected by {str(each.corrected_by)[:8]}]" if each.corrected_by else ""
        lines.append(f"{short_id(each.entry)}  {tell(each.entry)}{mark}")
        if each.entry.note:
            lines.append(f"          {as_typed(each.entry.note)}")
        if each.entry.needs_a_look:
            lines.append(f"          Needs a look: {each.entry.needs_a_look}")
    payload = [
        {**plain_entry(each.entry),
         "corrected_by": str(each.corrected_by) if each.corrected_by else None}
        for each in found
    ]  # fmt: skip
    door.show({"entries": payload}, lines or ["Nothing in the diary yet."], book)


@command.command(short_help="Answers kept: in use, aged, past or done.")
@click.option("--zone", "-z", default="", help="Only this zone's, and the whole site's.")
@click.option("--uses", is_flag=True, help="Say what each is used for.")
@door_options
def kept(door: Door, zone: str, uses: bool) -> None:
    """List the answers kept with --keep: which the plan goes by, and which have aged and why."""
    from swardbook.book.kept import kept_in
    from swardbook.cli.wrapping import under

    book = door.book()
    found = kept_in(book, zone)
    lines: list[str] = []
    for each in found:
        where = each.zone or "whole site"
        lines += under(f"{each.entry[:8]}", f"{each.about}, {where}: {each.state}.", 0)
        lines += under("", each.words)
        if uses:
            lines += under("", f"Used for {each.used_for}.")
    payload = [
        {"short_id": each.entry[:8], "about": each.about, "zone": each.zone,
         "kept_on": each.day.isoformat(), "state": each.state, "words": each.words,
         "changed": list(each.changed), "used_for": each.used_for, "again": each.again}
        for each in found
    ]  # fmt: skip
    nothing = "Nothing kept yet: put --keep to a plan, such as swardbook water plan."
    door.show({"kept": payload}, lines or [nothing], book)


@command.command(short_help="Check that every entry is what was written.")
@door_options
def check(door: Door) -> None:
    """Check that every entry, the ground and the weather are what was written.

    Ends with 1 if something is damaged, and names it.
    """
    from swardbook.book.checking import REMEDY, check_book

    book = door.book()
    found = check_book(book)
    lines = [f"Whole: {found.entries} entries, the ground and the weather are as written."]
    if found.damage:
        lines = [f"Not what was written: {len(found.damage)}."]
        for each in found.damage:
            after = f" {each.after} later entries lean on it." if each.after else ""
            lines.append(f"- {each.where}: {each.found}.{after}")
        lines.append(REMEDY)
    payload = {
        "entries": found.entries,
        "findings": [
            {"position": each.position, "entry": each.entry, "found": each.found,
             "later_entries": each.after}
            for each in found.damage
        ],
    }  # fmt: skip
    door.show(payload, lines, book)
    click.get_current_context().exit(1 if found.damage else 0)


@command.command(short_help="List the kinds of entry and their fields.")
@click.argument("kind", default="")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
def kinds(kind: str, as_json: bool) -> None:
    """List the kinds of entry that `diary add` takes, each with its fields."""
    from swardbook.book.entry_fields import kind_said, words_of_fields
    from swardbook.book.fields import kinds_and_fields, read_kind

    wanted = read_kind(kind).kind if kind else ""
    told = {name: held for name, held in kinds_and_fields().items() if wanted in ("", name)}
    lines = []
    for name in told:
        lines.append(f"{name}: {kind_said(name)}")
        lines += [
            f"  {field}: {words[:1].casefold()}{words[1:].replace(': ', ', ')}"
            for field, words in words_of_fields(name).items()
        ]
    example = "Example: swardbook diary add frost --set state=thawed --when yesterday"
    Door("", as_json).show(
        {"kinds": [{"kind": name, "fields": list(held)} for name, held in told.items()]},
        [*lines, "", example],
    )


@command.command(short_help="Add an entry of any kind: frost, heads, closure ...")
@click.argument("kind")
@click.option(
    "--set",
    "-s",
    "pairs",
    multiple=True,
    metavar="FIELD=VALUE",
    help="A field of this kind, such as state=frost; again for each.",
)
@entry_options
@door_options
def add(door: Door, kind: str, pairs: tuple[str, ...], **said: Any) -> None:
    """Add an entry of any kind: frost, underfoot, heads, closure, treatment, note ...

    `swardbook diary kinds` lists them all with their fields.
    """
    from swardbook.book.fields import read_kind, read_pairs, with_fields
    from swardbook.cli.keeping import answer, keep
    from swardbook.cli.minding import with_cautions

    book = door.book()
    made = read_kind(kind)
    what = with_fields(made(), read_pairs(pairs), book.today)
    if made.kind != "treatment":
        answer(door, book, keep(door, book, what, said))
        return
    told, more = with_cautions({}, _TREATMENT, "weeds")
    answer(door, book, keep(door, book, what, said), more=more, payload=told)
