"""Ask a command: what was filled in becomes its options, what it answers is collected."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from swardbook.book.opening import Book
from swardbook.cli.collecting import Collected, collecting
from swardbook.cli.main import root
from swardbook.foundation.errors import BadInputError, SwardbookError
from swardbook.web.asking.labels import label_of
from swardbook.web.asking.questions import Asked, Question, Sort

NEEDS_PICTURE = "page.svg"
"""A picture's file, which is never written: the page shows the picture."""
_OPTION = re.compile(r"`[^`]*`|--([a-z][a-z0-9-]+)(?:[ =][A-Z]{2,}\b)?")
"""An option as a sentence names it, with what stands for its value; commands stay whole."""


class WrongUseError(SwardbookError, ValueError):
    """What was filled in cannot be read."""

    def __str__(self) -> str:
        """Say what is wrong, in the page's words."""
        return str(self.args[0])


@dataclass(frozen=True, slots=True)
class Filled:
    """What was filled in.

    Parameters
    ----------
    texts : mapping of str to str
        Text of each field by name; several values stand on lines of their own.
    files : mapping of str to paths
        Files given, by field, where they lie for now.
    keeps : bool
        Whether the answer is to be kept.
    draws : bool
        Whether pictures are wanted too.
    """

    texts: Mapping[str, str]
    files: Mapping[str, tuple[Path, ...]]
    keeps: bool = False
    draws: bool = True

    @property
    def is_blank(self) -> bool:
        """Whether nothing was filled in."""
        return not any(self.texts.values()) and not any(self.files.values())


def ask(book: Book, question: Question, filled: Filled, to_file: Path | None = None) -> Collected:
    """Ask a command about an opened book.

    Parameters
    ----------
    book : Book
        The opened book.
    question : Question
        The command.
    filled : Filled
        What was filled in.
    to_file : Path, optional
        Where the file is to be written that the command offers.

    Raises
    ------
    WrongUseError
        If a field cannot be read, or one that is needed is empty.
    SwardbookError
        If the book refuses.
    """
    if question.draws and filled.draws:
        with suppress(_NoPictureError):
            return _asked(book, question, as_arguments(question, filled), to_file)
    return _asked(book, question, as_arguments(question, filled, draws=False), to_file)


class _NoPictureError(SwardbookError):
    """What is asked for cannot be drawn."""


def _asked(book: Book, question: Question, arguments: list[str], to_file: Path | None) -> Collected:
    if to_file is not None and question.to_file:
        arguments = [*question.words, f"--{question.to_file}={to_file}",
                     *arguments[len(question.words):]]  # fmt: skip
    with collecting(book) as made, _in_words_of(question):
        try:
            root.main(arguments, prog_name="swardbook", standalone_mode=False)
        except BadInputError as wrong:
            if wrong.read == NEEDS_PICTURE:
                raise _NoPictureError from wrong
            raise
        except SystemExit as ended:
            if not made.lines:
                raise WrongUseError(f"Nothing was answered (code {ended.code}).") from ended
    return made


def as_arguments(question: Question, filled: Filled, draws: bool = True) -> list[str]:
    """Write what was filled in as a command's arguments; nothing typed can become an option."""
    said: list[str] = []
    bare: list[str] = []
    for field in question.fields:
        if field.flag:
            said += _options(field, filled)
        else:
            bare += _values(field, filled)
    said += [f"{each}={NEEDS_PICTURE}" for each in question.draws if draws]
    if filled.keeps and question.keeps:
        said.append(question.keeps)
    return [*question.words, *said, *(["--", *bare] if bare else [])]


def _options(field: Asked, filled: Filled) -> list[str]:
    values = _values(field, filled)
    if field.sort is Sort.FLAG:
        return [field.flag] if values else []
    if field.sort is Sort.CHOICE and field.choices and field.choices[0][0].startswith("--"):
        return [each for each in values if each in dict(field.choices)]
    if field.count > 1:
        return [field.flag, *values[: field.count]] if len(values) == field.count else [
            f"{field.flag}={' '.join(values)}"] if values else []  # fmt: skip
    return [f"{field.flag}={each}" for each in values]


def _values(field: Asked, filled: Filled) -> list[str]:
    if field.sort is Sort.FILE:
        return [str(each) for each in filled.files.get(field.name, ())]
    text = filled.texts.get(field.name, "").strip()
    if not text:
        return []
    if field.count == -1:
        return [line.strip() for line in text.splitlines() if line.strip()]
    return text.split() if field.count > 1 else [text]


@contextmanager
def _in_words_of(question: Question) -> Iterator[None]:
    try:
        yield
    except click.MissingParameter as wrong:
        name = (wrong.param.name if wrong.param is not None else None) or ""
        label = label_of(" ".join(question.words), name)
        raise WrongUseError(f"“{label}” is needed.") from wrong
    except click.BadParameter as wrong:
        flags = wrong.param.opts if isinstance(wrong.param, click.Option) else []
        told = f"{max(flags, key=len)}: {wrong.message}" if flags else wrong.format_message()
        raise WrongUseError(in_labels(told, question.fields)) from wrong
    except click.ClickException as wrong:
        raise WrongUseError(in_labels(wrong.format_message(), question.fields)) from wrong


def in_labels(text: str, fields: Sequence[Asked]) -> str:
    """Name fields by their labels where a sentence names the options of a command."""
    labels: dict[str, Any] = {each.name: each.label for each in fields}
    for each in fields:
        labels.update({flag[2:].replace("-", "_"): word for flag, word in each.choices
                       if flag.startswith("--")} if each.sort is Sort.CHOICE else {})  # fmt: skip

    def label(found: re.Match[str]) -> str:
        if not found[1]:
            return found[0]
        name = found[1].replace("-", "_")
        return f"“{labels[name]}”" if name in labels else found[0]

    return _OPTION.sub(label, text)
