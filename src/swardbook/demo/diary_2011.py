"""The made-up diary of 2011: first cut, a dry spring, the seeding flush, the second autumn."""

from __future__ import annotations

from datetime import date

from swardbook.demo.names import (
    APRON,
    BRAM,
    CREW,
    INES,
    LIME_WALK,
    MAIN,
    MAREN,
    NURSERY,
    ODALYS,
    SHORT,
    SURROUND,
    TOBIAH,
    TRIAL,
)
from swardbook.demo.plan import CUT_FLUSH, TAGGED, WITH_MARGIN
from swardbook.demo.writing import done
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import (
    Changed,
    Closure,
    ClumpCheck,
    Disease,
    DroughtSign,
    Feed,
    Frost,
    GerminationTest,
    Heads,
    HoldOff,
    Note,
    Pull,
    Reading,
    Refill,
    RefillCheck,
    Seedlings,
    Sow,
    Strip,
    Tine,
    TuftCheck,
    TugTest,
    Underfoot,
    Verticut,
)
from swardbook.husbandry.worked_out import WorkedOut

ALL = ""
PULLED_M2 = 452.8
"""The short court without its eight honest squares."""
STRIPS = "Five of the ten strips, by coin toss; up and down, lines offset from the last."


def _feed(
    day: str, zones: tuple[str, ...], feed: Feed, money: str, note: str = ""
) -> list[DiaryEntry]:
    return [
        done(day, zone, feed, BRAM, hours=0.7, money=money if zone == zones[0] else "", note=note)
        for zone in zones
    ]


def _heads(day: str, zone: str, seen: bool, share: float | None = None) -> DiaryEntry:
    return done(day, zone, Heads(seen, share_of_tufts=share), INES)


def _pull(
    day: str, plants: int, pass_name: str, people: int, hours: float, note: str = ""
) -> DiaryEntry:
    what = Pull(plants=plants, area_m2=PULLED_M2, pass_name=pass_name, people=people)
    return done(day, SHORT, what, INES, hours=hours, note=note)


def _verticut(day: str, depth_mm: float, line_deg: float, boxed: bool, note: str) -> DiaryEntry:
    what = Verticut(depth_mm, "below height of cut", line_deg, 1, boxed)
    return done(day, MAIN, what, BRAM, hours=0.9, note=f"{STRIPS} {note}".strip())


WINTER = [
    done("2011-01-13", TRIAL, Underfoot("standing water"), INES,
         note="On block 1 after 30 mm in a week; gone on the 16th. Photo."),
    done("2011-01-16", TRIAL, Underfoot("soft"), INES),
    done("2011-01-21", ALL, Frost("frost"), BRAM),
    done("2011-01-29", ALL, Frost("frozen ground"), MAREN),
    done("2011-01-29", ALL, Closure(date(2011, 2, 2), "feet", "Frozen ground."), MAREN),
    done("2011-02-04", ALL, Frost("thawed"), MAREN),
    done("2011-02-09", ALL, GerminationTest("BB-0417", 100, 74), INES, hours=1.0,
         note="From the kept bag, set on 19 January."),
    done("2011-02-23", ALL, Note("Verticut unit, second-hand."), TOBIAH, money="640.00"),
    done("2011-03-05", ALL, Frost("frost"), BRAM, note="Four white mornings; first cut waits."),
    done("2011-03-05", ALL, HoldOff("cut", "frost every morning, no growth"), BRAM),
]  # fmt: skip

