"""Wear, shade, salt, gates, time to play and to seedlings as printed, against what is told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from swardbook.foundation.provenance import Grade
from swardbook.handbook.parameters import value
from swardbook.handbook.species import find_species
from swardbook.model.parameters import central_parameters, sown_kinds
from swardbook.model.processes.germination import share_emerged
from swardbook.seed.lot import LotPart
from swardbook.seed.quality import Standard, gates
from swardbook.seed.suiting import Fits, Place, judge, months_to_use, salt_class
from tests.support.checks import Check

TRIED_UNDER_WHEELS = (
    "perennial ryegrass", "tall fescue", "smooth-stalked meadow-grass",
    "strong creeping red fescue", "chewings fescue", "rough-stalked meadow-grass",
)  # fmt: skip
TRIED_IN_SHADE = (
    "tall fescue", "strong creeping red fescue", "chewings fescue", "hard fescue",
    "smooth-stalked meadow-grass", "rough-stalked meadow-grass", "perennial ryegrass",
)  # fmt: skip
CLASSES = (
    ("perennial ryegrass", 3), ("chewings fescue", 6), ("strong creeping red fescue", 10),
    ("hard fescue", 10), ("tall fescue", 10), ("browntop bent", 3), ("creeping bent", 6),
    ("smooth-stalked meadow-grass", 6),
)  # fmt: skip
P = Grade.PUBLISHED
WHEEL = "abstract: ranks under the wheel"


def _wears(species: str, wanted: float) -> Fits:
    found = judge(find_species(species), Place("play", 30.0, wear=wanted))
    return next(each.fits for each in found if each.criterion == "wear")


def _suiting(wanted: float) -> float:
    return sum(_wears(species, wanted) is Fits.WELL for species in TRIED_UNDER_WHEELS)


def _lost(kind: str) -> float:
    """Cover lost to wear in the model, against red fescue."""
    return value(f"model.sown.{kind}.wear")


def _shade_place(species: str) -> float:
    return value(f"suits.shade.{find_species(species).model_name}")


def _better_in_shade(one: str, other: str) -> float:
    return float(_shade_place(one) > _shade_place(other))


def _deep(species: str) -> float:
    """1 if it suits deep shade by the judging, else 0."""
    found = judge(find_species(species), Place("ornamental", 40.0, sun_hours=1.0))
    return float(next(each.fits for each in found if each.criterion == "shade") is Fits.WELL)


def _salt_bound(species: str) -> float:
    found = salt_class(find_species(species))
    assert found is not None
    return found.high


def _salty(species: str, salt_ds_m: float) -> float:
    """1 if it suits a soil so salty, 0 if it does not last."""
    found = judge(find_species(species), Place("play", 30.0, salt_ds_m=salt_ds_m))
    fits = next(each.fits for each in found if each.criterion == "salt")
    return {Fits.WELL: 1.0, Fits.STRAINED: 0.5, Fits.NOT: 0.0}[fits]


def _passes(species: str, what: str, found: float, standard: Standard) -> float:
    """1 if a figure of a label passes a limit, else 0."""
    label = LotPart(species, 1.0, purity=0.99, germination=0.99)
    told = gates([replace(label, **{what: found})])  # type: ignore[arg-type]
    (gate,) = (each for each in told if each.what == what and each.standard is standard)
    return float(bool(gate.passed))


def _days_up(species: str, soil_c: float, share: float) -> float:
    """Days until a share of the seed is up in moist soil of one warmth, at stated values."""
    stated = central_parameters(sown_kinds([LotPart(species, 1.0)])).sown.a
    base, half, spread = (
        float(np.ravel(each)[0])
        for each in (stated.base_temperature, stated.warmth_50, stated.spread)
    )
    left, warmth, days = 1.0, 0.0, 0
    while 1 - left < share:
        left *= 1 - float(share_emerged(warmth, soil_c - base, half, spread))
        warmth, days = warmth + soil_c - base, days + 1
    return float(days)


def _sooner(one: str, other: str) -> float:
    return float(_days_up(one, 15.0, 0.5) < _days_up(other, 15.0, 0.5))


def _wheel(key: str, what: str, expected: float, got: Callable[[], float]) -> Check:
    return Check(f"choosing-wear-{key}", what, "shearman_beard_1975", WHEEL, expected, 0.0, P, got)


CHECKS: list[Check] = [
    *(
        _wheel(f"place-{wanted}", f"of six grasses tried, those that suit place {wanted} of wear",
               count, lambda wanted=wanted: _suiting(wanted))  # type: ignore[misc]
        for wanted, count in ((4, 1), (3, 3), (2, 4), (1, 6))
    ),
    _wheel("ryegrass-first", "ryegrass loses less to wear in the model than tall fescue", 1,
           lambda: float(_lost("ryegrass") < _lost("tall_fescue"))),
    _wheel("second-together", "tall fescue and meadow-grass lose alike to wear in the model", 0,
           lambda: _lost("tall_fescue") - _lost("meadow_grass")),
    _wheel("fescue-after", "fescue loses more to wear in the model than meadow-grass", 1,
           lambda: float(_lost("fescue") > _lost("meadow_grass"))),
    *(
        Check(f"choosing-shade-{key}", f"{one} does better in shade than {other}: 1 yes",
              "gardner_taylor_2002", "abstract: order after eight years", 1, 0.0, P,
              lambda one=one, other=other: _better_in_shade(one, other))  # type: ignore[misc]
        for key, one, other in (
            ("tall-fescue-fine", "tall fescue", "chewings fescue"),
            ("tall-fescue-hard", "tall fescue", "hard fescue"),
            ("fine-meadow-grass", "chewings fescue", "smooth-stalked meadow-grass"),
            ("hard-meadow-grass", "hard fescue", "smooth-stalked meadow-grass"),
            ("meadow-grasses", "smooth-stalked meadow-grass", "rough-stalked meadow-grass"),
            ("rough-ryegrass", "rough-stalked meadow-grass", "perennial ryegrass"),
        )
    ),
    Check("choosing-shade-deep", "of seven grasses tried, those that suit deep shade",
          "gardner_taylor_2002", "abstract: tall fescue, then the fine fescues", 4, 0.0, P,
          lambda: sum(_deep(species) for species in TRIED_IN_SHADE)),
    *(
        Check(f"choosing-salt-{find_species(species).model_name}",
              f"upper end of the salt class of {species} [dS/m]", "uddin_juraimi_2013",
              "table 1: rating, bounds in its note", bound, 0.0, P,
              lambda species=species: _salt_bound(species))  # type: ignore[misc]
        for species, bound in CLASSES
    ),
    Check("choosing-salt-five-ryegrass", "ryegrass at 5 dS/m: 0 does not last",
          "uddin_juraimi_2013", "table 1: sensitive, below 3", 0, 0.0, P,
          lambda: _salty("perennial ryegrass", 5)),
    Check("choosing-salt-five-tall-fescue", "tall fescue at 5 dS/m: 1 suits",
          "uddin_juraimi_2013", "table 1: moderately tolerant, 6 to 10", 1, 0.0, P,
          lambda: _salty("tall fescue", 5)),
    *(
        Check(f"choosing-months-{key}", f"months from sowing to play, {species}, at most",
              "cornell_seeding_rates", "time from sowing to play", months, 0.0, P,
              lambda species=species: months_to_use(  # type: ignore[misc]
                  find_species(species)).high)
        for key, species, months in (
            ("ryegrass", "perennial ryegrass", 3), ("tall-fescue", "tall fescue", 9),
            ("meadow-grass", "smooth-stalked meadow-grass", 12),
        )
    ),
    *(
        Check(f"choosing-gate-{key}", f"{what} {100 * found:g} % of {species}: 1 passes",
              "seed_annex_2016", "tables of least purity and germination", passes, 0.0, P,
              lambda species=species, what=what, found=found,  # type: ignore[misc]
              standard=standard: _passes(species, what, found, standard))
        for key, species, what, found, standard, passes in (
            ("browntop-74", "browntop bent", "germination", 0.74, Standard.STATUTORY, 0),
            ("browntop-75", "browntop bent", "germination", 0.75, Standard.STATUTORY, 1),
            ("ryegrass-79", "perennial ryegrass", "germination", 0.79, Standard.STATUTORY, 0),
            ("ryegrass-80", "perennial ryegrass", "germination", 0.80, Standard.STATUTORY, 1),
            ("ryegrass-pure-959", "perennial ryegrass", "purity", 0.959, Standard.STATUTORY, 0),
            ("ryegrass-pure-97", "perennial ryegrass", "purity", 0.97, Standard.STATUTORY, 1),
            ("ryegrass-pure-97-voluntary", "perennial ryegrass", "purity", 0.97,
             Standard.VOLUNTARY, 0),
        )
    ),
    *(
        Check(f"choosing-ryegrass-before-{find_species(other).model_name}",
              f"half of ryegrass up before half of {other}: 1 yes", "purdue_fine_fescues",
              "abstract: ryegrass first; soil of 15 °C assumed", 1, 0.0, P,
              lambda other=other: _sooner("perennial ryegrass", other))  # type: ignore[misc]
        for other in ("strong creeping red fescue", "slender creeping red fescue",
                      "hard fescue", "chewings fescue", "sheep's fescue", "tall fescue")
    ),
    *(
        Check(f"choosing-meadow-grass-after-{find_species(one).model_name}",
              f"half of {one} up before half of smooth-stalked meadow-grass: 1 yes",
              "purdue_fine_fescues", "abstract: meadow-grass last; soil of 15 °C assumed",
              1, 0.0, P,
              lambda one=one: _sooner(one, "smooth-stalked meadow-grass"))  # type: ignore[misc]
        for one in ("chewings fescue", "hard fescue", "sheep's fescue", "tall fescue")
    ),
    Check("choosing-fescue-first-seedlings", "days to the first seedlings of fine fescue",
          "braun_2020", "abstract: 10 to 13 in Indiana; soil of 14 °C assumed", 11.5, 1.5, P,
          lambda: _days_up("chewings fescue", 14.0, 0.1)),
    Check("choosing-meadow-grass-first-seedlings",
          "days to the first seedlings of smooth-stalked meadow-grass",
          "kentucky_agr_51", "10 to 21 days; soil of 15 °C assumed", 15.5, 5.5, P,
          lambda: _days_up("smooth-stalked meadow-grass", 15.0, 0.1)),
]  # fmt: skip
