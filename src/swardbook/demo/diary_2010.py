"""The made-up diary, August to December 2010: cleared, mended, sown, closed for the winter."""

from __future__ import annotations

from datetime import date

from swardbook.demo.names import (
    BRAM,
    CREW,
    INES,
    LIME_WALK,
    MAIN,
    MAREN,
    SHORT,
    SURROUND,
    TOBIAH,
    TRIAL,
)
from swardbook.demo.plan import CUT_FLUSH, WITH_MARGIN
from swardbook.demo.writing import done
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import (
    Brush,
    Closure,
    DigClumps,
    Disease,
    Dress,
    Feed,
    Frost,
    HoldOff,
    Note,
    Reading,
    Refill,
    RefillCheck,
    Scarify,
    Seedlings,
    Sow,
    Strip,
    Tine,
    TugTest,
    Underfoot,
)
from swardbook.husbandry.worked_out import WorkedOut

ALL = ""


def _infiltration(day: str, zone: str, rates: tuple[int, ...], where: str) -> list[DiaryEntry]:
    return [
        done(day, zone, Reading("infiltration", rate, "mm/h"), INES, hours=0.2, note=where)
        for rate in rates
    ]


PLANNED_COSTS = {
    "Seed": "524.50", "Soil tests": "114.00", "Turf stripping": "210.00", "Skip": "290.00",
    "Dressing": "1238.00", "Scarifying": "234.00", "Tining": "790.00", "Cylinder": "265.00",
    "Verticut unit": "640.00", "Feed": "328.00", "Rain tanks": "412.00", "Nematodes": "58.00",
    "Frame and pegs": "86.00", "Fuel and oil": "145.00", "Other": "600.00",
}  # fmt: skip
"""What the committee planned to spend, line by line."""

SURVEY = [
    done("2010-08-05", ALL,
         WorkedOut("planned costs", "15 lines, 5,934.50 in all", PLANNED_COSTS), TOBIAH),
    done("2010-08-05", ALL, Note("Frame, pegs, soil thermometer, infiltration ring and tins."),
         TOBIAH, money="86.00"),
    done("2010-08-07", MAIN, Note("61 clumps of Yorkshire fog mapped, 9.4 m² in all."), INES,
         hours=1.5),
    done("2010-08-07", MAIN, Reading("pH", 6.4), INES, money="38.00"),
    done("2010-08-07", MAIN, Reading("pH", 7.2), INES, money="38.00", note="By the old wall."),
    done("2010-08-07", LIME_WALK, Reading("pH", 5.9), INES, money="38.00"),
    done("2010-08-07", MAIN, Reading("thatch", 18, "mm"), INES, hours=0.5,
         note="Mean of five cores."),
    done("2010-08-07", SHORT, Reading("thatch", 24, "mm"), INES, hours=0.5,
         note="Mean of five cores."),
    *_infiltration("2010-08-08", MAIN, (6, 9, 5), "South end."),
    *_infiltration("2010-08-08", MAIN, (38, 52, 44), "North end."),
    *_infiltration("2010-08-08", LIME_WALK, (22, 31, 27), ""),
    done("2010-08-09", ALL, Note("Seed: Bobbin 40 kg, Umbrella 10 kg, seven packs of 1 kg."),
         TOBIAH, money="524.50"),
    done("2010-08-09", ALL, Note("Two rain tanks of 1,250 L with fittings."), TOBIAH,
         money="412.00"),
]  # fmt: skip

