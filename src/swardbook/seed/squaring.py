"""After sowing the weights square up: used against planned, leftovers against the lot's card."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value


@dataclass(frozen=True, slots=True)
class SownBay:
    """What a bay should have got.

    Parameters
    ----------
    name : str
        The bay or plot.
    lot : str
        Code of the lot planned for it.
    planned_g : float
        Seed planned. [g]
    used_g : float or None
        Seed used, by weighing the bag before and after; None where nobody did. [g]
    """

    name: str
    lot: str
    planned_g: float
    used_g: float | None = None


@dataclass(frozen=True, slots=True)
class WeighedBack:
    """A lot weighed back after sowing.

    Parameters
    ----------
    lot : str
        Its code.
    before_g, left_g : float
        What there was before these bays, and what the scale says now. [g]
    """

    lot: str
    before_g: float
    left_g: float


@dataclass(frozen=True, slots=True)
class BayOff:
    """Used against planned in one bay.

    Parameters
    ----------
    bay : SownBay
        The bay, with what was used.
    off_g : float
        Used less planned. [g]
    is_within : bool
        Whether that is within the usual share, or within what a scale tells.
    """

    bay: SownBay
    off_g: float
    is_within: bool


@dataclass(frozen=True, slots=True)
class LotOff:
    """A lot's leftover against its card.

    Parameters
    ----------
    lot : str
        Its code.
    expected_g, left_g : float
        What should be left by what the bays used, or else were to use, and what is. [g]
    off_g : float
        Left less expected: below 0 more was used than planned. [g]
    allowed_g : float
        Difference that says nothing. [g]
    """

    lot: str
    expected_g: float
    left_g: float
    off_g: float
    allowed_g: float

    @property
    def is_within(self) -> bool:
        """Whether the lot squares up."""
        return abs(self.off_g) <= self.allowed_g


@dataclass(frozen=True, slots=True)
class MixUp:
    """Two lots, or two bays, that one mix-up could explain.

    Parameters
    ----------
    used_too_much, used_too_little : str
        The lot of which there is less left than there should be, and the one with more; where bags
        of two bays were exchanged, the two bays.
    bays : int
        How many bays it takes.
    where : tuple of str
        Bays it could have been.
    told : str
        One sentence.
    """

    used_too_much: str
    used_too_little: str
    bays: int
    where: tuple[str, ...]
    told: str


@dataclass(frozen=True, slots=True)
class SquaredUp:
    """Whether the weights agree after a sowing.

    Parameters
    ----------
    bays : tuple of BayOff
        Bays that were weighed.
    not_weighed : tuple of str
        Bays that were not.
    lots : tuple of LotOff
        Lots weighed back.
    not_weighed_back : tuple of str
        Lots of these bays that were not.
    mix_ups : tuple of MixUp
        What one mix-up could explain.
    """

    bays: tuple[BayOff, ...]
    not_weighed: tuple[str, ...]
    lots: tuple[LotOff, ...]
    not_weighed_back: tuple[str, ...]
    mix_ups: tuple[MixUp, ...]

    @property
    def is_square(self) -> bool:
        """Whether all that was weighed agrees."""
        return all(bay.is_within for bay in self.bays) and all(lot.is_within for lot in self.lots)


def square_up(bays: Sequence[SownBay], weighed_back: Iterable[WeighedBack] = ()) -> SquaredUp:
    """Set used beside planned, leftovers beside the lot's card, and look for a mix-up.

    Parameters
    ----------
    bays : sequence of SownBay
        The bays of this sowing.
    weighed_back : iterable of WeighedBack
        Lots weighed after it.

    Returns
    -------
    SquaredUp
        Each difference, and the two lots or bays that could explain a pair of them.

    Raises
    ------
    BadInputError
        If a bay or lot stands twice.
    OutOfRangeError
        If a weight has no meaning.
    """
    _each_once([bay.name for bay in bays], "bay")
    back = tuple(weighed_back)
    _each_once([each.lot for each in back], "lot")
    weighed = tuple(_bay_off(bay, bay.used_g) for bay in bays if bay.used_g is not None)
    lots = tuple(_lot_off(each, bays) for each in back)
    named = {each.lot.casefold() for each in back}
    missing = dict.fromkeys(bay.lot for bay in bays if bay.lot and bay.lot.casefold() not in named)
    return SquaredUp(
        weighed, tuple(bay.name for bay in bays if bay.used_g is None), lots, tuple(missing),
        (*_wrong_lot(lots, bays), *_exchanged(weighed)),
    )  # fmt: skip


def _each_once(names: Sequence[str], what: str) -> None:
    folded = [name.casefold() for name in names]
    for name, each in zip(names, folded, strict=True):
        if folded.count(each) > 1:
            raise BadInputError(f"the {what}s", name, f"each {what} once")


def _bay_off(bay: SownBay, used: float) -> BayOff:
    planned = require(f"planned for {bay.name}", bay.planned_g, 0, 1e7, "g")
    off = require(f"used on {bay.name}", used, 0, 1e7, "g") - planned
    return BayOff(bay, off, abs(off) <= _allowed(planned))


def _lot_off(back: WeighedBack, bays: Sequence[SownBay]) -> LotOff:
    before = require(f"{back.lot} before sowing", back.before_g, 0, 1e8, "g")
    left = require(f"{back.lot} left", back.left_g, 0, before * 1.05 + 5, "g",
                   "More is left than there was before: another bag?")  # fmt: skip
    of = _of(bays, back.lot)
    taken = sum(bay.planned_g if bay.used_g is None else bay.used_g for bay in of)
    expected = before - taken
    allowed = _allowed(sum(bay.planned_g for bay in of))
    return LotOff(back.lot, expected, left, left - expected, allowed)


def _allowed(planned: float) -> float:
    return max(value("square_up_share") * planned, value("square_up_scale_g"))


def _wrong_lot(lots: Sequence[LotOff], bays: Sequence[SownBay]) -> list[MixUp]:
    """Find two lots where bays planned with the one were sown with the other."""
    found = []
    for light in lots:
        for heavy in lots:
            if light.is_within or heavy.is_within or light.off_g > 0 or heavy.off_g < 0:
                continue
            for number in range(1, int(value("square_up_bays_most")) + 1):
                where = [
                    bay.name for bay in _of(bays, heavy.lot)
                    if abs(heavy.off_g - number * bay.planned_g) <= heavy.allowed_g
                ]  # fmt: skip
                fits = any(
                    abs(-light.off_g - number * bay.planned_g) <= light.allowed_g
                    for bay in _of(bays, light.lot)
                )
                if where and fits:
                    found.append(_lot_mix_up(light, heavy, number, where))
    return found


def _of(bays: Sequence[SownBay], lot: str) -> list[SownBay]:
    return [bay for bay in bays if bay.lot.casefold() == lot.casefold()]


def _lot_mix_up(light: LotOff, heavy: LotOff, number: int, where: list[str]) -> MixUp:
    bays = "one bay" if number == 1 else f"{number} bays"
    told = (
        f"{light.lot} is {-light.off_g:.0f} g light and {heavy.lot} {heavy.off_g:.0f} g heavy:"
        f" {bays} planned with {heavy.lot} may have got {light.lot}. Look at {', '.join(where)}."
    )
    return MixUp(light.lot, heavy.lot, number, tuple(where), told)


def _exchanged(bays: Sequence[BayOff]) -> list[MixUp]:
    """Find two bays of which each used what was planned for the other."""
    found = []
    for at, one in enumerate(bays):
        for other in bays[at + 1 :]:
            if one.is_within or other.is_within:
                continue
            first, second = one.bay, other.bay
            fits = _near(first.used_g, second.planned_g) and _near(second.used_g, first.planned_g)
            if fits:
                told = (
                    f"{first.name} used what was planned for {second.name}, and the other way"
                    " round: the two bags may have been exchanged."
                )
                more, less = (first, second) if one.off_g > 0 else (second, first)
                found.append(MixUp(more.name, less.name, 2, (first.name, second.name), told))
    return found


def _near(used: float | None, planned: float) -> bool:
    return used is not None and abs(used - planned) <= _allowed(planned)
