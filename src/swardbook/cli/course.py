"""``swardbook course``: questions about the made-up ground, answered from its book."""

from __future__ import annotations

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.wrapping import heading, under


@click.group()
def command() -> None:
    """Learn on the made-up ground: questions, what the book answers, and what if."""


@command.command()
@click.argument("question", default="")
@door_options
def show(door: Door, question: str) -> None:
    """List the questions, or show one with the answers to choose from."""
    from swardbook.demo.course import course_of, exercise

    book = door.book()
    asked = course_of(book)
    chosen = [exercise(question)] if question else list(asked)
    lines: list[str] = []
    for each in chosen:
        lines += [*heading(each.title), *under("", each.question, 0)]
        if question:
            lines += [f"Look at it: swardbook {each.look}", ""]
            lines += [
                line for one in each.choices for line in under("-", f"{one.key}: {one.words}")
            ]
        lines += ["", f"Next: swardbook course {_next(each.key, bool(question))}", ""]
    payload = [
        {"key": each.key, "title": each.title, "question": each.question, "look": each.look,
         "answers": {one.key: one.words for one in each.choices}}
        for each in chosen
    ]  # fmt: skip
    door.show({"questions": payload}, lines[:-1], book)


def _next(key: str, is_shown: bool) -> str:
    return f"answer {key} ANSWER" if is_shown else f"show {key}"


@command.command()
@click.argument("question")
@click.argument("said", metavar="ANSWER")
@door_options
def answer(door: Door, question: str, said: str) -> None:
    """Answer a question: whether it is so as the book stands, and why. Nothing is marked."""
    from swardbook.demo.course import answer as told_by

    book = door.book()
    told = told_by(book, question, said)
    asked = told.exercise
    lines = [*heading(asked.title), *under("", told.sentence, 0), ""]
    lines += [line for each in told.because for line in under("-", each)]
    lines += ["", *under("", asked.lesson, 0), ""]
    lines += [f"Look at it: swardbook {asked.look}"]
    if asked.workings:
        lines += [f"How it was reached: swardbook {asked.workings}"]
    payload = {
        "question": asked.key, "said": told.said.key, "right": told.right.key,
        "is_right": told.is_right, "told": told.word.value.casefold(),
        "because": list(told.because), "lesson": asked.lesson, "look": asked.look,
        "workings": asked.workings,
    }  # fmt: skip
    door.show(payload, lines, book)


@command.command(name="what-if")
@click.argument("what", default="")
@click.option("--value", "typed", default="", help="What it is changed to, such as '20 mm'.")
@door_options
def what_if(door: Door, what: str, typed: str) -> None:
    """Change one input in a copy, and see the answer before and after; the book stays as it is.

    Without a value it says what can be changed.
    """
    from swardbook.demo.course_what_if import read_value, try_out, what_ifs

    book = door.book()
    known = what_ifs(book)
    if not what or not typed:
        lines: list[str] = []
        for each in known:
            unit = f" {each.unit}" if each.unit else ""
            span = f"{each.label}: {each.low:g} to {each.high:g}{unit}."
            lines += [*heading(each.title), *under("", f"{each.says} {span}", 0), ""]
            lines += [f"Next: swardbook course what-if {each.key} --value {each.low:g}", ""]
        payload = [{"key": each.key, "title": each.title, "says": each.says, "label": each.label,
                    "unit": each.unit, "low": each.low, "high": each.high}
                   for each in known]  # fmt: skip
        door.show({"what_ifs": payload}, lines[:-1], book)
        return
    number = read_value(what, typed)
    found = try_out(book, what, number)
    chosen = next(each for each in known if each.key == what)
    unit = f" {chosen.unit}" if chosen.unit else ""
    lines = [*heading(chosen.title), "As the book stands:"]
    lines += [line for each in found.before for line in under("-", each)]
    lines += ["", *under("", f"In a copy ({chosen.label}: {number:g}{unit}):", 0)]
    lines += [line for each in found.after for line in under("-", each)]
    lines += ["", *under("", f"{chosen.lesson} The copy is deleted; the book is as it was.", 0)]
    door.show({"what_if": what, "value": number, "unit": chosen.unit,
               "before": list(found.before), "after": list(found.after)}, lines, book)  # fmt: skip
