"""What would change the advice of a look-ahead, in plain names, and what to measure first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from string import Formatter

from swardbook.foundation.provenance import Grade, Sourced
from swardbook.foundation.tables import read_toml_table
from swardbook.handbook.parameters import parameter
from swardbook.model.knowing import Advice, Flip, Measured
from swardbook.model.look_ahead import LookAhead
from swardbook.model.measuring import size_of
from swardbook.model.prospects import Turn

_LEAN_LEAST = 0.15
_TOLD = 5
_SPOKEN_OF = ("annual_meadow_grass", "zone", "count")


@dataclass(frozen=True, slots=True)
class Measurement:
    """A cheap measurement, and what it would settle.

    Parameters
    ----------
    key, does, settles, when : str
        Its key, what is done, what that tells, and when it can be done.
    hours, weeks : Sourced
        Work it takes [h], and time until the result is known. [weeks]
    speaks_of : tuple of str
        The last parts of the keys of the numbers it tells.
    """

    key: str
    does: str
    settles: str
    when: str
    hours: Sourced
    weeks: Sourced
    speaks_of: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Change:
    """An unknown that the advice hangs on.

    Parameters
    ----------
    key : str
        Its key: a number of the handbook, or something of the sward of today.
    name : str
        Its name in plain words.
    grade : Grade or None
        Grade of the handbook's number; None for the sward of today.
    flip : Flip or None
        How it flips the choice; None where it does not, beyond chance.
    turn : Turn or None
        How it turns the order of two programmes; None where it does not, beyond chance.
    correlation : float
        How strongly the difference of the two best programmes goes with it, by ranks. [-]
    told_by : tuple of Measurement
        Measurements that speak of it, the quickest first.
    """

    key: str
    name: str
    grade: Grade | None
    flip: Flip | None
    turn: Turn | None
    correlation: float
    told_by: tuple[Measurement, ...]


@dataclass(frozen=True, slots=True)
class Weighed:
    """A measurement with what it is worth here."""

    measurement: Measurement
    measured: Measured


@dataclass(frozen=True, slots=True)
class Hinges:
    """What the advice hangs on.

    Parameters
    ----------
    advice : Advice or None
        The choice and what would change it; None where there is one programme or too few draws.
    flips : tuple of Change
        Unknowns that flip the choice, the one worth most first.
    further_down : tuple of Change
        Unknowns that turn the order of two programmes and do not flip the choice.
    judged : tuple of Change
        The judged numbers that the difference of the two best goes with most.
    weighed : tuple of Weighed
        Every measurement, the one worth most first.
    first : Weighed or None
        The quickest with most of the greatest worth; None where none shows any.
    tied : tuple of Weighed
        Those whose worth cannot be told from that of the first.
    """

    advice: Advice | None
    flips: tuple[Change, ...]
    further_down: tuple[Change, ...]
    judged: tuple[Change, ...]
    weighed: tuple[Weighed, ...]
    first: Weighed | None
    tied: tuple[Weighed, ...]


@cache
def measurements() -> Mapping[str, Measurement]:
    """Read the cheap measurements of the handbook, by key."""
    table = read_toml_table(files("swardbook.handbook") / "data" / "measurements.toml")
    return {
        key: Measurement(
            key,
            _filled(key, row["does"]),
            row["settles"],
            row["when"],
            parameter(f"measuring.{key}.hours"),
            parameter(f"measuring.{key}.weeks"),
            tuple(row["speaks_of"]),
        )
        for key, row in table.items()
    }


def hinges_of(look: LookAhead) -> Hinges:
    """Say what the advice of a look-ahead hangs on."""
    advice = look.advice
    strength = {each.unknown: each.correlation for each in look.leans}
    turns: dict[str, Turn] = {}
    for turn in look.turns:
        turns.setdefault(turn.unknown, turn)
    flips = {flip.worth.key: flip for flip in advice.flips} if advice else {}

    def change(key: str) -> Change:
        return _change(key, flips.get(key), turns.get(key), strength.get(key, 0.0))

    known = measurements()
    weighed = [Weighed(known[each.worth.key], each) for each in advice.measured] if advice else []
    by_key = {each.measurement.key: each for each in weighed}
    judged = [
        lean.unknown
        for lean in look.leans
        if abs(lean.correlation) >= _LEAN_LEAST and parameter(lean.unknown).is_judged
    ]
    return Hinges(
        advice=advice,
        flips=tuple(change(key) for key in list(flips)[:_TOLD]),
        further_down=tuple(change(key) for key in _first(turns, flips)),
        judged=tuple(change(key) for key in judged[:_TOLD]),
        weighed=tuple(weighed),
        first=by_key[advice.first] if advice and advice.first else None,
        tied=tuple(by_key[key] for key in advice.tied) if advice else (),
    )


def _first(turns: Mapping[str, Turn], flips: Mapping[str, Flip]) -> Sequence[str]:
    return [key for key in turns if key not in flips][:_TOLD]


def _change(key: str, flip: Flip | None, turn: Turn | None, correlation: float) -> Change:
    grade = None if key.startswith("today.") else parameter(key).grade
    return Change(key, plain_name(key), grade, flip, turn, correlation, _told_by(key))


def _told_by(key: str) -> tuple[Measurement, ...]:
    """Find the measurements that speak of an unknown; sown kinds and other weeds have none."""
    *owners, field = key.split(".")
    if not owners or owners[-1] not in _SPOKEN_OF:
        return ()
    found = [each for each in measurements().values() if field in each.speaks_of]
    return tuple(sorted(found, key=lambda each: (each.hours.value, each.key)))


def _filled(key: str, text: str) -> str:
    """Fill the numbers of a measurement into what is done."""
    names = [name for _, name, _, _ in Formatter().parse(text) if name]
    return text.format(**{name: size_of(key, name) for name in names})


@cache
def _plain() -> tuple[Mapping[str, str], Mapping[str, str]]:
    table = read_toml_table(files("swardbook.handbook") / "data" / "plain_names.toml")
    return table["names"], table["whose"]


def plain_name(key: str) -> str:
    """Give an unknown's name in plain words, such as ``everyday wear``."""
    names, whose = _plain()
    *owners, field = key.split(".")
    name = names.get(field, field.replace("_", " "))
    owner = owners[-1] if owners else ""
    return name.format(of=whose.get(owner, owner.replace("_", " ")))
