"""The commands as questions: what each asks for, read from how it is declared."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import Enum
from functools import cache

import click

from swardbook.cli.commands import COMMANDS
from swardbook.cli.main import root
from swardbook.foundation.asked_units import asked_in, is_metric, standing
from swardbook.foundation.quantities import read_number
from swardbook.foundation.unit_words import in_words
from swardbook.foundation.units import Units
from swardbook.web.asking.labels import label_of, on_a_page
from swardbook.web.asking.titles import NOT_PAGES, SOMETIMES, TITLES, WRITES
from swardbook.web.page import Role, Shelf

_OWN = frozenset({"on", "ground", "as_json", "help"})
"""Options that a page has no use for, or sets itself."""
_PICTURE = "picture"
_DEFAULT = re.compile(r"\[(?:default: )?([^\]]*)\]")
_UNIT = re.compile(
    r"[;:,.]? *\b[Aa] number alone is (mm|m²|m|g/m²|g|litres)\b"
    r"(?= ?(?:$|[.;,]))"
)
"""What the help says of a bare number; speeds are left out, for nobody types them in miles."""
_SEVERAL = re.compile(r"\d ?[x,] ?\d")
_EXAMPLES = re.compile(r": [^.]*'.*'(?=\.)")
_NAMED = {"litres": "L"}
_KEEPS = frozenset({"is_kept", "keep"})
_PAPER = "FILE.pdf"
"""How a command calls the paper that it can write."""
_FOR_PROGRAMS = frozenset({("weather derive", "all")})
"""Options that only say what goes into the answer for programs."""


class Sort(Enum):
    """How a field is filled in."""

    TEXT = "text"
    LONG = "several lines"
    CHOICE = "choice"
    FLAG = "flag"
    ZONE = "zone"
    FILE = "file"


@dataclass(frozen=True, slots=True)
class Asked:
    """One thing that a command asks for.

    Parameters
    ----------
    name : str
        Its name in forms and addresses.
    flag : str
        The option that says it, with its strokes; empty for an argument.
    label, hint : str
        What it is called, and what it means.
    sort : Sort
        How it is filled in.
    choices : tuple of (str, str)
        What can be chosen: the text that is given to the command, and its word.
    is_needed : bool
        Whether nothing is answered without it.
    default : str
        What holds if nothing is said.
    count : int
        How many values; -1 for any number, each on a line of its own.
    unit : str
        Unit of a number alone; empty where none is said or there are several numbers.
    is_chosen_unit : bool
        Whether it is another than the command's own, and has to be said with the number.
    """

    name: str
    flag: str
    label: str
    hint: str
    sort: Sort
    choices: tuple[tuple[str, str], ...] = ()
    is_needed: bool = False
    default: str = ""
    count: int = 1
    unit: str = ""
    is_chosen_unit: bool = False


@dataclass(frozen=True, slots=True)
class Question:
    """One command as a page.

    Parameters
    ----------
    words : tuple of str
        The command, word by word.
    title, says : str
        What the page is called, and what it is for.
    help : str
        The whole help, for who wants to know more.
    shelf : Shelf
        Where it is listed.
    fields : tuple of Asked
        What it asks for, the needed first.
    draws : tuple of str
        Options that want a picture, with their strokes.
    keeps : str
        The flag that keeps the answer in the diary, with its strokes; empty without one.
    writes : bool
        Whether it always writes into the book.
    role : Role
        The least that somebody must be to ask.
    sometimes : Role or None
        The least that somebody must be to write with it, where it writes if more is said.
    to_file : str
        The option or argument that names a file to write; offered as a download.
    """

    words: tuple[str, ...]
    title: str
    says: str
    help: str
    shelf: Shelf
    fields: tuple[Asked, ...]
    draws: tuple[str, ...] = ()
    keeps: str = ""
    writes: bool = False
    role: Role = Role.READER
    sometimes: Role | None = None
    to_file: str = ""

    @property
    def path(self) -> str:
        """Its part of the address."""
        return "/".join(self.words)

    @property
    def least_to_write(self) -> Role | None:
        """The least that somebody must be to send it; None where nothing can be sent."""
        if self.writes:
            return self.role
        if self.sometimes is not None:
            return self.sometimes
        return Role.WORKER if self.keeps else Role.READER if self.takes_a_file else None

    @property
    def needs_something(self) -> bool:
        """Whether it has to be filled in before anything can be answered."""
        return self.writes or any(each.is_needed for each in self.fields)

    @property
    def takes_a_file(self) -> bool:
        """Whether a file can be given."""
        return any(each.sort is Sort.FILE for each in self.fields)


@cache
def questions() -> Mapping[tuple[str, ...], Question]:
    """Give every command that is a page, by its words, in the order of the season's work."""
    return {
        words: _question(words, command)
        for words, command in _commands(root, ())
        if words[0] not in NOT_PAGES
    }


