"""Sown grasses, clovers and weed grasses: names, seed, warmth and heights, as data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.provenance import Grade, Sourced
from swardbook.foundation.tables import read_toml_table

ANNUAL_MEADOW_GRASS, YORKSHIRE_FOG = "annual meadow-grass", "yorkshire fog"
"""Keys of the two weed grasses that this is about."""
_PROPER = ("Chewings", "Yorkshire", "Italian")
_UNITS = {
    "thousand_seed_weight_g": "g",
    "seeds_per_g": "seeds/g",
    "minimum_soil_c": "°C",
    "first_seen_15c_days": "d",
    "first_seen_10c_days": "d",
    "new_sowing_g_m2": "g/m2",
    "comfort_height_mm": "mm",
    "depth_mm": "mm",
    "base_c": "°C",
    "half_germination_cd": "°C d",
    "nitrogen_g_m2_yr": "g/m2/yr",
}
TRAITS = ("drought", "density", "competitiveness", "colour")
TRAITS_GRADE = Grade.JUDGED
"""Traits are a judged order from 1 (poor, light) to 9 (excellent, dark), no measurement."""


class Kind(StrEnum):
    """What a species is to the person who sows; whether it is a weed depends on the zone."""

    SOWN_GRASS = "sown grass"
    CLOVER = "clover"
    WEED_GRASS = "weed grass"


@dataclass(frozen=True, slots=True)
class Species:
    """One species or sown subspecies; None where nothing is known.

    Parameters
    ----------
    key : str
        Its short English name in lower case; the name used everywhere inside.
    english, latin : str
        Its names as shown.
    other_names : tuple of str
        Names it is also asked for by.
    kind : Kind
        Sown grass, clover or weed grass.
    group : str
        Grasses handled alike: ``ryegrass``, ``fine fescue``, ``bent``, ``meadow-grass`` ...
    life : str
        Perennial, annual, or between.
    thousand_seed_weight_g : Sourced or None
        Weight of a thousand seeds. [g]
    seeds_per_g : Sourced or None
        Typical number with the range of varieties and lots. [seeds g⁻¹]
    minimum_soil_c : Sourced or None
        Soil warmth to sow at: from `low`, sure from `high`. [°C]
    first_seen_15c_days, first_seen_10c_days : Sourced or None
        Days from sowing to the first seedlings in soil of about 15 °C and 10 °C. [d]
    new_sowing_g_m2 : Sourced or None
        Rate when sown alone on a seedbed. [g m⁻²]
    comfort_height_mm : Sourced or None
        Heights of cut its turf types live with. [mm]
    depth_mm : Sourced or None
        Sowing depth. [mm]
    base_c : Sourced or None
        Base temperature of germination. [°C]
    half_germination_cd : Sourced or None
        Thermal time above `base_c` until half of it has germinated, in the laboratory. [°C d]
    nitrogen_g_m2_yr : Sourced or None
        Nitrogen a year. [g m⁻²]
    traits : mapping of str to int
        `TRAITS` from 1 to 9, judged.
    """

    key: str
    english: str
    latin: str
    other_names: tuple[str, ...]
    kind: Kind
    group: str
    life: str
    thousand_seed_weight_g: Sourced | None = None
    seeds_per_g: Sourced | None = None
    minimum_soil_c: Sourced | None = None
    first_seen_15c_days: Sourced | None = None
    first_seen_10c_days: Sourced | None = None
    new_sowing_g_m2: Sourced | None = None
    comfort_height_mm: Sourced | None = None
    depth_mm: Sourced | None = None
    base_c: Sourced | None = None
    half_germination_cd: Sourced | None = None
    nitrogen_g_m2_yr: Sourced | None = None
    traits: Mapping[str, int] | None = field(default=None, hash=False)
    best_warmth: str = ""
    salt: str = ""
    spring_start: str = ""
    notes: str = ""

    @property
    def both_names(self) -> str:
        """English name with the Latin beside it."""
        return f"{self.english} ({self.latin})"

    @property
    def model_name(self) -> str:
        """Its name in keys of the handbook's numbers: ``annual_meadow_grass``."""
        return self.key.replace(" ", "_").replace("-", "_").replace("'", "")

    @property
    def numbers(self) -> tuple[Sourced, ...]:
        """Every number known of it."""
        known = (getattr(self, name) for name in _UNITS)
        return tuple(number for number in known if number is not None)


@cache
def all_species() -> Mapping[str, Species]:
    """Read every species, by key.

    Raises
    ------
    BadInputError
        If an entry is incomplete, a grade unknown, or two species share a name.
    """
    file = files("swardbook.handbook") / "data" / "species.toml"
    return {key: _species(key, entry) for key, entry in read_toml_table(file).items()}


