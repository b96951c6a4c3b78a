"""The question that an answer ends with, as a button for each thing that may be answered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from swardbook.cli.collecting import Collected, Marked
from swardbook.web.asking.questions import Question
from swardbook.web.asking.running import Filled

NAMES_A_PLANT = ("name-plant",)
"""The command that asks on."""
_ASKED, _LAST = "Next:", "Answer:"
"""Marks of the command's lines that ask, and that say what to type."""


@dataclass(frozen=True, slots=True)
class NextQuestion:
    """What is asked next.

    Parameters
    ----------
    asks : str
        The question.
    answers : tuple of (str, str, str)
        What is asked for when one is chosen, its word, and what it means.
    """

    asks: str
    answers: tuple[tuple[str, str, str], ...]


def next_question(question: Question, filled: Filled, answer: Collected) -> NextQuestion | None:
    """Give the question that names a plant further; None where nothing is asked.

    Parameters
    ----------
    question : Question
        What was asked.
    filled : Filled
        With what.
    answer : Collected
        What came of it.
    """
    asked = answer.payload.get("next_question") if question.words == NAMES_A_PLANT else None
    if not asked:
        return None
    seen = [each for each in filled.texts.get("seen", "").splitlines() if each.strip()]
    others = {name: text for name, text in filled.texts.items() if name != "seen" and text}

    def query(name: str) -> str:
        return urlencode({**others, "seen": "\n".join([*seen, f"{asked['trait']}={name}"])})

    answers = [(query(each["answer"]), *_told(each["answer"], each["words"]))
               for each in asked["answers"]]  # fmt: skip
    return NextQuestion(asked["asks"], (*answers, (query("?"), "", "")))


def without_asking(lines: Sequence[str]) -> list[str]:
    """Leave out the lines that ask and say what to type, which the buttons do.

    Parameters
    ----------
    lines : sequence of str
        As the command said them.
    """
    marks = [line.mark if isinstance(line, Marked) else "" for line in lines]
    if _ASKED not in marks or _LAST not in marks:
        return list(lines)
    return [*lines[: marks.index(_ASKED)], *lines[marks.index(_LAST) + 1 :]]


def _told(name: str, words: str) -> tuple[str, str]:
    return (words, "") if words.startswith(name) else (name, words)
