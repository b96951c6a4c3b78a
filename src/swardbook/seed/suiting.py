"""Whether a mixture suits a place: each component against height, light, wear, drought and salt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from swardbook.foundation.provenance import Sourced
from swardbook.handbook.parameters import parameter, parameters, value
from swardbook.handbook.species import Species, find_species
from swardbook.seed.comfort import weigh_comfort
from swardbook.seed.lot import LotPart
from swardbook.seed.mixture import by_number

FINE = frozenset({"fine fescue", "bent"})
COARSE = frozenset({"ryegrass", "tall fescue"})
CRITERIA = ("height of cut", "shade", "wear", "drought", "salt")


class Fits(StrEnum):
    """How a component stands to what a place asks of it."""

    WELL = "suits"
    STRAINED = "strained"
    NOT = "does not last"
    UNKNOWN = "don't know"
    NOT_ASKED = "not asked"

    @property
    def shape(self) -> str:
        """The mark shown beside the word."""
        return {"suits": "✓", "strained": "◧", "does not last": "✗", "don't know": "?"}.get(
            self.value, "-"
        )


@dataclass(frozen=True, slots=True)
class Place:
    """What a place asks of a mixture; None where it is not known.

    Parameters
    ----------
    use : str
        What it is used for, as `husbandry.ground.Use` says it.
    height_mm : float
        Height of cut wanted. [mm]
    sun_hours : float or None
        Hours of sun at the equinox. [h]
    is_watered : bool or None
        Whether the grown sward can be watered in a drought.
    salt_ds_m : float or None
        Salt of the soil, as electrical conductivity of its extract; None does not ask. [dS m⁻¹]
    patience_months : float or None
        Months that may pass until it is used; None does not ask. [months]
    stands : frozenset of str
        Groups of the grasses that stand there and stay; empty on bare ground.
    wear : float or None
        Place in the order of wear that is wanted, if not by the use. [-]
    """

    use: str
    height_mm: float
    sun_hours: float | None = None
    is_watered: bool | None = None
    salt_ds_m: float | None = None
    patience_months: float | None = None
    stands: frozenset[str] = frozenset()
    wear: float | None = None


@dataclass(frozen=True, slots=True)
class Judged:
    """One component against one criterion.

    Parameters
    ----------
    criterion : str
        One of `CRITERIA`.
    fits : Fits
        How it stands.
    because : str
        The reason in words.
    basis : Sourced or None
        The handbook's number it rests on.
    """

    criterion: str
    fits: Fits
    because: str
    basis: Sourced | None = None


@dataclass(frozen=True, slots=True)
class ComponentSuits:
    """One component against the place.

    Parameters
    ----------
    species : str
        Key of the species.
    share_by_weight, share_by_number : float
        Its part of the weight, and of the seeds that can come up. [-]
    judged : tuple of Judged
        Criterion by criterion.
    """

    species: str
    share_by_weight: float
    share_by_number: float
    judged: tuple[Judged, ...]

    def of(self, criterion: str) -> Judged:
        """Give one criterion's judgement."""
        return next(each for each in self.judged if each.criterion == criterion)

    @property
    def worst(self) -> Fits:
        """The worst of what was asked."""
        order = (Fits.NOT, Fits.STRAINED, Fits.UNKNOWN, Fits.WELL, Fits.NOT_ASKED)
        return min((each.fits for each in self.judged), key=order.index)


