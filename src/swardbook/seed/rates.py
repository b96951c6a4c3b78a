"""Sowing rates from wanted plants, and expected plants from a rate, each as a range."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import floor, fsum

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.provenance import Sourced
from swardbook.foundation.quantities import read_quantity, require
from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.species import find_species
from swardbook.seed.lot import LotPart
from swardbook.seed.mixture import OTHERS, MixtureByNumber


class Method(StrEnum):
    """How seed is put down."""

    SEEDBED = "seedbed"
    SLIT = "slit"
    SCARIFIED = "broadcast on scarified"
    SWARD = "broadcast on sward"

    @property
    def is_oversowing(self) -> bool:
        """Whether it goes into a living sward."""
        return self is not Method.SEEDBED


@dataclass(frozen=True, slots=True)
class Range:
    """A number with the range it may well lie in.

    Parameters
    ----------
    low, middle, high : float
        The range and its middle. [`unit`]
    unit : str
        Unit of all three.
    reason : str
        What it rests on.
    """

    low: float
    middle: float
    high: float
    unit: str
    reason: str = ""


def read_method(text: str) -> Method:
    """Read a sowing method, case-blind.

    Raises
    ------
    UnknownNameError
        If it is none of the four.
    """
    for method in Method:
        if method.value == " ".join(text.casefold().split()):
            return method
    raise UnknownNameError("sowing method", text, [method.value for method in Method])


def read_rate(text: str) -> float:
    """Read a sowing rate; one far above any use is asked about, as units get mixed up.

    Parameters
    ----------
    text : str
        ``35``, ``35 g/m2``, ``1 oz/yd2`` ...

    Returns
    -------
    float
        Rate. [g m⁻²]

    Raises
    ------
    BadInputError
        If it is no rate, or far above any use.
    """
    typed = read_quantity(text, "g/m2", "the rate")
    if not 0 < typed.value <= value("seed_rate_most"):
        number = text.strip().split(" ")[0]
        hint = f"{typed.text} is {typed.value:,.0f} g/m2. Did you mean {number} g/m2?"
        raise BadInputError(
            "the rate", text, f"above 0 and up to {value('seed_rate_most'):g} g/m2",
            hint if typed.value > 0 and number != text.strip() else _slip(typed.value),
        )  # fmt: skip
    return typed.value


def _slip(rate: float) -> str:
    """Name the unit that was likely meant by a rate far above any use."""
    if rate <= 0:
        return ""
    if rate <= 10 * value("seed_rate_most"):
        return f"{rate:g} kg/ha are {rate / 10:g} g/m2: give the unit."
    return "30 g/m2 is 300 kg/ha, or 0.9 oz/yd2."


def establishment(method: Method) -> Sourced:
    """Give the share of viable seeds that become plants, by sowing method [-]; judged."""
    return parameter(f"seed_establishment_{method.value.replace(' ', '_')}")


def expected_plants(viable_seeds_m2: float, method: Method) -> Range:
    """Work out how many plants to expect.

    Parameters
    ----------
    viable_seeds_m2 : float
        Viable seeds sown. [seeds m⁻²]
    method : Method
        How they are put down.

    Returns
    -------
    Range
        Plants to expect. [plants m⁻²]
    """
    require("viable seeds", viable_seeds_m2, 0, 1e9, "seeds/m2")
    share = establishment(method)
    return Range(
        viable_seeds_m2 * share.low,
        viable_seeds_m2 * share.value,
        viable_seeds_m2 * share.high,
        "plants/m2",
        f"{share.low:.0%} to {share.high:.0%} of viable seeds become plants ({method.value})",
    )


def sowing_rate(plants_m2: float, mixture: MixtureByNumber, method: Method) -> Range:
    """Work out the rate for a number of plants wanted.

    Parameters
    ----------
    plants_m2 : float
        Plants wanted. [plants m⁻²]
    mixture : MixtureByNumber
        What is sown.
    method : Method
        How it is put down.

    Returns
    -------
    Range
        Rate; its high end belongs to the poorest establishment. [g m⁻²]

    Raises
    ------
    OutOfRangeError
        If no seed of the mixture can come up.
    """
    require("plants wanted", plants_m2, 0, 1e6, "plants/m2")
    live = require("viable seeds", mixture.viable_seeds_per_g, 1e-6, 1e6, "seeds/g")
    share = establishment(method)
    return Range(
        plants_m2 / (live * share.high),
        plants_m2 / (live * share.value),
        plants_m2 / (live * share.low),
        "g/m2",
        f"{plants_m2:,.0f} plants/m2, {method.value}",
    )


def usual_rate(parts: Sequence[LotPart], method: Method = Method.SEEDBED) -> Range:
    """Choose the customary rate by what is in the mixture.

    Parameters
    ----------
    parts : sequence of LotPart
        The label.
    method : Method
        How it is put down; into a living sward it is about half to two thirds.

    Returns
    -------
    Range
        Usual rate, rounded, with what it rests on. [g m⁻²]
    """
    named = [(find_species(part.species), part.share_by_weight) for part in parts
             if part.species != OTHERS]  # fmt: skip
    whole = fsum(share for _, share in named)
    if {species.group for species, _ in named} == {"fine fescue", "bent"}:
        base = parameter("sow_rate_fescue_bent")
        low, middle, high, reason = base.low, base.value, base.high, "fescue and bent together"
    else:
        rates = [(species.new_sowing_g_m2, share / whole) for species, share in named]
        low = fsum(rate.low * share for rate, share in rates if rate)
        middle = fsum(rate.value * share for rate, share in rates if rate)
        high = fsum(rate.high * share for rate, share in rates if rate)
        reason = "its components, each by its share of the weight"
    if method.is_oversowing:
        part = parameter("oversow_share")
        low, middle, high = low * part.low, middle * part.value, high * part.high
        reason += "; half to two thirds of it into a living sward"
    return Range(low, _rounded(middle), high, "g/m2", reason)


def _rounded(rate: float) -> float:
    step = 5.0 if rate >= value("seed_rate_step_from") else 1.0
    return max(1.0, floor(rate / step + 0.5) * step)
