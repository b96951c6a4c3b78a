"""Feeding: programmes, starters, what water brings, what a gram of nitrogen takes with it."""

from __future__ import annotations

from calendar import month_name
from datetime import date
from functools import partial

from swardbook.foundation.provenance import Grade
from swardbook.foundation.quantities import convert
from swardbook.husbandry.happenings import Feed
from swardbook.husbandry.labels import given
from swardbook.husbandry.nutrients import carried_g_m2, need_g_m2, product_g_m2, share_of
from swardbook.husbandry.vibration import points
from swardbook.planning.feed_split import bottom_up, split_by_growth
from swardbook.planning.feed_year import ledger
from swardbook.planning.refills import seed_for_holes
from swardbook.seed.bays import bags_for_bays
from swardbook.weather.thermal import growth_potential
from tests.support.arrays import days, one
from tests.support.checks import Check
from tests.support.grounds import look, on

LB_1000FT2 = convert(1, "lb/1000ft2")[0]
MEANS = (4.2, 4.4, 6.3, 8.6, 11.7, 14.6, 16.8, 16.5, 13.9, 10.4, 6.9, 4.5)
"""Monthly means of a lowland place in England [°C]."""


def _so_far(feeds: int) -> float:
    programme = (
        on(date(2011, 4, 1), Feed("14:3:7", 50, 14, 3, 7)),
        on(date(2011, 5, 1), Feed("8:0:0", 35, 8)),
        on(date(2011, 6, 1), Feed("8:0:0", 35, 8)),
    )
    return ledger(look(*programme[:feeds], today=date(2011, 7, 1)), date(2011, 3, 1))[-1].so_far


def _gives(label: tuple[float, float, float], rate: float, nutrient: str) -> float:
    gave = given(Feed("", rate, *label))
    assert gave is not None
    return float(getattr(gave, nutrient))


def _taken(nutrient: str, nitrogen: float) -> float:
    return need_g_m2(nutrient, 0, nitrogen, 100, 1.5).used


def _potential(celsius: float) -> float:
    return one(growth_potential(days(celsius)))


PROGRAMME = [
    *(
        Check(f"programme_{feeds}_feeds", f"nitrogen after {feeds} feeds [g/m²]", "gma_programme",
              "14:3:7 at 50, then 8:0:0 at 35 twice", expected, 0.001, Grade.PUBLISHED,
              partial(_so_far, feeds))
        for feeds, expected in ((1, 7.0), (2, 9.8), (3, 12.6))
    ),
    Check("preseed_nitrogen", "18-3.5-8 at 35 g/m²: nitrogen [g/m²]", "preseed_advice",
          "rate times label", 6.3, 1e-9, Grade.DEFINED,
          lambda: _gives((18, 3.5, 8), 35, "nitrogen")),
    Check("preseed_phosphorus", "18-3.5-8 at 35 g/m²: phosphorus [g/m²]", "preseed_advice",
          "rate times label, as the element", 0.53, 0.005, Grade.DEFINED,
          lambda: _gives((18, 3.5, 8), 35, "phosphorus")),
    Check("preseed_potassium", "18-3.5-8 at 35 g/m²: potassium [g/m²]", "preseed_advice",
          "rate times label, as the element", 2.32, 0.005, Grade.DEFINED,
          lambda: _gives((18, 3.5, 8), 35, "potassium")),
    Check("starter_pound", "5-10-5 at 20 lb/1000 ft²: nitrogen [lb/1000 ft²]",
          "quick_nitrogen_extension", "starter feed", 1.0, 1e-6, Grade.PUBLISHED,
          lambda: _gives((5, 10, 5), 20 * LB_1000FT2, "nitrogen") / LB_1000FT2),
    Check("starter_phosphorus", "5-10-5 at 20 lb/1000 ft²: phosphorus [g/m²]",
          "quick_nitrogen_extension", "the same, as the element", 4.26, 0.005, Grade.DEFINED,
          lambda: _gives((5, 10, 5), 20 * LB_1000FT2, "phosphorus")),
    Check("pound_in_grams", "1 lb/1000 ft² [g/m²]", "quick_nitrogen_extension",
          "one dose of quick nitrogen, in grams", 4.88, 0.005, Grade.PUBLISHED,
          lambda: LB_1000FT2),
    Check("pound_in_kg_ha", "1 lb/1000 ft² [kg/ha]", "quick_nitrogen_extension",
          "the same on a hectare", 48.8, 0.05, Grade.PUBLISHED,
          lambda: LB_1000FT2 / convert(1, "kg/ha")[0]),
    Check("label_12", "25 g/m² of 12 %: nitrogen [g/m²]", "practice", "product times label", 3.0,
          1e-9, Grade.DEFINED, lambda: _gives((12, 0, 9), 25, "nitrogen")),
    Check("label_10_10_10_n", "30 g/m² of 10-10-10: nitrogen [g/m²]", "practice",
          "product times label", 3.0, 1e-9, Grade.DEFINED,
          lambda: _gives((10, 10, 10), 30, "nitrogen")),
    Check("label_10_10_10_p", "30 g/m² of 10-10-10: phosphorus [g/m²]", "iupac_2021",
          "0.4364 of the oxide", 1.31, 0.005, Grade.JUDGED,
          lambda: _gives((10, 10, 10), 30, "phosphorus")),
    Check("label_10_10_10_k", "30 g/m² of 10-10-10: potassium [g/m²]", "iupac_2021",
          "0.8302 of the oxide", 2.49, 0.005, Grade.JUDGED,
          lambda: _gives((10, 10, 10), 30, "potassium")),
    Check("urea_50", "50 g/m² of 46-0-0: nitrogen [g/m²]", "practice", "product times label", 23.0,
          1e-9, Grade.DEFINED, lambda: _gives((46, 0, 0), 50, "nitrogen")),
    Check("need_k_as_oxide", "K2O for 3.80 g K/m² wanted, 10 g N, 45 mg/kg [g/m²]", "mlsn_2014",
          "a + b - c, as the oxide", 4.58, 0.005, Grade.DEFINED,
          lambda: need_g_m2("K", 45, 10, 100, 1.5).need / share_of("K", "K2O")),
    Check("p2o5_for_p", "P2O5 that holds a gram of P [g]", "iupac_2021", "atomic weights", 2.2913,
          1e-4, Grade.JUDGED, lambda: 1 / share_of("P", "P2O5")),
    Check("k2o_for_k", "K2O that holds a gram of K [g]", "iupac_2021", "atomic weights", 1.2046,
          1e-4, Grade.JUDGED, lambda: 1 / share_of("K", "K2O")),
    Check("need_k_40", "K wanted where the soil has 40 mg/kg and 10 g N uses 34: 1 yes",
          "mlsn_examples", "6 left are fewer than 37, so feed", 1, 0, Grade.PUBLISHED,
          lambda: float(need_g_m2("K", 40, 10, 100, 1.5).need > 0)),
    Check("product_12_for_3", "12 % product for 3 g N/m² [g/m²]", "practice", "dose over label",
          25.0, 1e-9, Grade.DEFINED, lambda: product_g_m2(3, 12)),
]  # fmt: skip

