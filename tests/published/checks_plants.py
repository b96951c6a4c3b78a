"""What floras print of leaves and ligules, and what is printed of grubs and patches.

Ranges of the key hold what several works say: a check of one end asks that the key's end stands at
the printed value where that work is the widest. What a printed key or comparison tells a plant by
is checked by its place among all plants of the key, 1 being the first, by fit alone: a printed key
does not say what is common.
"""

from __future__ import annotations

from functools import partial

from swardbook.foundation.provenance import Grade
from swardbook.foundation.quantities import convert
from swardbook.handbook.parameters import parameter
from swardbook.handbook.plants import plants
from swardbook.observations.naming import read_looked, shares
from swardbook.planning.troubles import count_grubs
from tests.support.checks import Check

Ends = tuple[float | None, float | None]
FLORAS: dict[str, dict[str, dict[str, Ends]]] = {
    "edgar_connor_2000": {
        "ligule_mm": {
            "annual meadow-grass": (0.5, None),
            "smooth-stalked meadow-grass": (0.2, 2.0),
            "perennial ryegrass": (0.5, 2.0),
            "italian ryegrass": (0.6, 2.5),
            "tall fescue": (0.5, 3.0),
            "yorkshire fog": (0.6, None),
            "creeping soft-grass": (1.0, None),
            "cocksfoot": (3.0, None),
            "crested dogstail": (0.4, None),
            "timothy": (1.0, None),
            "meadow foxtail": (0.5, None),
            "sweet vernal-grass": (0.6, None),
            "soft brome": (0.5, None),
            "barren brome": (1.5, None),
            "wall barley": (0.3, 1.0),
            "rat's-tail fescue": (0.2, None),
            "crab-grass": (0.5, None),
        },
        "width_mm": {
            "smooth-stalked meadow-grass": (1.5, 4.0),
            "perennial ryegrass": (1.5, 5.0),
            "italian ryegrass": (None, 11.0),
            "browntop bent": (1.0, 5.0),
            "creeping bent": (1.0, 8.0),
            "yorkshire fog": (1.5, 10.0),
            "creeping soft-grass": (2.0, None),
            "couch": (2.0, 10.0),
            "cocksfoot": (1.5, None),
            "timothy": (3.0, None),
            "meadow foxtail": (2.0, None),
            "sweet vernal-grass": (None, 10.0),
            "soft brome": (1.0, None),
            "barren brome": (2.0, None),
            "wall barley": (None, 8.0),
            "rat's-tail fescue": (0.3, 2.5),
            "crab-grass": (3.0, None),
        },
    },
    "fna_24_2007": {
        "ligule_mm": {"creeping bent": (0.7, 7.5), "crested dogstail": (None, 2.5)},
        "width_mm": {"crested dogstail": (0.5, 4.3)},
    },
    "gleason_cronquist_1991": {
        "ligule_mm": {"browntop bent": (0.5, 2.0)},
        "width_mm": {"velvet bent": (1.0, 3.0), "strong creeping red fescue": (None, 2.0)},
    },
    "jacobs_hastings_1993": {
        "ligule_mm": {"rough-stalked meadow-grass": (None, 10.0)},
        "width_mm": {"rough-stalked meadow-grass": (1.5, 6.0)},
    },
    "weakley_carolinas": {"ligule_mm": {"rough-stalked meadow-grass": (2.5, None)}, "width_mm": {}},
    "walsh_1994": {"ligule_mm": {"yorkshire fog": (None, 4.0)}, "width_mm": {}},
    "douglas_illustrated_bc_2001": {"ligule_mm": {}, "width_mm": {"tall fescue": (4.0, 12.0)}},
    "clayton_grassbase": {
        "ligule_mm": {"sweet vernal-grass": (None, 7.0)},
        "width_mm": {"sweet vernal-grass": (1.5, None)},
    },
}
"""The printed ends [mm] that the key takes over; what stands in brackets there, the rarest, is an
end. None where another work goes further, or memory of the British works does."""
NAMES = {"ligule_mm": "ligule", "width_mm": "leaf width"}


def _end(plant: str, trait: str, is_low: bool) -> float:
    row = plants()[plant].shown[trait]
    found = row.low if is_low else row.high
    assert found is not None
    return found


def _of_floras() -> list[Check]:
    checks = []
    for work, traits in FLORAS.items():
        for trait, by_plant in traits.items():
            for plant, ends in by_plant.items():
                latin = plants()[plant].latin
                for printed, is_low in zip(ends, (True, False), strict=True):
                    if printed is None:
                        continue
                    word = "least" if is_low else "most"
                    checks.append(Check(
                        f"{work}-{plant.replace(' ', '-')}-{trait}-{word}",
                        f"{NAMES[trait]} of {latin}, {word} [mm]", work, f"description of {latin}",
                        printed, 1e-9, Grade.PUBLISHED, partial(_end, plant, trait, is_low),
                    ))  # fmt: skip
    return checks


