"""The week as a calendar that other programs read: what is due, and what is held off."""

from __future__ import annotations

from uuid import NAMESPACE_URL, uuid5

from swardbook.book.opening import Book, for_others
from swardbook.book.plan import week
from swardbook.feeds.calendar_file import Event, calendar_text
from swardbook.planning.tasks import Task


@for_others()
def week_calendar(book: Book) -> str:
    """Write this week's tasks as an iCalendar text; the same week gives the same text.

    Parameters
    ----------
    book : Book
        The opened book.

    Returns
    -------
    str
        Events of the whole day, today; a task that is held off says so and why. They take up no
        time, for the hours are the person's own to place.

    References
    ----------
    RFC 5545, Internet Calendaring and Scheduling Core Object Specification (iCalendar), 2009.
    """
    site = book.ground().site.name
    events = [_event(book, each) for each in week(book).tasks]
    return calendar_text(f"{site}: this week", book.today, events)


def _event(book: Book, task: Task) -> Event:
    where = ", ".join(task.zones) or "whole site"
    mark = f"{book.store.slug()} {task.job} {where} {book.today.isoformat()}"
    if task.held_off_because:
        name, told = f"Held off: {task.name}", [task.held_off_because]
    else:
        name = task.name
        told = [task.hours.words, task.when, task.why]
        told += [f"With: {', '.join(task.materials)}"] if task.materials else []
        told += [f"Wrong if {task.wrong_if}"] if task.wrong_if else []
        told += [f"Mind: {task.caution}"] if task.caution else []
    text = "\n".join(f"{each[:1].upper()}{each[1:].rstrip('.')}." for each in told if each)
    return Event(str(uuid5(NAMESPACE_URL, mark)), book.today, name, where, text)
