"""Day-to-day care: clips, slits and holes, dressing, feed, sprayers, vibration, outlines."""

from __future__ import annotations

from functools import partial

from swardbook.foundation.provenance import Grade
from swardbook.husbandry.areas import between_offsets, circle, ellipse, outline
from swardbook.husbandry.bulk import depth_mm, volume_l, weight_kg
from swardbook.husbandry.cylinder import (
    clip_mm,
    clips_a_turn,
    cuts_per_metre,
    ground_driven_clip_mm,
)
from swardbook.husbandry.nutrients import need_g_m2, product_g_m2, share_of, soil_g_m2
from swardbook.husbandry.slits import core_volume_l_m2, hole_share, holes_m2, slit_share
from swardbook.husbandry.slits import slit_volume_l_m2 as slit_volume
from swardbook.husbandry.spreading import run_for_share, spray_l_m2, spread_g_m2, tank_area_m2
from swardbook.husbandry.vibration import ACTION_M_S2, daily_exposure, hours_to, points
from swardbook.seed.order import seed_order
from tests.support.checks import Check

IN, FT = 25.4, 0.3048
KMH, MPH = 1 / 3.6, 0.44704
L_SHAPE = [(0, 0), (12, 0), (12, 5), (7, 5), (7, 9), (0, 9)]
PENTAGON = [(0, 0), (10, 1), (12, 7), (4, 9), (-1, 4)]
ACRE_M2 = 4046.8564224


def _clip(speed: float, turns: float, blades: int) -> float:
    return clip_mm(speed * KMH, turns, blades)


def _slits(blade: float, spacing: float) -> float:
    return 100 * slit_share(blade, spacing)


def _least(nutrient: str) -> float:
    return need_g_m2(nutrient, 0, 0, 100, 1.5).floor


def _course(inches: float) -> float:
    return run_for_share(ACRE_M2 / 128, inches * IN / 1000) / FT


_CLIPS = [
    (f"clip_{turns}_{blades}", f"clip at {speed:g} km/h, {turns} turns a minute, {blades} blades",
     speed, turns, blades, expected)
    for speed, turns, blades, expected in (
        (4, 2000, 8, 4.167), (5, 1000, 6, 13.889), (3.5, 900, 10, 6.481), (4, 600, 5, 22.222),
    )
]  # fmt: skip

CLIPS = [
    *(
        Check(id_, f"{what} [mm]", "fairway_manual", "formula of the clip", expected, 0.001,
              Grade.DEFINED, partial(_clip, speed, turns, blades))
        for id_, what, speed, turns, blades, expected in _CLIPS
    ),
    Check("clip_cuts_per_metre", "cuts per metre of a 13.889 mm clip", "fairway_manual",
          "formula of the clip", 72.0, 0.01, Grade.DEFINED,
          lambda: cuts_per_metre(_clip(5, 1000, 6))),
    Check("clip_imperial", "clip at 4 mph, 2000 turns, 8 blades [in]", "fairway_manual",
          "constant 1056 for mph and inches", 0.264, 0.0005, Grade.DEFINED,
          lambda: clip_mm(4 * MPH, 2000, 8) / IN),
    Check("clip_wheel_driven", "clip of a 10.25 in wheel, 27 clips a turn [in]", "reel_gearing",
          "wheel 10.25 in, 63 to 14 teeth, 6 blades", 1.193, 0.001, Grade.PUBLISHED,
          lambda: ground_driven_clip_mm(10.25 * IN, 27) / IN),
    Check("clip_gears", "clips a turn of the wheel from 63 and 14 teeth, 6 blades", "reel_gearing",
          "27 cuts a turn of the wheel", 27, 1e-9, Grade.PUBLISHED,
          lambda: clips_a_turn(63, 14, 6)),
]  # fmt: skip

_SLITS = {
    (1.0, 12.7): 7.87, (1.0, 25.4): 3.94, (1.5, 15.0): 10.0, (1.5, 38.0): 3.95, (2.0, 12.7): 15.75,
    (2.0, 20.0): 10.0, (2.0, 25.4): 7.87, (3.0, 12.7): 23.62, (3.0, 25.0): 12.0, (3.0, 38.0): 7.89,
}  # fmt: skip

