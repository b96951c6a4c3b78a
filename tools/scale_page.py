"""The page of the scale runs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from tools.scale_simulation import Night, Simulated, simulate

WANTED_GAIN, WANTED_COMMITS, MOST_GROWTH = 0.75, 0.6, 1.1
MANY, WORKERS = 100_000, 64
BUSY = 4.0
NOT_RUN = "Not run to its end yet"


def page(done: Mapping[str, Any], lawns: int) -> str:
    """Write the page from what was measured so far."""
    long = done.get(f"long {lawns}")
    rows = [
        f"| {name} | {found} | {wanted} | {'met' if is_met else 'not met'} |"
        for name, found, wanted, is_met in _shares(done, long)
    ]
    told = [
        "# The night at size", "",
        "Written by `make scale-runs`. Lawns are made up, and looked over as `swardbook nightly`"
        " does it. Shares are taken within one run; times are those of the machine it ran on.", "",
        "| What | Found | Wanted | |", "|---|---|---|---|", *rows, "",
    ]  # fmt: skip
    told += _long(long, lawns) if long else [f"{NOT_RUN}: {lawns:,} lawns in one book.", ""]
    told += (
        _gains(done["pairs"]) if "pairs" in done else [f"{NOT_RUN}: one worker against two.", ""]
    )
    told += (
        _bits(done["bits"]) if "bits" in done else [f"{NOT_RUN}: bits by different workers.", ""]
    )
    if "commits" in done:
        told += _commits(done["commits"])
    if {"pairs", "ahead", "scheduler", "steps"} <= set(done):
        told += _ahead(done, done["pairs"]["task_cpu_s"])
    return "\n".join(told).rstrip() + "\n"


def _shares(
    done: Mapping[str, Any], long: Mapping[str, Any] | None
) -> Iterator[tuple[str, str, str, bool]]:
    if "pairs" in done:
        pairs, task = done["pairs"], sorted(done["pairs"]["task_cpu_s"])
        middle = task[len(task) // 2]
        yield ("Two workers of a cluster against twice one", f"{pairs['gain']:.2f}{_load(pairs)}",
               f"at least {WANTED_GAIN}", pairs["gain"] >= WANTED_GAIN)  # fmt: skip
        yield ("Time of a lawn on a worker, the middle one", f"{1000 * middle:.0f} ms",
               "at least 50 ms", middle >= 0.05)  # fmt: skip
    if long:
        memory = long["memory"].values()
        growth = max(each["at_the_end"] / each["after_a_quarter"] for each in memory)
        yield ("Memory of a worker at the end against after a quarter", f"{growth:.2f}",
               f"at most {MOST_GROWTH}", growth <= MOST_GROWTH)  # fmt: skip
    if "commits" in done:
        commits, least = done["commits"], WANTED_COMMITS
        share = commits["shares"]["row"]
        yield ("A row on the disk against a bare append of 4 KB", f"{share:.1f}{_load(commits)}",
               f"at least {least}", share >= least)  # fmt: skip


def _commits(commits: Mapping[str, Any]) -> list[str]:
    named = {
        "raw": "a bare append of 4 KB, forced to the disk",
        "row": "a row by SQLite alone, with the book's settings",
        "job": "the end of a lawn's night: its job and what the listing remembers",
        "entry": "an entry of the diary: read what is new, chained, counted, written",
    }
    rates, shares = commits["per_s"], commits["shares"]
    return [
        "## On the disk before the next begins", "",
        "Each of these is acknowledged only when the system says that the disk has it. All in one"
        " run, in turn; the share is of the bare append beside it. The quicker the disk, the more"
        " the program's own work shows: here a bare append took"
        f" {1000 / rates['raw']:.1f} ms.", "",
        "| What | A second | Share |", "|---|---|---|",
        *(f"| {told} | {rates[name]:,.0f} | {shares[name]:.2f} |" for name, told in named.items()),
        "",
    ]  # fmt: skip


def _load(part: Mapping[str, Any]) -> str:
    """Say how busy the machine was with other things, where it was."""
    low, high = sorted(part["load"])
    return f", at a load of {low:.0f} to {high:.0f} on two cores" if high > BUSY else ""


def _long(long: Mapping[str, Any], lawns: int) -> list[str]:
    rate = long["looked"] / long["seconds"]
    short = "" if lawns >= 10_000 else f" This page is of a run of {lawns:,} lawns, not of 10,000."
    return [
        "## All lawns with two workers", "",
        f"{long['lawns']:,} lawns with a year of diary in one book; {long['looked']:,} of them in"
        f" this run, {long['before']:,} before it was stopped and begun again. It took"
        f" {long['seconds'] / 60:.0f} minutes, {rate:.1f} lawns a second, at a load of"
        f" {long['load'][0]:.0f} to {long['load'][1]:.0f} on two cores;"
        f" {long['cpu_s'] / 60:.0f} minutes of it were work of the two. {long['lost']} leases were"
        f" lost. There were no look-aheads in it.{short}", "",
    ]  # fmt: skip


def _gains(pairs: Mapping[str, Any]) -> list[str]:
    told = ", ".join(f"{each:.2f}" for each in pairs["gains"])
    same = "the same" if pairs["is_same"] else "NOT the same"
    return [
        "## One worker against two", "",
        f"{pairs['lawns']} lawns with three years of diary, taken {len(pairs['gains'])} times by"
        f" one worker and by two, in turn, at a load of {pairs['load'][0]:.0f} to"
        f" {pairs['load'][1]:.0f} on two cores. Time of one over twice the time of two: {told}."
        " What drives them shares the two cores, so it cannot reach 1. Of all rounds the bits are"
        f" {same}.", "",
    ]  # fmt: skip


def _bits(bits: Mapping[str, Any]) -> list[str]:
    rows = [
        f"| {name} | {each['looked']} | {each['ahead']} | {each['begun'] - each['looked']} |"
        f" `{each['bits']}` |"
        for name, each in bits["runs"].items()
    ]
    whole = {each["bits"] for each in bits["runs"].values()}
    told = "All bits are the same." if len(whole) == 1 else "The bits are NOT the same."
    return [
        "## The same bits, whoever works them out", "",
        f"{told} A killed worker costs what it was at; a line of the table is one run.", "",
        "| Workers | Lawns | Looked ahead for | Begun again | Bits of all answers |",
        "|---|---|---|---|---|", *rows, "",
    ]  # fmt: skip


def _ahead(done: Mapping[str, Any], task: list[float]) -> list[str]:
    scheduler, driver = done["scheduler"]["cpu_s"], done["steps"]["driver_cpu_s"]
    longer = done["ahead"]["cpu_s"]
    with_ahead = [*(6 * task), *(each + longer for each in task)]
    rows = []
    for name, work in (("looks alone", task), ("a seventh looked ahead for", with_ahead)):
        for drivers in (1, 4):
            found = simulate(Night(MANY, WORKERS, drivers, work, scheduler, driver / 2, driver / 2))
            rows.append(_row(name, drivers, found))
    return [
        f"## {MANY:,} lawns on {WORKERS} workers, simulated", "",
        f"Nobody ran this: it repeats what was measured, event by event. A task cost scheduler and"
        f" client together {1000 * scheduler:.1f} ms of processor time"
        f" ({done['scheduler']['tasks']:,} tasks of a lawn's size that do nothing), a lawn cost"
        f" what drives the night {1000 * driver:.0f} ms for reading, packing and writing, and a"
        f" look-ahead of {done['ahead']['zones']} zone by 64 draws {longer:.1f} s more. Times of"
        " work are drawn from those"
        " measured. Several machines may drive one night, since each lawn is taken under a lease.",
        "", "| Night | Drivers | Minutes | Workers at work | Scheduler busy | Drivers busy |",
        "|---|---|---|---|---|---|", *rows, "",
    ]  # fmt: skip


def _row(name: str, drivers: int, found: Simulated) -> str:
    told = (found.efficiency, found.scheduler_busy, found.drivers_busy)
    shares = " | ".join(f"{100 * each:.0f} %" for each in told)
    return f"| {name} | {drivers} | {found.seconds / 60:.0f} | {shares} |"
