"""What every command gets before it is used: an example, its summary in full, plain numbers."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import click

from swardbook.cli.chosen import with_comma
from swardbook.cli.examples import EXAMPLES
from swardbook.foundation.errors import as_typed, plain_number
from swardbook.foundation.quantities import read_number


class Lines(click.HelpFormatter):
    """Help that a phone can show: where there is little room, words stand under their option."""

    def write_dl(
        self, rows: Iterable[tuple[str, str]], col_max: int = 30, col_spacing: int = 2
    ) -> None:
        """Write options or commands beside what they are."""
        fitting = [(self._broken(name), text) for name, text in rows]
        super().write_dl(fitting, min(col_max, max(14, self.width // 3)), col_spacing)

    def _broken(self, name: str) -> str:
        """Break a long row of choices where one ends."""
        lines, room = [name], self.width - self.current_indent - 4
        while len(lines[-1]) > room and (cut := lines[-1].rfind("|", 0, room) + 1):
            lines[-1:] = [lines[-1][:cut], lines[-1][cut:]]
        return f"\n{'':{self.current_indent + 4}}".join(lines)


class Page(click.Context):
    """Where a command is read, and its help is written."""

    formatter_class = Lines


class Number(click.FloatRange):
    """A number as people type it: a decimal comma will do."""

    name = "number"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Read it, and say what was read and what would do if it is none."""
        number = read_number(with_comma(value)) if isinstance(value, str) else float(value)
        if number is None or not self._holds(number):
            self.fail(self._told(value), param, ctx)
        return number

    def _told(self, value: object) -> str:
        return f"read {as_typed(str(value))}; understood here: {self._wanted()}."

    def _holds(self, number: float) -> bool:
        return (self.min is None or number >= self.min) and (self.max is None or number <= self.max)

    def _wanted(self) -> str:
        return " ".join(["a number", *self._bounds()])

    def _bounds(self) -> list[str]:
        told = self._describe_range()
        return [f"of {told}" if told.endswith("more") else told] if told else []

    def _describe_range(self) -> str:
        """Say the bounds in words, as the help and the refusal show them."""
        if self.min is not None and self.max is not None:
            return f"from {plain_number(self.min)} to {plain_number(self.max)}"
        return f"{plain_number(self.min)} or more" if self.min is not None else ""


class WholeNumber(Number):
    """A whole number, given as one."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Read it as a number, and refuse a part of one."""
        number = super().convert(value, param, ctx)
        if number != int(number):
            self.fail(self._told(value), param, ctx)
        return int(number)

    def _wanted(self) -> str:
        return " ".join(["a whole number", *self._bounds()])


def made_ready(command: click.Command, path: str) -> click.Command:
    """Give a command, and those under it, an example and numbers that can be typed.

    Parameters
    ----------
    command : click.Command
        The command as its module has it.
    path : str
        What is typed for it, such as ``survey area``.
    """
    command.context_class = Page
    if path in EXAMPLES:
        command.epilog = "\b\nExample:\n" + "\n".join(
            f"swardbook {path} {each}".strip() for each in EXAMPLES[path]
        )
    if command.short_help is None and command.help:
        command.short_help = " ".join(command.help.split("\n\n")[0].split())
    for param in command.params:
        param.type = _type_of(param.type)
    if isinstance(command, click.Group):
        for name in command.list_commands(click.Context(command)):
            under = command.get_command(click.Context(command), name)
            if under is not None:
                made_ready(under, f"{path} {name}")
    return command


def _type_of(kind: click.ParamType[Any]) -> click.ParamType[Any]:
    """Give the plain kind of number in place of the parser's own."""
    if isinstance(kind, Number):
        return kind
    if isinstance(kind, click.IntRange):
        return WholeNumber(kind.min, kind.max)
    if isinstance(kind, click.FloatRange):
        return Number(kind.min, kind.max)
    if isinstance(kind, type(click.INT)):
        return WholeNumber()
    return Number() if isinstance(kind, type(click.FLOAT)) else kind