SPRING = [
    done("2011-03-12", TRIAL, Underfoot("firm"), INES),
    done("2011-03-12", MAIN, Reading("soil temperature", 6.3, "°C"), INES, note="9 am."),
    done("2011-03-19", ALL, Frost("frost"), BRAM),
    done("2011-03-19", ALL, Frost("thawed"), BRAM, note="By eleven."),
    _pull("2011-03-19", 1484, "A", 4, 16.5, "From eleven, after the thaw. Not the squares."),
    done("2011-03-26", MAIN, TugTest(True, "browntop bent"), INES),
    done("2011-03-26", SHORT, TugTest(True, "browntop bent"), INES),
    _pull("2011-03-26", 445, "B", 3, 9.8),
    *_feed("2011-03-30", (MAIN, SHORT, TRIAL),
           Feed("spring 12-0-9", 25, 12, 0, 9, watered_in=True), "74.00",
           "A week later than planned: it was not growing. Rain washed it in."),
    done("2011-04-02", NURSERY, Strip(25), BRAM, hours=2.0, note="35 m² lifted for the apron."),
    done("2011-04-02", APRON, Note("35 m² at the door laid with turf from the nursery."), INES,
         hours=6.3),
    _heads("2011-04-02", MAIN, False),
    done("2011-04-09", NURSERY, Sow("BB-0417", 30, 35, 1050, "seedbed", True), INES, hours=1.0,
         note="Where the turf was lifted."),
    done("2011-04-23", NURSERY, Seedlings("chewings fescue", first_seen=True), INES,
         note="Day 14."),
    done("2011-05-24", NURSERY, TugTest(True, "chewings fescue"), INES),
    done("2011-04-09", MAIN, HoldOff("verticut", "dry, no growth"), BRAM),
    _heads("2011-04-09", MAIN, True, 0.05),
    _heads("2011-04-11", SHORT, True, 0.05),
    _heads("2011-04-12", SURROUND, True, 0.15),
    _heads("2011-04-15", APRON, True, 0.10),
    _heads("2011-04-22", LIME_WALK, True, 0.05),
    done("2011-04-17", MAIN, Note("Court open. Two hoops left in overnight."), MAREN),
    done("2011-04-23", MAIN, Refill("BB-0417", 60, 60, 21, 0.7, "tagged holes"), INES, hours=3.5,
         at=TAGGED,
         note="Sixty meadow-grass plants dug, holes tagged. Dry; cans."),
    done("2011-04-23", MAIN, DroughtSign(True), BRAM, note="Footprints stay at the north end."),
    done("2011-05-04", ALL, Frost("frost"), BRAM, note="Ground frost, gone by eight."),
    done("2011-05-04", ALL, Frost("thawed"), BRAM),
]  # fmt: skip

FLUSH = [
    done("2011-05-06", MAIN, HoldOff("verticut", "dry for nine weeks, heads up"), BRAM),
    done("2011-05-07", ALL, HoldOff("cut", "first real rain since February"), BRAM),
    _pull("2011-05-07", 604, "A", 4, 7.2, "In the rain, gladly; they come out whole."),
    *_feed("2011-05-09", (MAIN, SHORT, TRIAL),
           Feed("21-0-0", 5, 21, watered_in=True), "29.00", "Waited for the rain; hosed in."),
    done("2011-05-14", MAIN, Note("Cylinder struck a hoop left in the turf. Mower out."), BRAM),
    _pull("2011-05-14", 188, "B", 3, 4.1),
    done("2011-05-18", TRIAL, Note("Mower hired for the trial; it goes no lower than 10 mm. "
                                   "Nobody thought to cut the courts at 10."), BRAM,
         money="180.00"),
    done("2011-05-21", MAIN, DroughtSign(True), BRAM, note="Off-colour on the north third."),
    _heads("2011-05-21", MAIN, True, 0.60),
    done("2011-05-25", ALL, Note("Cylinder back, reground, new bottom blade."), BRAM,
         money="265.00"),
    done("2011-05-28", MAIN, DroughtSign(False), BRAM, note="Colour back after rain and hose."),
    done("2011-05-28", SHORT, TuftCheck(40, 9), ODALYS, hours=0.2),
    done("2011-05-30", MAIN, TuftCheck(40, 11), ODALYS, hours=0.2),
    *_feed("2011-06-01", (MAIN, SHORT, TRIAL), Feed("21-0-0", 5, 21, watered_in=True), "29.00"),
    _verticut("2011-06-02", 1.0, 20, True, "Moist and growing since the 26th."),
    done("2011-06-04", MAIN, RefillCheck(60, 31, date(2011, 4, 23), "tagged holes"), INES,
         hours=0.8, at=TAGGED),
    done("2011-06-06", ALL, Closure(date(2011, 7, 11), "hose", "Hosepipe restriction; cans "
                                    "allowed."), MAREN),
    *(done("2011-06-11", zone, Changed("grass box", "sound", "split"), BRAM,
           note="The trial has the hired mower and its box to the end of June.")
      for zone in (MAIN, SHORT)),
    done("2011-06-13", MAIN, TuftCheck(40, 22), ODALYS, hours=0.2, note="Cut without the box."),
    _heads("2011-06-18", MAIN, True, 0.55),
    done("2011-06-18", MAIN, HoldOff("verticut", "no box"), BRAM),
    *(done("2011-06-20", zone, Changed("grass box", "split", "new"), BRAM,
           money="87.00" if zone == MAIN else "")
      for zone in (MAIN, SHORT)),
    _pull("2011-06-25", 391, "", 2, 5.0, "One pass; rained off at noon."),
    done("2011-06-27", ALL, Note("28 °C. Cut at eight, nothing else."), BRAM),
]  # fmt: skip