UPTAKE = [
    Check(f"taken_with_2_4_n_{nutrient.lower()}", f"{nutrient} taken up with 2.4 g N/m² [g/m²]",
          "mlsn_examples", "leaf of 4 N, 2 K, 0.5 P, 0.45 Ca, 0.2 Mg %", expected, tolerance,
          Grade.PUBLISHED, partial(_taken, nutrient, 2.4))
    for nutrient, expected, tolerance in (
        ("K", 1.2, 1e-9), ("P", 0.3, 1e-9), ("Ca", 0.3, 0.05), ("Mg", 0.12, 1e-9),
        ("S", 0.12, 1e-9),
    )
]  # fmt: skip

BROUGHT = [
    Check("irrigation_potassium", "potassium in 240 mm of 10 mg/L [g/m²]", "rain_nitrogen_notes",
          "irrigation water", 2.4, 1e-9, Grade.PUBLISHED, lambda: carried_g_m2(240, 10)),
    Check("rain_20_mm", "nitrogen in 20 mm of rain, 1.29 g/m² in 780 mm a year [g/m²]",
          "rain_nitrogen_notes", "New Forest", 0.033, 0.0005, Grade.PUBLISHED,
          lambda: carried_g_m2(20, 1000 * 1.29 / 780)),
]  # fmt: skip

_POTENTIAL = {0: 0.0013, 2: 0.0047, 4: 0.0145, 5: 0.0243, 6: 0.0392, 8: 0.0925, 10: 0.1915,
              12: 0.3472, 14: 0.5515, 15: 0.6615, 16: 0.7676, 18: 0.9360, 22: 0.9360, 25: 0.6615,
              30: 0.1915}  # fmt: skip

_SPLIT = (0.04, 0.05, 0.12, 0.32, 0.88, 1.70, 2.33, 2.25, 1.49, 0.60, 0.16, 0.05)

GROWTH = [
    *(
        Check(f"growth_potential_{celsius}", f"growth potential at {celsius} °C [-]",
              "gelernter_stowell_2005", "the curve; scipy's normal density over its own top agrees",
              expected, 6e-5, Grade.DEFINED, partial(_potential, celsius))
        for celsius, expected in _POTENTIAL.items()
    ),
    Check("growth_sum_of_year", "growth potential added up over twelve monthly means [-]",
          "woods_2014", "the curve at twelve means", 3.631, 0.005, Grade.DEFINED,
          lambda: bottom_up(MEANS, 1.0)),
    *(
        Check(f"growth_split_{name.lower()}", f"{name}'s part of 10 g N/m² [g/m²]", "woods_2014",
              "the curve at twelve means", expected, 0.005, Grade.DEFINED,
              lambda month=month: split_by_growth(MEANS, 10)[month])  # type: ignore[misc]
        for month, (name, expected) in enumerate(zip(month_name[1:], _SPLIT, strict=True))
    ),
    Check("growth_bottom_up", "year by 3 g N/m² a month of full growth [g/m²]", "woods_2014",
          "the curve at twelve means", 10.89, 0.01, Grade.DEFINED, lambda: bottom_up(MEANS, 3)),
]  # fmt: skip

SEED = [
    Check("plot_bag", "3 m² at 30 g/m²: one bag [g]", "practice", "area times rate", 90, 0,
          Grade.DEFINED, lambda: bags_for_bays([("plot", 3)], 30)[0].whole_g),
    Check("court_bag", "819.2 m² at 20 g/m² [g]", "practice", "area times rate", 16_384, 0,
          Grade.DEFINED, lambda: bags_for_bays([("court", 819.2)], 20)[0].whole_g),
    Check("holes_286", "286 holes of 100 mm at 28 g/m² [g]", "practice", "π/4 d² times the rate",
          62.9, 0.05, Grade.DEFINED, lambda: seed_for_holes(286, 100)),
    Check("vibration_two_hours", "4 m/s² for two hours [points]", "hse_points", "2 a² T", 64, 1e-9,
          Grade.JUDGED, lambda: points(4, 2)),
]  # fmt: skip

CHECKS: list[Check] = [*PROGRAMME, *UPTAKE, *BROUGHT, *GROWTH, *SEED]