@dataclass(frozen=True, slots=True)
class Suits:
    """A mixture against a place.

    Parameters
    ----------
    components : tuple of ComponentSuits
        Component by component, in the order of the label.
    months : Sourced or None
        Months from sowing to use by the quickest component that carries it. [months]
    in_time : Fits
        That against the patience there is.
    cannot_be_undone : tuple of str
        What cannot be taken back, in words.
    """

    components: tuple[ComponentSuits, ...]
    months: Sourced | None
    in_time: Fits
    cannot_be_undone: tuple[str, ...]

    @property
    def carried(self) -> tuple[ComponentSuits, ...]:
        """Components that carry the mixture, by number of seeds that can come up or by weight."""
        least = value("suits.main_share")
        return tuple(
            each
            for each in self.components
            if max(each.share_by_number, each.share_by_weight) >= least
        )

    def share(self, fits: Fits) -> float:
        """Share of the seeds that can come up whose worst judgement is this one [-]."""
        return sum(each.share_by_number for each in self.components if each.worst is fits)

    @property
    def may_be_listed(self) -> bool:
        """Whether nothing that carries it fails to last, and nothing is there for ever unasked."""
        lasting = all(each.worst is not Fits.NOT for each in self.carried)
        return lasting and not self.cannot_be_undone and self.in_time is not Fits.NOT

    @property
    def misfit(self) -> float:
        """What short lists are ordered by: seeds that do not last, and half of the strained [-]."""
        return self.share(Fits.NOT) + self.share(Fits.STRAINED) / 2


def weigh_suits(parts: Sequence[LotPart], place: Place) -> Suits:
    """Hold every component of a mixture against a place.

    Parameters
    ----------
    parts : sequence of LotPart
        The label.
    place : Place
        What the place asks.

    Returns
    -------
    Suits
        Component by component; nothing is added up into a mark.

    Raises
    ------
    BadInputError
        If the parts do not add up.
    """
    mixture = by_number(parts)
    weight: dict[str, float] = {}
    number: dict[str, float] = {}
    for part in mixture.parts:
        key = part.component.species
        weight[key] = weight.get(key, 0.0) + part.component.share_by_weight
        number[key] = number.get(key, 0.0) + part.share_of_viable
    lasting = not weigh_comfort(parts, place.height_mm).will_not_last
    found = tuple(
        ComponentSuits(key, weight[key], number[key], judge(find_species(key), place, lasting))
        for key in weight
    )
    months = _months(found)
    return Suits(found, months, _in_time(months, place), _for_ever(found, place))


def judge(species: Species, place: Place, lasting: bool = True) -> tuple[Judged, ...]:
    """Judge one species against each criterion; `lasting` is False for ryegrass alone cut close."""
    return (
        _height(species, place, lasting), _shade(species, place), _wear(species, place),
        _drought(species, place), _salt(species, place),
    )  # fmt: skip


def tolerance(species: Species, of: str) -> Sourced | None:
    """Give a species' place in the order of wear or shade; None where it has none.

    Parameters
    ----------
    species : Species
        The species.
    of : str
        ``wear`` or ``shade``.
    """
    return parameters().get(f"suits.{of}.{species.model_name}")


def salt_class(species: Species) -> Sourced | None:
    """Give the class of soil salt [dS m⁻¹] that a species stands; None where none was read."""
    return parameter(f"suits.salt.{species.salt.replace(' ', '_')}") if species.salt else None


def _height(species: Species, place: Place, lasting: bool) -> Judged:
    span, height = species.comfort_height_mm, place.height_mm
    if span is None:
        return Judged(CRITERIA[0], Fits.UNKNOWN, "no comfortable height known")
    told = f"{height:g} mm, comfortable {span.low:g} to {span.high:g}"
    if height < span.low * value("suits.half_way") or not lasting:
        return Judged(CRITERIA[0], Fits.NOT, told, span)
    if height < span.low:
        return Judged(CRITERIA[0], Fits.STRAINED, told, span)
    more = "; longer than it needs, only a note" if height > span.high else ""
    return Judged(CRITERIA[0], Fits.WELL, told + more, span)


def _shade(species: Species, place: Place) -> Judged:
    hours = place.sun_hours
    if hours is None:
        return Judged(CRITERIA[1], Fits.UNKNOWN, "hours of sun not known")
    if hours >= value("shade_sun_hours"):
        return Judged(CRITERIA[1], Fits.NOT_ASKED, f"{hours:g} h of sun")
    deep = hours < value("suits.deep_shade_hours")
    wanted = value("suits.deep_shade_wanted" if deep else "suits.shade_wanted")
    return _by_order(CRITERIA[1], tolerance(species, "shade"), wanted, f"{hours:g} h of sun")


