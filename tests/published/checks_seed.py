"""Seed arithmetic as printed in extension sheets, standards and abstracts."""

from __future__ import annotations

from math import nan

from swardbook.foundation.provenance import Grade
from swardbook.foundation.quantities import convert
from swardbook.handbook.species import find_species
from swardbook.seed import (
    LotPart,
    MixtureByNumber,
    Standard,
    bulk_for,
    by_number,
    days_to_half,
    first_day_at,
    price_of_pure_live,
    pure_live_share,
    warmth_until,
    weed_seeds,
)
from tests.support.checks import Check
from tests.support.seed import parts_of

KG_PER_LB = 0.45359237


def _counted(**parts: tuple[float, float]) -> MixtureByNumber:
    """A mixture of parts by weight whose seeds were counted per pound."""
    return by_number(
        [
            LotPart(name.replace("_", " "), share, thousand_seed_weight=453_592.37 / per_lb)
            for name, (share, per_lb) in parts.items()
        ]
    )


def _share(mixture: MixtureByNumber, species: str) -> float:
    (part,) = (p for p in mixture.parts if p.component.species == find_species(species).key)
    return 100 * part.share_by_number


def _recipe() -> MixtureByNumber:
    return by_number(
        [
            LotPart("perennial ryegrass", 0.45),
            LotPart("smooth-stalked meadow-grass", 0.10),
            LotPart("slender creeping red fescue", 0.15),
            LotPart("chewings fescue", 0.25),
            LotPart("browntop bent", 0.05),
        ]
    )


def _greens(chewings: float) -> MixtureByNumber:
    return by_number([LotPart("chewings fescue", chewings), LotPart("browntop bent", 1 - chewings)])


def _utility() -> MixtureByNumber:
    return by_number([LotPart("PRG", 0.40), LotPart("STCRF", 0.50), LotPart("browntop bent", 0.10)])


def _bobbin(part: int) -> float:
    return 30 * by_number(parts_of("Bobbin")).parts[part].viable_seeds_per_g


def _plain_greens() -> MixtureByNumber:
    """80:20 with round seed weights."""
    return by_number(
        [
            LotPart("chewings fescue", 0.8, thousand_seed_weight=1.0),
            LotPart("browntop bent", 0.2, thousand_seed_weight=0.07),
        ]
    )


def _meadow_grass(percent: float) -> float:
    mixture = _counted(
        poa_pratensis=(percent / 100, 1_400_000), lolium_perenne=(1 - percent / 100, 240_000)
    )
    return _share(mixture, "poa pratensis")


def _per_m2(per_ft2: float) -> float:
    return per_ft2 / convert(1, "ft2")[0]


def _half(species: str, soil_c: float) -> float:
    days = days_to_half(find_species(species), soil_c)
    return nan if days is None else days


SPRING_SOIL = [4.7 + (23.5 - 4.7) * day / 52 for day in range(53)]


def _day_at_ten() -> float:
    day = first_day_at(SPRING_SOIL, 10)
    return nan if day is None else day


def _brought(weed: str, standard: Standard) -> float:
    found = weed_seeds([LotPart("perennial ryegrass", 1)], 35, standard)
    return next(each.seeds_m2 for each in found if each.species == weed)


