"""Calendars as text, by RFC 5545."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

_OCTETS = 75
"""Longest line; a longer one goes on in the next, behind a space (RFC 5545, 3.1)."""


@dataclass(frozen=True, slots=True)
class Event:
    """Something on one whole day.

    Parameters
    ----------
    id : str
        By which it is known again.
    day : date
        The day.
    name, where, text : str
        What stands in the calendar.
    """

    id: str
    day: date
    name: str
    where: str
    text: str


def calendar_text(name: str, made_on: date, events: Sequence[Event]) -> str:
    """Write a calendar.

    Parameters
    ----------
    name : str
        Its name.
    made_on : date
        The day it was made on.
    events : sequence of Event
        What stands in it.
    """
    lines = [
        "BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//swardbook//the week//EN", "CALSCALE:GREGORIAN",
        f"NAME:{_plain(name)}", f"X-WR-CALNAME:{_plain(name)}",
        "REFRESH-INTERVAL;VALUE=DURATION:PT6H",
    ]  # fmt: skip
    for each in events:
        lines += [
            "BEGIN:VEVENT", f"UID:{each.id}", f"DTSTAMP:{made_on:%Y%m%d}T000000Z",
            f"DTSTART;VALUE=DATE:{each.day:%Y%m%d}",
            f"DTEND;VALUE=DATE:{each.day + timedelta(days=1):%Y%m%d}",
            f"SUMMARY:{_plain(each.name)}", f"LOCATION:{_plain(each.where)}",
            f"DESCRIPTION:{_plain(each.text)}", "TRANSP:TRANSPARENT", "END:VEVENT",
        ]  # fmt: skip
    lines.append("END:VCALENDAR")
    return "".join(f"{_folded(line)}\r\n" for line in lines)


def _plain(text: str) -> str:
    """Write a text as a value: signs with a meaning of their own are marked (RFC 5545, 3.3.11)."""
    marked = text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    return marked.replace("\r\n", "\\n").replace("\n", "\\n").replace("\r", "")


def _folded(line: str) -> str:
    """Part a line after at most 75 octets, and never inside a letter."""
    parts, room, part = [], _OCTETS, b""
    for letter in line:
        octets = letter.encode()
        if len(part) + len(octets) > room:
            parts.append(part.decode())
            part, room = b"", _OCTETS - 1
        part += octets
    return "\r\n ".join([*parts, part.decode()])
