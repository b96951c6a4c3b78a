"""What a task of the week is worth: the change in the look-ahead if it is skipped.

The model is only loaded for what was not worked out before.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from swardbook.book.kept_worth import kept_worths
from swardbook.book.opening import Book
from swardbook.book.worth_words import NOT_WEIGHED
from swardbook.planning.situation import Situation
from swardbook.planning.tasks import NOT_WORKED_OUT, Worth, WorthOf
from swardbook.planning.water import young_seedbed

DRAWS = 256
"""Draws for the worth of a task: it says more or less, not how much to the seed."""


_MINUTES = Worth("nothing to compare: a look costs minutes")
_SWARD = Worth(f"{NOT_WEIGHED}; a grown sward goes off colour first")
_WORDS: Mapping[str, Worth] = {
    **dict.fromkeys(
        ("heads", "tug", "tufts", "refills", "clumps", "seedlings", "disease"), _MINUTES
    ),
    "water": Worth(f"{NOT_WEIGHED}; seedlings that dry out do not come back"),
    "sow": Worth(f"{NOT_WEIGHED}; bare ground goes to the nearest seed"),
    "oversow": Worth(f"{NOT_WEIGHED}; bare ground goes to the nearest seed"),
    "brush": Worth(f"{NOT_WEIGHED}; leaves smother seedlings in days"),
    "dig clumps": Worth(
        "nothing to compare: the look-ahead follows annual meadow-grass; a clump left widens"
    ),
}
"""What is said of jobs that the model has no equation for."""


def worth_of(
    book: Book, draws: int = DRAWS, tell: Callable[[str], None] = lambda _: None
) -> WorthOf:
    """Give the function that says what skipping a job in a zone would change.

    What was worked out before from the very same book is read from the cache.

    Parameters
    ----------
    book : Book
        The opened book.
    draws : int
        Draws, a multiple of 64.
    tell : callable
        Told in words what is being worked on.

    Returns
    -------
    callable
        Takes a situation and a job; each zone is grown to today once, when first asked for.
    """
    kept = kept_worths(book, draws)
    work: list[Callable[[Situation, str], Worth]] = []

    def worth(sit: Situation, job: str) -> Worth:
        if job == "water" and not young_seedbed(sit):
            return _SWARD
        if job in _WORDS:
            return _WORDS[job]
        if sit.weather is None:
            return Worth(f"{NOT_WORKED_OUT.words}; no weather")
        found = kept.find(sit.zone.name, job)
        if found is None:
            if not work:
                from swardbook.book.worth_by_model import worth_by_model

                work.append(worth_by_model(book, draws, tell))
            found = work[0](sit, job)
            kept.keep(sit.zone.name, job, found)
        return found

    return worth
