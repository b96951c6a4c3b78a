"""A piece of ground that two books have differently, made one: field by field, by both diaries."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from swardbook.husbandry.happenings import Changed
from swardbook.records.chain import canonical

Plain = Mapping[str, Any]
_UNSAID = "unsaid"


@dataclass(frozen=True, slots=True)
class OnePiece:
    """What came of two values of a piece of ground.

    Parameters
    ----------
    stands : mapping
        The fields that stand.
    gave_way : tuple of mapping
        Those of the two of which something gave way that no diary knows for history.
    """

    stands: Plain
    gave_way: tuple[Plain, ...]


def one_of(mine: Plain, others: Plain, changes: Iterable[tuple[date, Changed]]) -> OnePiece:
    """Settle what stands of a piece, each field by itself.

    A value that was changed since gives way to one that was not; else the one changed last stands,
    and of two of one day the one whose text is greater.

    Parameters
    ----------
    mine, others : mapping
        The piece as the two books have it.
    changes : iterable of (date, Changed)
        What the diaries of both tell of it, in the order written.
    """
    told = [(day, *_fields(change)) for day, change in changes]
    stands: dict[str, Any] = dict(mine)
    lost: list[Plain] = []
    for name in {**mine, **others}:
        if _text(mine, name) == _text(others, name):
            continue
        steps = [(day, _text(before, name), _text(after, name))
                 for day, before, after in told if name in after]  # fmt: skip
        first, last = sorted((mine, others), key=lambda each: _rank(_text(each, name), steps))
        if name in last:
            stands[name] = last[name]
        else:
            stands.pop(name, None)
        if not _is_history(_text(first, name), steps) and first not in lost:
            lost.append(first)
    return OnePiece(stands, tuple(lost))


Steps = Sequence[tuple[date, str, str]]


def _rank(text: str, steps: Steps) -> tuple[bool, date, str]:
    days = [day for day, _before, after in steps if after == text]
    return _stood_last(text, steps), max(days, default=date.min), text


def _stood_last(text: str, steps: Steps) -> bool:
    """Tell whether a value was come to more often than it was left, as on any way its end is."""
    came = sum(after == text for _, _, after in steps) + sum(
        before == text for _, before, _ in steps[:1]
    )
    return came > sum(before == text for _, before, _ in steps)


def _is_history(text: str, steps: Steps) -> bool:
    """Tell whether a value is only what was there before a change that the diaries tell of."""
    return not _stood_last(text, steps) and any(before == text for _, before, _ in steps)


def _text(plain: Plain, name: str) -> str:
    return canonical(plain[name]) if name in plain else _UNSAID


def _fields(change: Changed) -> tuple[Plain, Plain]:
    """Give the fields before and after; none where a change was told in words, by hand."""
    try:
        before, after = json.loads(change.before), json.loads(change.after)
    except ValueError:
        return {}, {}
    return (before, after) if isinstance(before, dict) and isinstance(after, dict) else ({}, {})
