"""One picture of each kind, from small made values, for tests that hold all of them to rules."""

import re
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from typing import Any

from swardbook.book.look_ahead import Asked, zone_look_ahead
from swardbook.book.programme_year import year_in
from swardbook.book.seed import MixtureQuestion, work_out
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from swardbook.evidence.estimates import Interval
from swardbook.figures.counts_over_time import SQUARES, ZONE, Counted, Work, picture_of_counts
from swardbook.figures.guess_rows import Found, GuessedCount, GuessRow
from swardbook.figures.lanes import ProgrammeYear
from swardbook.figures.look_ahead import picture_of_hours, picture_of_look_ahead
from swardbook.figures.mixture import picture_of_mixture
from swardbook.figures.picture import Picture
from swardbook.figures.programme_hours import picture_of_programmes
from swardbook.figures.programme_year import picture_of_edit, picture_of_programme
from swardbook.figures.sealed_guess import SealedGuess, SoFar, picture_of_guess
from swardbook.figures.season_weather import SeasonWeather, picture_of_weather
from swardbook.figures.settled_guesses import LevelHeld, SettledGuesses, picture_of_guesses
from swardbook.figures.trade_off import Recorded, Step, TradeOff, picture_of_search
from swardbook.model.look_ahead import LookAhead
from swardbook.model.programmes import programme
from swardbook.observations.counts import PlaceCount
from swardbook.observations.estimating import estimate_kind
from swardbook.seed import read_parts
from swardbook.weather.derive import derive
from swardbook.weather.usual import usual
from tests.support.counted import WEED, around, plants, points
from tests.support.grounds import seasons
from tests.support.model import kernel

AUTUMN, SPRING, NEXT = date(2010, 10, 9), date(2011, 5, 7), date(2011, 10, 8)


@cache
def looked_ahead(zone: str = "Short court") -> LookAhead:
    """Look ahead for a zone of the made-up ground with few draws."""
    asked = Asked(made_up_ground(), made_up_weather(), TODAY, 64, ("cut only", "dig by hand"))
    return zone_look_ahead(asked, zone, kernel()).look


def values(picture: Picture, *parts: Any) -> list[Any]:
    """Give the rows that a part draws: its own, or those of the part around it."""
    named = next(part["data"] for part in parts if "data" in part)
    rows: list[Any] = (
        picture.specification["datasets"][named["name"]] if "name" in named else named["values"]
    )
    return rows


def in_one_line(svg: str) -> str:
    """Give the words of a drawing as they are read, wherever a line was broken."""
    return " ".join(re.sub(r"<[^>]+>", " ", svg).split())


def seen(day: date, places: tuple[PlaceCount, ...], where: str = ZONE) -> Counted:
    """Give what a count said of the weed."""
    return Counted(day, where, estimate_kind(places, WEED)[0])


def counts() -> tuple[Counted, ...]:
    """Give three counts of a zone, one of its honest squares, and one by plants."""
    return (
        seen(AUTUMN, points(around(35, 24, 16))),
        seen(SPRING, points(around(26, 24, 12))),
        seen(SPRING, points(around(40, 8, 12), letter="H"), SQUARES),
        seen(NEXT, points(around(21, 24, 14))),
        seen(NEXT, plants([9, 3, 15, 1, 22, 8, 14, 6])),
    )


def of_mixture() -> Picture:
    """Draw a mixture of two."""
    answer = work_out(MixtureQuestion(read_parts(["browntop bent=20", "chewings fescue=80"])))
    return picture_of_mixture(answer.mixture, "Bobbin")


def of_counts() -> Picture:
    """Draw counts with a pair, and work between them."""
    work = (Work(date(2010, 9, 4), "sown"), Work(date(2011, 6, 1), "verticut"))
    return picture_of_counts("Court: it was counted.", counts(), [(AUTUMN, NEXT)], work)


def of_weather(days: int = 365) -> Picture:
    """Draw the last days of ten years."""
    sky = seasons(2000, date(2010, 12, 31))
    part = sky.between(sky.last - timedelta(days=days - 1), sky.last)
    whole = derive(sky, 52.0, 60.0)
    warmth = usual(sky.days, whole.degree_days, part.first, days, adds_up=True)
    rain = usual(sky.days, sky.rain, part.first, days, adds_up=True)
    soil = usual(sky.days, whole.soil_temperature_5cm, part.first, days, adds_up=False)
    return picture_of_weather(SeasonWeather(part, derive(part, 52.0, 60.0), warmth, rain, soil))