SUMMER = [
    done("2011-07-02", TRIAL, Note("Open day, 64 visitors. Guesses before the counts: darkest "
                                   "Gatepost 31, Haystack 14, Bobbin 9, others 10."), INES,
         hours=6.0),
    done("2011-07-02", TRIAL,
         WorkedOut("open day guesses", "darkest: 64 guesses", {},
                   {"Gatepost_guesses": 31.0, "Haystack_guesses": 14.0, "Bobbin_guesses": 9.0,
                    "other_guesses": 10.0}, {"question": "darkest"}), INES),
    _verticut("2011-07-09", 1.0, -20, True, "Rain on four days this week."),
    done("2011-07-09", MAIN, TuftCheck(40, 4), ODALYS, hours=0.2, note="After verticut and cut."),
    done("2011-07-09", SHORT, TuftCheck(40, 5), ODALYS, hours=0.2),
    done("2011-07-13", TRIAL, Disease("red thread", True, 1.5), INES,
         note="On Gatepost and Teacake."),
    _verticut("2011-07-23", 1.0, 20, False, "Box off for the day's cut."),
    done("2011-07-25", TRIAL, Disease("red thread", False), INES, note="No longer spreading."),
    *_feed("2011-07-27", (MAIN, SHORT, TRIAL), Feed("summer 12-0-9", 15, 12, 0, 9), "46.00"),
    done("2011-08-02", ALL, Note("27 °C. No verticut, no feed in this."), BRAM),
    _verticut("2011-08-13", 1.5, -20, True, ""),
    done("2011-08-13", MAIN, TuftCheck(40, 3), ODALYS, hours=0.2),
    _pull("2011-08-20", 352, "A", 3, 4.9),
    *_feed("2011-08-24", (MAIN, SHORT, TRIAL), Feed("organic 8-0-0", 20, 8), "42.00"),
    _pull("2011-08-27", 231, "B", 3, 4.6, "Fresh seedlings about since the rain."),
    done("2011-08-27", SHORT, Refill("BB-0417", 38, 55, 5, 0.1, "holes of August"), INES,
         hours=1.5),
    done("2011-08-31", SURROUND, Disease("chafer grubs", True), ODALYS,
         note="Rooks digging along the south side."),
    done("2011-08-31", SURROUND, Reading("chafer grubs", 7, "per 300 mm square"), ODALYS,
         hours=0.8, note="Mean of five squares."),
    done("2011-08-31", SURROUND, Reading("soil temperature", 15.6, "°C"), ODALYS, note="9 am."),
    done("2011-08-31", SURROUND, Note("Nematodes watered on, moist soil, as the pack says."),
         ODALYS, hours=1.5, money="58.00"),
]  # fmt: skip

SECOND_AUTUMN = [
    _verticut("2011-09-03", 1.5, 20, False, "Box left off for the day's cut."),
    done("2011-09-10", MAIN, TuftCheck(40, 5), ODALYS, hours=0.2),
    done("2011-09-12", MAIN, Tine(True, 13, 50, 100), CREW, money="395.00",
         note="After the strip count and before the seed. Cores swept off."),
    done("2011-09-13", MAIN, Sow("BB-0533", 12, 819.2, 9830, "broadcast on sward", True), BRAM,
         hours=2.5, note="Into the holes. New lot: not the Chewings of last year."),
    done("2011-09-13", MAIN, Reading("soil temperature", 15.2, "°C"), INES, note="9 am."),
    done("2011-09-24", MAIN, Seedlings("chewings fescue", first_seen=True), INES,
         note="Day 11, in the holes."),
    done("2011-09-21", MAIN, HoldOff("cut", "seedlings just showing; heads can wait a week"), BRAM),
    done("2011-09-27", MAIN, TugTest(True), INES, note="Fescue and the first bent: leaf tears."),
    _heads("2011-09-28", MAIN, True, 0.08),
    _heads("2011-09-28", SHORT, True, 0.05),
    done("2011-10-01", SHORT, TuftCheck(40, 3), ODALYS, hours=0.2),
    *_feed("2011-10-05", (MAIN, SHORT), Feed("autumn 3-0-3", 30, 3, 0, 3), "24.00",
           "No iron: seedlings in the main court."),
    done("2011-10-05", ALL, Note("Letter to the committee."), INES, hours=2.4),
    done("2011-10-08", MAIN, ClumpCheck(looked=40, regrown=2, margin_mm=100), INES, hours=0.5,
         at=WITH_MARGIN),
    done("2011-10-08", MAIN, ClumpCheck(looked=18, regrown=7, margin_mm=0, standing=15), INES,
         at=CUT_FLUSH,
         hours=0.3,
         note="Nine regrown, five new; the three missed last year are one clump of 1.1 m²."),
    done("2011-10-08", MAIN, HoldOff("cut", "rain, and the count"), BRAM),
    done("2011-10-08", ALL, Note("Fuel and oil for the year."), TOBIAH, money="145.00"),
]  # fmt: skip

ENTRIES_2011 = [*WINTER, *SPRING, *FLUSH, *SUMMER, *SECOND_AUTUMN]
