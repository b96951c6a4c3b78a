"""A mixture by weight and by number of seeds, and the blending of lots."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import fsum

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.provenance import Grade, Sourced
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.species import find_species, thousand_seed_weight
from swardbook.seed.germination_test import TEST, Germination, by_test
from swardbook.seed.lot import LotPart
from swardbook.seed.quality import least

OTHERS = "others"
"""What is in the bag by weight but is not named; its seeds are not counted."""


@dataclass(frozen=True, slots=True)
class Component:
    """One part of a mixture with every number filled in, each with where it came from.

    Parameters
    ----------
    species : str
        Key of the species.
    cultivar : str
        The variety, if known.
    share_by_weight : float
        Its part of the weight. [-]
    thousand_seed_weight : Sourced
        Weight of a thousand seeds. [g]
    purity, germination : Sourced
        From the label or a test, else the statutory minimum, else assumed. [-]
    """

    species: str
    cultivar: str
    share_by_weight: float
    thousand_seed_weight: Sourced
    purity: Sourced
    germination: Sourced


@dataclass(frozen=True, slots=True)
class PartByNumber:
    """What one component comes to in a gram of the mixture.

    Parameters
    ----------
    component : Component
        The component.
    seeds_per_g : float
        Its seeds in a gram of the mixture. [seeds g⁻¹]
    share_by_number : float
        Its part of all seeds, dead ones included. [-]
    share_low, share_high : float
        The same if its own seed and all others stand at opposite ends of their ranges. [-]
    viable_seeds_per_g : float
        Its seeds that can come up. [seeds g⁻¹]
    share_of_viable : float
        Its part of the seeds that can come up. [-]
    """

    component: Component
    seeds_per_g: float
    share_by_number: float
    share_low: float
    share_high: float
    viable_seeds_per_g: float
    share_of_viable: float


@dataclass(frozen=True, slots=True)
class MixtureByNumber:
    """A mixture by number of seeds.

    Parameters
    ----------
    parts : tuple of PartByNumber
        Its named components, in the order given.
    seeds_per_g, seeds_per_g_low, seeds_per_g_high : float
        Seeds in a gram, and with every species at the end of its range. [seeds g⁻¹]
    viable_seeds_per_g : float
        Seeds in a gram that can come up: by a test of one's own where there is one, else by the
        label, else by the least that is allowed. [seeds g⁻¹]
    others_by_weight : float
        Share of the weight that is not named and not counted. [-]
    """

    parts: tuple[PartByNumber, ...]
    seeds_per_g: float
    seeds_per_g_low: float
    seeds_per_g_high: float
    viable_seeds_per_g: float
    others_by_weight: float

    @property
    def largest(self) -> PartByNumber:
        """The component with most of the seeds that can come up."""
        return max(self.parts, key=lambda part: part.viable_seeds_per_g)

    @property
    def is_tested(self) -> bool:
        """Whether a test of one's own says what can come up."""
        return all(part.component.germination.source == TEST for part in self.parts)

    @property
    def viable_range(self) -> tuple[float, float]:
        """Seeds in a gram that can come up by the ends of the test's range [seeds g⁻¹].

        Without a test, both are `viable_seeds_per_g`: a label prints no range.
        """
        ends = [
            (part.seeds_per_g * part.component.purity.value, part.component.germination)
            for part in self.parts
        ]
        return fsum(n * each.low for n, each in ends), fsum(n * each.high for n, each in ends)


def check_sum(parts: Sequence[LotPart]) -> None:
    """Refuse shares that do not add up; nothing is ever rescaled in silence.

    Parameters
    ----------
    parts : sequence of LotPart
        The label.

    Raises
    ------
    BadInputError
        If there is no part, or the shares miss 1 by more than rounding. Offers ``others`` where
        some is missing.
    """
    if not any(part.species != OTHERS for part in parts):
        raise BadInputError("the mixture", len(parts), "at least one named component")
    total = 100 * fsum(part.share_by_weight for part in parts)
    gap = 100 - total
    if abs(gap) <= 100 * value("seed_mixture_sum_slack"):
        return
    hint = f"Keep as 'others {gap:g} %', or change one?" if gap > 0 else "Change one?"
    raise BadInputError(
        "the parts of the mixture", f"{total:g} %", "parts that add up to 100 %",
        f"These add to {total:g}. {hint}",
    )  # fmt: skip


def fill_in(part: LotPart) -> Component:
    """Fill in what a label does not say.

    Parameters
    ----------
    part : LotPart
        One component of a label.

    Returns
    -------
    Component
        The same with the handbook's seed weight, and with the statutory minimum for a purity or
        germination that is not given.

    Raises
    ------
    UnknownNameError
        If the species is unknown, or nobody knows the weight of its seed.
    """
    species = find_species(part.species)
    weight = (
        thousand_seed_weight(species)
        if part.thousand_seed_weight is None
        else _given(part, "thousand_seed_weight", part.thousand_seed_weight, "g")
    )
    require("thousand-seed weight", weight.value, 1e-3, 100, "g", "Weight of 1000 seeds in grams.")
    return Component(
        species.key,
        part.cultivar,
        part.share_by_weight,
        weight,
        _quality(part, species.key, "purity", part.purity),
        _quality(part, species.key, "germination", part.germination),
    )