CLEARING = [
    done("2010-08-09", TRIAL, Strip(35), BRAM, hours=4.0, money="105.00",
         note="Turf cutter hired. Raked level for a stale seedbed; rain did the watering."),
    done("2010-08-11", MAIN, Closure(date(2011, 4, 17), "play", "Renovation."), MAREN),
    done("2010-08-11", SHORT, Closure(date(2011, 5, 28), "play", "New seedbed."), MAREN),
    done("2010-08-11", SHORT, Strip(35), BRAM, hours=5.0, money="105.00",
         note="16 m³ stacked behind the shed."),
    done("2010-08-11", ALL, Note("Skip."), TOBIAH, money="290.00"),
    done("2010-08-13", SURROUND, Note("Left as it is: only the mowing changes here."), INES),
    done("2010-08-14", MAIN, DigClumps(clumps=40, margin_mm=100, area_m2=6.9), INES, hours=6.6,
         at=WITH_MARGIN,
         note="Between showers; ground moist to a spade's depth. 100 mm beyond the last root."),
    done("2010-08-16", MAIN, DigClumps(clumps=18, margin_mm=0, area_m2=2.0), INES, hours=2.5,
         at=CUT_FLUSH,
         note="In a hurry before the scarifier: cut flush with the edge. Three clumps not found."),
    done("2010-08-17", TRIAL, Seedlings("annual meadow-grass", per_m2=310), INES, hours=0.5,
         note="First flush, from twelve small frames."),
    done("2010-08-17", TRIAL, Brush("rake"), INES, hours=1.0, note="Flush raked out, shallow."),
    done("2010-08-18", MAIN, Scarify(4, 0, 1, 2.0), BRAM, hours=2.0, money="78.00",
         note="1.3 h vibration."),
    done("2010-08-19", MAIN, Scarify(4, 45, 1, 1.8), BRAM, hours=2.0, money="78.00",
         note="Crossing at 45°. 1.3 h vibration."),
    done("2010-08-21", MAIN, Scarify(5, 90, 1, 1.9), BRAM, hours=2.0, money="78.00"),
    done("2010-08-26", MAIN, Underfoot("soft"), BRAM, note="30 mm in two days. Tining put off."),
    done("2010-08-26", MAIN, HoldOff("tine", "soft after 30 mm in two days"), BRAM),
    done("2010-08-30", TRIAL, Seedlings("annual meadow-grass", per_m2=85), INES, hours=0.5,
         note="Second flush."),
    done("2010-08-30", TRIAL, Brush("rake"), INES, hours=1.0, note="Second flush raked out."),
    done("2010-08-30", SHORT, Dress("rootzone", None, 25), CREW, money="1030.00",
         note="11.5 m³ spread and firmed; 20 t with delivery."),
    *_infiltration("2010-08-31", SHORT, (120, 95, 140), "Through the new rootzone, to the base."),
    done("2010-08-31", MAIN, Underfoot("firm"), BRAM),
    done("2010-08-31", MAIN, Tine(True, 13, 50, 100), CREW, money="395.00",
         note="First dry week. Cores swept off."),
]  # fmt: skip

SOWING = [
    done("2010-09-01", TRIAL, Feed("starter 6-9-6", 40, 6, 9, 6), BRAM, hours=0.5,
         money="26.00"),
    done("2010-09-01", TRIAL, Reading("soil temperature", 15.1, "°C"), INES, note="9 am."),
    done("2010-09-02", MAIN, Dress("rootzone, as the soil below", 2000), BRAM, hours=5.0,
         money="208.00", note="1.64 t worked in, tips showing; clump holes filled to the brim."),
    done("2010-09-03", MAIN, Sow("BB-0417", 20, 819.2, 16384, "broadcast on scarified", True),
         BRAM, hours=3.0, note="Two directions; dimpled first."),
    done("2010-09-03", SHORT, Feed("starter 6-9-6", 40, 6, 9, 6), BRAM, hours=0.5,
         money="20.00"),
    done("2010-09-04", SHORT, Sow("BB-0417", 30, 460.8, 13824, "seedbed", True), BRAM, hours=2.5),
    done("2010-09-04", SHORT, Note("Eight squares of 1 m² pegged and drawn, to be left alone."),
         INES, hours=0.5),
    done("2010-09-09", TRIAL, Seedlings("perennial ryegrass", first_seen=True), INES,
         note="Day 8."),
    done("2010-09-09", TRIAL, Reading("soil temperature", 14.0, "°C"), INES, note="9 am."),
    done("2010-09-11", LIME_WALK, Scarify(3, 0, 1), BRAM, hours=1.5,
         note="Moss and leaf raked out with a wire rake and the light scarifier."),
    done("2010-09-11", LIME_WALK, Sow("UM-0644", 35, 180, 6300, "broadcast on scarified", True),
         INES, hours=2.0),
    done("2010-09-14", MAIN, Seedlings("chewings fescue", first_seen=True), INES, note="Day 11."),
    done("2010-09-15", TRIAL, Note("No bent yet on day 14. Nearly sown again; waiting."), INES),
    done("2010-09-15", SHORT, Seedlings("chewings fescue", first_seen=True), INES, note="Day 11."),
    done("2010-09-18", TRIAL, Seedlings("browntop bent", first_seen=True), INES, note="Day 17."),
    done("2010-09-18", TRIAL, Reading("soil temperature", 13.6, "°C"), INES, note="9 am."),
    done("2010-09-18", MAIN, Refill("BB-0417", 58, None, 267, 8.9, "fog holes"), INES, hours=3.5,
         at=(*WITH_MARGIN, *CUT_FLUSH),
         note="Holes had sunk: topped up with clean rootzone, then sown."),
    done("2010-09-22", LIME_WALK, Seedlings("chewings fescue", first_seen=True), INES,
         note="Day 11. Patchy: the far third chitted and dried; the hose ends at the arch."),
    done("2010-09-25", LIME_WALK, Sow("UM-0644", 35, 60, 2100, "broadcast on scarified", True),
         INES, hours=1.0, note="Far third sown again after 8 mm of rain; cans by rota."),
]  # fmt: skip

