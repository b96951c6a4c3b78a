"""How a figure was reached."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.chosen import stay_metric
from swardbook.cli.doors import Door, door_options
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.foundation.workings import Input, Workings


@click.command()
@click.argument("figure", required=False, default="")
@click.option("--zone", "-z", default="", help="Zone, by name.")
@click.option("--job", default="", help="The job, for `fit`.")
@click.option("--kind", default="", help="The weed, for `count` and `compare`.")
@click.option("--lot", default="", help="The lot number, for `lot`.")
@door_options
def command(door: Door, figure: str, zone: str, job: str, kind: str, lot: str) -> None:
    """Show inputs, formula, arithmetic and sources of a FIGURE, or of a handbook number.

    Without FIGURE, lists what can be asked.
    """
    from swardbook.book.workings import FIGURE_NAMES, number_workings, workings

    if not figure:
        lines = [f"  {name:<8} {words}" for name, words in FIGURE_NAMES.items()]
        told = [
            "Figures:",
            *lines,
            "",
            "Or the key of any handbook number: docs/reference/handbook.md",
        ]
        door.show({"figures": dict(FIGURE_NAMES)}, told)
        return
    number = number_workings(figure)
    if number is not None:
        door.show({"workings": [_payload(number)]}, _lines(number))
        return
    book = door.book()
    found = workings(book, figure, zone, job=job, kind=kind, lot=lot)
    lines = [line for each in found for line in (*_lines(each), "")]
    door.show({"workings": [_payload(each) for each in found]}, lines[:-1], book)


def _payload(shown: Workings) -> dict[str, Any]:
    return {
        "question": shown.question,
        "answer": shown.answer,
        "formula": shown.formula,
        "inputs": [
            {
                "name": each.name,
                "value": each.value,
                "unit": each.unit,
                "grade": each.grade.value if each.grade else None,
                "source": each.source,
                "place": each.where,
            }
            for each in shown.inputs
        ],
        "arithmetic": list(shown.arithmetic),
        "assumptions": list(shown.assumptions),
    }


def _lines(shown: Workings) -> list[str]:
    stay_metric()
    lines = under("", f"{shown.question[0].upper()}{shown.question[1:]}", 0)
    lines += under("", f"Answer: {shown.answer}")
    if shown.formula:
        lines += under("", f"Formula: {shown.formula}")
    for title, parts in (
        ("Inputs", [_input(each) for each in shown.inputs]),
        ("Arithmetic", list(shown.arithmetic)),
        ("Taken for granted", list(shown.assumptions)),
    ):
        if parts:
            lines.append(f"  {title}:")
            lines += [line for part in parts for line in under("-", part, 4)]
    return lines


def _input(each: Input) -> str:
    value = f"{each.value:.6g}" if isinstance(each.value, float) else str(each.value)
    source = "" if each.source in {"practice", "judged", "definition"} else each.source
    known = ", ".join(part for part in (each.grade, source, each.where) if part)
    unit = "" if each.unit in {"", "-"} else f" {each.unit}"
    return f"{each.name}: {value}{unit}" + (f" ({known})" if known else "")
