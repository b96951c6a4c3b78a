"""What is known of the machines: kept once for the site or a zone, and used by every plan."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, replace

from swardbook.book.fields import quantity
from swardbook.book.worked_out import Answer, last_answer
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import read_number, require
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.vibration import ACTION_M_S2, LIMIT_M_S2, hours_to, points

VERTICUT = "verticut unit"
"""The name under which the facts of one are kept."""
Reader = Callable[[str], float]
_SPEEDS = {"m/s": 1.0, "km/h": 1 / 3.6, "kmh": 1 / 3.6, "kph": 1 / 3.6, "mph": 1609.344 / 3600}


@dataclass(frozen=True, slots=True)
class Machine:
    """A mower or a verticut unit as far as it is known.

    Parameters
    ----------
    width_mm, overlap_mm : float or None
        Width that it works, and how much of it goes over the pass before. [mm]
    speed_m_s : float or None
        Speed over the ground. [m s⁻¹]
    turn_s : float or None
        Time of a turn. [s]
    blades : float or None
        Blades of a cylinder, or tips round one blade of a verticut unit. [-]
    turns_min : float or None
        Turns of the cylinder or shaft. [min⁻¹]
    wheel_mm : float or None
        Diameter of the wheel or roller that drives it. [mm]
    wheel_teeth, cylinder_teeth : float or None
        Gears of a cylinder that its wheel drives. [-]
    bench_mm, sinks_mm : float or None
        Bench height, and how far the rollers sink. [mm]
    blade_mm, spacing_mm : float or None
        Thickness of a verticut blade, and from blade to blade. [mm]
    vibration_m_s2 : float or None
        Vibration, declared or measured. [m s⁻²]
    """

    width_mm: float | None = None
    overlap_mm: float | None = None
    speed_m_s: float | None = None
    turn_s: float | None = None
    blades: float | None = None
    turns_min: float | None = None
    wheel_mm: float | None = None
    wheel_teeth: float | None = None
    cylinder_teeth: float | None = None
    bench_mm: float | None = None
    sinks_mm: float | None = None
    blade_mm: float | None = None
    spacing_mm: float | None = None
    vibration_m_s2: float | None = None


@dataclass(frozen=True, slots=True)
class Walking:
    """How a machine goes over ground, with what was taken where nothing is known.

    Parameters
    ----------
    width_m, overlap_m : float
        Width that it works, and overlap. [m]
    speed_m_s : float
        Speed. [m s⁻¹]
    turn_s : float
        Time of a turn. [s]
    taken : tuple of str
        What is not known and was taken as usual.
    """

    width_m: float
    overlap_m: float
    speed_m_s: float
    turn_s: float
    taken: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Vibration:
    """Vibration of some hours, and how long until the values of a day.

    Parameters
    ----------
    points : float
        Exposure points of the job; 100 are the action value of a day, 400 its limit. [-]
    action_h, limit_h : float
        Hours of work to the two. [h]
    """

    points: float
    action_h: float
    limit_h: float


def machine_of(
    ground: Ground, about: str, zone: str = "", typed: Mapping[str, str] | None = None
) -> Machine:
    """Give what is known of a machine: what was kept last, and over it what is typed now.

    Parameters
    ----------
    ground : Ground
        The book as it stands.
    about : str
        `VERTICUT`, or the name of a mower.
    zone : str
        The zone; a machine kept for it goes before one kept for the site.
    typed : mapping of str to str
        Texts by the fields of `Machine`; empty ones are left.

    Raises
    ------
    BadInputError
        If a text cannot be read.
    OutOfRangeError
        If a number is none that a machine has.
    """
    kept = last_answer(ground, about, zone)
    known = {} if kept is None else dict(kept.answer.found)
    names = {each.name for each in fields(Machine)}
    machine = Machine(**{name: number for name, number in known.items() if name in names})
    given = {name: text for name, text in (typed or {}).items() if text}
    return replace(machine, **{name: _READERS[name](text) for name, text in given.items()})


def mower_name(kind: str) -> str:
    """Give the name under which the facts of a kind of mower are kept."""
    return f"mower, {kind}"


def kept_machine(about: str, machine: Machine, typed: Mapping[str, str]) -> Answer:
    """Make the answer under which a machine is kept."""
    known = {each.name: getattr(machine, each.name) for each in fields(machine)}
    found = {name: float(number) for name, number in known.items() if number is not None}
    words = ", ".join(f"{name.replace('_', ' ')} {number:g}" for name, number in found.items())
    return Answer(about, words, dict(typed), found)


def walking(machine: Machine, zone: Zone | None) -> Walking:
    """Give how a machine goes over a zone; the usual stands in for what is not known.

    Parameters
    ----------
    machine : Machine
        What is known of it.
    zone : Zone or None
        The zone, whose mower's width stands in.

    Raises
    ------
    BadInputError
        If there is no width.
    """
    width = machine.width_mm or (zone.mower.width_mm if zone is not None else None)
    if width is None:
        raise BadInputError("the width of the machine", "none", "--width, such as '51 cm'")
    usual = {"overlap": ("mowing.overlap", machine.overlap_mm),
             "speed": ("mowing.speed", machine.speed_m_s),
             "time of a turn": ("mowing.turn_seconds", machine.turn_s)}  # fmt: skip
    overlap, speed, turn = (value(key) if said is None else said for key, said in usual.values())
    taken = tuple(name for name, (_, said) in usual.items() if said is None)
    return Walking(width / 1000, min(overlap, width / 2) / 1000, speed, turn, taken)


def vibration_of(machine: Machine, hours: float) -> Vibration | None:
    """Give the vibration of a job; None where the machine's is not known.

    Parameters
    ----------
    machine : Machine
        The machine.
    hours : float
        Time with it at work. [h]
    """
    felt = machine.vibration_m_s2
    if felt is None or felt <= 0:
        return None
    return Vibration(
        points(felt, min(hours, 24.0)), hours_to(ACTION_M_S2, felt), hours_to(LIMIT_M_S2, felt)
    )


def read_speed(text: str) -> float:
    """Read ``1.2``, ``4,5 km/h`` or ``3 mph``.

    Returns
    -------
    float
        The speed. [m s⁻¹]

    Raises
    ------
    BadInputError
        If it is no speed.
    OutOfRangeError
        If nothing is walked or driven so over a lawn.
    """
    whole = re.fullmatch(r"([-+\d.,]+)\s*(.*)", text.strip())
    number = read_number(whole[1]) if whole else None
    unit = whole[2].strip().casefold().replace(" ", "") if whole else ""
    if number is None or (unit and unit not in _SPEEDS):
        raise BadInputError("--speed", text, "a speed in m/s, km/h or mph, such as '4.3 km/h'")
    hint = "Bare is m/s; 4.3 km/h is 1.2 m/s." if not unit else ""
    return require("speed", number * _SPEEDS.get(unit, 1.0), 0.05, 6, "m/s", hint)


def read_sides(text: str) -> tuple[float, float]:
    """Read ``32x25.6`` or ``105 ft x 84 ft`` as the long and the short side.

    Returns
    -------
    tuple of float
        Long and short side. [m]

    Raises
    ------
    BadInputError
        If it is not two lengths.
    """
    parts = re.split(r"\s*[x×]\s*", text.strip(), flags=re.IGNORECASE)
    if len(parts) != 2 or not all(parts):
        raise BadInputError("--sides", text, "two sides, such as 32x25.6")
    one, other = (quantity(part, "m", "--sides") / 1000 for part in parts)
    return max(one, other), min(one, other)


def read_gears(text: str) -> tuple[float, float]:
    """Read ``63:14``, teeth on the wheel and on the cylinder.

    Raises
    ------
    BadInputError
        If it is not two numbers of teeth.
    """
    parts = [read_number(each) for each in re.split(r"\s*[:/]\s*", text.strip())]
    if len(parts) != 2 or parts[0] is None or parts[1] is None:
        raise BadInputError("--gears", text, "teeth on wheel and cylinder, such as 63:14")
    return (
        require("teeth on the wheel", parts[0], 1, 1000, "-"),
        require("teeth on the cylinder", parts[1], 1, 1000, "-"),
    )


def _length(name: str, low: float, high: float) -> Reader:
    return lambda text: require(name, quantity(text, "mm", name), low, high, "mm")


def _plain(name: str, low: float, high: float, unit: str) -> Reader:
    def read(text: str) -> float:
        number = read_number(text)
        if number is None:
            raise BadInputError(name, text, "a number")
        return require(name, number, low, high, unit)

    return read


_READERS: Mapping[str, Reader] = {
    "width_mm": _length("width of the machine", 50, 12_000),
    "overlap_mm": _length("overlap", 0, 2000),
    "speed_m_s": read_speed,
    "turn_s": _plain("time of a turn", 0, 120, "s"),
    "blades": _plain("blades", 1, 20, "-"),
    "turns_min": _plain("turns of the cylinder", 50, 5000, "a minute"),
    "wheel_mm": _length("wheel", 50, 1000),
    "wheel_teeth": lambda text: read_gears(text)[0],
    "cylinder_teeth": lambda text: read_gears(text)[1],
    "bench_mm": _length("bench height", 1, 150),
    "sinks_mm": _length("how far the rollers sink", -10, 20),
    "blade_mm": _length("blade", 0.2, 20),
    "spacing_mm": _length("spacing of the blades", 0.2, 200),
    "vibration_m_s2": _plain("vibration", 0, 60, "m/s2"),
}
