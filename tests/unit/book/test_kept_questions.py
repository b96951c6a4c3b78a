"""Every answer that a command can keep has its use told, and a command that works it out again."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import click
import pytest

import swardbook
from swardbook.cli.main import root
from swardbook.handbook.kept_answers import kept_questions

SOURCE = Path(swardbook.__file__).parent
ELSEWHERE = {"sealed guess", "settled guess", "guess opened early"}
"""Kept by their own commands, which read them back themselves."""


def abouts() -> Iterator[tuple[str, str]]:
    """Give the question of each answer that is made to be kept, and the module that makes it."""
    for path in sorted((*SOURCE.glob("book/*.py"), *SOURCE.glob("cli/*.py"))):
        module = ".".join(path.relative_to(SOURCE.parent).with_suffix("").parts)
        text = path.read_text(encoding="utf-8")
        if "worked_out import" not in text:
            continue
        makers = {"Answer"} | ({"Kept"} if "Answer as Kept" in text else set())
        calls = [node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.Call)]
        for node in calls:
            is_made = getattr(node.func, "id", "") in makers and node.args
            if is_made and (about := _said(node.args[0], module)):
                yield about, module


def _said(first: ast.expr, module: str) -> str:
    if isinstance(first, ast.Constant):
        return str(first.value)
    name = first.id if isinstance(first, ast.Name) else getattr(first, "attr", "")
    if not name.isupper():
        return ""
    for place in (
        module,
        "swardbook.book.squaring",
        "swardbook.book.feed_materials",
        "swardbook.book.kept_mixtures",
    ):
        if isinstance(found := getattr(import_module(place), name, None), str):
            return found
    return ""


def test_every_answer_that_is_kept_has_its_use_told() -> None:
    made = dict(abouts())
    assert len(made) > 12
    missing = {about: module for about, module in made.items()
               if about not in kept_questions() and about not in ELSEWHERE}  # fmt: skip
    assert not missing


@pytest.mark.parametrize("about", kept_questions())
def test_the_command_that_works_it_out_again_is_there_and_keeps(about: str) -> None:
    found: click.Command = root
    context = click.Context(root)
    for word in kept_questions()[about].command.split():
        assert isinstance(found, click.Group)
        command = found.get_command(context, word)
        assert command is not None, word
        found = command
    assert "--keep" in {each for option in found.params for each in option.opts}
