"""A doubt about an entry, with its likely fix; and the doubts that need no ground."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from swardbook.foundation.dates import say
from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Closure


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing that looks odd, and the likely fix.

    Parameters
    ----------
    text : str
        What was read and what was perhaps meant.
    change : str
        The likely fix as ``field=value``; empty where there is none to offer.
    """

    text: str
    change: str = ""


def closure_backwards(entry: DiaryEntry, _ground: object) -> Iterator[Doubt]:
    """Ask about a closure that ends before it begins: two days swapped, or a year slip."""
    what = entry.what
    if not isinstance(what, Closure) or what.until is None or what.until >= entry.when.first:
        return
    told = f"Closed until {say(what.until)}, before it begins on {say(entry.when.first)}."
    try:
        later = what.until.replace(year=what.until.year + 1)
    except ValueError:
        later = what.until
    if 0 <= (later - entry.when.first).days <= value("look_closure_days"):
        yield Doubt(f"{told} {say(later)}?", f"until={later.isoformat()}")
    else:
        yield Doubt(f"{told} The two swapped?", f"when={what.until.isoformat()}")
