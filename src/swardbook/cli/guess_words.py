"""Sealed guesses in words and as objects: one still sealed keeps its figures to itself."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from swardbook.cli.output import table
from swardbook.cli.wrapping import heading, under
from swardbook.foundation.dates import say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from swardbook.book.calibration import Calibration, Held, Tally
    from swardbook.book.guesses import Guess, Settled
    from swardbook.book.sealed import GuessShown

OFF = (
    "Off by: the continuous ranked probability score. 0 is exact. A range is scored for lying near"
    " what was found and for being no wider than it had to be; for one figure it is the distance."
)
SHORT = 8
STATES = {"sealed": "not yet", "can be settled": "counted", "no count came": "no count"}
"""What stands for the found figure of a guess that is not settled."""


def short(guess: Guess) -> str:
    """Give the beginning of an id, enough to find it again."""
    return guess.id[:SHORT]


def name_of(guess: Guess) -> str:
    """Say what a guess is of, in one line."""
    return (
        f"{guess.who}, {guess.kind} in {guess.zone}, by {guess.method.value}, for {guess.day:%B %Y}"
    )


def said(guess: Guess) -> str:
    """Say the figures of a guess."""
    unit = unit_of(guess)
    if guess.low is None or guess.high is None:
        return middle(guess)
    return f"{_figure(guess.low)} to {_figure(guess.high)} {unit}"


def middle(guess: Guess) -> str:
    """Say the middle figure of a guess."""
    return f"{_figure(guess.middle or 0.0)} {unit_of(guess)}"


def unit_of(guess: Guess) -> str:
    """Say the unit of a guess."""
    return "%" if guess.unit == "%" else "plants a m²"


def is_open(shown: GuessShown) -> bool:
    """Tell whether the figures of a guess may be seen in a list."""
    return shown.is_open


def guess_payload(guess: Guess, *, figures: bool) -> dict[str, Any]:
    """Lay a guess out; its figures only if it is open."""
    head = {
        "id": guess.id,
        "who": guess.who,
        "sealed_on": guess.sealed_on.isoformat(),
        "zone": guess.zone,
        "species": guess.kind,
        "for": guess.horizon,
        "day": guess.day.isoformat(),
        "counted_by": guess.method.value,
        "unit": guess.unit,
        "places": len(guess.places),
    }
    if not figures:
        return head
    return head | {
        "figure": guess.middle,
        "at_80_percent": None if guess.range80 is None else [guess.low, guess.high],
        "stands_for": guess.means,
    }


def shown_payload(shown: GuessShown) -> dict[str, Any]:
    """Lay a guess out with what became of it."""
    return guess_payload(shown.guess, figures=is_open(shown)) | {
        "state": shown.state,
        "waits_for": shown.waits or None,
        "opened_early_on": [each.opened_on.isoformat() for each in shown.opened],
        "settled": None if shown.settled is None else _settled_payload(shown.settled),
    }


def _settled_payload(made: Settled) -> dict[str, Any]:
    return {
        "settled_on": made.settled_on.isoformat(),
        "counted_on": made.counted_on.isoformat(),
        "found": made.found,
        "places": made.places,
        "counters": list(made.counters),
        "inside_80_percent": made.inside,
        "crps": made.crps,
        "interval_score": made.interval_score,
        "share_below_what_was_found": made.place,
        "beside": list(made.beside),
    }


def calibration_payload(found: Calibration) -> dict[str, Any]:
    """Lay out how the guesses have done."""
    return {
        "ranges": _held_payload(found.held),
        "by_stated_level": [
            {"stated_percent": round(100 * each.level), **_held_payload(each)}
            for each in found.levels
        ],
        "caution": found.caution or None,
        "by_who": [
            {
                "who": each.who,
                "unit": each.unit,
                "sealed": each.sealed,
                "settled": each.settled,
                "no_count_came": each.never,
                "ranges": _held_payload(each.held),
                "mean_crps": None if each.mean_crps is None else _round(each.mean_crps),
            }
            for each in found.tallies
        ],
        "on_counts_both_guessed": [
            {
                "who": each.who,
                "unit": each.unit,
                "counts": each.counts,
                "mean_crps": _round(each.theirs),
                "look_ahead_mean_crps": _round(each.look_ahead),
            }
            for each in found.beside
        ],
    }


def _held_payload(held: Held) -> dict[str, Any]:
    return {
        "settled": held.ranges,
        "held": held.held,
        "share_at_95_percent": (
            None if held.share is None else [_round(held.share.low), _round(held.share.high)]
        ),
        "verdict": held.verdict,
    }


def settled_lines(shown: GuessShown) -> list[str]:
    """Say what became of one guess."""
    guess, made = shown.guess, shown.settled
    assert made is not None
    counters = f" by {' and '.join(made.counters)}" if made.counters else ""
    verdict = {True: "inside the range", False: "outside the range", None: "no range was given"}
    text = (
        f"{name_of(guess)}. Said on {say(guess.sealed_on)}: {said(guess)}."
        f" Found on {say(made.counted_on)}: {_figure(made.found)} {unit_of(guess)}"
        f" at {made.places} places{counters}: {verdict[made.inside]}."
        f" Off by {_off(made.crps, guess.unit)}."
    )
    lines = under(short(guess), text, 0)
    for each in (*made.beside, *_opened(shown)):
        lines += under("", each, SHORT + 1)
    return lines


def _opened(shown: GuessShown) -> list[str]:
    return [
        f"It was opened on {say(each.opened_on)}, {each.days_early} days before its count was due."
        for each in shown.opened
    ]


def list_lines(shown: Sequence[GuessShown]) -> list[str]:
    """List guesses, place by place; those still sealed without their figures."""
    lines: list[str] = []
    for zone, kind in dict.fromkeys((each.guess.zone, each.guess.kind) for each in shown):
        here = [each for each in shown if (each.guess.zone, each.guess.kind) == (zone, kind)]
        lines += heading(f"{zone}: {kind}")
        heads = ("id", "who", "for", "said", "found", "range")
        lines += [*table(heads, [_row(each) for each in here]), ""]
    return lines


def _row(shown: GuessShown) -> tuple[str, ...]:
    guess, made = shown.guess, shown.settled
    held = {True: "held", False: "missed", None: "none given"}
    return (
        short(guess),
        guess.who,
        f"{guess.day:%b %Y}",
        said(guess) if is_open(shown) else "sealed",
        f"{_figure(made.found)}" if made else STATES[shown.state],
        held[made.inside] if made else "",
    )


def calibration_lines(found: Calibration) -> list[str]:
    """Say how the guesses have done."""
    if not any(each.settled or each.never for each in found.tallies):
        return []
    lines = heading("How the guesses have done")
    lines += under("", f"80 % ranges: {_held(found.held)}. {found.caution}".strip(), 0)
    if found.held.ranges:
        told = ", ".join(
            f"{100 * each.level:.0f} % {each.held} of {each.ranges}" for each in found.levels
        )
        lines += under("", f"By what was stated: {told} held.", 0)
    heads = ("who", "unit", "sealed", "settled", "no count", "held", "off by")
    lines += ["", *table(heads, [_tally_row(each) for each in found.tallies])]
    for each in found.beside:
        counts = "the one count" if each.counts == 1 else f"the {each.counts} counts"
        lines += under(
            "", f"On {counts} that both guessed: {each.who} off by {_off(each.theirs, each.unit)},"
            f" the look-ahead by {_off(each.look_ahead, each.unit)}.", 0,
        )  # fmt: skip
    return [*lines, *under("", OFF, 0)]


def _held(held: Held) -> str:
    told = f"{held.ranges} settled, {held.held} held"
    if held.share is None:
        return f"{told}: {held.verdict} to say whether four in five do"
    low, high = round(100 * held.share.low), round(100 * held.share.high)
    return f"{told}; {low} to {high} % of such ranges hold: {held.verdict}"


def _tally_row(each: Tally) -> tuple[str, ...]:
    off = "-" if each.mean_crps is None else _figure(each.mean_crps)
    held = f"{each.held.held} of {each.held.ranges}" if each.held.ranges else "-"
    unit = "%" if each.unit == "%" else "plants a m²"
    return (each.who, unit, str(each.sealed), str(each.settled), str(each.never), held, off)


def _off(number: float, unit: str) -> str:
    return f"{_figure(number)} {'points' if unit == '%' else 'plants a m²'}"


def _figure(number: float) -> str:
    """Write a figure with no more places than it bears."""
    return f"{number:.0f}" if abs(number) >= 10 else f"{number:.1f}".removesuffix(".0")


def _round(number: float) -> float:
    return float(f"{number:.6g}")