OPENED = [
    *(
        Check(f"slits_{blade:g}_{spacing:g}".replace(".", "_"),
              f"surface opened by {blade:g} mm blades at {spacing:g} mm [%]", "hole_tables",
              "blade over spacing", expected, 0.006, Grade.DEFINED,
              partial(_slits, blade, spacing))
        for (blade, spacing), expected in _SLITS.items()
    ),
    Check("slits_two_ways", "2 mm blades at 25.4 mm, two directions [%]", "hole_tables",
          "1 - (1 - w/s)²", 15.13, 0.01, Grade.DEFINED, lambda: 100 * slit_share(2, 25.4, 2)),
    Check("slits_volume", "taken out by 2 mm blades at 25.4 mm, 6.35 mm deep [L/m²]", "hole_tables",
          "share times depth", 0.50, 0.001, Grade.DEFINED, lambda: slit_volume(2, 25.4, 6.35)),
    Check("holes_81_quarter_inch", "81 holes of a quarter inch in a square foot [%]", "hole_tables",
          "table", 2.76, 0.005, Grade.PUBLISHED,
          lambda: 100 * hole_share(0.25 * IN, 12 * IN / 9, 12 * IN / 9)),
    Check("holes_outside", "tines 5/8 in outside at 1.5 in [%]", "hole_tables", "table", 13.63,
          0.01, Grade.PUBLISHED, lambda: 100 * hole_share(0.625 * IN, 1.5 * IN, 1.5 * IN)),
    Check("holes_inside", "the same tines, 0.470 in inside [%]", "hole_tables", "table", 7.71,
          0.005, Grade.PUBLISHED, lambda: 100 * hole_share(0.470 * IN, 1.5 * IN, 1.5 * IN)),
    Check("holes_13_50", "13 mm tines at 50 mm: holes [m⁻²]", "hole_tables", "1 over spacing²",
          400, 1e-9, Grade.DEFINED, lambda: holes_m2(50, 50)),
    Check("holes_13_50_share", "13 mm tines at 50 mm: surface [%]", "hole_tables", "π/4 d²", 5.3,
          0.05, Grade.DEFINED, lambda: 100 * hole_share(13, 50, 50)),
    Check("holes_13_50_cores", "13 mm tines at 50 mm, 100 mm deep: cores [L/m²]", "hole_tables",
          "π/4 d² times depth", 5.3, 0.05, Grade.DEFINED,
          lambda: core_volume_l_m2(13, 50, 50, 100)),
]  # fmt: skip