CLOSING = [
    done("2010-09-27", TRIAL, TugTest(True, "chewings fescue"), INES, note="Leaf tears."),
    done("2010-09-27", SHORT, TugTest(True, "chewings fescue"), INES, note="Leaf tears."),
    done("2010-09-27", MAIN, TugTest(True, "chewings fescue"), INES),
    done("2010-09-28", TRIAL, Reading("sward height", 38, "mm"), BRAM),
    done("2010-10-13", MAIN, Feed("autumn 3-0-3", 30, 3, 0, 3), BRAM, hours=1.0, money="24.00",
         note="No iron: the seedlings are five weeks old."),
    done("2010-10-13", SHORT, Feed("autumn 3-0-3", 30, 3, 0, 3), BRAM, hours=0.7, money="14.00",
         note="No iron on seedlings."),
    done("2010-10-20", ALL, Frost("frost"), BRAM, note="First white frost."),
    done("2010-10-21", ALL, Frost("frost"), BRAM),
    done("2010-10-21", LIME_WALK, TugTest(True, "chewings fescue"), INES),
    done("2010-10-30", MAIN, RefillCheck(58, 52, date(2010, 9, 18), "fog holes"), INES,
         hours=0.8, at=(*WITH_MARGIN, *CUT_FLUSH)),
    done("2010-11-03", SHORT, Disease("microdochium patch", True, 0.2), INES,
         note="Three spots after two mild wet nights. Dew brushed off daily; watch."),
    done("2010-11-03", SHORT, HoldOff("feed", "patch disease about"), INES),
    done("2010-11-10", ALL, Frost("frost"), BRAM),
    done("2010-11-15", ALL, Frost("frost"), BRAM),
    done("2010-11-16", ALL, Frost("frost"), BRAM),
    done("2010-11-17", ALL, Frost("thawed"), INES),
    done("2010-11-17", SHORT, Disease("microdochium patch", False, 0.2), INES,
         note="Dried up; scars closing."),
    done("2010-11-17", TRIAL, Note("Left-over seed weighed: Pocketwatch 90 g light, Teacake 105 g "
                                   "heavy. One plot each way."), INES, hours=0.5),
    done("2010-11-25", ALL, Frost("frozen ground"), MAREN),
    done("2010-11-26", ALL, Closure(date(2010, 12, 10), "feet", "Frozen ground."), MAREN),
    done("2010-12-01", ALL, Note("Mower stripped and cleaned. Bottom blade worn; no regrind yet."),
         BRAM, hours=3.0),
    done("2010-12-04", SHORT, Note("One member walked across: footprints in the frozen leaf."),
         MAREN),
    done("2010-12-11", ALL, Frost("thawed"), MAREN),
    done("2010-12-17", ALL, Frost("frozen ground"), MAREN),
    done("2010-12-17", ALL, Closure(date(2010, 12, 29), "feet", "Frozen ground."), MAREN),
    done("2010-12-30", ALL, Frost("thawed"), MAREN),
]  # fmt: skip

ENTRIES_2010 = [*SURVEY, *CLEARING, *SOWING, *CLOSING]
