"""`swardbook name-plant`: a key that asks the most telling question and tolerates mistakes."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, clock_today, door_options, entry_options
from swardbook.cli.output import print_lines
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from collections.abc import Sequence

    from swardbook.book.naming import PlantAnswer
    from swardbook.book.opening import Book
    from swardbook.handbook.plants import Question
    from swardbook.observations.naming import Candidate

AGES = ("seedling", "young", "plant")


@click.command()
@click.option(
    "--seen",
    "-s",
    multiple=True,
    metavar="TRAIT=ANSWER",
    help="What was seen, such as tip=boat or ligule_mm=2; '?' is don't know.",
)
@click.option(
    "--age",
    type=click.Choice(AGES),
    default="plant",
    show_default=True,
    help="One or two leaves, three and more, or grown.",
)
@click.option(
    "--show",
    default="",
    metavar="NAME",
    help="Show a plant of the key, or the answers to a trait, and leave it there.",
)
@click.option("--keep", is_flag=True, help="Keep the name in the diary.")
@picture_option("the next question's answers, or of the plant")
@entry_options
@door_options
def command(
    door: Door, seen: tuple[str, ...], age: str, show: str, keep: bool, picture: Path | None,
    **said: Any,
) -> None:  # fmt: skip
    """Name a plant: sure, probably or cannot tell, with its look-alikes and what parts them.

    At a terminal it asks question by question; elsewhere, and with --json, it gives the next
    question. Every answer may be wrong: none rules a plant out.
    """
    from swardbook.book.naming import draw_next, keep_name, name_from

    check_places(picture)
    if show:
        _show(door, show, picture)
        return
    book = door.book() if keep or said["zone"] else None
    today = None if book else _day(door)

    def named(answers: Sequence[str]) -> PlantAnswer:
        return name_from(answers, age, book, said["zone"], today)

    answers = list(seen)
    found = named(answers)
    if not door.as_json and not picture and sys.stdin.isatty() and sys.stdout.isatty():
        found = _talk(answers, found, named)
    payload, lines = _payload(found), _lines(found, answers, age, said["zone"])
    if book is not None and found.zone:
        payload, lines = _with_names(book, found.zone, payload, lines)
    payload, lines = with_picture(picture, lambda: draw_next(found.naming), payload, lines)
    if keep and book is not None:
        entry = keep_name(book, found, said["when"], said["who"], said["note"])
        from swardbook.cli.keeping import kept_lines
        from swardbook.cli.telling import short_id, tell

        payload = {**payload, "kept": {"short_id": short_id(entry), "words": tell(entry)}}
        lines += ["", *kept_lines(book, entry)]
    door.show(payload, lines, book)


def _day(door: Door) -> Any:
    from swardbook.foundation.dates import read_day

    return read_day(door.on, clock_today()) if door.on else clock_today()


def _talk(seen: list[str], found: PlantAnswer, named: Any) -> PlantAnswer:
    """Ask until the name is sure, nothing tells more, or the person stops."""
    while (question := found.naming.next_question) is not None:
        print_lines(["", *_asked(question)])
        typed = click.prompt("Answer, ? for don't know, or stop", default="?")
        if typed.strip().casefold() == "stop":
            break
        from swardbook.foundation.errors import SwardbookError

        try:
            found = named([*seen, f"{question.key}={_meant(question, typed)}"])
        except SwardbookError as slip:
            print_lines([str(slip)])
            continue
        seen.append(f"{question.key}={_meant(question, typed)}")
    return found


def _meant(question: Question, typed: str) -> str:
    """Take a number as the place of an answer, where the question is no measure."""
    states = list(question.states)
    if not question.cuts and typed.strip().isdigit() and 0 < int(typed) <= len(states):
        return states[int(typed) - 1]
    return typed


def _asked(question: Question) -> list[str]:
    lines = under("Next:", question.asks, 0)
    for n, (name, words) in enumerate(question.states.items(), 1):
        told = words if question.cuts else f"{name}: {words}"
        lines += under("  -" if question.cuts else f"{n:3d}", told)
    return lines


def _lines(found: PlantAnswer, seen: list[str], age: str, zone: str) -> list[str]:
    from swardbook.book.naming import together
    from swardbook.observations.naming import CANNOT_TELL

    naming = found.naming
    if naming.verdict == CANNOT_TELL:
        lines = under("", f"Cannot tell. {naming.because}", 0)
    else:
        lines = [f"{naming.likeliest.plant.both_names}: {naming.verdict}."]
        lines += under("", naming.because, 0)
    alike = together(naming) if found.looked.answers else ()
    if alike:
        lines += ["", "It may be:" if naming.verdict == CANNOT_TELL else "Look-alikes:"]
        for each in alike:
            lines += under("-", _alike(each))
    lines += ["", *under("", found.advice, 0)] if found.advice else []
    if naming.next_question is not None:
        again = " ".join(f"--seen '{each}'" for each in seen)
        more = f" --age {age}" if age != "plant" else ""
        more += f" --zone '{zone}'" if zone else ""
        lines += ["", *_asked(naming.next_question)]
        said = f"{again} --seen {naming.next_question.key}=ANSWER{more}".strip()
        lines += under("Answer:", f"swardbook name-plant {said}", 0)
    lines += [""]
    for caution in found.cautions:
        lines += under("Mind:", caution.cited, 0)
    return lines


def _with_names(
    book: Book, zone: str, payload: dict[str, Any], lines: list[str]
) -> tuple[dict[str, Any], list[str]]:
    """Add the plants that were named in the zone before."""
    from swardbook.book.naming import names_here
    from swardbook.foundation.dates import say

    named = names_here(book, zone)
    told = [
        {"name": each.plant.key, "day": each.day.isoformat(), "verdict": each.verdict,
         "is_sown_here": each.is_sown}
        for each in named
    ]  # fmt: skip
    if named:
        lines = [*lines, "", f"Named in {zone} before:"]
        for each in named:
            sown = ", sown there" if each.is_sown else ""
            lines += under("-", f"{each.plant.both_names}: {each.verdict}, {say(each.day)}{sown}.")
    return {**payload, "named_here": told}, lines


def _alike(each: Candidate) -> str:
    share = f"{100 * each.share:.0f} %" if each.share >= 0.01 else "under 1 %"
    return f"{each.plant.both_names}, {share}. {each.check}".rstrip()


def _payload(found: PlantAnswer) -> dict[str, Any]:
    from swardbook.book.naming import together
    from swardbook.observations.naming import CANNOT_TELL

    naming = found.naming
    told = naming.verdict != CANNOT_TELL
    return {
        "zone": found.zone,
        "age": found.looked.age,
        "seen": dict(found.looked.answers),
        "dont_know": list(found.looked.unknown),
        "verdict": naming.verdict,
        "plant": _candidate(naming.likeliest) if told else None,
        "because": naming.because,
        "look_alikes": [_candidate(each) for each in together(naming)],
        "is_sown_here": found.is_sown if told else None,
        "advice": found.advice,
        "next_question": _question(naming.next_question, naming.gain_bits),
        "cautions": [
            {"says": each.text, "source": each.source, "grade": each.grade.value}
            for each in found.cautions
        ],
    }


def _candidate(each: Candidate) -> dict[str, Any]:
    return {
        "name": each.plant.key,
        "english": each.plant.english,
        "latin": each.plant.latin,
        "kind": each.plant.kind,
        "share_percent": round(100 * each.share, 1),
        "check": each.check,
    }


def _question(question: Question | None, gain: float) -> dict[str, Any] | None:
    if question is None:
        return None
    return {
        "trait": question.key,
        "asks": question.asks,
        "takes": question.by,
        "minutes": question.minutes.value,
        "gain_bits": round(gain, 2),
        "unit": question.unit,
        "answers": [{"answer": name, "words": words} for name, words in question.states.items()],
    }


def _show(door: Door, name: str, picture: Path | None) -> None:
    """Show a plant trait by trait with works and grades, or the answers to one trait."""
    from swardbook.book.naming import draw_named

    drawn = draw_named(name)
    (table,) = drawn.tables
    lines = [drawn.sentence]
    for row in table.rows:
        work = f" [{row[2]}: {row[3]}]" if len(row) > 2 else ""
        lines += under("-", f"{row[0]}: {row[1]}{work}")
    rows = [dict(zip((head.replace(" ", "_") for head in table.heads), row, strict=True))
            for row in table.rows]  # fmt: skip
    payload: dict[str, Any] = {"shown": name, "sentence": drawn.sentence, "rows": rows}
    door.show(*with_picture(picture, lambda: drawn, payload, lines))