def by_number(parts: Sequence[LotPart], test: Germination | None = None) -> MixtureByNumber:
    """Turn a mixture by weight into one by number of seeds.

    Parameters
    ----------
    parts : sequence of LotPart
        The label: shares by weight that add up to 1.
    test : Germination, optional
        A germination test of the lot, which goes before what its label says.

    Returns
    -------
    MixtureByNumber
        Seeds and viable seeds in a gram, in all and by component.

    Raises
    ------
    BadInputError
        If the shares do not add up.
    UnknownNameError
        If a species is unknown.
    """
    check_sum(parts)
    filled = _filled(parts, test)
    weights = [each.thousand_seed_weight for each in filled]
    seeds = [1000 * each.share_by_weight / each.thousand_seed_weight.value for each in filled]
    few = [1000 * each.share_by_weight / w.high for each, w in zip(filled, weights, strict=True)]
    many = [1000 * each.share_by_weight / w.low for each, w in zip(filled, weights, strict=True)]
    viable = [
        n * each.purity.value * each.germination.value
        for n, each in zip(seeds, filled, strict=True)
    ]
    total, low, high, live = fsum(seeds), fsum(few), fsum(many), fsum(viable)
    found = [
        PartByNumber(
            component=each,
            seeds_per_g=seeds[n],
            share_by_number=seeds[n] / total,
            share_low=few[n] / (few[n] + high - many[n]),
            share_high=many[n] / (many[n] + low - few[n]),
            viable_seeds_per_g=viable[n],
            share_of_viable=viable[n] / live if live else 0.0,
        )
        for n, each in enumerate(filled)
    ]
    others = fsum(part.share_by_weight for part in parts if part.species == OTHERS)
    return MixtureByNumber(tuple(found), total, low, high, live, others)


def as_tested(parts: Sequence[LotPart], test: Germination | None) -> tuple[LotPart, ...]:
    """Give a label with the germination that a test of the lot found.

    Parameters
    ----------
    parts : sequence of LotPart
        The label.
    test : Germination or None
        The test; None leaves the label as it is.
    """
    if test is None:
        return tuple(parts)
    tested = iter(_filled(parts, test))
    return tuple(
        part if part.species == OTHERS
        else replace(part, germination=next(tested).germination.value)
        for part in parts
    )  # fmt: skip


def _filled(parts: Sequence[LotPart], test: Germination | None) -> list[Component]:
    filled = [fill_in(part) for part in parts if part.species != OTHERS]
    if test is None:
        return filled
    pure = [
        1000 * each.share_by_weight / each.thousand_seed_weight.value * each.purity.value
        for each in filled
    ]
    found = by_test([each.germination for each in filled], pure, test)
    return [replace(each, germination=new) for each, new in zip(filled, found, strict=True)]


def blend(lots: Iterable[tuple[Sequence[LotPart], float]]) -> tuple[LotPart, ...]:
    """Mix weights of several lots into one.

    Parameters
    ----------
    lots : iterable of label and weight
        Each label with the weight taken of it. [g]

    Returns
    -------
    tuple of LotPart
        The label of the blend; alike components are joined. The order of blending does not
        matter.

    Raises
    ------
    OutOfRangeError
        If a weight is negative or all are zero.
    """
    taken = [(parts, require("weight", grams, 0, 1e9, "g")) for parts, grams in lots]
    total = require("weight in all", fsum(grams for _, grams in taken), 1e-9, 1e12, "g")
    heaps: dict[tuple[object, ...], list[float]] = defaultdict(list)
    named: dict[tuple[object, ...], LotPart] = {}
    for parts, grams in taken:
        for part in parts:
            key = (
                part.species, part.cultivar, part.purity, part.germination,
                part.thousand_seed_weight,
            )  # fmt: skip
            heaps[key].append(part.share_by_weight * grams)
            named[key] = part
    return tuple(
        LotPart(
            part.species, min(1.0, fsum(heaps[key]) / total), part.cultivar, part.purity,
            part.germination, part.thousand_seed_weight,
        )
        for key, part in sorted(named.items(), key=lambda item: repr(item[0]))
    )  # fmt: skip


def _quality(part: LotPart, species: str, what: str, given: float | None) -> Sourced:
    if given is not None:
        return _given(part, what, given, "-")
    limit = least(species, what)
    if limit is not None:
        return limit
    key = "seed_purity_assumed" if what == "purity" else "seed_germination_assumed"
    return parameter(key)


def _given(part: LotPart, what: str, given: float, unit: str) -> Sourced:
    return Sourced(
        key=f"{part.species}.{what}", value=given, unit=unit, low=given, high=given,
        grade=Grade.MEASURED, source="label", note="As printed on the label or tested.",
    )  # fmt: skip
