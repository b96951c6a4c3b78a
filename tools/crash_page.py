"""The page of the crash runs, written from one run."""

from __future__ import annotations

from typing import Any

_HEAD = """# Crash runs: what was kept is there

Written by `make test-crash` from one run. A child process writes entries, groups of entries,
changes of the ground, pictures and what phones send, as fast as it can. The parent holds what the
child was told is kept. Then something happens, the book is opened again, and everything that was
told must be there, each group whole, each entry once, all checksums right.

"""
_TORN = """
## Torn files and flipped bits

A copy of a book is damaged: one bit, 64 bytes, half a page, the end torn off, two pages swapped.
Then it is opened and checked. Damage that lies where nothing is kept is harmless; anything that
alters an entry must be found and named. Looking never changes the damaged file, and the copy that
was put by brings everything back.

"""
_LIMITS = """
## What this does not show

A killed process is not a cut power cable: here the operating system lives on and writes what it was
given. That what is acknowledged was forced to the disk first (`synchronous=FULL`) is set and
tested; whether a disk then tells the truth about it is the disk's. The server's crash is its own
immediate stop, with recovery from its log. Damage that a chance run did not hit is not shown
either.
"""
KINDS = ("bit flipped", "bits flipped", "page torn", "end torn off", "pages swapped")


def page(sums: dict[str, Any]) -> str:
    """Write the page.

    Parameters
    ----------
    sums : dict
        Counts of each kind of run.
    """
    names = {
        "killed": "Killed while writing, SQLite",
        "killed on a server": "Killed while writing, PostgreSQL",
        "full disk": "Disk full",
    }
    rows = ["| what happened | times | acknowledged writes | lost | checksums that did not hold |",
            "|---|---|---|---|---|"]  # fmt: skip
    for name, words in names.items():
        found = sums[name]
        rows.append(
            f"| {words} | {found['crashes']:,} | {found['acknowledged']:,} |"
            f" {found.get('lost', 0)} | {found.get('damaged', 0)} |"
        )
    more = (
        f"\nOf the kills on PostgreSQL {sums['killed on a server']['server_crashes']} stopped the"
        f" server itself. On a full disk {sums['full disk']['refused_in_words']} writes were"
        " refused in words.\n"
    )
    torn = sums["torn"]
    told = [f"- {kind}: {torn.get(kind, 0)}" for kind in KINDS]
    became = (
        f"\nOf {torn['crashes']} files {torn['altered']} had an entry altered or out of reach;"
        f" {torn['altered_and_named']} of them were named. {torn['named']} were named in all,"
        f" {torn['harmless']} were harmless. {torn['read_only']} of the named could still be"
        f" opened, to be read and no more; {torn['unreadable']} could not be read at all,"
        " and said so.\n"
    )
    return "".join(
        (_HEAD, "\n".join(rows), "\n", more, _TORN, "\n".join(told), "\n", became, _LIMITS)
    )