def of_look_ahead() -> Picture:
    """Draw a look-ahead."""
    return picture_of_look_ahead(looked_ahead(), "Short court", "learned from your counts")


def of_hours() -> Picture:
    """Draw hours against what they leave."""
    return picture_of_hours(looked_ahead(), "Short court", "learned from your counts")


@cache
def year(programme_name: str, zone: str = "Main court", /, **changes: Any) -> ProgrammeYear:
    """Lay a programme of the handbook, changed or not, on a year of the made-up ground."""
    plan = replace(programme(programme_name), **changes)
    return year_in(made_up_ground(), made_up_weather().until(TODAY), plan, zone)


def of_programme() -> Picture:
    """Draw a programme's year."""
    return picture_of_programme(year("whole"))


def of_edit() -> Picture:
    """Draw a programme before and after an edit."""
    now = year("whole", name="Every three weeks", verticut_days=21, pull_hours_week=0.0)
    return picture_of_edit(year("whole"), now)


def of_programmes() -> Picture:
    """Draw what programmes take."""
    return picture_of_programmes([year("whole"), year("cut only")])


def searched() -> TradeOff:
    """Give a curve of two steps, by cover."""
    first = Step(1.0, 14.0, Interval(9, 19), Interval(8, 22), 0.2, "cut every 4 days", "", False)
    second = Step(2.9, 7.0, Interval(4, 12), Interval(3, 15), 0.7, "pull 2 h a week",
                  "Against fewer hours: less, clear", True)  # fmt: skip
    return TradeOff(
        "Court", "learned from your counts", False, (first, second),
        Recorded(2.0, 11.0, Interval(7, 16)), 10.0, 4.0, 6.0, 9.0, 120, 256,
    )  # fmt: skip


def of_search() -> Picture:
    """Draw hours against what they leave, step by step."""
    return picture_of_search(searched())


def guessed(*, is_settled: bool = True) -> GuessedCount:
    """Give a count that three guessed, settled or not."""
    sealed = date(2011, 10, 8)
    found = Found(date(2012, 10, 12), 22.0, 12, ("Ines",)) if is_settled else None
    held, missed, off = (True, False, 1.3) if is_settled else (None, None, None)
    return GuessedCount(
        "Court", "annual meadow-grass (Poa annua)", "%", date(2012, 9, 19), date(2012, 10, 31),
        (
            GuessRow("The look-ahead", sealed, is_settled, 40.0 if is_settled else None,
                     Interval(26, 55) if is_settled else None,
                     Interval(33, 48) if is_settled else None, missed, off and 13.0),
            GuessRow("Ines", sealed, True, None, Interval(15, 25), Interval(17, 23), held, off),
            GuessRow("Bram", sealed, True, 40.0, off=off and 18.0),
        ),
        found,
    )  # fmt: skip


SO_FAR = (SoFar(date(2010, 10, 9), 29.0), SoFar(date(2011, 10, 8), 36.0))


def of_sealed() -> Picture:
    """Draw a guess of the look-ahead that is sealed."""
    return picture_of_guess(SealedGuess(guessed(is_settled=False), 0, SO_FAR, "256 draws."))


def of_unsealed() -> Picture:
    """Draw the same guess, settled."""
    return picture_of_guess(SealedGuess(guessed(), 0, SO_FAR, "256 draws."))


def settled(ranges: int = 20, held: int = 15) -> SettledGuesses:
    """Give settled guesses with so many ranges of 80 % that held."""
    share = Interval(0.53, 0.89) if ranges >= 5 else None
    verdict = "agrees with four in five" if share else "not enough data"
    level = LevelHeld(0.8, ranges, held, share, verdict)
    levels = (replace(level, level=0.5, held=held // 2), level, replace(level, level=0.9))
    return SettledGuesses((guessed(),), levels, ranges + 3, ranges + 1, 2, 5, "Beware.")


def of_settled() -> Picture:
    """Draw guesses beside what was found."""
    return picture_of_guesses(settled())


KINDS = {
    "mixture": of_mixture,
    "counts": of_counts,
    "weather": of_weather,
    "look-ahead": of_look_ahead,
    "hours": of_hours,
    "programme": of_programme,
    "edit": of_edit,
    "programmes": of_programmes,
    "search": of_search,
    "sealed": of_sealed,
    "unsealed": of_unsealed,
    "settled": of_settled,
}


@cache
def drawn(kind: str) -> Picture:
    """Draw a picture of one kind, once for all tests of a process."""
    return KINDS[kind]()
