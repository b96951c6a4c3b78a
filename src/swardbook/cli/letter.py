"""``swardbook letter``: two sides of paper for an owner or a committee."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.output import table
from swardbook.cli.wrapping import heading, under

if TYPE_CHECKING:
    from swardbook.book.letter import Letter
    from swardbook.figures.letter_sheet import Section


@click.command()
@click.option("--to", "path", type=click.Path(path_type=Path), default=None, metavar="FILE.pdf",
              help="Write it as a PDF: two sides of A4 at most.")  # fmt: skip
@click.option("--leave-out", multiple=True, metavar="WORDS",
              help="names, address, costs, hours, pictures: any, with commas.")  # fmt: skip
@click.option("--since", default="", metavar="DAY",
              help="Its first day; none: the start of the book, or a year back.")  # fmt: skip
@click.option("--planned", multiple=True, metavar="LINE=MONEY",
              help="A cost that was planned, such as seed=524.50; once for each.")  # fmt: skip
@click.option("--keep", is_flag=True, help="Keep the planned costs in the book.")
@click.option(
    "--species", default="annual meadow-grass", show_default=True, help="The weed it judges by."
)
@door_options
def command(
    door: Door,
    path: Path | None,
    leave_out: tuple[str, ...],
    since: str,
    planned: tuple[str, ...],
    keep: bool,
    species: str,
) -> None:
    """Write the letter: what was done and found, what it cost, what comes next, what is not known.

    Plain words, a range with every number, nothing promised. Notes of the diary are never in it.
    """
    from swardbook.book.count_sheet import read_kind
    from swardbook.book.letter import (
        LetterAsked,
        check_letter_place,
        planned_answer,
        planned_costs,
        save_letter,
        write_letter,
    )
    from swardbook.book.who_did_what import LETTER, tell_done
    from swardbook.book.worked_out import keep_answer
    from swardbook.foundation.errors import BadInputError

    if path is not None:
        check_letter_place(path)
    said = dict(part.partition("=")[::2] for part in planned)
    if keep and not said:
        raise BadInputError("--keep", "nothing planned", "--planned LINE=MONEY beside it")
    book = door.book()
    asked = LetterAsked(leave_out, since, said, read_kind(species))
    if keep:
        keep_answer(book, planned_answer(planned_costs(book, said)))
    letter = write_letter(book, asked)
    lines = _lines(letter)
    if path is not None:
        save_letter(path, letter)
        tell_done(book, LETTER)
        lines += ["", f"Letter: {path}, {letter.sides} sides."]
    door.show({**_payload(letter), "file": str(path) if path else None}, lines, book)


def _lines(letter: Letter) -> list[str]:
    sheet = letter.sheet
    told = [*heading(sheet.title), sheet.covers]
    for section in sheet.sections:
        told += ["", *_section_lines(section)]
    if letter.left_out:
        told += ["", f"Left out: {', '.join(letter.left_out)}."]
    return [*told, "", sheet.note]


def _section_lines(section: Section) -> list[str]:
    told = heading(section.head)
    for text in section.texts:
        told += under("", text, 0)
    if section.table is not None:
        told += ["", *table(section.table.heads, section.table.rows)]
    for point in section.points:
        told += under("-", point, 0)
    return told


def _payload(letter: Letter) -> dict[str, Any]:
    money = letter.costs
    return {
        "title": letter.sheet.title,
        "first": letter.first.isoformat(),
        "last": letter.last.isoformat(),
        "sides": letter.sides,
        "left_out": list(letter.left_out),
        "sections": [
            {
                "head": each.head,
                "texts": list(each.texts),
                "points": list(each.points),
                "table": None
                if each.table is None
                else {
                    "heads": list(each.table.heads),
                    "rows": [list(row) for row in each.table.rows],
                },
            }
            for each in letter.sheet.sections
        ],
        "pictures": [each.alt for each in letter.sheet.pictures],
        "currency": letter.currency,
        "costs": None
        if money is None
        else [
            {
                "for": each.name,
                "planned": None if each.planned is None else str(each.planned),
                "spent": None if each.spent is None else str(each.spent),
            }
            for each in money.lines
        ],
        "note": letter.sheet.note,
    }
