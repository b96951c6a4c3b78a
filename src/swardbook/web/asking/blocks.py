"""What a command says, as parts of a page: headings, lists behind marks, tables, links."""

from __future__ import annotations

import re
import shlex
from collections.abc import Sequence
from dataclasses import dataclass, replace
from urllib.parse import urlencode

import click
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from swardbook.cli.collecting import Heading, Laid, Marked
from swardbook.cli.main import root
from swardbook.foundation.unit_words import in_words, without_marks
from swardbook.foundation.units import Units
from swardbook.web.asking.questions import Asked, Question, Sort, questions
from swardbook.web.asking.running import in_labels

_RULE = re.compile(r"-{3,}$")
_COMMAND = re.compile(r"(?:(Next|First|Then|Now|How it was reached): )?(swardbook .+)")
_IN_PROSE = re.compile(
    r"(?<![`\w])swardbook ([a-z][a-z-]*)(?: [a-z][a-z-]*)?"
    r"(?: (?:--[a-z][\w-]*(?:[ =](?:'[^']*'|[^\s,;`']*[^\s,;`'.]))?|'[^']*'|[A-Z]{3,}))*(?![^`]*`)"
)
"""A command that a sentence names bare."""
_STANDS_FOR = re.compile(r"(?:^|=)[A-Z]{3,}$")
_WORK = re.compile(r"\[([a-z ]+): [a-z0-9_]+\]")
"""A grade with the key of its work, which only the page of numbers and sources resolves."""
_INNER = re.compile(r"\([a-z]+(?:_[a-z]+)*; (handbook|own)\)")
"""A programme's inner name, which is only typed."""
_IN_TICKS = re.compile(r"`(swardbook [^`]+)`")
_MARKS = {"-": "•", "*": "•"}
_MARK = re.compile(r"\s*([✓✗?☐☑▣●○◐⌀◷⊘■◧□]) +(?=\S)")


@dataclass(frozen=True, slots=True)
class Step:
    """A command that a line names, as a link to its page."""

    text: str
    before: str = ""
    title: str = ""
    path: str = ""
    query: str = ""


@dataclass(frozen=True, slots=True)
class Block:
    """One part: ``heading``, ``text``, ``list``, ``table``, ``step``."""

    sort: str
    text: str = ""
    lines: tuple[tuple[str, str, int], ...] = ()
    """Mark, text and depth of each line of a list."""
    heads: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    step: Step | None = None