def _commands(
    command: click.Command, words: tuple[str, ...]
) -> Iterator[tuple[tuple[str, ...], click.Command]]:
    if not isinstance(command, click.Group):
        yield words, command
        return
    context = click.Context(command, info_name=words[-1] if words else "swardbook")
    if words and command.invoke_without_command:
        yield words, command
    for name in command.list_commands(context):
        if (found := command.get_command(context, name)) is not None:
            yield from _commands(found, (*words, name))


def _question(words: tuple[str, ...], command: click.Command) -> Question:
    name = " ".join(words)
    title, shelf = TITLES.get(name, (name.capitalize(), Shelf.BOOK))
    shown = [each for each in command.params if each.name not in _OWN]
    fields = {each.name: each for each in (
        _asked(each, name) for each in shown if not _is_own_business(each)
    ) if (name, each.name) not in _FOR_PROGRAMS}  # fmt: skip
    keeps = next((each.opts[-1] for each in shown if each.name in _KEEPS), "")
    role = WRITES.get(name, Role.READER)
    said = COMMANDS[name][1] if name in COMMANDS else (command.help or "").split("\n\n")[0]
    return Question(
        words, title, on_a_page(re.sub(r"\s+", " ", said)), command.help or "", shelf,
        tuple(sorted(fields.values(), key=lambda each: not each.is_needed)),
        draws=tuple(each.opts[-1] for each in shown if _draws(each)),
        keeps=keeps, writes=name in WRITES, role=role,
        sometimes=SOMETIMES.get(name),
        to_file=next((_name(each) for each in shown if _is_paper(each)), ""),
    )  # fmt: skip


def _is_own_business(param: click.Parameter) -> bool:
    return _draws(param) or param.name in _KEEPS or _is_paper(param)


def _is_paper(param: click.Parameter) -> bool:
    return param.metavar == _PAPER


def _draws(param: click.Parameter) -> bool:
    return isinstance(param.type, click.Path) and _PICTURE in (param.name or "")


def _name(param: click.Parameter) -> str:
    if isinstance(param, click.Option):
        return max(param.opts, key=len).lstrip("-").replace("-", "_")
    return param.name or ""


def _asked(param: click.Parameter, command: str) -> Asked:
    name = _name(param)
    flag = max(param.opts, key=len) if isinstance(param, click.Option) else ""
    hint = getattr(param, "help", None) or ""
    label, said = label_of(command, name), on_a_page(hint)
    is_many = bool(getattr(param, "multiple", False)) or param.nargs == -1
    is_one = not is_many and param.nargs == 1 and not _SEVERAL.search(said)
    unit = _UNIT.search(said) if is_one else None
    said = _UNIT.sub("", said).strip() if unit else said
    return Asked(
        name, flag, label, "" if said.rstrip(".") == label else said, _sort(param),
        choices=_choices(param), is_needed=_is_needed(param, hint),
        default=_default(param, hint), count=-1 if is_many else param.nargs,
        unit=_NAMED.get(unit[1], unit[1]) if unit else "",
    )  # fmt: skip


def asked_in_units(field: Asked, units: Units) -> Asked:
    """Give a field as it is asked in the units chosen.

    Parameters
    ----------
    field : Asked
        The field, with the command's own unit.
    units : Units
        What the person chose.
    """
    if is_metric(units) or not field.unit:
        return replace(field, hint=in_words(field.hint, units)) if field.hint else field
    number = read_number(field.default.removesuffix(field.unit))
    unit = asked_in(field.unit, units, number or 0.0)
    default = field.default if number is None else standing(number, field.unit, units)
    hint = in_words(_EXAMPLES.sub("", field.hint), units)
    return replace(field, hint=hint, default=default, unit=unit, is_chosen_unit=True)


def _is_needed(param: click.Parameter, hint: str) -> bool:
    return param.required or (param.name == "zone" and hint.rstrip(".").endswith("needed"))


def _default(param: click.Parameter, hint: str) -> str:
    held = param.default
    if held is None or isinstance(held, bool) or callable(held) or held in ("", ()):
        return found[1] if (found := _DEFAULT.search(hint)) else ""
    is_said = isinstance(held, str | int | float)
    return f"{held:g}" if isinstance(held, float) else str(held) if is_said else ""


def _sort(param: click.Parameter) -> Sort:
    if param.name == "zone":
        return Sort.ZONE
    if isinstance(param.type, click.Path):
        return Sort.FILE
    if isinstance(param.type, click.Choice):
        return Sort.CHOICE
    if getattr(param, "is_flag", False):
        return Sort.CHOICE if param.secondary_opts else Sort.FLAG
    return Sort.LONG if getattr(param, "multiple", False) or param.nargs == -1 else Sort.TEXT


def _choices(param: click.Parameter) -> tuple[tuple[str, str], ...]:
    if isinstance(param.type, click.Choice):
        return tuple((str(each), str(each)) for each in param.type.choices if each)
    if getattr(param, "is_flag", False) and param.secondary_opts:
        both = (max(param.opts, key=len), max(param.secondary_opts, key=len))
        return tuple((each, each.lstrip("-").replace("-", " ").capitalize()) for each in both)
    return ()
