"""What is asked of a mixture, and the mixtures that might be sown."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from swardbook.book.mixture_looks import Look
from swardbook.book.seed import MixtureAnswer
from swardbook.book.trial_learning import NOTHING, TrialLearned
from swardbook.book.trial_standing import TrialStanding
from swardbook.husbandry.ground import Zone
from swardbook.review.own_results import OwnResult
from swardbook.seed.suiting import Place, Suits


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked of the mixture; None takes what the book knows.

    Parameters
    ----------
    zone : str
        The zone.
    height_mm : float or None
        Height of cut. [mm]
    sow_on : date or None
        The day of sowing; None takes the coming first of September, by season.
    is_watered : bool or None
        Whether seedbed and sward can be watered; None takes a known hose as yes.
    sun_hours : float or None
        Hours of sun at the equinox. [h]
    salt_ds_m : float or None
        Salt of the soil. [dS m⁻¹]
    patience_months : float or None
        Months until it must be used. [months]
    is_bare : bool
        Whether the old sward is cleared first, so that nothing of it stays.
    """

    zone: str
    height_mm: float | None = None
    sow_on: date | None = None
    is_watered: bool | None = None
    sun_hours: float | None = None
    salt_ds_m: float | None = None
    patience_months: float | None = None
    is_bare: bool = False


@dataclass(frozen=True, slots=True)
class Candidate:
    """One mixture that might be sown.

    Parameters
    ----------
    name : str
        The mixture, or the kind of mixture.
    lot : str
        Its lot in the book; empty for a kind.
    used_for : str
        What the trade sows it for; empty for a lot.
    answer : MixtureAnswer
        By weight and number, rate, seeds and what else is in the bag.
    suits : Suits
        Component by component against the place.
    cost_m2 : Decimal or None
        Seed for a square metre; None where no price is known. [currency m⁻²]
    own : tuple of OwnResult
        One's own plots and past sowings of it.
    looks : tuple of Look
        What it comes to; empty where it was not grown on.
    trials : tuple of TrialStanding
        How it stands in the book's own trials.
    """

    name: str
    lot: str
    used_for: str
    answer: MixtureAnswer
    suits: Suits
    cost_m2: Decimal | None
    own: tuple[OwnResult, ...]
    looks: tuple[Look, ...] = ()
    trials: tuple[TrialStanding, ...] = ()

    @property
    def title(self) -> str:
        """Its name, with its lot."""
        return f"{self.name}, lot {self.lot}" if self.lot else self.name


@dataclass(frozen=True, slots=True)
class Choice:
    """Mixtures for a zone.

    Parameters
    ----------
    zone : Zone
        The zone.
    place : Place
        What it asks.
    sow_on : date
        The day of sowing looked at.
    short_list : tuple of Candidate
        Those that suit best, grown on; the least strained first.
    others : tuple of Candidate
        The rest, not grown on.
    past_years : tuple of int
        Years of weather that were used.
    is_thin : bool
        Whether there are too few of them to trust the ranges.
    not_known : tuple of str
        What is not known, and what it would change.
    crossing : str
        What is first after 5 weeks and what after a year, where they differ; else empty.
    is_bare : bool
        Whether the old sward is cleared first, so that nothing of it is minded.
    learned : TrialLearned
        What a trial on this ground taught of how sown grasses fill in.
    """

    zone: Zone
    place: Place
    sow_on: date
    short_list: tuple[Candidate, ...]
    others: tuple[Candidate, ...]
    past_years: tuple[int, ...]
    is_thin: bool
    not_known: tuple[str, ...]
    crossing: str
    is_bare: bool = False
    learned: TrialLearned = NOTHING