FEED = [
    *(
        Check(f"element_{compound}_{element}".replace(" ", "_").lower(),
              f"{element} in {compound}, by weight", "iupac_2021", "atomic weights", expected,
              1e-4, Grade.JUDGED, partial(share_of, element, compound))
        for compound, element, expected in (
            ("P2O5", "P", 0.4364), ("K2O", "K", 0.8302), ("MgO", "Mg", 0.6030),
            ("SO3", "S", 0.4004), ("CaO", "Ca", 0.7147), ("urea", "N", 0.4665),
            ("ammonium sulphate", "N", 0.2120), ("ammonium sulphate", "S", 0.2426),
            ("iron sulphate heptahydrate", "Fe", 0.2009),
            ("iron sulphate monohydrate", "Fe", 0.3287),
        )
    ),
    Check("soil_ppm_per_gram", "mg/kg in 100 mm of soil for each g/m²", "mlsn_examples",
          "conversion printed as 6.7", 6.7, 0.04, Grade.PUBLISHED,
          lambda: 1 / soil_g_m2(1, 100, 1.5)),
    Check("need_p_olsen", "phosphorus for 24 g N, 2.5 to 3 mg/kg, least 6 mg/kg [g/m²]",
          "mlsn_examples", "Olsen example, printed 3.5", 3.5, 0.03, Grade.PUBLISHED,
          lambda: need_g_m2("P", 2.5, 24, 100, 1.5, floor=6).need),
    Check("need_k_45", "potassium for 10 g N at 45 mg/kg [g/m²]", "mlsn_2014", "a + b - c",
          3.80, 0.005, Grade.DEFINED, lambda: need_g_m2("K", 45, 10, 100, 1.5).need),
    Check("need_k_ppm", "potassium used by 10 g N, in mg/kg [mg/kg]", "mlsn_examples",
          "10 g N uses 34 ppm", 34, 1.0, Grade.PUBLISHED,
          lambda: need_g_m2("K", 40, 10, 100, 1.5).used / soil_g_m2(1, 100, 1.5)),
    *(
        Check(f"soil_least_{nutrient.lower()}", f"least {nutrient} in 100 mm of soil [g/m²]",
              "mlsn_2014", "table, times depth and density", expected, 0.005, Grade.DEFINED,
              partial(_least, nutrient))
        for nutrient, expected in (("K", 5.55), ("P", 3.15), ("Ca", 49.65), ("Mg", 7.05),
                                   ("S", 1.05))
    ),
    Check("product_150_m2", "12 % product for 3 g N on 150 m² [kg]", "mlsn_examples",
          "product for an area", 3.75, 1e-9, Grade.DEFINED,
          lambda: product_g_m2(3, 12) * 150 / 1000),
    Check("product_last_feed", "20.5 % product for the last 3.4 g N [g/m²]", "mlsn_examples",
          "programme arithmetic", 16.6, 0.02, Grade.DEFINED, lambda: product_g_m2(3.4, 20.5)),
]  # fmt: skip

_COURSES = {18: 227, 20: 204, 22: 185, 24: 170, 26: 157, 28: 146, 30: 136, 32: 127, 34: 120,
            36: 113, 38: 107, 40: 102}  # fmt: skip

SPREADING = [
    *(
        Check(f"course_{inches}_in", f"course for nozzles {inches} in apart [ft]", "osu_817",
              "table of courses", feet, 1.0, Grade.PUBLISHED,
              partial(_course, inches))
        for inches, feet in _COURSES.items()
    ),
    Check("spread_900_g", "900 g over 1.5 by 20 m [g/m²]", "practice", "sum of the sheet", 30, 1e-9,
          Grade.DEFINED, lambda: spread_g_m2(900, 1.5, 20)),
    Check("spray_240", "0.8 L/min at 4 km/h over 0.5 m [L/ha]", "osu_817", "constant 600", 240,
          0.01, Grade.DEFINED, lambda: spray_l_m2(0.8, 4 * KMH, 0.5) * 10_000),
    Check("spray_knapsack", "0.6 L/min at 3.6 km/h over 1 m [L/ha]", "osu_817", "constant 600",
          100, 0.01, Grade.DEFINED, lambda: spray_l_m2(0.6, 1.0, 1.0) * 10_000),
    Check("spray_gallons", "0.3 gal/min at 3 mph over 20 in [gal/acre]", "osu_817",
          "constant 5940", 29.7, 0.01, Grade.DEFINED,
          lambda: spray_l_m2(0.3 * 3.785411784, 3 * MPH, 20 * IN / 1000) * ACRE_M2 / 3.785411784),
    Check("tank_acres", "200 gallons at 20 gallons an acre [acre]", "osu_817", "tank", 10, 1e-6,
          Grade.PUBLISHED,
          lambda: tank_area_m2(200 * 3.785411784, 20 * 3.785411784 / ACRE_M2) / ACRE_M2),
]  # fmt: skip

