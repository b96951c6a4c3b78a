"""Where things are: an outline, a place in it, and how each was measured; metres on the ground.

A zone has a frame of its own: metres east and north of its south-west corner. What lies in it
(pegs, squares, spots) is told in that frame, so that a zone drawn anew takes them along.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import require
from swardbook.husbandry.areas import LONGEST_M, Point, outline

Ring = tuple[Point, ...]


class By(StrEnum):
    """How a place was told."""

    PLAN = "plan"
    """Touched on the drawn plan."""
    TAPE = "tape"
    """Two tapes from two fixed points, or along a side and in from it."""
    PHONE = "phone"
    """A phone's position."""


@dataclass(frozen=True, slots=True)
class Tape:
    """One tape: from where, and how long.

    Parameters
    ----------
    start : str
        A fixed point, a peg, or a corner such as ``Main court 1``.
    length_m : float
        From there to the place. [m]
    """

    start: str
    length_m: float

    def __post_init__(self) -> None:
        require("tape", self.length_m, 0, LONGEST_M, "m")


@dataclass(frozen=True, slots=True)
class Where:
    """A place on the ground.

    Parameters
    ----------
    east_m, north_m : float
        From the south-west corner of its zone; of the site, where it is in none. [m]
    by : By
        How it was told.
    within_m : float or None
        Radius that holds about two in three such places; None where it was not told. [m]
    tapes : tuple of Tape
        The two tapes, if it was told by them.
    """

    east_m: float
    north_m: float
    by: By = By.PLAN
    within_m: float | None = None
    tapes: tuple[Tape, ...] = ()

    def __post_init__(self) -> None:
        require("east", self.east_m, -LONGEST_M, LONGEST_M, "m")
        require("north", self.north_m, -LONGEST_M, LONGEST_M, "m")

    @property
    def point(self) -> Point:
        """East and north [m]."""
        return self.east_m, self.north_m


@dataclass(frozen=True, slots=True)
class Outline:
    """The outline of a zone.

    Parameters
    ----------
    corners : tuple of (float, float)
        Corners in order, in the zone's frame; not closed again. [m]
    east_m, north_m : float
        Where the frame's corner lies, from the site's own corner. [m]
    holes : tuple of tuple of (float, float)
        What is cut out, such as a court inside its surround. [m]
    """

    corners: Ring
    east_m: float = 0.0
    north_m: float = 0.0
    holes: tuple[Ring, ...] = ()

    def __post_init__(self) -> None:
        require("east", self.east_m, -LONGEST_M, LONGEST_M, "m")
        require("north", self.north_m, -LONGEST_M, LONGEST_M, "m")
        rings = tuple(tuple((float(x), float(y)) for x, y in ring) for ring in self.rings)
        object.__setattr__(self, "corners", rings[0])
        object.__setattr__(self, "holes", rings[1:])
        whole, *cut_out = (outline(ring)[0] for ring in rings)
        if sum(cut_out) >= whole:
            raise BadInputError("the outline", "more cut out than there is", "holes inside it")

    @property
    def rings(self) -> tuple[Ring, ...]:
        """The edge and each hole, in the zone's frame [m]."""
        return (self.corners, *self.holes)

    @property
    def on_site(self) -> tuple[Ring, ...]:
        """The edge and each hole, from the site's own corner [m]."""
        return tuple(
            tuple((x + self.east_m, y + self.north_m) for x, y in ring) for ring in self.rings
        )

    @property
    def area_m2(self) -> float:
        """The area within [m²]."""
        whole, *cut_out = (outline(ring)[0] for ring in self.rings)
        return whole - sum(cut_out)


@dataclass(frozen=True, slots=True)
class FixedPoint:
    """A point that stays, to tape from: a post, the corner of a wall.

    Parameters
    ----------
    name : str
        What it is called.
    east_m, north_m : float
        From the site's own corner. [m]
    """

    name: str
    east_m: float
    north_m: float

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise BadInputError("the fixed point", "no name", "a name, such as gate post")
        require("east", self.east_m, -LONGEST_M, LONGEST_M, "m")
        require("north", self.north_m, -LONGEST_M, LONGEST_M, "m")


@dataclass(frozen=True, slots=True)
class Backdrop:
    """A picture under the plan, set by two points that are known on both.

    Parameters
    ----------
    picture : str
        SHA-256 of the picture's file, by which its copy is kept.
    wide_px, high_px : int
        Its size. [px]
    on_picture : tuple of (float, float)
        The two points, from the picture's top left. [px]
    on_ground : tuple of (float, float)
        The same, from the site's own corner. [m]
    """

    picture: str
    wide_px: int
    high_px: int
    on_picture: Ring
    on_ground: Ring

    def __post_init__(self) -> None:
        for name, pair in (("on the picture", self.on_picture), ("on the ground", self.on_ground)):
            if len(pair) != 2 or tuple(pair[0]) == tuple(pair[1]):
                raise BadInputError(f"the points {name}", f"{len(pair)}", "two, apart")


@dataclass(frozen=True, slots=True)
class SitePlan:
    """What the plan of a site has beyond its zones.

    Parameters
    ----------
    points : tuple of FixedPoint
        Fixed points to tape from.
    north_deg : float
        Where north lies, clockwise from the top of the plan. [°]
    latitude, longitude : float or None
        Where the site's own corner lies on the globe; None where nobody said. [°]
    backdrop : Backdrop or None
        A picture under it.
    """

    points: tuple[FixedPoint, ...] = ()
    north_deg: float = 0.0
    latitude: float | None = None
    longitude: float | None = None
    backdrop: Backdrop | None = None
