"""Exception families; every message is built from its own fields."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence


def plain_number(number: float) -> str:
    """Write a number as a person does: 10,000,000, never with an exponent."""
    if 1e5 <= abs(number) < 1e15:
        return f"{number:,.0f}"
    return f"{number:g}"


_SHOWN = 60
_NAMED = 12


def as_typed(read: object) -> str:
    """Quote what was typed, so much of it that it is known again."""
    text = repr(read)
    return text if len(text) <= _SHOWN else f"{text[: _SHOWN - 4]} ...{text[-1]}"


class SwardbookError(Exception):
    """Root of everything this project raises on purpose."""


class OutOfRangeError(SwardbookError, ValueError):
    """A quantity lies where it has no meaning.

    Parameters
    ----------
    name : str
        The quantity, as the person or caller knows it.
    value : object
        What was read.
    allowed : str
        What is allowed, in words.
    unit : str
        The unit of `value` and `allowed`; empty where there is none.
    hint : str
        The likely slip.
    """

    def __init__(self, name: str, value: object, allowed: str, unit: str, hint: str = "") -> None:
        super().__init__(name, value, allowed, unit, hint)
        self.name, self.value, self.allowed, self.unit, self.hint = name, value, allowed, unit, hint

    def __str__(self) -> str:
        """Say what was read, what would do, and what to try."""
        read = plain_number(self.value) if isinstance(self.value, float) else str(self.value)
        unit = f" [{self.unit}]" if self.unit else ""
        told = f"{self.name} is {read}, but must be {self.allowed}{unit}."
        return f"{told} {self.hint}" if self.hint else told


class BadInputError(SwardbookError, ValueError):
    """Something typed or read from a file cannot be understood.

    Parameters
    ----------
    what : str
        What was being read, such as ``the date`` or ``line 7 of rain.csv``.
    read : object
        The text or value as it came.
    allowed : str
        What is understood here.
    hint : str
        The likely slip.
    """

    def __init__(self, what: str, read: object, allowed: str, hint: str = "") -> None:
        super().__init__(what, read, allowed, hint)
        self.what, self.read, self.allowed, self.hint = what, read, allowed, hint

    def __str__(self) -> str:
        """Say what was read, what would do, and what to try."""
        told = f"{self.what}: read {as_typed(self.read)}; understood here: {self.allowed}."
        return f"{told} {self.hint}" if self.hint else told


class UnknownNameError(SwardbookError, LookupError):
    """A name that is in neither the book nor the handbook; offers the nearest ones.

    Parameters
    ----------
    kind : str
        What was named: ``zone``, ``species``, ``lot`` ...
    name : str
        The name as typed.
    known : sequence of str
        The names there are.
    """

    def __init__(self, kind: str, name: str, known: Iterable[str]) -> None:
        known = tuple(known)
        super().__init__(kind, name, known)
        self.kind, self.name, self.known = kind, name, known

    @property
    def nearest(self) -> Sequence[str]:
        """Up to three known names that hold the word typed, or look most like it."""
        folded = {known.casefold(): known for known in self.known}
        typed = self.name.casefold()
        # Only a slip needs it, and every command would pay for its import.
        from difflib import get_close_matches

        close = get_close_matches(typed, folded, n=3, cutoff=0.5)
        holding = [name for name in folded if typed and typed in re.split(r"[\W_]+", name)]
        return [folded[name] for name in dict.fromkeys([*holding, *close])][:3]

    def __str__(self) -> str:
        """Name what is unknown and what was perhaps meant."""
        told = f"No {self.kind} called {as_typed(self.name)}"
        if self.nearest:
            return f"{told}. Did you mean {' or '.join(self.nearest)}?"
        if len(self.known) > 2 * _NAMED:
            some = ", ".join(self.known[:_NAMED])
            return f"{told}. There are {len(self.known)}: {some} ..."
        return (
            f"{told}. There are: {', '.join(self.known)}."
            if self.known
            else (f"{told}; there is none yet.")
        )


class NotEnoughDataError(SwardbookError):
    """The smallest design that could answer is not met; an answer, not a failure.

    Parameters
    ----------
    question : str
        What was asked.
    needed : str
        What would have to be there.
    found : str
        What is there.
    """

    def __init__(self, question: str, needed: str, found: str) -> None:
        super().__init__(question, needed, found)
        self.question, self.needed, self.found = question, needed, found

    def __str__(self) -> str:
        """Say what is missing."""
        return f"Not enough data for {self.question}: needs {self.needed}; there is {self.found}."


class RefusedError(SwardbookError):
    """Something that could be done and is not, for a reason that is told.

    Parameters
    ----------
    what : str
        What was not done.
    reason : str
        Why not.
    remedy : str
        What can be done instead.
    """

    def __init__(self, what: str, reason: str, remedy: str = "") -> None:
        super().__init__(what, reason, remedy)
        self.what, self.reason, self.remedy = what, reason, remedy

    def __str__(self) -> str:
        """Say what was not done, why, and what can be."""
        told = f"{self.what}: {self.reason}"
        return f"{told} {self.remedy}" if self.remedy else told


class BalanceError(SwardbookError):
    """A balance of the model does not close; the run stops and says by how much.

    Parameters
    ----------
    what : str
        What should balance: seeds, plants, water or cover.
    day : str
        The day it failed.
    gap : float
        What is missing. [unit of the stock]
    allowed : float
        The largest gap allowed. [unit of the stock]
    """

    def __init__(self, what: str, day: str, gap: float, allowed: float) -> None:
        super().__init__(what, day, gap, allowed)
        self.what, self.day, self.gap, self.allowed = what, day, gap, allowed

    def __str__(self) -> str:
        """Say what does not add up, when, and by how much."""
        return (
            f"The {self.what} of {self.day} do not add up: off by {self.gap:g},"
            f" allowed {self.allowed:g}. The run was stopped."
        )


class DamagedBookError(SwardbookError):
    """The book file, or an entry in it, is not what was written.

    Parameters
    ----------
    where : str
        The file or the entry.
    found : str
        What is wrong with it.
    remedy : str
        What to do now.
    """

    def __init__(self, where: str, found: str, remedy: str) -> None:
        super().__init__(where, found, remedy)
        self.where, self.found, self.remedy = where, found, remedy

    def __str__(self) -> str:
        """Say what is damaged and what to do."""
        return f"{self.where}: {self.found}. {self.remedy}"


class BookBusyError(SwardbookError):
    """Another program is writing to the same book."""

    def __init__(self, where: str, seconds: float) -> None:
        super().__init__(where, seconds)
        self.where, self.seconds = where, seconds

    def __str__(self) -> str:
        """Say what happened and that nothing was lost."""
        return (
            f"{self.where} was busy with another program for {self.seconds:g} seconds."
            " Nothing was changed; try again in a moment."
        )


class StorageError(SwardbookError):
    """The disk would not take what was to be written."""

    def __init__(self, where: str, reason: str) -> None:
        super().__init__(where, reason)
        self.where, self.reason = where, reason

    def __str__(self) -> str:
        """Say what failed; what was stored before is untouched."""
        return (
            f"Could not write to {self.where}: {self.reason}."
            " Nothing was changed; what was stored before is untouched."
        )
