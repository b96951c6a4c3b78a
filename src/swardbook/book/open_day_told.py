"""What was measured on a trial, for an audience: each trait worked out once."""

from __future__ import annotations

from dataclasses import dataclass

from swardbook.book.opening import Book
from swardbook.book.side_by_side import SideAsked, asked_of
from swardbook.book.trial_days import TrialTrait, trial_trait
from swardbook.book.trial_kept import trial_zone
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.species import ANNUAL_MEADOW_GRASS
from swardbook.trials.said import Asked, DaySaid, say_day


@dataclass(frozen=True, slots=True)
class Told:
    """One trait as it was measured: its plots, how it is compared, what is said of the day."""

    trait: TrialTrait
    asked: Asked
    said: DaySaid


class Tellings:
    """What was measured on a trial, each trait worked out once.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone of the trial; empty for the only one.
    """

    def __init__(self, book: Book, zone: str = "") -> None:
        self.book, self.zone = book, trial_zone(book, zone)
        self._held: dict[str, Told | None] = {}

    def of(self, trait: str) -> Told | None:
        """Say what was measured of a trait; None where it was not, or stands once each."""
        if trait not in self._held:
            self._held[trait] = self._told(trait)
        return self._held[trait]

    def weeds(self) -> Told:
        """Say what was counted of annual meadow-grass.

        Raises
        ------
        NotEnoughDataError
            If it never was, or mixtures stand once each.
        """
        told = self.of(ANNUAL_MEADOW_GRASS)
        if told is None:
            raise NotEnoughDataError(
                f"the counts of {self.zone}", "mixtures that stand more than once, counted", "none"
            )
        return told

    def _told(self, trait: str) -> Told | None:
        ground = self.book.ground()
        try:
            found = trial_trait(ground, self.zone, trait)
            how = asked_of(ground, self.zone, found, SideAsked(self.zone, trait))
            return Told(found, how, say_day(found.plots, found.day(None), how))
        except NotEnoughDataError:
            return None