P = Grade.PUBLISHED
CHECKS: list[Check] = [
    Check("seed-pure-live-share", "pure live share at purity 85 %, germination 75 %", "txdot_pls",
          "worked example, printed 0.64", 0.6375, 1e-3, P, lambda: pure_live_share(0.85, 0.75)),
    Check("seed-pure-live-bulk", "bulk seed for one unit of pure live seed", "txdot_pls",
          "worked example, printed 1.56", 1.5686, 1e-3, P, lambda: bulk_for(1, 0.85, 0.75)),
    Check("seed-pure-live-bulk-poor",
          "bulk for 20 units at purity 48 %, germination 80 %", "lsu_pls",
          "worked example, printed 52.6 with 0.38", 52.08, 0.6, P,
          lambda: bulk_for(20, 0.48, 0.80)),
    Check("seed-label-meadow-grass", "pure live smooth-stalked meadow-grass on a label [%]",
          "minnesota_seed_label", "worked label", 24.8, 0.1, P,
          lambda: 31 * pure_live_share(1, 0.80)),
    Check("seed-label-total", "pure live seed of that label in all [%]", "minnesota_seed_label",
          "worked label; total worked out", 80.65, 0.1, P,
          lambda: sum(part * pure_live_share(1, germ) for part, germ in
                      ((44, 0.85), (31, 0.80), (9, 0.85), (12, 0.90)))),
    *(
        Check(f"seed-label-{key}", f"pure live {name} on that label [%]", "minnesota_seed_label",
              "worked label; worked out", expected, 0.005, Grade.DEFINED,
              lambda part=part, germ=germ: part * pure_live_share(1, germ))  # type: ignore[misc]
        for key, name, part, germ, expected in (
            ("red-fescue", "creeping red fescue", 44, 0.85, 37.4),
            ("chewings", "Chewings fescue", 9, 0.85, 7.65),
            ("ryegrass", "perennial ryegrass", 12, 0.90, 10.8),
        )
    ),
    Check("seed-price-pure-live", "price of pure live seed: 2.50 at 96 % and 75 %",
          "hydroseeding_cost_pls", "worked example, printed 3.47", 3.472, 0.01, P,
          lambda: price_of_pure_live(2.50, 0.75, 0.96)),
    Check("seed-price-viable", "price of pure live seed: 2.00 at 80 % and 85 %", "ncsu_seed_cost",
          "worked example, printed 2.90", 2.94, 0.0588, P,
          lambda: price_of_pure_live(2.00, 0.85, 0.80)),
    Check("seed-pure-live-meadow-grass", "pure live share at purity 95 %, germination 85 % [%]",
          "cornell_seeding_rates", "worked example, printed 81", 80.75, 0.01, P,
          lambda: 100 * pure_live_share(0.95, 0.85)),
    *(
        Check(f"seed-two-grasses-{percent}", f"meadow-grass by number at {percent} % by weight [%]",
              "purdue_meadow_grass_ryegrass", "seeds per pound as printed", share, 0.3, P,
              lambda percent=percent: _meadow_grass(percent))  # type: ignore[misc]
        for percent, share in ((95, 99.1), (90, 98.1), (80, 95.9), (70, 93.2), (50, 85.4))
    ),
    Check("seed-claimed-half",
          "ryegrass by number in 70:30 with meadow-grass, claimed to be half [%]",
          "cornell_seeding_rates", "seeds per pound as printed; the claim is not arithmetic",
          28, 0.3, P,
          lambda: _share(_counted(lolium_perenne=(0.7, 250_000), poa_pratensis=(0.3, 1_500_000)),
                         "PRG")),
    Check("seed-pure-live-meadow-grass-more", "bulk for one unit of that [-]",
          "cornell_seeding_rates", "said to be some 20 % more; 1 over 0.8075", 1.238, 0.001, P,
          lambda: bulk_for(1, 0.95, 0.85)),
    Check("seed-pure-live-poor", "pure live share at purity 48 %, germination 80 %", "lsu_pls",
          "worked example, printed 0.38", 0.384, 1e-9, P, lambda: pure_live_share(0.48, 0.80)),
    *(
        Check(f"seed-count-meadow-grass-{count}",
              f"seeds per area at 7.5 g/m2 and {count} seeds a gram [dm-2]", "christians_1979",
              "abstract, least and most of nine varieties", seeds, 1, P,
              lambda count=count: 7.5 / 100 * by_number(  # type: ignore[misc]
                  [LotPart("poa pratensis", 1, thousand_seed_weight=1000 / count)]).seeds_per_g)
        for count, seeds in ((1847, 139), (4413, 331))
    ),
    Check("seed-count-meadow-grass", "seeds per area at 7.5 g/m2 and 2744 seeds a gram [dm-2]",
          "christians_1979", "abstract, mean count", 206, 1, P,
          lambda: 7.5 / 100 * by_number(
              [LotPart("poa pratensis", 1, thousand_seed_weight=1000 / 2744)]).seeds_per_g),
    Check("seed-viable-basis-low",
          "1000 viable seeds per square foot, per square metre", "grounds_pls",
          "basis of US rates", 10_764, 10.8, P, lambda: _per_m2(1000)),
    Check("seed-viable-basis-high",
          "2000 viable seeds per square foot, per square metre", "grounds_pls",
          "basis of US rates", 21_528, 21.6, P, lambda: _per_m2(2000)),
    Check("seed-ideal-stand-low",
          "7 plants per square inch, per square metre", "umass_seeding_rates",
          "ideal stand", 10_850, 10.9, P, lambda: _per_m2(7 * 144)),
    Check("seed-ideal-stand-high",
          "14 plants per square inch, per square metre", "umass_seeding_rates",
          "ideal stand", 21_700, 21.7, P, lambda: _per_m2(14 * 144)),
    Check("seed-pound-per-1000-square-feet",
          "1 lb/1000 ft2 in g/m2", "definition", "international pound and foot",
          4.882, 0.01, Grade.DEFINED, lambda: convert(1, "lb/1000ft2")[0]),
    Check("seed-lawn-recipe-bent",
          "browntop by number in a five-part lawn recipe [%]", "lawn_recipes",
          "recipe as printed, seed weights of the Kew database", 40.5, 0.5, P,
          lambda: _share(_recipe(), "browntop")),
    *(
        Check(f"seed-lawn-recipe-{find_species(name).model_name}",
              f"{name} by number in that recipe [%]", "lawn_recipes",
              "recipe as printed, seed weights of the Kew database", expected, 0.05, P,
              lambda name=name: _share(_recipe(), name))  # type: ignore[misc]
        for name, expected in (
            ("perennial ryegrass", 13.7), ("smooth-stalked meadow-grass", 20.3),
            ("slender creeping red fescue", 8.4), ("chewings fescue", 17.1),
        )
    ),
    Check("seed-utility-recipe", "seeds in a gram of 40 ryegrass, 50 strong creeping, 10 browntop",
          "lawn_recipes", "recipe as printed, seed weights of the Kew database", 1950, 1, P,
          lambda: _utility().seeds_per_g),
    *(
        Check(f"seed-utility-recipe-{find_species(name).model_name}",
              f"{name} by number in it [%]", "lawn_recipes",
              "recipe as printed, seed weights of the Kew database", expected, 0.06, P,
              lambda name=name: _share(_utility(), name))  # type: ignore[misc]
        for name, expected in (
            ("perennial ryegrass", 10.3), ("strong creeping red fescue", 21.4),
            ("browntop bent", 68.4),
        )
    ),
    *(
        Check(f"seed-bobbin-{key}", f"{what} of 40 Chewings, 40 slender, 20 browntop at 30 g/m2",
              "practice", "weight times label over thousand-seed weight", expected, tolerance,
              Grade.DEFINED, got)
        for key, what, expected, tolerance, got in (
            ("fescue", "viable Chewings seeds a m2", 9545, 0.5, lambda: _bobbin(0)),
            ("slender", "viable slender fescue seeds a m2", 9545, 0.5, lambda: _bobbin(1)),
            ("bent", "viable browntop seeds a m2", 70_671, 0.5, lambda: _bobbin(2)),
            ("all", "viable seeds a m2", 89_761, 0.5,
             lambda: 30 * by_number(parts_of("Bobbin")).viable_seeds_per_g),
            ("share", "browntop by number [%]", 79, 0.5,
             lambda: 100 * by_number(parts_of("Bobbin")).parts[2].share_of_viable),
        )
    ),
    *(
        Check(f"seed-80-20-at-25-{key}", f"{what} of 80:20 Chewings and browntop at 25 g/m2",
              "practice", "weight over thousand-seed weights of 1.0 and 0.07 g", expected,
              tolerance, Grade.DEFINED, got)
        for key, what, expected, tolerance, got in (
            ("fescue", "Chewings seeds a m2", 20_000, 0.5,
             lambda: 25 * _plain_greens().parts[0].seeds_per_g),
            ("bent", "browntop seeds a m2", 71_429, 0.5,
             lambda: 25 * _plain_greens().parts[1].seeds_per_g),
            ("share", "browntop by number [%]", 78, 0.5,
             lambda: 100 * _plain_greens().parts[1].share_by_number),
        )
    ),
    Check("seed-lawn-recipe-seeds", "seeds in a gram of that recipe", "lawn_recipes",
          "recipe as printed, seed weights of the Kew database", 1645, 16.45, P,
          lambda: _recipe().seeds_per_g),
    Check("seed-80-20", "seeds in a gram of 80:20 Chewings and browntop", "lawn_recipes",
          "recipe as printed, seed weights of the Kew database", 3566, 1, P,
          lambda: _greens(0.8).seeds_per_g),
    Check("seed-80-20-bent", "browntop by number in that mixture [%]", "lawn_recipes",
          "recipe as printed, seed weights of the Kew database", 74.8, 0.05, P,
          lambda: _share(_greens(0.8), "browntop")),
    Check("seed-70-30", "seeds in a gram of 70:30 Chewings and browntop", "lawn_recipes",
          "recipe as printed, seed weights of the Kew database", 4787, 1, P,
          lambda: _greens(0.7).seeds_per_g),
    Check("seed-70-30-bent", "browntop by number in that mixture [%]", "lawn_recipes",
          "recipe as printed, seed weights of the Kew database", 83.6, 0.05, P,
          lambda: _share(_greens(0.7), "browntop")),
    *(
        Check(f"seed-half-germination-meadow-grass-{soil}",
              f"days to half germination of meadow-grass at {soil} °C",
              "larsen_bibby_2005", "abstract: base 2.6 °C, 115.6 °C d", days, 0.2, P,
              lambda soil=soil: _half("poa pratensis", soil))  # type: ignore[misc]
        for soil, days in ((8, 21.4), (12, 12.3), (16, 8.6), (20, 6.6), (24, 5.4))
    ),
    *(
        Check(f"seed-half-germination-ryegrass-{soil}",
              f"days to half germination of ryegrass at {soil} °C",
              "larsen_bibby_2005", "abstract: base 3.6 °C, 63.9 °C d", days, 0.2, P,
              lambda soil=soil: _half("PRG", soil))  # type: ignore[misc]
        for soil, days in ((12, 7.6), (20, 3.9))
    ),
    Check("seed-cold-spring-day",
          "day on which soil warming from 4.7 to 23.5 °C in 52 days meets 10 °C",
          "bentgrass_cold_spring_2021", "abstract; worked out", 14.7, 0.3, P, _day_at_ten),
    Check("seed-cold-spring-sum",
          "warmth above 0 °C until then [°C d]", "bentgrass_cold_spring_2021",
          "abstract; worked out", 108, 3, P, lambda: warmth_until(SPRING_SOIL, _day_at_ten())),
    Check("seed-bag-annual-meadow-grass-weight",
          "annual meadow-grass in ryegrass at 35 g/m2, at most [g/m2]",
          "seed_annex_2016", "0.4 % by weight, higher voluntary standard", 0.14, 0.0014, P,
          lambda: _brought("annual meadow-grass", Standard.VOLUNTARY) * 0.30 / 1000),
    Check("seed-bag-annual-meadow-grass-voluntary",
          "annual meadow-grass seeds in ryegrass at 35 g/m2, at most",
          "seed_annex_2016", "0.4 % by weight, higher voluntary standard", 467, 4.67, P,
          lambda: _brought("annual meadow-grass", Standard.VOLUNTARY)),
    Check("seed-bag-annual-meadow-grass-statutory",
          "the same where only the statutory limit is known",
          "seed_annex_2016", "1.0 % of any one other species", 1167, 11.7, P,
          lambda: _brought("annual meadow-grass", Standard.STATUTORY)),
    Check("seed-bag-couch", "couch seeds in ryegrass at 35 g/m2, at most", "seed_annex_2016",
          "10 seeds in a sample of 60 g, higher voluntary standard", 5.83, 0.01, P,
          lambda: _brought("couch", Standard.VOLUNTARY)),
    *(
        Check(f"seed-per-gram-{weight}", f"seeds in a gram at {weight} g per thousand",
              "kew_sid_2019", "thousand-seed weight", seeds, 0.5, P,
              lambda weight=weight: by_number(  # type: ignore[misc]
                  [LotPart("PRG", 1, thousand_seed_weight=weight)]).seeds_per_g)
        for weight, seeds in ((2.0, 500), (0.3, 3333), (0.075, 13_333))
    ),
]  # fmt: skip