def blocks_of(lines: Sequence[str], units: Units, fields: Sequence[Asked] = ()) -> list[Block]:
    """Turn the lines of an answer into the parts of a page.

    Parameters
    ----------
    lines : sequence of str
        As a command collected them.
    units : Units
        The units chosen.
    fields : sequence of Asked
        Fields of the page, by whose labels options are named.
    """

    def plain(text: str) -> str:
        said = _WORK.sub(r"[\1]", without_marks(in_words(text, units)))
        said = _INNER.sub(r"(\1)", said)
        return in_labels(_IN_PROSE.sub(_ticked, said), fields)

    made: list[Block] = []
    listed: list[tuple[str, str, int]] = []

    def close() -> None:
        if listed:
            made.append(Block("list", lines=tuple(listed)))
            listed.clear()

    for n, line in enumerate(lines):
        follows = lines[n + 1] if n + 1 < len(lines) else ""
        if isinstance(line, Marked) and (line.mark or line.indent):
            listed.append((_MARKS.get(line.mark, line.mark), plain(str(line)), line.indent // 2))
            continue
        if (found := _MARK.match(line)) and not isinstance(line, Laid | Heading):
            listed.append((found[1], plain(line[found.end() :]), 0))
            continue
        if listed and line.startswith("  ") and not _COMMAND.fullmatch(line.strip()):
            listed.append(("", plain(line.strip()), 1))
            continue
        close()
        text = plain(line)
        if (
            made
            and made[-1].sort == "text"
            and not line.startswith(" ")
            and _runs_on(line, lines[n - 1])
        ):
            made[-1] = replace(made[-1], text=f"{made[-1].text} {text.strip()}")
        else:
            made += _alone(line, follows, text)
    close()
    return made


def _runs_on(line: str, before: str) -> bool:
    """Whether a line was only broken off from the one before, for a narrow terminal."""
    if isinstance(line, Laid | Heading) or _COMMAND.fullmatch(line.strip()) or not before.strip():
        return False
    is_open = before.count("(") > before.count(")") or before.rstrip().endswith(",")
    return is_open or (line[:1].islower() and before.rstrip()[-1] not in ".:;?!")


def _ticked(found: re.Match[str]) -> str:
    """Put a command into backticks, where there is one of that name."""
    if not any(found[1] == words[0] for words in questions()):
        return found[0]
    is_whole = " --" in found[0] or _is_asked(found[0].split()[1:3])
    command = found[0] if is_whole else " ".join(found[0].split()[:2])
    return f"`{command}`{found[0][len(command) :]}"


def _is_asked(words: Sequence[str]) -> bool:
    """Whether the second word belongs to the command, and is not one of the sentence's own."""
    return (
        len(words) < 2 or words[1][:1] in "-'" or words[1].isupper() or tuple(words) in questions()
    )


def _alone(line: str, follows: str, text: str) -> list[Block]:
    if isinstance(line, Laid):
        return [Block("table", heads=line.heads, rows=tuple(
            tuple(without_marks(cell) for cell in row) for row in line.rows))]  # fmt: skip
    if isinstance(line, Heading) or (_RULE.fullmatch(follows) and line.strip()):
        return [Block("heading", text=text.strip())]
    if not line.strip() or _RULE.fullmatch(line):
        return []
    if found := _COMMAND.fullmatch(line.strip()):
        return [Block("step", step=step_of(found[2], found[1] or ""))]
    return [Block("text", text=text.strip())]


def step_of(command: str, before: str = "") -> Step:
    """Turn a command into a link to its page with its fields filled in.

    Parameters
    ----------
    command : str
        As a person would type it.
    before : str
        What stands before it, such as ``Next``.
    """
    try:
        words = shlex.split(command)[1:]
    except ValueError:
        return Step(command, before)
    found = next(
        (questions()[tuple(words[:n])] for n in (2, 1) if tuple(words[:n]) in questions()), None
    )
    if found is None:
        return Step(command, before)
    filled = _filled(found, words[len(found.words) :])
    return Step(command, before, found.title, found.path, urlencode(filled, doseq=True))


def _filled(question: Question, words: list[str]) -> dict[str, str]:
    """Read the options of a command that is shown to a person, as its page's fields."""
    command: click.Command = root
    for word in question.words:
        context = click.Context(command)
        found = command.get_command(context, word) if isinstance(command, click.Group) else None
        if found is None:
            return {}
        command = found
    context = click.Context(command, resilient_parsing=True)
    try:
        values, rest, _ = command.make_parser(context).parse_args(list(words))
    except click.ClickException:
        return {}
    del rest
    return _by_field(question, command, values)


def _by_field(
    question: Question, command: click.Command, values: dict[str, object]
) -> dict[str, str]:
    made = {}
    flags = {each.name: each for each in command.params}
    for field in question.fields:
        param = next(
            (each for each in flags.values() if field.flag in each.opts), flags.get(field.name)
        )
        value = values.get(param.name or "") if param is not None else None
        if value in (None, (), []) or not isinstance(value, str | list | tuple | bool):
            continue
        if isinstance(value, str) and _STANDS_FOR.search(value):
            continue
        if isinstance(value, list | tuple):
            told = [str(each) for each in value if not _STANDS_FOR.search(str(each))]
            made[field.name] = "\n".join(told)
        elif isinstance(value, bool):
            made[field.name] = _of_flag(field.choices, value, field.sort)
        elif value != "...":
            made[field.name] = value
    return {name: text for name, text in made.items() if text}


def _of_flag(choices: tuple[tuple[str, str], ...], value: bool, sort: Sort) -> str:
    if sort is Sort.FLAG:
        return "yes" if value else ""
    return choices[0 if value else 1][0] if choices else ""


def linked(text: str) -> SafeString:
    """Write a sentence with its commands as links to their pages.

    Parameters
    ----------
    text : str
        The sentence; commands stand in backticks.
    """
    parts = _IN_TICKS.split(text)
    made = [_link(part) if n % 2 else format_html("{}", part) for n, part in enumerate(parts)]
    return mark_safe("".join(made))  # each part was made safe


def _link(command: str) -> SafeString:
    step = step_of(command)
    if not step.path:
        return format_html("<code>{}</code>", command)
    address = reverse("question", args=[step.path])
    if step.query:
        address = f"{address}?{step.query}"
    return format_html('<a href="{}">{}</a>', address, step.title)
