"""What took of the refills of a zone, by the season of filling and the user's own looks."""

from __future__ import annotations

from dataclasses import dataclass

from swardbook.evidence.estimates import Interval
from swardbook.evidence.proportions import wilson
from swardbook.planning.refill_register import refill_register, season_of
from swardbook.planning.situation import Situation


@dataclass(frozen=True, slots=True)
class TakeRate:
    """Refills that took, of those looked at again.

    Parameters
    ----------
    season : str
        Season of filling that they are of; empty where all seasons had to do.
    now : str
        The season of today.
    taken, looked : int
        How many took, of how many looked at.
    interval : Interval
        95 % interval of the share, by Wilson. [-]
    """

    season: str
    now: str
    taken: int
    looked: int
    interval: Interval

    @property
    def share(self) -> float:
        """Share that took [-]."""
        return self.taken / self.looked

    @property
    def words(self) -> str:
        """What took here, as whole numbers with the interval."""
        low, high = (round(100 * each) for each in self.interval)
        when = f"filled in {self.season}" if self.season else f"of all seasons, none of {self.now}"
        return f"{self.taken} of {self.looked} {when} took here ({low} to {high} %)"


def take_rate(sit: Situation) -> TakeRate | None:
    """Give what took in a zone of the refills made in this season, else in any.

    Parameters
    ----------
    sit : Situation
        The zone on its day.

    Returns
    -------
    TakeRate or None
        None where no refill was looked at again.
    """
    now = season_of(sit.today, sit.site.latitude)
    rows = [row for row in refill_register(sit).refills if row.looked]
    same = [row for row in rows if row.season == now]
    used = same or rows
    looked, taken = sum(row.looked for row in used), sum(row.taken for row in used)
    if not looked:
        return None
    return TakeRate(now if same else "", now, taken, looked, wilson(taken, looked))
