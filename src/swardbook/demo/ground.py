"""The pieces of the made-up ground: site, zones, pegs, honest squares and lots."""

from __future__ import annotations

from datetime import date

from swardbook.demo.names import (
    APRON,
    LIME_WALK,
    MAIN,
    NURSERY,
    SHORT,
    SURROUND,
    TODAY,
    TRIAL,
)
from swardbook.demo.plan import SITE_PLAN, outlined, placed, placed_square
from swardbook.demo.weather import ELEVATION_M, LATITUDE
from swardbook.husbandry.ground import HonestSquare, Mower, Peg, Site, Tolerance, Use, Zone
from swardbook.seed.lot import LotPart, SeedLot

SITE = Site(
    name="Fennowick Croquet Club",
    latitude=LATITUDE,
    elevation_m=ELEVATION_M,
    weekly_hours=9.0,
    hose_l_min=14.0,
    no_machines_on=("sunday",),
    currency="GBP",
    made_up_today=TODAY,
    plan=SITE_PLAN,
)

CYLINDER = Mower("cylinder", width_mm=510.0, has_box=True, lowest_mm=4.0)
ROTARY = Mower("rotary", width_mm=530.0, has_box=True, lowest_mm=20.0)
CLAY = "silty clay loam"

_ZONES = (
    Zone(
        MAIN, 819.2, Use.COURT_OR_GREEN, Tolerance(0.10, 0.03, 0), 8.0, CYLINDER, CLAY,
        sun_hours=7.0, iron_stains_near=True,
        note="32.0 by 25.6 m. Stone path along the east wall: no iron product within 1 m of it.",
    ),
    Zone(
        SHORT, 460.8, Use.COURT_OR_GREEN, Tolerance(0.05, 0.03, 0), 8.0, CYLINDER, "sandy loam",
        sun_hours=7.0, note="24.0 by 19.2 m. Stripped in August 2010; 25 mm of new rootzone.",
    ),
    Zone(
        SURROUND, 381.6, Use.SURROUND, Tolerance(0.35, 0.05, 6), 20.0, ROTARY, CLAY,
        sun_hours=6.0, note="3 m round the main court. Not resown, only mown differently.",
    ),
    Zone(
        APRON, 63.0, Use.PLAY, Tolerance(0.40, 0.10, 4), 20.0, ROTARY, CLAY,
        sun_hours=6.0, note="14.0 by 4.5 m. Heavy wear at the pavilion door.",
    ),
    Zone(
        LIME_WALK, 180.0, Use.ORNAMENTAL, Tolerance(0.20, 0.10, 4), 35.0, ROTARY, CLAY,
        sun_hours=2.5, note="30.0 by 6.0 m under limes. Old stump dip at the far end.",
    ),
    Zone(
        TRIAL, 192.4, Use.TRIAL, Tolerance(1.0, 1.0, 0), 10.0, CYLINDER, CLAY,
        sun_hours=7.0, note="20.25 by 9.5 m, 40 plots. Boxed always; no verticut, no pulling.",
    ),
    Zone(
        NURSERY, 48.0, Use.NURSERY, Tolerance(0.05, 0.02, 0), 10.0, CYLINDER, CLAY,
        sun_hours=6.0, note="8.0 by 6.0 m of sound bent and fescue turf for repairs.",
    ),
)  # fmt: skip
ZONES = tuple(map(outlined, _ZONES))


def _grid(
    letter: str, zone: str, columns: int, rows: int, length_m: float, width_m: float
) -> list[Peg]:
    """Set pegs on an even grid, each told by two tape distances."""
    places = [
        (length_m * (column + 0.5) / columns, width_m * (row + 0.5) / rows)
        for row in range(rows)
        for column in range(columns)
    ]
    return [
        placed(
            Peg(f"{letter}{n:02d}", zone,
                f"{along:.1f} m along, {across:.1f} m in from the south-west"),
            along, across,
        )
        for n, (along, across) in enumerate(places, 1)
    ]  # fmt: skip


PEGS = (
    *_grid("M", MAIN, 6, 4, 32.0, 25.6),
    *_grid("S", SHORT, 6, 4, 24.0, 19.2),
    *_grid("R", SURROUND, 12, 1, 139.2, 3.0),
    *_grid("A", APRON, 6, 1, 14.0, 4.5),
    *_grid("L", LIME_WALK, 6, 2, 30.0, 6.0),
)
"""The pegs in the surround are taped along its middle line, from the south-west corner."""

