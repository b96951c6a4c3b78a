"""Waits after wrong log-ins: by a name, from an address, for a code; they grow and they end."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from swardbook.book.opening import Book
from swardbook.foundation.errors import SwardbookError

FORGOTTEN = timedelta(hours=24)
"""After how long without a wrong log-in the earlier ones are forgotten."""


@dataclass(frozen=True, slots=True)
class Slowed:
    """How wrong log-ins by one name, or from one address, slow down the next.

    Parameters
    ----------
    free : int
        How many wrong ones cost no wait.
    longest : timedelta
        The longest wait; nobody is locked out for ever.
    """

    free: int
    longest: timedelta

    def wait(self, wrong: int) -> timedelta:
        """Give the wait after so many wrong ones: each is twice the one before."""
        beyond = wrong - self.free
        if beyond < 0:
            return timedelta(0)
        return min(timedelta(seconds=2 ** min(beyond + 1, 20)), self.longest)


BY_NAME = Slowed(4, timedelta(minutes=1))
"""Short at the most, so that a stranger cannot keep somebody out by their name."""
BY_ADDRESS = Slowed(20, timedelta(minutes=15))
"""Several people may share an address."""
BY_CODE = Slowed(4, timedelta(minutes=15))
"""Whoever is asked for a code knew the password; a code has six digits only."""


class WaitError(SwardbookError):
    """There were too many wrong log-ins; the next is looked at later."""

    def __init__(self, seconds: int) -> None:
        super().__init__(seconds)
        self.seconds = seconds

    def __str__(self) -> str:
        """Say how long to wait."""
        minutes = (self.seconds + 59) // 60
        wait = f"{self.seconds} seconds" if self.seconds <= 90 else f"{minutes} minutes"
        return (
            f"There were too many wrong log-ins by this name or from this address. Try again in"
            f" {wait}; nothing is looked at before."
        )


def count_try(book: Book, keys: dict[str, Slowed], now: datetime) -> None:
    """Count a try against each key, or refuse it while one of them still waits.

    Raises
    ------
    WaitError
        If one of them waits.
    """
    there = book.store.people()
    with there.together():
        found = {key: there.wrong_tries(key) for key in keys}
        wait = max((each[2] - now for each in found.values() if each), default=timedelta(0))
        if wait > timedelta(0):
            raise WaitError(max(1, round(wait.total_seconds())))
        for key, slowed in keys.items():
            was = found[key]
            wrong = 1 + (was[0] if was and now - was[1] < FORGOTTEN else 0)
            there.put_tries(key, wrong, now, now + slowed.wait(wrong))


def was_right(book: Book, by_name: str, by_address: str, now: datetime) -> None:
    """Forget the wrong tries of a name, and take back the one counted against an address."""
    there = book.store.people()
    with there.together():
        there.forget_tries(by_name, before=now - FORGOTTEN)
        if by_address and (counted := there.wrong_tries(by_address)) is not None:
            there.put_tries(by_address, counted[0] - 1, now, now)
