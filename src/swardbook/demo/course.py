"""The made-up ground as a course: questions whose answers are worked out from the book.

Nothing is marked and nothing is kept. Where it cannot be told, that is the lesson.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files

from swardbook.book.opening import Book
from swardbook.demo.course_answers import ANSWERS, CANNOT
from swardbook.foundation.errors import BadInputError, RefusedError, UnknownNameError
from swardbook.foundation.tables import read_toml_table

_TEXTS = ("title", "question", "look", "workings", "lesson")


class NoCourseError(RefusedError):
    """The course is asked for on somebody's own ground."""

    def __init__(self) -> None:
        super().__init__(
            "There is no course here",
            "its questions are about the made-up ground.",
            "Open that with `swardbook demo`; your own book stays as it is.",
        )


class Word(StrEnum):
    """What is said to an answer; nothing is counted or marked."""

    RIGHT = "Right"
    NOT_SO = "Not so"
    CANNOT = "It cannot be told"


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the answers offered.

    Parameters
    ----------
    key, words : str
        Its name, and what it says.
    """

    key: str
    words: str


@dataclass(frozen=True, slots=True)
class Exercise:
    """One question about the made-up ground.

    Parameters
    ----------
    key, title, question : str
        Its name, its title and what is asked.
    look : str
        The command whose answer shows it.
    choices : tuple of Choice
        The answers offered.
    lesson : str
        What it is there to teach.
    workings : str
        The command that shows how the figures were reached; empty where `look` shows it all.
    """

    key: str
    title: str
    question: str
    look: str
    choices: tuple[Choice, ...]
    lesson: str
    workings: str

    @property
    def look_words(self) -> str:
        """Name the command whose answer shows it, as sentences name one."""
        return f"`swardbook {self.look}`"

    @property
    def workings_words(self) -> str:
        """Name the command that shows how it was reached, as sentences name one."""
        return f"`swardbook {self.workings}`"

    def choice(self, key: str) -> Choice:
        """Find one of the answers offered.

        Raises
        ------
        UnknownNameError
            If there is none of that name.
        """
        for each in self.choices:
            if each.key == key:
                return each
        raise UnknownNameError("answer", key, [each.key for each in self.choices])


@dataclass(frozen=True, slots=True)
class Told:
    """What the book says to an answer.

    Parameters
    ----------
    exercise : Exercise
        The question.
    said, right : Choice
        What was answered, and what is right as the book stands.
    word : Word
        Right, not so, or that it cannot be told.
    because : tuple of str
        What it rests on, from the book.
    """

    exercise: Exercise
    said: Choice
    right: Choice
    word: Word
    because: tuple[str, ...]

    @property
    def is_right(self) -> bool:
        """Whether the answer is the book's own."""
        return self.said == self.right

    @property
    def sentence(self) -> str:
        """Say whether it is so."""
        if self.right.key == CANNOT:
            return "Right: it cannot be told." if self.is_right else "It cannot be told."
        if self.is_right:
            return "Right."
        return f"Not so. The book says: {self.right.words}."


@cache
def exercises() -> tuple[Exercise, ...]:
    """Give every question of the course, in its order.

    Raises
    ------
    BadInputError
        If the table of questions is broken.
    """
    table = read_toml_table(files("swardbook.demo") / "data" / "course.toml")
    if set(table) != set(ANSWERS):
        raise BadInputError("course.toml", sorted(table), ", ".join(sorted(ANSWERS)))
    made = []
    for key, row in table.items():
        if set(row) != {*_TEXTS, "choices"}:
            raise BadInputError(f"course.toml [{key}]", sorted(row), ", ".join(_TEXTS))
        choices = tuple(Choice(name, words) for name, words in row["choices"].items())
        texts = {name: str(row[name]) for name in _TEXTS}
        made.append(Exercise(key=key, choices=choices, **texts))
    return tuple(made)


def exercise(key: str) -> Exercise:
    """Find one question by its name.

    Raises
    ------
    UnknownNameError
        If there is none.
    """
    for each in exercises():
        if each.key == key:
            return each
    raise UnknownNameError("exercise", key, [each.key for each in exercises()])


def course_of(book: Book) -> tuple[Exercise, ...]:
    """Give the course of a made-up ground.

    Raises
    ------
    NoCourseError
        If the ground is somebody's own.
    """
    if not book.is_made_up:
        raise NoCourseError
    return exercises()


def answer(book: Book, key: str, said: str) -> Told:
    """Work the answer out from the book, and say whether what was answered is so.

    Parameters
    ----------
    book : Book
        The opened book of the made-up ground.
    key : str
        Name of the question.
    said : str
        Name of the answer given.

    Raises
    ------
    NoCourseError
        If the ground is somebody's own.
    UnknownNameError
        If there is no such question or answer.
    NotEnoughDataError
        If the book has lost what the question rests on.
    """
    course_of(book)
    asked = exercise(key)
    choice = asked.choice(said)
    found = ANSWERS[key](book)
    right = asked.choice(found.right)
    word = Word.RIGHT if choice == right else Word.NOT_SO
    if right.key == CANNOT and choice != right:
        word = Word.CANNOT
    return Told(asked, choice, right, word, tuple(each for each in found.because if each))
