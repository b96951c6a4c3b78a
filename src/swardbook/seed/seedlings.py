"""Seedlings counted in frames: how many, what share of viable seed, and whose they are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swardbook.evidence.counts import Density, density
from swardbook.evidence.differences import difference_of_densities, ratio_interval
from swardbook.evidence.estimates import Interval
from swardbook.evidence.proportions import wilson
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value


@dataclass(frozen=True, slots=True)
class Seedlings:
    """Seedlings in frames.

    Parameters
    ----------
    sown : Density
        In frames on sown ground. [seedlings m⁻²]
    unsown : Density or None
        In frames on ground left unsown; None where there are none. [seedlings m⁻²]
    viable_m2 : float or None
        Viable seed sown. [seeds m⁻²]
    viable_range : Interval or None
        Its range, where a test gave one; None takes it as stated. [seeds m⁻²]
    """

    sown: Density
    unsown: Density | None
    viable_m2: float | None
    viable_range: Interval | None = None

    @property
    def interval(self) -> Interval:
        """The range of all seedlings [m⁻²]."""
        return self.sown.interval()

    @property
    def net(self) -> float | None:
        """Seedlings less those that came by themselves [m⁻²]; None without an unsown frame."""
        return None if self.unsown is None else self.sown.per_m2 - self.unsown.per_m2

    @property
    def net_interval(self) -> Interval | None:
        """The range of that difference [m⁻²]."""
        return None if self.unsown is None else difference_of_densities(self.sown, self.unsown)

    @property
    def share(self) -> tuple[float, Interval] | None:
        """Net seedlings as a share of viable seed, with its range [-]; None where not known."""
        range_, net, viable = self.net_interval, self.net, self.viable_m2
        if range_ is None or net is None or not viable:
            return None
        seed = self.viable_range or Interval(viable, viable)
        found = ratio_interval(net, range_, viable, seed)
        return max(net / viable, 0.0), Interval(max(found.low, 0.0), max(found.high, 0.0))

    @property
    def self_sown_share(self) -> float | None:
        """Self-sown seedlings as a share of all [-]; None without an unsown frame."""
        if self.unsown is None or not self.sown.per_m2:
            return None
        return min(self.unsown.per_m2 / self.sown.per_m2, 1.0)


def count_seedlings(
    frames: Sequence[float], unsown: Sequence[float], side_mm: float, viable_m2: float | None,
    viable_range: Interval | None = None,
) -> Seedlings:  # fmt: skip
    """Turn counts in frames into seedlings a square metre and a share of viable seed.

    Parameters
    ----------
    frames : sequence of float
        Seedlings in each frame on sown ground. [seedlings]
    unsown : sequence of float
        Seedlings in each frame on unsown ground; empty if there is none. [seedlings]
    side_mm : float
        Side of a frame. [mm]
    viable_m2 : float or None
        Viable seed sown; None leaves the share out. [seeds m⁻²]
    viable_range : Interval, optional
        Its range, where a test gave one: it widens that of the share. [seeds m⁻²]

    Raises
    ------
    NotEnoughDataError
        If there are fewer than six frames on sown ground, or one on unsown ground.
    OutOfRangeError
        If a count is below 0 or more than a frame can hold, or the frame has no size.
    """
    least = round(value("watch.frames_least"))
    for each in (*frames, *unsown):
        require("seedlings in a frame", each, 0, value("watch.frame_most"), "seedlings")
    if len(frames) < least:
        raise NotEnoughDataError("seedlings a square metre", f"{least} frames", str(len(frames)))
    if len(unsown) == 1:
        raise NotEnoughDataError("what came by itself", "2 unsown frames", "1")
    area = (require("side of a frame", side_mm, 10, 2000, "mm") / 1000) ** 2
    blank = density(unsown, [area] * len(unsown)) if unsown else None
    return Seedlings(density(frames, [area] * len(frames)), blank, viable_m2, viable_range)


@dataclass(frozen=True, slots=True)
class Whose:
    """Whose the seedlings are, as far as they can be told apart.

    Parameters
    ----------
    sown, weed, cannot_tell : int
        Seedlings looked at with a lens.
    least, most : float
        The weed's share if none or all that cannot be told are its. [-]
    interval : Interval
        The whole range, by chance and by what cannot be told. [-]
    """

    sown: int
    weed: int
    cannot_tell: int
    least: float
    most: float
    interval: Interval


def whose(sown: int, weed: int, cannot_tell: int, leaves: float) -> Whose:
    """Share out seedlings that were looked at between sown kinds, the weed, and cannot tell.

    Parameters
    ----------
    sown, weed, cannot_tell : int
        Seedlings of each.
    leaves : float
        Leaves most of them have. [-]

    Raises
    ------
    NotEnoughDataError
        If they have too few leaves to be told apart, or none was looked at.
    OutOfRangeError
        If a number is below 0.
    """
    for name, number in (("sown", sown), ("weed", weed), ("cannot tell", cannot_tell)):
        if number < 0:
            raise OutOfRangeError(name, number, "0 or more", "seedlings")
    least = value("watch.leaves_to_name")
    if leaves < least:
        raise NotEnoughDataError(
            "whose the seedlings are", f"{least:g} leaves", f"{leaves:g}: record 'cannot tell'"
        )
    n = sown + weed + cannot_tell
    if not n:
        raise NotEnoughDataError("whose the seedlings are", "seedlings looked at", "none")
    few, many = weed / n, (weed + cannot_tell) / n
    ends = Interval(wilson(weed, n).low, wilson(weed + cannot_tell, n).high)
    return Whose(sown, weed, cannot_tell, few, many, ends)
