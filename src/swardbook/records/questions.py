"""Questions in Django's words that are composed once, and from then on only put.

Composing a question takes Django longer than a small database takes to answer it. What a page asks
again and again differs only in what it is about: the ground, a person, the time.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from typing import Any

from django.db import connections
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.models import Expression, QuerySet

from swardbook.records.state import as_kept

_MOST = 64
"""Forms of one question that are held; there are few, and nobody outside can make more."""


class About(Expression):
    """Stands in a question for what it will be about; given by its name when the question is put.

    Parameters
    ----------
    name : str
        Under which it is given.
    """

    def __init__(self, name: str) -> None:
        super().__init__()
        self.name = name

    def as_sql(self, compiler: Any, connection: Any, *_: Any, **__: Any) -> tuple[str, Any]:
        """Leave a place, and stand in it."""
        del compiler, connection
        return "%s", (self,)


@dataclass(frozen=True, slots=True)
class _Composed:
    text: str
    places: tuple[Any, ...]
    columns: tuple[Any, ...]

    def put(self, connection: BaseDatabaseWrapper, about: dict[str, Any]) -> list[tuple[Any, ...]]:
        given = {name: as_kept(each, connection) for name, each in about.items()}
        places = [given[each.name] if isinstance(each, About) else each for each in self.places]
        with connection.cursor() as cursor:
            cursor.execute(self.text, places)
            rows = cursor.fetchall()
        reads = [_reader(column, connection) for column in self.columns] if rows else []
        if not any(reads):
            return list(rows)
        return [
            tuple(
                read(value) if read else value for read, value in zip(reads, row, strict=False)
            )
            for row in rows
        ]  # fmt: skip


class Question:
    """One question; called with the name of a connection, its form, and what it is about.

    Parameters
    ----------
    compose : callable
        Gives it for a form as a ``values_list`` with an `About` for each thing that it is about.
    """

    def __init__(self, compose: Callable[..., QuerySet[Any, Any]]) -> None:
        self._compose = compose
        self._held: dict[tuple[Hashable, ...], _Composed] = {}
        self.__doc__ = compose.__doc__

    def __call__(self, alias: str, *form: Hashable, **about: Any) -> list[tuple[Any, ...]]:
        """Put it; gives the rows.

        Parameters
        ----------
        alias : str
            Name of the connection.
        *form
            What it is composed with.
        **about
            What it is about, by the names in it.
        """
        connection = connections[alias]
        composed = self._held.get((connection.vendor, *form))
        if composed is None:
            composed = self._composed(connection, form)
        return composed.put(connection, about)

    def _composed(self, connection: BaseDatabaseWrapper, form: tuple[Hashable, ...]) -> _Composed:
        rows = self._compose(*form)
        writer = rows.query.get_compiler(connection=connection)
        text, places = writer.as_sql()
        columns = tuple(column for column, *_ in writer.select)
        if len(self._held) >= _MOST:
            self._held.clear()
        made = self._held[connection.vendor, *form] = _Composed(text, tuple(places), columns)
        return made


def _reader(column: Any, connection: BaseDatabaseWrapper) -> Callable[[Any], Any] | None:
    """Give what makes a value of a column of what the database gave; none where nothing does."""
    turns = [*connection.ops.get_db_converters(column), *column.get_db_converters(connection)]
    if not turns:
        return None

    def read(value: Any) -> Any:
        for turn in turns:
            value = turn(value, column, connection)
        return value

    return read
