"""Plants in the hand: what to look at, what each plant shows, and from which work."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import pairwise
from math import log
from typing import Any

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.provenance import Grade, Sourced
from swardbook.foundation.tables import read_csv_table, read_toml_table
from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.species import Kind, all_species, find_species

AGES = ("seedling", "young", "plant")
"""How old a plant is: one or two leaves, three and more without side shoots, or grown."""
NO_GRASS = "no grass"
_PROPER = ("Yorkshire", "Italian", "Chewings")
COLUMNS = (
    "species", "trait", "usual", "sometimes", "low", "high", "unit", "grade", "source", "where",
    "note",
)  # fmt: skip
_LEAST = 0.05
"""Where the class of the smallest measures begins. [mm]"""


@dataclass(frozen=True, slots=True)
class Question:
    """One thing to look at.

    Parameters
    ----------
    key : str
        Its name.
    asks : str
        The question, as asked in the garden.
    called : str
        What is looked at, in a word or two.
    states : mapping of str to str
        Each answer with its words.
    age : str
        The age from which it can be seen; one of `AGES`.
    by : str
        What it takes: eye, fingers, lens, ruler, knife or head.
    unit : str
        Unit of a measured trait; empty for one that is only looked at.
    cuts : tuple of float
        Where the classes of a measured trait part; empty for one that is only looked at. [mm]
    after, unless : str
        A trait and the answer to it after which this one makes no sense.
    asked : bool
        Whether it is asked; the month of flower is read off the day.
    """

    key: str
    asks: str
    called: str
    states: Mapping[str, str]
    age: str
    by: str
    unit: str = ""
    cuts: tuple[float, ...] = ()
    after: str = ""
    unless: str = ""
    asked: bool = True

    @property
    def error(self) -> Sourced:
        """Share of answers on it that are wrong [-]."""
        return parameter(f"key.error.{self.key}")

    @property
    def minutes(self) -> Sourced:
        """Time it takes in the garden [min]."""
        return parameter(f"key.minutes.{self.key}")

    def state_of(self, number: float) -> str:
        """Find the class that a measured number falls in.

        Parameters
        ----------
        number : float
            The measure. [mm]
        """
        return list(self.states)[sum(number > cut for cut in self.cuts)]


@dataclass(frozen=True, slots=True)
class Shown:
    """What one plant shows of one trait, from which work.

    Parameters
    ----------
    species, trait : str
        Whose, and which.
    usual, sometimes : tuple of str
        Answers that are usual there, and those that are seen.
    low, high : float or None
        Range of a measured trait. [mm]
    grade : Grade
        How far to trust it.
    sources : tuple of str
        Works it stands in; where they differ the range is widened and the note says so.
    where, note : str
        Where in the works, and what they differ in.
    """

    species: str
    trait: str
    usual: tuple[str, ...]
    sometimes: tuple[str, ...]
    low: float | None
    high: float | None
    grade: Grade
    sources: tuple[str, ...]
    where: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Plant:
    """One plant of the key.

    Parameters
    ----------
    key : str
        Its short English name in lower case.
    english, latin : str
        Its names as shown.
    kind : str
        ``sown grass``, ``weed grass`` or ``no grass``.
    alike : mapping of str to str
        Look-alikes with the check that separates them.
    shown : mapping of str to Shown
        What it shows, by trait.
    as_one : tuple of str
        Plants that nothing in the hand parts from it; a name is then never sure.
    """

    key: str
    english: str
    latin: str
    kind: str
    alike: Mapping[str, str]
    shown: Mapping[str, Shown]
    as_one: tuple[str, ...] = ()

    @property
    def both_names(self) -> str:
        """English name with the Latin beside it."""
        return f"{self.english} ({self.latin})"

    @property
    def in_words(self) -> str:
        """English name as it stands inside a sentence."""
        is_proper = self.english.split()[0] in _PROPER
        return self.english if is_proper else self.english[0].lower() + self.english[1:]

    @property
    def in_lawns(self) -> Sourced:
        """How common it is among plants asked about, relative to the others [-]."""
        name = self.key.replace("'", "").replace(" ", "_").replace("-", "_")
        return parameter(f"key.in_lawns.{name}")


@cache
def questions() -> Mapping[str, Question]:
    """Read what there is to look at, in the order it is best looked at.

    Raises
    ------
    BadInputError
        If an entry is incomplete, or its age is none of the three.
    """
    table = read_toml_table(_data("plant_questions.toml"))
    return {key: _question(key, entry) for key, entry in table.items()}


@cache
def plants() -> Mapping[str, Plant]:
    """Read every plant of the key.

    Raises
    ------
    BadInputError
        If a row names a plant, trait or answer that there is not, or a range is upside down.
    """
    shown: dict[str, dict[str, Shown]] = {}
    table = read_toml_table(_data("plants.toml"))
    for where, row in read_csv_table(_data("plant_traits.csv"), COLUMNS):
        if row["species"] not in table:
            raise BadInputError(where, row["species"], "a plant of plants.toml")
        rows = shown.setdefault(row["species"], {})
        if row["trait"] in rows:
            raise BadInputError(where, row["trait"], "one row for a plant and a trait")
        rows[row["trait"]] = _shown(where, row)
    return {key: _plant(key, entry, shown.get(key, {})) for key, entry in table.items()}


def find_plant(name: str) -> Plant:
    """Find a plant by its English, Latin or any other name.

    Raises
    ------
    UnknownNameError
        If the key has no such plant; offers the nearest names.
    """
    wanted = _folded(name)
    found = _own_names().get(wanted)
    if found is None:
        try:
            found = find_species(name).key
        except UnknownNameError:
            found = ""
    if found not in plants():
        raise UnknownNameError("plant of the key", name, plants())
    return plants()[found]


def chances(plant: Plant, question: Question) -> dict[str, float]:
    """Give how likely each answer is for a plant, wrong answers included.

    Parameters
    ----------
    plant : Plant
        The plant.
    question : Question
        What is looked at.

    Returns
    -------
    dict of str to float
        Shares that add up to one; where nothing is known of the plant all are alike. For the
        month, which is read off the day, each is how likely it flowers then. [-]
    """
    row, states = plant.shown.get(question.key), list(question.states)
    even = 1 / len(states)
    if not question.asked:
        return _by_month(row, states, question.error.value)
    if row is None:
        return dict.fromkeys(states, even)
    error = question.error.value
    true = _in_classes(row, question) if question.cuts else _by_words(row, states)
    return {state: (1 - error) * true[state] + error * even for state in states}


def _by_month(row: Shown | None, months: list[str], error: float) -> dict[str, float]:
    if row is None or row.low is None or row.high is None:
        return dict.fromkeys(months, 0.5)
    first, last = row.low, row.high
    return {each: 1 - error if first <= int(each) <= last else error for each in months}


def _by_words(row: Shown, states: list[str]) -> dict[str, float]:
    weight = value("key.sometimes")
    told = {
        state: 1.0 if state in row.usual else weight if state in row.sometimes else 0.0
        for state in states
    }
    whole = sum(told.values())
    return {state: told[state] / whole for state in states}


def _in_classes(row: Shown, question: Question) -> dict[str, float]:
    """Share a range out over classes, evenly in the logarithm, a little beyond either end."""
    slack = value("key.ruler_slack")
    low, high = (row.low or _LEAST) / slack, (row.high or _LEAST) * slack
    edges = [_LEAST / slack, *question.cuts, max(high, question.cuts[-1]) * slack]
    shares = {}
    for state, first, last in zip(question.states, edges[:-1], edges[1:], strict=True):
        held = log(max(min(last, high), first)) - log(min(max(first, low), last))
        shares[state] = max(held, 0.0) / (log(high) - log(low))
    return shares


def _question(key: str, entry: Mapping[str, Any]) -> Question:
    try:
        cuts = tuple(float(each) for each in entry.get("cuts", ()))
        states = entry.get("states") or _classes(cuts, entry["unit"])
        if entry["from"] not in AGES:
            raise ValueError(entry["from"])
        return Question(
            key, entry["asks"], entry["called"], states, entry["from"], entry["by"],
            entry.get("unit", ""), cuts,
            entry.get("after", ""), entry.get("unless", ""), entry.get("asked", True),
        )  # fmt: skip
    except (KeyError, ValueError) as slip:
        raise BadInputError(
            f"plant_questions.toml [{key}]", str(slip), "asks, called, from, by and states or cuts"
        ) from slip


def _classes(cuts: tuple[float, ...], unit: str) -> dict[str, str]:
    if not cuts:
        return {str(month): f"month {month}" for month in range(1, 13)}
    names = [f"under {cuts[0]:g}"]
    names += [f"{low:g} to {high:g}" for low, high in pairwise(cuts)]
    names += [f"over {cuts[-1]:g}"]
    return {name: f"{name} {unit}" for name in names}


def _shown(where: str, row: Mapping[str, str]) -> Shown:
    known = questions().get(row["trait"])
    if known is None:
        raise BadInputError(where, row["trait"], "a trait of plant_questions.toml")
    usual, sometimes = (
        tuple(each for each in row[part].split("|") if each) for part in ("usual", "sometimes")
    )
    for state in (*usual, *sometimes):
        if state not in known.states:
            raise BadInputError(where, state, f"an answer on {known.key}: {list(known.states)}")
    try:
        low, high = (float(row[end]) if row[end] else None for end in ("low", "high"))
        grade = Grade(row["grade"])
    except ValueError as slip:
        raise BadInputError(where, row, "numbers and one of the five grades", str(slip)) from slip
    is_range = low is not None and high is not None and 0 < low <= high
    if bool(usual) == is_range:
        raise BadInputError(where, row, "either usual answers or a range from low to high")
    sources = tuple(row["source"].split(";"))
    return Shown(row["species"], row["trait"], usual, sometimes, low, high, grade, sources,
                 row["where"], row["note"])  # fmt: skip


def _plant(key: str, entry: Mapping[str, Any], shown: Mapping[str, Shown]) -> Plant:
    alike, as_one = entry.get("alike", {}), tuple(entry.get("as_one", ()))
    try:
        if "latin" in entry:
            return Plant(key, entry["english"], entry["latin"], entry["kind"], alike, shown, as_one)
        known = all_species()[key]
    except KeyError as slip:
        raise BadInputError(
            f"plants.toml [{key}]", str(slip), "a species of species.toml, or names of its own"
        ) from slip
    kind = Kind.WEED_GRASS if known.kind is Kind.WEED_GRASS else Kind.SOWN_GRASS
    return Plant(key, known.english, known.latin, kind.value, alike, shown, as_one)


@cache
def _own_names() -> Mapping[str, str]:
    found = {}
    for key, entry in read_toml_table(_data("plants.toml")).items():
        for name in (key, entry.get("latin", key), *entry.get("other_names", ())):
            found[_folded(name)] = key
    return found


def _folded(name: str) -> str:
    return "".join(letter for letter in name.casefold() if letter.isalnum())


def _data(name: str) -> Any:
    return files("swardbook.handbook") / "data" / name
