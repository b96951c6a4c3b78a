"""Nested tuples of numbers as flat rows, and back: how the kernel and learning hold a state."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cache
from typing import Any, NamedTuple, get_args, get_origin, get_type_hints

from swardbook.model.observe import Observed, WeedSeen
from swardbook.model.state import USUAL_WEEDS, SwardState, WeedState

Builder = Callable[[Iterator[Any]], Any]
USUAL = len(USUAL_WEEDS)
"""Weed grasses of a usual zone."""


class Row(NamedTuple):
    """One field of nested tuples, as a path of names."""

    path: tuple[str, ...]

    @property
    def name(self) -> str:
        """The path as one word."""
        return ".".join(self.path)


@cache
def rows_of(tuples: type[Any], weeds: int = USUAL) -> tuple[Row, ...]:
    """List the numbers in nested tuples, in order, in a zone with so many weed grasses."""
    return tuple(Row(path) for path in _paths(tuples, weeds))


def weeds_in(rows: int) -> int:
    """Tell how many weed grasses a state of so many numbers has."""
    return (rows - len(rows_of(SwardState, 0))) // len(rows_of(WeedState))


def flatten(values: Any) -> Iterator[Any]:
    """Yield the numbers in nested tuples, in the order of `rows_of`."""
    for each in values:
        if isinstance(each, tuple):
            yield from flatten(each)
        else:
            yield each


def unflatten(tuples: type[Any], numbers: Iterable[Any], weeds: int = USUAL) -> Any:
    """Build nested tuples from their numbers, in a zone with so many weed grasses."""
    return _builder(tuples, weeds)(iter(numbers))


_BUILDERS: dict[tuple[type[Any], int], Builder] = {}
"""What builds tuples, by type and weeds; worked out once, for states are built very often."""


def _builder(tuples: type[Any], weeds: int) -> Builder:
    key = (tuples, weeds)
    if key not in _BUILDERS:
        _BUILDERS[key] = _made_builder(tuples, weeds)
    return _BUILDERS[key]


def _made_builder(tuples: type[Any], weeds: int) -> Builder:
    nested = nested_in(tuples)
    parts: list[Builder] = []
    for name in tuples._fields:
        if name not in nested:
            parts.append(next)
        elif name in TIMES:
            parts.append(_several([_builder(nested[name], weeds)] * (weeds - TIMES[name])))
        else:
            parts.append(_builder(nested[name], weeds))
    return lambda numbers: tuples._make([part(numbers) for part in parts])


def _several(builders: list[Builder]) -> Builder:
    return lambda numbers: tuple([build(numbers) for build in builders])


TIMES = {"weeds": 0, "others": USUAL}
"""Fields with a tuple for each weed grass, and how many weed grasses they pass over."""
_NESTED: dict[type[Any], dict[str, type[Any]]] = {}
"""Which fields of a tuple are tuples themselves; reading hints takes long and is asked often."""


def nested_in(tuples: type[Any]) -> dict[str, type[Any]]:
    """Tell which fields of a tuple hold tuples, and of which type."""
    if tuples not in _NESTED:
        hints = {name: _one_of(hint) for name, hint in get_type_hints(tuples).items()}
        _NESTED[tuples] = {
            name: hint
            for name, hint in hints.items()
            if isinstance(hint, type) and issubclass(hint, tuple)
        }
    return _NESTED[tuples]


def _one_of(hint: Any) -> Any:
    """Give the tuple that a field holds, or holds several of."""
    return get_args(hint)[0] if get_origin(hint) is tuple else hint


def _paths(tuples: type[Any], weeds: int) -> Iterator[tuple[str, ...]]:
    nested = nested_in(tuples)
    for name in tuples._fields:
        if name not in nested:
            yield (name,)
            continue
        times = range(weeds - TIMES[name]) if name in TIMES else None
        for field in [name] if times is None else [f"{name}[{n}]" for n in times]:
            yield from ((field, *rest) for rest in _paths(nested[name], weeds))


def output_names(weeds: Sequence[str] = USUAL_WEEDS) -> tuple[str, ...]:
    """Name the numbers of `Observed` in order, for a zone with these weed grasses."""
    others = [
        weed if name == "cover" else f"{weed}_{name}"
        for weed in weeds[len(USUAL_WEEDS) :]
        for name in WeedSeen._fields
    ]
    return (*Observed._fields[:-1], *others)
