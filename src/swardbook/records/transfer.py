"""All rows of one database into another, whichever they are, and the proof that none differs."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from hashlib import sha256
from typing import Any

from django.apps import apps
from django.core.management.color import no_style
from django.db import connections, transaction
from django.db.models import Model

from swardbook.foundation.errors import DamagedBookError
from swardbook.records.guard import REMEDY

_AT_ONCE = 500


def tables() -> tuple[type[Model], ...]:
    """List the tables of a book, each after those that it points to."""
    left = list(apps.get_app_config("records").get_models())
    ordered: list[type[Model]] = []
    while left:
        ready = [each for each in left if not _needs(each) & set(left) - {each}]
        for each in ready or left[:1]:  # a ring: the database looks at the end of the transaction
            ordered.append(each)
            left.remove(each)
    return tuple(ordered)


def _needs(table: type[Model]) -> set[type[Model]]:
    fields = table._meta.concrete_fields
    return {each.related_model for each in fields if isinstance(each.related_model, type)}


def copy_rows(source: str, target: str) -> None:
    """Put all rows of one opened database into another, in place of what a new book has.

    Parameters
    ----------
    source, target : str
        Names of the two connections; both in their newest shape.

    Raises
    ------
    DamagedBookError
        If afterwards a table of one is not what it is in the other; then nothing was written.
    """
    with transaction.atomic(using=target, durable=False):
        for table in reversed(tables()):
            if table._base_manager.using(target).exists():
                with connections[target].cursor() as cursor:
                    cursor.execute(f"DELETE FROM {table._meta.db_table}")
        for table in tables():
            _copy_table(table, source, target)
        _go_on_counting(target)
        if odd := differing(source, target):
            raise DamagedBookError(
                "What was written", f"it differs from what was read, in {', '.join(odd)}", REMEDY
            )


def differing(one: str, other: str) -> tuple[str, ...]:
    """Name the tables whose rows are not the same in two databases."""
    first, second = marks(one), marks(other)
    return tuple(name for name in first if first[name] != second.get(name))


def _copy_table(table: type[Model], source: str, target: str) -> None:
    names = [field.attname for field in table._meta.concrete_fields]
    held: list[Model] = []
    for row in _rows(table, source):
        held.append(table(**dict(zip(names, row, strict=True))))
        if len(held) == _AT_ONCE:
            table._base_manager.using(target).bulk_create(held)
            held = []
    table._base_manager.using(target).bulk_create(held)


def _rows(table: type[Model], alias: str) -> Iterator[tuple[Any, ...]]:
    names = [field.attname for field in table._meta.concrete_fields]
    rows = table._base_manager.using(alias).order_by("pk").values_list(*names)
    return iter(rows.iterator(chunk_size=_AT_ONCE))


def _go_on_counting(target: str) -> None:
    """Let a server give the next row the next number, as SQLite does by itself."""
    connection = connections[target]
    with connection.cursor() as cursor:
        for told in connection.ops.sequence_reset_sql(no_style(), list(tables())):
            cursor.execute(told)


def marks(alias: str) -> dict[str, str]:
    """Give one checksum over all rows of each table; the same in whichever database."""
    return {table._meta.db_table: _mark(table, alias) for table in tables()}


def _mark(table: type[Model], alias: str) -> str:
    whole = sha256()
    for row in _rows(table, alias):
        whole.update(repr([_plain(each) for each in row]).encode())
    return whole.hexdigest()


def _plain(value: Any) -> Any:
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return value.hex()
    return value if isinstance(value, int | str | None) else str(value)