def find_species(name: str) -> Species:
    """Find a species by its English, Latin or any other name.

    Parameters
    ----------
    name : str
        The name; case, spaces, hyphens and apostrophes do not matter.

    Raises
    ------
    UnknownNameError
        If no species goes by it; offers the nearest names.
    """
    found = _names().get(_folded(name))
    if found is None:
        known = [shown for each in all_species().values() for shown in _shown_names(each)]
        raise UnknownNameError("species", name, known)
    return all_species()[found]


def species_of_model(model_name: str) -> Species:
    """Find a species by its name in keys of the handbook's numbers.

    Parameters
    ----------
    model_name : str
        Such as ``annual_meadow_grass``; see `Species.model_name`.

    Raises
    ------
    UnknownNameError
        If no species goes by it.
    """
    return find_species(model_name.replace("_", " "))


def model_name_of(name: str) -> str:
    """Give a species' name in keys of the handbook's numbers; empty for what is no species.

    Parameters
    ----------
    name : str
        Any of its names, or another kind that counts hold, such as ``bare``.
    """
    found = _names().get(_folded(name))
    return "" if found is None else all_species()[found].model_name


def key_of(name: str) -> str:
    """Give the one name under which a kind stands wherever kinds are compared.

    Whatever a diary, a count or a file calls a grass, English or Latin, now or years ago, it is
    read under this name.

    Parameters
    ----------
    name : str
        A species by any of its names, or another kind that counts hold, such as ``bare``.

    Returns
    -------
    str
        The key of the species; of what is no species its own words, in small letters.
    """
    found = _names().get(_folded(name))
    return " ".join(name.casefold().split()) if found is None else found


def in_words(kind: str) -> str:
    """Give what was counted as it stands inside a sentence: a species by its English name.

    Parameters
    ----------
    kind : str
        A species by any name, or another kind that counts hold, such as ``bare``.
    """
    found = _names().get(_folded(kind))
    if found is None:
        return kind
    name = all_species()[found].english
    return name if name.startswith(_PROPER) else name[0].lower() + name[1:]


def sown_species() -> tuple[Species, ...]:
    """Give the grasses and clovers that are sown."""
    return tuple(each for each in all_species().values() if each.kind is not Kind.WEED_GRASS)


def thousand_seed_weight(species: Species) -> Sourced:
    """Give the weight of a thousand seeds [g] that is taken where a label gives none.

    Raises
    ------
    UnknownNameError
        If the handbook has none for this species.
    """
    if species.thousand_seed_weight_g is None:
        known = [each.key for each in all_species().values() if each.thousand_seed_weight_g]
        raise UnknownNameError("thousand-seed weight for a species", species.key, known)
    return species.thousand_seed_weight_g


def _shown_names(species: Species) -> tuple[str, ...]:
    return (species.key, species.latin, *species.other_names)


def _folded(name: str) -> str:
    words = name.casefold().replace("ssp.", " ").replace("subsp.", " ").replace("var.", " ")
    return "".join(letter for letter in words if letter.isalnum())


@cache
def _names() -> Mapping[str, str]:
    names: dict[str, str] = {}
    for each in all_species().values():
        for shown in _shown_names(each):
            if names.setdefault(_folded(shown), each.key) != each.key:
                raise BadInputError("species.toml", shown, "a name that no other species has")
    return names


def _species(key: str, entry: Mapping[str, Any]) -> Species:
    fields = dict(entry)
    try:
        for name, unit in _UNITS.items():
            if name in fields:
                fields[name] = _sourced(f"{key}.{name}", unit, fields[name])
        fields["kind"] = Kind(fields["kind"])
        fields["other_names"] = tuple(fields["other_names"])
        return Species(key=key, **fields)
    except (KeyError, TypeError, ValueError) as slip:
        raise BadInputError(
            f"species.toml [{key}]", str(slip), "names, a kind, and numbers with sources"
        ) from slip


def _sourced(key: str, unit: str, cell: Mapping[str, Any]) -> Sourced:
    number = Sourced(
        key=key,
        value=float(cell["value"]),
        unit=unit,
        low=float(cell["low"]),
        high=float(cell["high"]),
        grade=Grade(cell["grade"]),
        source=cell["source"],
        where=cell.get("where", ""),
        note=cell.get("note", ""),
    )
    if not number.low <= number.value <= number.high:
        raise ValueError(f"{key}: low <= value <= high does not hold")
    return number
