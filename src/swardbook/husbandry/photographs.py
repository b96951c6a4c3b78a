"""What one photograph of one plot said: a method of its own, never mixed with points or by eye."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class Photograph:
    """A photograph of a plot, and what was read from it; shares are of the plot's area.

    Parameters
    ----------
    plot : str
        The plot; empty where it is of the zone.
    picture : str
        SHA-256 of the picture's file as it came, by which its copy is kept.
    taken_at : str
        Moment by the camera's clock, ISO, without a zone; empty if not written.
    camera : str
        Maker and model; empty if not written.
    cover : float or None
        Share covered by green leaf. [-]
    pale, bare : float or None
        Shares that are not green: pale, and darker. [-]
    colour_index : float or None
        Dark green colour index; compares only within a session. [-]
    colour_spread : float or None
        Its standard deviation between pixels. [-]
    grain_mm : float or None
        Texture. [mm]
    wide_mm, high_mm : float or None
        Sides of the plot between the cards. [mm]
    tone : float or None
        Light of the grey patch over that of the paper; None where colour was not put right. [-]
    faults : tuple of str
        Names of what spoils it.
    spoils_cover : bool
        Whether they spoil cover too.
    kinds : mapping of str to float
        Cover by kind as taught by touch. [-]
    """

    kind: ClassVar[str] = "photograph"
    plot: str = ""
    picture: str = ""
    taken_at: str = ""
    camera: str = ""
    cover: float | None = None
    pale: float | None = None
    bare: float | None = None
    colour_index: float | None = None
    colour_spread: float | None = None
    grain_mm: float | None = None
    wide_mm: float | None = None
    high_mm: float | None = None
    tone: float | None = None
    faults: tuple[str, ...] = ()
    spoils_cover: bool = False
    kinds: Mapping[str, float] = field(default_factory=dict)
