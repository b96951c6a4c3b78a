"""A new book that gets its name only once it is full: no half book is ever left behind."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

from swardbook.husbandry.ground import Site
from swardbook.records import files
from swardbook.records.guard import guarded
from swardbook.records.opening import create_store, further_ground
from swardbook.records.store import Store
from swardbook.settings import Settings


@contextmanager
def filled_store(settings: Settings, beside: Site | None = None) -> Iterator[Store]:
    """Give an empty book to fill; it is put in its place when the block ends well.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    beside : Site or None
        The site of a further ground, to fill in the book that is there.

    Raises
    ------
    BadInputError
        If there is a book already, or in it a ground of that name.
    StorageError
        If the disk would not take it; nothing is left behind.
    """
    if beside is not None:
        with further_ground(settings, beside) as store:
            yield store
        return
    if settings.database:
        store = create_store(settings)
        try:
            with store.together():
                yield store
        finally:
            store.close()
        return
    wanted = settings.book_file
    if wanted.exists():
        raise files.there_is_one(wanted)
    aside = settings.home / ".unfinished"
    with guarded(str(wanted)):
        files.make_private_folder(settings.home)
        shutil.rmtree(aside, ignore_errors=True)
    try:
        store = create_store(replace(settings, home=aside))
        try:
            yield store
        finally:
            store.close()
        with guarded(str(wanted)):
            files.put_in_place(aside / wanted.name, wanted)
    finally:
        shutil.rmtree(aside, ignore_errors=True)