_SQUARES_AT = (
    (3.1, 2.2), (9.4, 6.0), (15.8, 3.4), (21.5, 8.1),
    (5.0, 12.7), (11.2, 16.3), (17.9, 13.5), (22.4, 17.6),
)  # fmt: skip
SQUARES = tuple(
    placed_square(
        HonestSquare(
            f"H{n}", SHORT, 1.0, date(2010, 9, 4), heads_boxed=True,
            sketch=f"{along:.1f} m along, {across:.1f} m in from the south-west",
        ),
        along, across,
    )
    for n, (along, across) in enumerate(_SQUARES_AT, 1)
)  # fmt: skip
"""Sown, fed and mown as the rest; never pulled."""

_TYPICAL = {
    # species: (thousand-seed weight g, purity, germination); typical figures, common practice
    "perennial ryegrass": (1.9, 0.98, 0.85),
    "chewings fescue": (1.0, 0.97, 0.82),
    "slender creeping red fescue": (1.0, 0.97, 0.82),
    "strong creeping red fescue": (1.1, 0.97, 0.82),
    "hard fescue": (0.8, 0.96, 0.80),
    "browntop bent": (0.07, 0.97, 0.85),
    "smooth-stalked meadow-grass": (0.33, 0.95, 0.78),
    "tall fescue": (2.2, 0.98, 0.85),
    "tufted hair-grass": (0.25, 0.92, 0.75),
}


def _lot(
    code: str, mixture: str, parts: str, kilograms: float, price: str, tested: date, note: str = ""
) -> SeedLot:
    """Read a lot from ``species [cultivar] percent; ...``."""
    read = []
    for part in parts.split(";"):
        name, percent = part.strip().rsplit(" ", 1)
        species, _, cultivar = name.partition(" (")
        weight, purity, germination = _TYPICAL[species]
        share = float(percent) / 100
        read.append(LotPart(species, share, cultivar.rstrip(")"), purity, germination, weight))
    return SeedLot(code, mixture, tuple(read), kilograms * 1000, price, tested, note=note)


_MAY = date(2010, 5, 17)
LOTS = (
    _lot(
        "BB-0417", "Bobbin",
        "chewings fescue (variety A) 40; slender creeping red fescue (variety B) 40; "
        "browntop bent (variety C) 20",
        40.0, "9.40", _MAY, "The rest is kept dry in the seed shed for refills.",
    ),
    _lot(
        "TH-1182", "Thimble",
        "browntop bent (variety C) 50; browntop bent (variety D) 50", 1.0, "24.00", _MAY,
    ),
    _lot(
        "CW-0093", "Candlewick",
        "slender creeping red fescue 50; chewings fescue 30; hard fescue 20", 1.0, "8.60", _MAY,
    ),
    _lot(
        "GP-2240", "Gatepost",
        "perennial ryegrass (variety E) 50; perennial ryegrass (variety F) 50",
        1.0, "6.20", _MAY,
    ),
    _lot(
        "TC-0771", "Teacake",
        "perennial ryegrass 40; strong creeping red fescue 25; slender creeping red fescue 25; "
        "smooth-stalked meadow-grass 10", 1.0, "6.40", _MAY,
    ),
    _lot(
        "WB-0318", "Wheelbarrow",
        "perennial ryegrass 60; smooth-stalked meadow-grass 40", 1.0, "6.90", _MAY,
    ),
    _lot(
        "PW-0555", "Pocketwatch",
        "perennial ryegrass 70; slender creeping red fescue 20; browntop bent 10",
        1.0, "7.80", _MAY,
    ),
    _lot(
        "UM-0644", "Umbrella",
        "strong creeping red fescue 35; chewings fescue 30; hard fescue 20; tufted hair-grass 10; "
        "browntop bent 5", 10.0, "8.20", _MAY,
    ),
    _lot(
        "HS-1009", "Haystack",
        "tall fescue 85; smooth-stalked meadow-grass 15", 1.0, "6.60", _MAY,
    ),
    _lot(
        "BB-0533", "Bobbin",
        "chewings fescue (variety G) 40; slender creeping red fescue (variety B) 40; "
        "browntop bent (variety C) 20",
        10.0, "9.80", date(2011, 6, 6),
        "Another variety of Chewings fescue than BB-0417. Paid from next year's account.",
    ),
)  # fmt: skip