def _wear(species: Species, place: Place) -> Judged:
    wanted = place.wear
    if wanted is None:
        wanted = value(f"suits.wear_wanted.{place.use.replace(' ', '_')}")
    return _by_order(CRITERIA[2], tolerance(species, "wear"), wanted, place.use)


def _by_order(criterion: str, basis: Sourced | None, wanted: float, told: str) -> Judged:
    if basis is None:
        return Judged(criterion, Fits.UNKNOWN, "not in the order")
    short = wanted - basis.value
    words = f"{told}: place {basis.value:g} of the order, {wanted:g} wanted ({basis.grade})"
    fits = Fits.WELL if short <= 0 else Fits.STRAINED if short <= 1 else Fits.NOT
    return Judged(criterion, fits, words, basis)


def _drought(species: Species, place: Place) -> Judged:
    if place.is_watered:
        return Judged(CRITERIA[3], Fits.NOT_ASKED, "can be watered")
    if place.is_watered is None:
        return Judged(CRITERIA[3], Fits.UNKNOWN, "not known whether it can be watered")
    trait, wanted = (species.traits or {}).get("drought"), value("suits.drought_wanted")
    if trait is None:
        return Judged(CRITERIA[3], Fits.UNKNOWN, "no judged drought trait")
    told = f"not watered: {trait} of 9, {wanted:g} wanted (judged)"
    short = wanted - trait
    fits = Fits.WELL if short <= 0 else Fits.STRAINED if short <= 2 else Fits.NOT
    return Judged(CRITERIA[3], fits, told, parameter("suits.drought_wanted"))


def _salt(species: Species, place: Place) -> Judged:
    if place.salt_ds_m is None:
        return Judged(CRITERIA[4], Fits.NOT_ASKED, "salt not asked")
    known = salt_class(species)
    if known is None:
        return Judged(CRITERIA[4], Fits.UNKNOWN, "no class read")
    told = f"{place.salt_ds_m:g} dS/m; {species.salt}, {known.low:g} to {known.high:g}"
    if place.salt_ds_m <= known.low:
        return Judged(CRITERIA[4], Fits.WELL, told, known)
    fits = Fits.STRAINED if place.salt_ds_m <= known.high else Fits.NOT
    return Judged(CRITERIA[4], fits, told, known)


def _months(found: Sequence[ComponentSuits]) -> Sourced | None:
    least = value("suits.main_share")
    rows = [
        months_to_use(find_species(each.species))
        for each in found
        if max(each.share_by_number, each.share_by_weight) >= least
    ]
    return min(rows, key=lambda row: row.value, default=None)


def months_to_use(species: Species) -> Sourced:
    """Give the months from sowing to use of a species sown alone [months]."""
    group = species.group.replace(" ", "_").replace("-", "_")
    key = f"suits.months.{group}"
    return parameter(key if key in parameters() else "suits.months.other")


def _in_time(months: Sourced | None, place: Place) -> Fits:
    if place.patience_months is None:
        return Fits.NOT_ASKED
    if months is None:
        return Fits.UNKNOWN
    if place.patience_months >= months.high:
        return Fits.WELL
    return Fits.STRAINED if place.patience_months >= months.low else Fits.NOT


def _for_ever(found: Sequence[ComponentSuits], place: Place) -> tuple[str, ...]:
    groups = {find_species(each.species).group for each in found}
    told = []
    fine_here = bool(place.stands & FINE) and not place.stands & COARSE
    for each in found:
        species = find_species(each.species)
        if species.group in COARSE and fine_here:
            told.append(f"{species.english} into fine turf cannot be taken out again.")
        elif species.group in COARSE and groups & FINE and species.group != "ryegrass":
            told.append(
                f"{species.english} stays coarse among fine grasses and cannot be taken out."
            )
        if species.key == "creeping bent" and "creeping bent" not in place.stands:
            told.append("Creeping bent spreads by runners and cannot be called back.")
    return tuple(told)