BULK = [
    Check("dressing_81_t", "81 t/ha of sand [mm]", "topdressing_notes", "1.5 t a m³", 5.4, 0.01,
          Grade.PUBLISHED, lambda: depth_mm(8.1, 1.5)),
    Check("dressing_75_kg", "75 kg on 100 m² [mm]", "topdressing_notes", "1.5 t a m³", 0.5, 0.001,
          Grade.PUBLISHED, lambda: depth_mm(0.75, 1.5)),
    Check("dressing_400_g", "400 g on 2000 cm² [mm]", "topdressing_notes", "printed 1.3", 1.3, 0.04,
          Grade.PUBLISHED, lambda: depth_mm(0.4 / 0.2, 1.5)),
    Check("soil_150_m2", "100 mm of soil on 150 m², 1.5 t a m³ [t]", "practice",
          "area, depth and density", 22.5, 1e-9, Grade.DEFINED,
          lambda: weight_kg(150, 100, 1.5) / 1000),
    Check("seed_150_m2", "35 g/m² on 150 m² with a twentieth to spare [kg]", "practice",
          "rate, area and spare", 5.51, 0.005, Grade.DEFINED,
          lambda: seed_order(150, 35, 0.05).needed_g / 1000),
    Check("compost_a_yard", "a cubic yard on 1000 square feet, a quarter inch as is said [mm]",
          "definition", "volume over area; a quarter inch would be 6.4", 8.2, 0.05, Grade.DEFINED,
          lambda: (0.9144**3 * 1000) / volume_l(1000 * FT**2, 1)),
    Check("dressing_450_l", "3 mm on 150 m² [L]", "topdressing_notes", "1 mm is 1 L/m²", 450, 1e-9,
          Grade.DEFINED, lambda: volume_l(150, 3)),
]  # fmt: skip

VIBRATION = [
    Check("vibration_points", "4 m/s² for an hour [points]", "hse_points", "2 a² T", 32, 1e-9,
          Grade.JUDGED, lambda: points(4, 1)),
    Check("vibration_to_action", "4 m/s² to the action value [h]", "hse_points", "100 points", 3.1,
          0.05, Grade.JUDGED, lambda: hours_to(ACTION_M_S2, 4)),
    Check("vibration_a8", "4 m/s² for two hours, A(8) [m/s²]", "eu_vibration_2002", "annex",
          2.0, 1e-9, Grade.DEFINED, lambda: daily_exposure(4, 2)),
    Check("vibration_at_5", "5 m/s² to the action value [h]", "eu_vibration_2002", "annex", 2.0,
          1e-9, Grade.DEFINED, lambda: hours_to(ACTION_M_S2, 5)),
]  # fmt: skip

AREAS = [
    Check("area_l_shape", "an L of six corners [m²]", "practice", "shoelace; shapely agrees", 88,
          1e-9, Grade.DEFINED, lambda: outline(L_SHAPE)[0]),
    Check("edge_l_shape", "its outline [m]", "practice", "sum of edges; shapely agrees", 42, 1e-9,
          Grade.DEFINED, lambda: outline(L_SHAPE)[1]),
    Check("area_pentagon", "five corners [m²]", "practice", "shoelace; shapely agrees", 81.5, 1e-4,
          Grade.DEFINED, lambda: outline(PENTAGON)[0]),
    Check("edge_pentagon", "their outline [m]", "practice", "sum of edges; shapely agrees",
          35.8148, 1e-4, Grade.DEFINED, lambda: outline(PENTAGON)[1]),
    Check("area_circle_8", "a circle 8 m across [m²]", "practice", "π/4 d²", 50.27, 0.005,
          Grade.DEFINED, lambda: circle(8)),
    Check("area_ellipse", "an ellipse 12 by 8 m [m²]", "practice", "π/4 of the product", 75.398,
          0.001, Grade.DEFINED, lambda: ellipse(12, 8)),
    Check("area_offsets", "offsets each 2 m: 0, 4.2, 5.6, 6.1, 5.3, 3.9, 0 [m²]", "practice",
          "trapezium rule; SciPy agrees", 50.2, 1e-9, Grade.DEFINED,
          lambda: between_offsets([0, 4.2, 5.6, 6.1, 5.3, 3.9, 0], 2)),
]  # fmt: skip

CHECKS: list[Check] = [*CLIPS, *OPENED, *FEED, *SPREADING, *BULK, *VIBRATION, *AREAS]
