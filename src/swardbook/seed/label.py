"""What a person types of a label, read with care: parts, purity, germination, seed weight."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import fsum

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.quantities import read_number, require
from swardbook.handbook.parameters import value
from swardbook.handbook.species import find_species
from swardbook.seed.lot import LotPart, SeedLot
from swardbook.seed.mixture import OTHERS, check_sum

LOT_HINT = (
    "That is the name. The lot is usually a code near the bar code or stitched label."
    " It is kept as unknown."
)


@dataclass(frozen=True, slots=True)
class LabelShare:
    """A purity or germination as read, with what was made of it.

    Parameters
    ----------
    value : float
        The share. [-]
    note : str
        How it was read, where that could be otherwise.
    """

    value: float
    note: str = ""


def read_parts(texts: Sequence[str]) -> tuple[LotPart, ...]:
    """Read the parts of a mixture, such as ``browntop bent=20``, in percent or as fractions.

    Parameters
    ----------
    texts : sequence of str
        One ``NAME=PERCENT`` a part; ``others`` is what the label does not name.

    Returns
    -------
    tuple of LotPart
        The parts by weight; never rescaled.

    Raises
    ------
    BadInputError
        If a part cannot be read, stands at nothing, or the parts do not add up.
    UnknownNameError
        If a species is unknown.
    """
    pairs = [read_pair(text, "a part") for text in texts]
    typed = [_positive(name, text) for name, text in pairs]
    percent = any("%" in text for _, text in pairs) or fsum(typed) > 2
    scale = 100.0 if percent else 1.0
    for (name, _), share in zip(pairs, typed, strict=True):
        if share > scale:
            raise BadInputError(f"the part of {name}", f"{share:g}", f"up to {scale:g}", "")
    parts = tuple(
        LotPart(_species(name), share / scale)
        for (name, _), share in zip(pairs, typed, strict=True)
    )
    check_sum(parts)
    return parts


def read_pair(text: str, what: str) -> tuple[str, str]:
    """Split ``NAME=VALUE``.

    Raises
    ------
    BadInputError
        If it has no ``=``, no name or no value.
    """
    name, found, given = text.rpartition("=")
    if not found or not name.strip() or not given.strip():
        raise BadInputError(what, text, "NAME=VALUE, such as 'browntop bent=20'")
    return name.strip(), given.strip()


def read_share(what: str, species: str, text: str) -> LabelShare:
    """Read a purity or germination given as a fraction or in percent.

    Parameters
    ----------
    what : str
        ``purity`` or ``germination``.
    species : str
        Whose it is, for the message.
    text : str
        ``0.85``, ``85`` or ``85 %``.

    Returns
    -------
    LabelShare
        The share and how it was read.

    Raises
    ------
    BadInputError
        If it is no share, or so low that a slipped point is more likely.
    """
    number = read_number(text.replace("%", ""))
    told = f"{what} of {species}"
    if number is None or not 0 < number <= 100:
        raise BadInputError(told, text, "a fraction such as 0.85, or a percentage such as 85")
    share = number if number <= 1 and "%" not in text else number / 100
    if share < value("seed_label_least"):
        meant = f"{share * 1000:g}" if share * 10 <= 1 else ""
        state = "nearly dead seed" if what == "germination" else "mostly chaff"
        raise BadInputError(
            told, text, "a fraction such as 0.85, or a percentage such as 85",
            f"{share * 100:g} % would be {state}." + (f" {meant} %?" if meant else ""),
        )  # fmt: skip
    note = f"{told}: {number:g} is read as {number:g} %." if number > 1 and "%" not in text else ""
    return LabelShare(share, note)


def read_seed_weight(species: str, text: str) -> float:
    """Read a thousand-seed weight.

    Parameters
    ----------
    species : str
        Key of the species.
    text : str
        Grams, such as ``0.075``.

    Returns
    -------
    float
        Weight of a thousand seeds. [g]

    Raises
    ------
    BadInputError
        If it is no weight, or many times off the usual one.
    """
    number = read_number(re.sub(r"\s*g$", "", text.strip()))
    told = f"thousand-seed weight of {species}"
    if number is None or number <= 0:
        raise BadInputError(told, text, "grams, such as 0.075")
    usual, factor = find_species(species).thousand_seed_weight_g, value("seed_weight_factor")
    if usual is not None and not usual.low / factor <= number <= usual.high * factor:
        raise BadInputError(
            told, text, f"grams near the usual {usual.value:.3g}",
            f"{number:g} g is {number / usual.value:.2g} times that.",
        )  # fmt: skip
    return number


def with_label(
    parts: Sequence[LotPart],
    purity: Mapping[str, float],
    germination: Mapping[str, float],
    thousand_seed_weight: Mapping[str, float],
) -> tuple[LotPart, ...]:
    """Put figures of a label to its parts.

    Parameters
    ----------
    parts : sequence of LotPart
        The parts by weight.
    purity, germination : mapping of str to float
        By species key. [-]
    thousand_seed_weight : mapping of str to float
        By species key. [g]

    Returns
    -------
    tuple of LotPart
        The same parts with those figures.

    Raises
    ------
    UnknownNameError
        If a figure is for a species that is no part.
    """
    there = [part.species for part in parts]
    for key in (*purity, *germination, *thousand_seed_weight):
        if key not in there:
            raise UnknownNameError("part of this mixture", key, there)
    return tuple(
        replace(
            part,
            purity=purity.get(part.species, part.purity),
            germination=germination.get(part.species, part.germination),
            thousand_seed_weight=thousand_seed_weight.get(part.species, part.thousand_seed_weight),
        )
        for part in parts
    )


def read_lot_code(code: str, mixture: str) -> tuple[str, str]:
    """Read a lot number; one that is only the name of the mixture is no lot number.

    Parameters
    ----------
    code : str
        What was typed as the lot number.
    mixture : str
        The name the mixture is sold by.

    Returns
    -------
    tuple of str and str
        The code to keep, and what to say; an unknown lot is kept as ``unknown`` with its name.

    Raises
    ------
    BadInputError
        If there is neither code nor name.
    """
    code, mixture = code.strip(), mixture.strip()
    if not code and not mixture:
        raise BadInputError("the lot", code, "a lot number, or at least the name of the mixture")
    if not code or _plain(code) == _plain(mixture):
        return f"unknown {mixture}", LOT_HINT if code else "No lot number; kept as unknown."
    return code, ""


def changed_components(lot: SeedLot, others: Iterable[SeedLot]) -> tuple[SeedLot, ...]:
    """Find earlier lots of the same name that hold other components or varieties.

    Parameters
    ----------
    lot : SeedLot
        The new lot.
    others : iterable of SeedLot
        The lots there are.

    Returns
    -------
    tuple of SeedLot
        Those of its name, under another code, with another make-up.
    """
    return tuple(
        other
        for other in others
        if _plain(other.mixture) == _plain(lot.mixture)
        and _plain(other.code) != _plain(lot.code)
        and _make_up(other) != _make_up(lot)
    )


def _make_up(lot: SeedLot) -> list[tuple[str, str, float]]:
    return sorted((p.species, p.cultivar, round(p.share_by_weight, 4)) for p in lot.parts)


def _plain(text: str) -> str:
    return "".join(letter for letter in text.casefold() if letter.isalnum())


def _species(name: str) -> str:
    return OTHERS if name.casefold() in {"others", "other", "rest"} else find_species(name).key


def _positive(name: str, text: str) -> float:
    number = read_number(re.sub(r"\s*%$", "", text))
    if number is None:
        raise BadInputError(f"the part of {name}", text, "a number, in percent by weight")
    return require(f"the part of {name}", number, 1e-4, 1e4, "%", "In percent by weight.")
