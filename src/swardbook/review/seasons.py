"""Same-season pairs of a zone's counts, each with what happened to untouched ground meanwhile."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.evidence import Comparison
from swardbook.foundation.dates import same_season
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Ground
from swardbook.observations.comparing import Compared, Reason, compare_occasions
from swardbook.observations.occasions import Occasion, methods_used
from swardbook.observations.samples import Smallest
from swardbook.review.records import (
    find_overlap,
    occasions_of,
    renovated_between,
    treated,
    untouched_between,
)
from swardbook.review.words import figure


@dataclass(frozen=True, slots=True)
class SeasonPair:
    """Two counts of one zone, a year or more apart in the same season.

    Parameters
    ----------
    before, after : date
        The two days.
    compared : Compared
        The change, or why it is not told.
    renovated : bool
        Whether the zone was sown, scarified or stripped in between.
    context : tuple of str
        What zones where nothing was sown did over the same months.
    """

    before: date
    after: date
    compared: Compared
    renovated: bool
    context: tuple[str, ...] = ()

    @property
    def made(self) -> Comparison | None:
        """The comparison, if there is one."""
        return self.compared.comparison


def pair_up(occasions: Sequence[Occasion], kind: str) -> tuple[tuple[Occasion, Occasion], ...]:
    """Pair each count with the latest one of the same season at least a year before, in order."""
    within = int(value("compare_season_days"))
    counted = [each for each in occasions if methods_used(each.places, kind)]
    pairs = []
    for after in counted:
        earlier = [
            before
            for before in counted
            if (after.day - before.day).days >= value("year_least_days")
            and same_season(before.day, after.day, within)
        ]
        if earlier:
            pairs.append((max(earlier, key=lambda each: each.day), after))
    return tuple(pairs)


def season_pairs(
    ground: Ground, zone: str, kind: str, smallest: Smallest
) -> tuple[SeasonPair, ...]:
    """Compare every same-season pair of a zone, the earliest first."""
    occasions = [treated(ground, zone, each) for each in occasions_of(ground, zone)]
    return tuple(
        SeasonPair(
            before.day,
            after.day,
            compare_in(ground, before, after, kind, smallest),
            renovated_between(ground, zone, before.day, after.day),
            _untouched(ground, zone, before, after, kind, smallest),
        )
        for before, after in pair_up(occasions, kind)
    )


def compare_in(
    ground: Ground, before: Occasion, after: Occasion, kind: str, smallest: Smallest
) -> Compared:
    """Compare two occasions; where the counter changed, look for a shared count first."""
    compared = compare_occasions(before, after, kind, smallest)
    changed = [each for each in compared.refusals if each.reason is Reason.COUNTER_CHANGED]
    if not changed or compared.method is None or not (before.counters and after.counters):
        return compared
    overlap = find_overlap(ground, kind, compared.method, before.counters[0], after.counters[0])
    if overlap is None:
        return compared
    return compare_occasions(before, after, kind, smallest, overlap)


def _untouched(
    ground: Ground, zone: str, before: Occasion, after: Occasion, kind: str, smallest: Smallest
) -> tuple[str, ...]:
    """Say what zones where nothing was sown, stirred or pulled did over the same months."""
    told = []
    for other in ground.zones:
        if other.name.casefold() == zone.casefold() or not untouched_between(
            ground, other.name, before.day, after.day
        ):
            continue
        near = [
            treated(ground, other.name, each)
            for each in occasions_of(ground, other.name)
            if each.day in (before.day, after.day)
        ]
        if len(near) == 2:
            made = compare_in(ground, near[0], near[1], kind, smallest).comparison
            if made is not None:
                places = 0 if made.value_unit == "%" else 1
                told.append(
                    f"{other.name}, nothing sown: {figure(made.before, places)} to"
                    f" {figure(made.after, places)} {made.value_unit}, {made.verdict}."
                )
    return tuple(told)
