"""The day of a picture: the camera's where it can be right, else asked for, never guessed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from swardbook.book.diary import read_past
from swardbook.foundation.dates import When, say
from swardbook.handbook.parameters import value

_SAY = "Say --when DAY."


@dataclass(frozen=True, slots=True)
class PictureDay:
    """The day of a picture, or the question about it.

    Parameters
    ----------
    when : When or None
        The day; None while it is asked for.
    question : str
        What has to be answered first; empty where nothing has.
    answer : str
        How it is answered at the command line.
    """

    when: When | None
    question: str = ""
    answer: str = ""

    @property
    def words(self) -> str:
        """The question, and how it is answered at the command line."""
        return f"{self.question} {self.answer}".strip()


def day_of(
    taken: datetime | None, today: date, typed: str = "", trusts_camera: bool = False
) -> PictureDay:
    """Find the day of a picture.

    Parameters
    ----------
    taken : datetime or None
        The camera's moment.
    today : date
        The book's today.
    typed : str
        The day as the user typed it; it wins.
    trusts_camera : bool
        Whether the user says that the camera's date is right.

    Raises
    ------
    BadInputError
        If the typed day cannot be read or lies ahead.
    """
    if typed:
        return PictureDay(read_past(typed, today))
    if taken is None:
        return PictureDay(None, "No date in it. When was it taken?", _SAY)
    day = taken.date()
    age = (today - day).days
    if age < 0:
        return PictureDay(
            None, f"Camera says {say(day)}, which is after today, {say(today)}.", _SAY
        )
    if trusts_camera or age <= value("photo_old_days"):
        return PictureDay(When.on(day))
    if age > value("photo_clock_days"):
        return PictureDay(
            None, f"Camera says {day.year}. Was its clock never set?",
            f"Say --when DAY, or --camera-date if {say(day)} is right.",
        )  # fmt: skip
    return PictureDay(
        None, f"Taken {age} days ago, on {say(day)}. Does it belong to that day?",
        "Say --camera-date; or say --when DAY.",
    )  # fmt: skip
