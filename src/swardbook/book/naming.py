"""Name a plant: what it is, what to look at next, and the name kept in the diary."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from swardbook.book.opening import Book
from swardbook.book.worked_out import Answer, keep_answer
from swardbook.figures.picture import Picture
from swardbook.figures.plants import picture_of_plant, picture_of_question
from swardbook.foundation.dates import season_day
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.handbook.cautions import Caution, cautions_for
from swardbook.handbook.plants import find_plant, questions
from swardbook.handbook.species import Kind
from swardbook.husbandry.diary import DiaryEntry
from swardbook.observations.naming import (
    CANNOT_TELL,
    Candidate,
    Looked,
    Naming,
    name_plant,
    read_looked,
)
from swardbook.planning.named import ABOUT, JOB, Named, plants_named, sown_here
from swardbook.planning.situation import situation

_NORTH = 45.0


@dataclass(frozen=True, slots=True)
class PlantAnswer:
    """What a plant is called, and what that means in a zone.

    Parameters
    ----------
    looked : Looked
        What was seen.
    naming : Naming
        The verdict, the look-alikes and the next question.
    zone : str
        The zone; empty if none was said.
    is_sown : bool or None
        Whether the likeliest was sown there; None without a zone.
    advice : str
        What follows for the zone.
    cautions : tuple of Caution
        What to mind.
    """

    looked: Looked
    naming: Naming
    zone: str
    is_sown: bool | None
    advice: str
    cautions: tuple[Caution, ...]


def name_from(
    seen: Sequence[str], age: str = "plant", book: Book | None = None, zone: str = "",
    today: date | None = None,
) -> PlantAnswer:  # fmt: skip
    """Name a plant from what was seen, in a zone or anywhere.

    Parameters
    ----------
    seen : sequence of str
        Each as ``trait=answer``; ``?`` is don't know.
    age : str
        ``seedling``, ``young`` or ``plant``.
    book : Book, optional
        The book, for what was sown in the zone and for the day.
    zone : str
        The zone it stands in.
    today : date, optional
        The day, where there is no book: the month of flower is read off it.

    Raises
    ------
    BadInputError
        If what was seen cannot be read.
    UnknownNameError
        If there is no such trait, answer or zone; offers the nearest.
    """
    looked = read_looked(seen, age)
    sown: frozenset[str] = frozenset()
    latitude = _NORTH
    if book is not None and zone:
        ground = book.ground()
        zone = ground.zone(zone).name
        sown, latitude = sown_here(ground, zone), ground.site.latitude
    looked = _with_month(looked, book.today if book else today, latitude)
    naming = name_plant(looked, sown)
    is_sown = naming.likeliest.plant.key in sown if zone else None
    cautions = cautions_for(JOB)
    return PlantAnswer(looked, naming, zone, is_sown, _advice(naming, zone, sown), cautions)


def keep_name(
    book: Book, answer: PlantAnswer, when: str = "today", who: str = "", note: str = ""
) -> DiaryEntry:
    """Keep a name in the diary; what cannot be told is kept as that.

    Parameters
    ----------
    book : Book
        The book.
    answer : PlantAnswer
        What was found.
    when, who, note : str
        The day, who looked, and anything else.

    Raises
    ------
    BadInputError
        If nothing was looked at and the plant is no seedling.
    """
    looked, naming = answer.looked, answer.naming
    if not looked.answers and looked.age != "seedling":
        raise BadInputError(
            "a name to keep", "nothing seen", "at least one thing seen", "Such as --seen tip=boat."
        )
    told = naming.verdict != CANNOT_TELL
    named = {"verdict": naming.verdict, "age": looked.age}
    named |= {"plant": naming.likeliest.plant.key} if told else {}
    named |= {"look-alikes": ", ".join(each.plant.key for each in together(naming))}
    found = {"share_percent": round(100 * naming.likeliest.share, 1)} if told else {}
    return keep_answer(
        book, Answer(ABOUT, in_words(naming), dict(looked.answers), found, named),
        zone=answer.zone, when=when, who=who, note=note,
    )  # fmt: skip


def together(naming: Naming) -> tuple[Candidate, ...]:
    """Give the look-alikes; with no name, the likeliest among them."""
    return naming.alike if naming.verdict != CANNOT_TELL else (naming.likeliest, *naming.alike)


def in_words(naming: Naming) -> str:
    """Say a name with its verdict in a few words."""
    if naming.verdict == CANNOT_TELL:
        return CANNOT_TELL
    return f"{naming.likeliest.plant.both_names}, {naming.verdict}"


def names_here(book: Book, zone: str) -> tuple[Named, ...]:
    """List the plants named in a zone.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    return plants_named(situation(book.ground(), zone, book.weather(), book.today))


def draw_next(naming: Naming) -> Picture:
    """Draw the answers to the next question, or the plant where nothing more is asked.

    Raises
    ------
    NotEnoughDataError
        If the plant cannot be told and nothing more is asked.
    """
    if naming.next_question is not None:
        return picture_of_question(naming.next_question)
    if naming.verdict == CANNOT_TELL:
        raise NotEnoughDataError("a picture of the plant", "a name", "none that can be told")
    return picture_of_plant(naming.likeliest.plant)


def draw_named(name: str) -> Picture:
    """Draw a plant by its name, or the answers to a question by its trait.

    Raises
    ------
    UnknownNameError
        If the key has neither; offers the nearest names.
    """
    if name in questions():
        return picture_of_question(questions()[name])
    return picture_of_plant(find_plant(name))


def _with_month(looked: Looked, today: date | None, latitude: float) -> Looked:
    """Take the month of flower from the day, as the north numbers it, where a head was seen."""
    said = {*looked.answers, *looked.unknown}
    if today is None or "head" not in looked.answers or "flowering" in said:
        return looked
    day = season_day(today, latitude)
    month = min(1 + int((day - 1) / 30.4375), 12)
    return replace(looked, answers={**looked.answers, "flowering": str(month)})


def _advice(naming: Naming, zone: str, sown: frozenset[str]) -> str:
    key = naming.likeliest.plant.key
    if naming.verdict == CANNOT_TELL:
        may_be = [each.plant.in_words for each in together(naming) if each.plant.key in sown]
        told = f" It may be {may_be[0]}, which was sown in {zone}." if may_be else ""
        return f"Leave it standing until it has a name.{told}"
    if key in sown:
        return f"It was sown in {zone}: it is no weed there."
    sown_alike = [each.plant.english for each in naming.alike if each.plant.key in sown]
    if sown_alike:
        return (
            f"{sown_alike[0]} was sown in {zone} and looks like it: make the check before a plant"
            " is pulled."
        )
    plant = naming.likeliest.plant
    if zone and sown and plant.kind == Kind.SOWN_GRASS:
        return (
            f"{plant.english} was not sown in {zone}; it may have come with soil, turf or another"
            " bag. Look at its look-alikes once more."
        )
    if zone and sown:
        return f"It was not sown in {zone}."
    return ""
