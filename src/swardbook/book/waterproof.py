"""The waterproof page: one A5 sheet of a zone for a wet pocket, tallies before, plants behind."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from swardbook.book.opening import Book, for_others
from swardbook.book.pictures import note_of
from swardbook.book.plan import situations
from swardbook.book.units import shown_in
from swardbook.feeds.picture_file import check_paper_path, save_pdf
from swardbook.figures.waterproof_sheet import PlaceRow, PlantSigns, WaterproofSheet, waterproof_pdf
from swardbook.foundation.dates import say
from swardbook.foundation.unit_words import in_words
from swardbook.handbook.plants import Plant, plants, questions
from swardbook.handbook.species import ANNUAL_MEADOW_GRASS
from swardbook.handbook.species import in_words as species_words
from swardbook.husbandry.ground import Ground
from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.occasions import Occasion
from swardbook.planning.morning import Morning, morning_look
from swardbook.planning.named import sown_here, weeds_named
from swardbook.planning.situation import Situation
from swardbook.review.records import occasions_of

TALLY = ("annual meadow-grass", "yorkshire fog", "sown", "bare")
"""Kinds with a box of their own; a fifth is left for what else there is."""
MOST_PLACES = 40
_FACTS = ("stops", "clock")
_THIRD = ("checks", "gaps", "drying", "sow", "pull", "feed", "disease")
_SIGNS = ("tip", "vernation", "ligule", "hair", "base", "upper", "habit", "head")
_MOST_PLANTS = 7
_LONGEST = 150
"""Letters of a fact."""
_FOG = "yorkshire fog"


@dataclass(frozen=True, slots=True)
class WaterproofPage:
    """A zone's waterproof page.

    Parameters
    ----------
    zone : str
        The zone.
    sheet : WaterproofSheet
        What stands on it, in the units of the book.
    left_over : int
        Places that had no room.
    """

    zone: str
    sheet: WaterproofSheet
    left_over: int


@for_others()
def waterproof_page(book: Book, zone: str) -> WaterproofPage:
    """Gather the waterproof page of a zone.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Name of the zone.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    [sit] = situations(book, zone)
    places = _places(sit)
    units = shown_in(book.settings, book)
    shown = tuple(in_words(fact, units) for fact in _facts(morning_look([sit])))
    about = (
        f"{sit.zone.use.value}, {sit.zone.area_m2:g} m², cut at {sit.zone.height_of_cut_mm:g} mm."
        f" Printed {say(book.today)}."
    )
    sheet = WaterproofSheet(
        sit.zone.name, in_words(about, units), shown, places[:MOST_PLACES], _last_day(sit),
        tuple(species_words(kind) for kind in TALLY), _key(sit), note_of(book),
    )  # fmt: skip
    return WaterproofPage(sit.zone.name, sheet, max(len(places) - MOST_PLACES, 0))


def waterproof_paper(page: WaterproofPage) -> bytes:
    """Set the page as a tagged PDF of one A5 sheet, two sides."""
    return waterproof_pdf(page.sheet)


def check_paper(path: Path) -> None:
    """Refuse a place where no paper should go, before it is set."""
    check_paper_path(path)


def save_waterproof(path: Path, page: WaterproofPage) -> None:
    """Write the page to a file.

    Raises
    ------
    BadInputError
        If no PDF should go there.
    StorageError
        If the disk would not take it.
    """
    save_pdf(path, waterproof_paper(page))


def _facts(look: Morning) -> tuple[str, ...]:
    """Choose three facts for today: what stops, the clock, and the first thing due."""
    told = []
    for key in _FACTS:
        section = look.section(key)
        if section is not None:
            told.append(_fact(section.title, section.lines[0].text if section.lines else
                              section.nothing))  # fmt: skip
    for key in _THIRD:
        section = look.section(key)
        if section is not None and section.lines:
            told.append(_fact(section.title, section.lines[0].text))
            break
    return tuple(told)


def _fact(title: str, text: str) -> str:
    """Write a fact as short as a wet pocket takes: whole sentences, the first always."""
    first, *rest = text.split(". ")
    for sentence in rest:
        if len(first) + len(sentence) > _LONGEST:
            break
        first += f". {sentence}"
    return f"{title}: {first.rstrip('.')}."


def _last(ground: Ground, zone: str) -> Occasion | None:
    return next(reversed(occasions_of(ground, zone)), None)


def _last_day(sit: Situation) -> str:
    last = _last(sit.ground, sit.zone.name)
    return f"{last.day.day} {last.day:%b %Y}" if last else ""


def _places(sit: Situation) -> tuple[PlaceRow, ...]:
    ground, zone = sit.ground, sit.zone.name.casefold()
    last = _last(ground, sit.zone.name)
    counted: dict[str, PlaceCount] = {}
    for place in last.places if last else ():
        counted.setdefault(place.place.casefold(), place)
    rows = [(peg.name, peg.sketch) for peg in ground.pegs if peg.zone.casefold() == zone]
    rows += [
        (square.name, f"honest: {square.sketch}".strip(": "))
        for square in ground.squares if square.zone.casefold() == zone
    ]  # fmt: skip
    if not rows:
        rows = [
            (plot.name, f"block {plot.block}, plot {plot.number}")
            for plot in ground.plots if plot.zone.casefold() == zone
        ]  # fmt: skip
    return tuple(
        PlaceRow(name, sketch, _found(counted.get(name.casefold()))) for name, sketch in rows
    )


def _found(place: PlaceCount | None) -> str:
    """Say what was found of the weed at a place the last time: ``6 of 25``, ``3`` or ``20 %``."""
    number = None if place is None else place.found.get(ANNUAL_MEADOW_GRASS)
    if place is None or number is None:
        return ""
    if place.method is Method.POINTS:
        return f"{number:g} of {place.looked:g}"
    return f"{number:g} %" if place.method is Method.BY_EYE else f"{number:g}"


def _key(sit: Situation) -> tuple[PlantSigns, ...]:
    """Give the plants to be told apart in the zone: its weeds, then what was sown."""
    every = plants()
    wanted = [ANNUAL_MEADOW_GRASS, _FOG, *weeds_named(sit)]
    sown = sown_here(sit.ground, sit.zone.name)
    names = list(dict.fromkeys([*wanted, *sorted(sown)]))
    found = [every[name] for name in names if name in every][:_MOST_PLANTS]
    return tuple(
        PlantSigns(
            each.english,
            each.latin,
            "sown" if each.key in sown else "weed",
            _signs(each),
        )
        for each in found
    )


def _signs(plant: Plant) -> tuple[tuple[str, str], ...]:
    every = questions()
    told = []
    for key in _SIGNS:
        row = plant.shown.get(key)
        if row is None or not row.usual:
            continue
        states = every[key].states
        words = " or ".join(states[each].split(":")[0].split(";")[0] for each in row.usual)
        told.append((every[key].called, words))
    return tuple(told)
