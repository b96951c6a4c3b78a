"""Pictures of what the book says, and where they are written."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from swardbook.book.comparing import zone_name, zone_review
from swardbook.book.counts import OccasionShown, show_counts
from swardbook.feeds.picture_file import check_picture_path, save_svg
from swardbook.figures.counts_over_time import ZONE, Counted, Work, picture_of_counts
from swardbook.figures.picture import Picture
from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError, UnknownNameError
from swardbook.handbook.species import find_species
from swardbook.husbandry.happenings import Pull, Sow, Verticut
from swardbook.review.records import occasions_of, treated
from swardbook.review.seasons import pair_up
from swardbook.review.words import estimate_words

if TYPE_CHECKING:
    from swardbook.book.look_ahead import ZoneLookAhead
    from swardbook.book.opening import Book
    from swardbook.book.seed import MixtureAnswer
    from swardbook.observations.samples import Smallest

YEAR = 365
WORK = {Sow: "sown", Verticut: "verticut", Pull: "pulled"}
"""Work that opens ground or takes weeds out; cuts are too many to be told apart."""


def draw_counts(book: Book, zone: str, kind: str) -> Picture:
    """Draw what was counted of one kind in one zone; the title tells the last count.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Name of the zone.
    kind : str
        Kind, by key.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    NotEnoughDataError
        If there is no dated count of it with a figure.
    """
    name = zone_name(book, zone)
    shown = show_counts(book, name, kind)
    return _counts(book, name, kind, shown, _last_words(name, kind, shown))


def draw_comparison(book: Book, zone: str, kind: str, smallest: Smallest) -> Picture:
    """Draw the same counts under the verdict on the zone's year.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    NotEnoughDataError
        If there is no dated count of it with a figure.
    """
    name = zone_name(book, zone)
    said = zone_review(book, name, kind, smallest).sentence
    sentence = f"{name}, {named(kind)}. {said}"
    return _counts(book, name, kind, show_counts(book, name, kind), sentence)


def draw_mixture(answer: MixtureAnswer, name: str = "", book: Book | None = None) -> Picture:
    """Draw a mixture by weight and by number; a lot's comes from a book."""
    from swardbook.figures.mixture import picture_of_mixture

    return picture_of_mixture(answer.mixture, name, note_of(book))


def draw_seeds(answer: MixtureAnswer, name: str = "", book: Book | None = None) -> Picture:
    """Draw the seeds of a mixture at its rate, true to size."""
    from swardbook.figures.seeds import picture_of_seeds

    return picture_of_seeds(answer.mixture, answer.rate_g_m2, name, note_of(book))


def draw_weather(book: Book, first: date | None = None, last: date | None = None) -> Picture:
    """Draw a season's weather against the same days of past years.

    Parameters
    ----------
    book : Book
        The opened book.
    first, last : date, optional
        The days; the twelve months up to the last day there is if not given.

    Raises
    ------
    NotEnoughDataError
        If there is no weather for at least two of those days.
    """
    from swardbook.book.units import shown_in
    from swardbook.book.weather import part_of
    from swardbook.book.weather_fetch import credit_note
    from swardbook.figures.season_weather import SeasonWeather, picture_of_weather
    from swardbook.weather.derive import derive
    from swardbook.weather.usual import usual

    weather = book.weather()
    if weather is None or len(weather) == 0:
        raise NotEnoughDataError("a picture of the weather", "daily weather", "none")
    end = min(last or weather.last, weather.last)
    part = weather.between(first or end - timedelta(days=YEAR - 1), end)
    length = len(part)
    if length < 2:
        raise NotEnoughDataError("a picture of the weather", "two days of it", str(length))
    site = book.ground().site
    whole = derive(weather, site.latitude, site.elevation_m)
    begun = part.first
    days, soil = weather.days, whole.soil_temperature_5cm
    return picture_of_weather(
        SeasonWeather(
            part,
            part_of(whole, weather, part),
            usual(days, whole.degree_days, begun, length, adds_up=True),
            usual(days, weather.rain, begun, length, adds_up=True),
            usual(days, soil, begun, length, adds_up=False),
        ),
        f"{note_of(book)} {credit_note(book)}".strip(),
        shown_in(book.settings, book),
    )


def draw_look_ahead(book: Book, found: ZoneLookAhead) -> Picture:
    """Draw where each programme is likely to lead, and the counts so far."""
    from swardbook.figures.look_ahead import picture_of_look_ahead

    return picture_of_look_ahead(found.look, found.zone, found.label, note_of(book))


def draw_hours(book: Book, found: ZoneLookAhead) -> Picture:
    """Draw what each programme leaves against the hours it takes."""
    from swardbook.figures.look_ahead import picture_of_hours

    return picture_of_hours(found.look, found.zone, found.label, note_of(book))


def check_place(path: Path) -> None:
    """Refuse a place where no picture should go, before it is worked out.

    Raises
    ------
    BadInputError
        If it does not end in ``.svg``, has no folder, or names a file that is no SVG.
    """
    check_picture_path(path)


def save_picture(path: Path, picture: Picture) -> None:
    """Write a picture to a file.

    Raises
    ------
    BadInputError
        If no picture should go there.
    StorageError
        If the disk would not take it.
    """
    save_svg(path, picture.svg)


def _counts(
    book: Book, zone: str, kind: str, shown: tuple[OccasionShown, ...], sentence: str
) -> Picture:
    ground = book.ground()
    counted = [
        Counted(each.day, each.where, estimate, bool(each.break_before), each.label)
        for each in shown
        for estimate in each.estimates
    ]
    occasions = [treated(ground, zone, each) for each in occasions_of(ground, zone)]
    pairs = [(before.day, after.day) for before, after in pair_up(occasions, kind)]
    work = [
        Work(entry.day, name)
        for what, name in WORK.items()
        for entry in ground.entries(zone)
        if isinstance(entry.what, what) and entry.when.is_dated
    ]
    return picture_of_counts(sentence, counted, pairs, work, note_of(book))


def note_of(book: Book | None) -> str:
    """Say what every picture of a made-up ground has to say."""
    return "Made-up ground." if book is not None and book.is_made_up else ""


def _last_words(zone: str, kind: str, shown: tuple[OccasionShown, ...]) -> str:
    for each in reversed(shown):
        made = each.estimates[0].estimate
        if each.where == ZONE and made is not None:
            return f"{zone}: {named(kind)} was {estimate_words(made)} on {say(each.day)}."
    return f"{zone}: {named(kind)}, count by count."


def named(kind: str) -> str:
    """Name a kind; a grass with its Latin name."""
    try:
        species = find_species(kind)
    except UnknownNameError:
        return {"bare": "bare ground", "sown": "sown grass"}.get(kind, kind)
    return f"{kind} ({species.latin})"