PRINTED_KEYS = (
    ("flora_na_holcus_2007", "key to the two species", "yorkshire fog",
     ("hair=velvety", "habit=tufted", "head=soft panicle")),
    ("flora_na_holcus_2007", "key to the two species", "creeping soft-grass",
     ("hair=joints", "habit=underground runners", "head=soft panicle")),
    ("spencer_2005", "creeping bent against common bent", "creeping bent",
     ("vernation=rolled", "habit=runners", "ligule_mm=3", "head=narrow panicle")),
    ("gleason_cronquist_1991", "description of Agrostis capillaris", "browntop bent",
     ("habit=underground runners", "ligule=blunt", "ligule_mm=1", "head=open panicle")),
    ("weakley_carolinas", "key to Poa, lead 11", "rough-stalked meadow-grass",
     ("tip=boat", "ligule_mm=5", "head=open panicle")),
    ("massey_ryegrass_2003", "vegetative identification", "perennial ryegrass",
     ("upper=ribbed", "lower=glossy", "vernation=folded", "base=red", "auricles=small")),
    ("massey_ryegrass_2003", "couch told by the flat side of its spikelets", "couch",
     ("head=spike face-on", "colour=grey")),
    ("umass_meadow_foxtail", "identification notes", "meadow foxtail",
     ("vernation=rolled", "auricles=none", "ligule=blunt", "upper=ribbed", "head=cylinder")),
    ("ward_1901", "meadow-grasses with flat shoots", "flattened meadow-grass",
     ("shoot=flat", "colour=grey", "ligule_mm=1", "habit=underground runners")),
    ("edgar_connor_2000", "description of Alopecurus pratensis", "meadow foxtail",
     ("base=dark brown", "ligule_mm=1.5", "head=cylinder")),
)  # fmt: skip
ONE_GENUS = {"flora_na_holcus_2007": "Holcus", "weakley_carolinas": "Poa"}
"""Printed keys that part the plants of one genus only."""


def _place(plant: str, work: str, seen: tuple[str, ...]) -> float:
    """The place of a plant among all that a printed key parts, by what it tells it by."""
    found = shares(read_looked(seen))
    fit = {key: share / plants()[key].in_lawns.value for key, share in found.items()}
    parted = [key for key in fit if plants()[key].latin.startswith(ONE_GENUS.get(work, ""))]
    return 1.0 + sum(fit[key] > fit[plant] * (1 + 1e-9) for key in parted)


def _of_keys() -> list[Check]:
    return [
        Check(
            f"{work}-tells-{plant.replace(' ', '-')}",
            f"place of {plants()[plant].latin} by {', '.join(seen)}", work, where, 1.0, 0.0,
            Grade.PUBLISHED, partial(_place, plant, work, seen),
        )
        for work, where, plant, seen in PRINTED_KEYS
    ]  # fmt: skip


def _per_m2(per_ft2: float) -> float:
    return per_ft2 / convert(1, "ft2")[0]


CHECKS = [
    *_of_floras(),
    *_of_keys(),
    Check(
        "leatherjackets-square-foot-least", "leatherjackets a m² that harm poor turf, least",
        "robson_1996", "25-30 larvae per square foot", _per_m2(25), 0.5, Grade.PUBLISHED,
        lambda: parameter("trouble.leatherjackets_m2").low,
    ),
    Check(
        "leatherjackets-square-foot-most", "leatherjackets a m² that harm poor turf, most",
        "robson_1996", "25-30 larvae per square foot", _per_m2(30), 0.5, Grade.PUBLISHED,
        lambda: parameter("trouble.leatherjackets_m2").high,
    ),
    Check(
        "leatherjackets-six-inch-square", "leatherjackets a m² of 7 in a square of six inches",
        "wsu_crane_fly_sampling", "how to sample: a square of six by six inches",
        7 * 4 / 0.09290304, 0.05, Grade.PUBLISHED,
        lambda: count_grubs("leatherjackets", 7, 1, 6 * 25.4).per_m2,
    ),
    Check(
        "crane-fly-may", "season day on which leatherjackets have done most harm (end of May)",
        "pnw_crane_fly", "pest description: most damage in April and May", 151, 0.5,
        Grade.PUBLISHED,
        lambda: parameter("trouble.grubs_to").value,
    ),
]  # fmt: skip
