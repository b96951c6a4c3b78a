"""Setting a spreader or sprayer by what it put down: the next setting, and nozzles that are off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value
from swardbook.husbandry.spreading import spread_g_m2


@dataclass(frozen=True, slots=True)
class SpreaderSetting:
    """What a setting put down, and the next one to try.

    Parameters
    ----------
    got_g_m2 : float
        Rate of one pass, mean of the runs. [g m⁻²]
    low_g_m2, high_g_m2 : float
        The lowest and highest run. [g m⁻²]
    runs : int
        How many runs.
    wanted_g_m2 : float
        Rate wanted of one pass. [g m⁻²]
    off : float
        Got over wanted, less 1. [-]
    is_set : bool
        Whether it is near enough and enough runs say so.
    setting : float or None
        The next setting to try; None where it is set, or no setting was given. [mark of the dial]
    is_held : bool
        Whether proportion asked for more than one step or the dial's end allows.
    told : str
        One or two sentences.
    """

    got_g_m2: float
    low_g_m2: float
    high_g_m2: float
    runs: int
    wanted_g_m2: float
    off: float
    is_set: bool
    setting: float | None
    is_held: bool
    told: str


def set_spreader(
    caught_g: Sequence[float], width_m: float, run_m: float, wanted_g_m2: float,
    setting: float | None = None, ends: tuple[float, float] | None = None,
) -> SpreaderSetting:  # fmt: skip
    """Tell from catches over a measured run whether a spreader is set, and what to try next.

    Output does not follow a dial in proportion, so one correction is held to a factor, and then the
    run is done again.

    Parameters
    ----------
    caught_g : sequence of float
        Product caught or used in each run. [g]
    width_m, run_m : float
        Effective width and length of the run. [m]
    wanted_g_m2 : float
        Rate of one pass: half of the whole where two passes cross. [g m⁻²]
    setting : float or None
        Where the dial stood. [mark of the dial]
    ends : tuple of float, optional
        Lowest and highest mark of the dial. [mark of the dial]

    Returns
    -------
    SpreaderSetting
        The rate, the spread of the runs, and the next setting by proportion.

    Raises
    ------
    NotEnoughDataError
        If nothing was caught.
    BadInputError
        If the dial's ends are the wrong way round.
    """
    wanted = require("rate wanted", wanted_g_m2, 0.1, 2000, "g/m2")
    rates = [spread_g_m2(each, width_m, run_m) for each in caught_g]
    if not rates or fmean(rates) <= 0:
        found = "none" if not rates else "nothing came out"
        raise NotEnoughDataError("what the spreader puts down", "product caught in a run", found)
    got = fmean(rates)
    off = got / wanted - 1
    near, enough = abs(off) <= value("setting_within"), len(rates) >= value("setting_runs")
    following, held = None, False
    if not near and setting is not None:
        following, held = next_setting(setting, got, wanted, ends)
    told = _told(got, off, near, len(rates), following, held)
    return SpreaderSetting(
        got, min(rates), max(rates), len(rates), wanted, off, near and enough, following, held, told
    )


def next_setting(
    setting: float, got_g_m2: float, wanted_g_m2: float, ends: tuple[float, float] | None = None
) -> tuple[float, bool]:
    """Give the next setting by proportion, within one step and within the dial.

    Parameters
    ----------
    setting : float
        Where the dial stands. [mark of the dial]
    got_g_m2, wanted_g_m2 : float
        What it put down, and what is wanted. [g m⁻²]
    ends : tuple of float, optional
        Lowest and highest mark of the dial. [mark of the dial]

    Returns
    -------
    tuple of float and bool
        The setting [mark of the dial], and whether it was held back.

    Raises
    ------
    BadInputError
        If the dial's ends are the wrong way round.
    """
    stands = require("setting", setting, 0.01, 1000, "mark of the dial")
    most = value("setting_step_most")
    factor = min(
        max(wanted_g_m2 / require("rate got", got_g_m2, 1e-6, 1e5, "g/m2"), 1 / most), most
    )
    following = stands * factor
    if ends is not None:
        if ends[0] >= ends[1]:
            raise BadInputError("the dial's ends", f"{ends[0]:g} to {ends[1]:g}", "lowest first")
        following = min(max(following, ends[0]), ends[1])
    return following, abs(following - stands * wanted_g_m2 / got_g_m2) > 1e-9 * stands


@dataclass(frozen=True, slots=True)
class Nozzles:
    """How alike the nozzles of a sprayer are.

    Parameters
    ----------
    mean_l_min, together_l_min : float
        Mean of one, and all together. [L min⁻¹]
    off : tuple of float
        Each over the mean, less 1. [-]
    to_look_at : tuple of int
        Those too far off, counted from 1.
    """

    mean_l_min: float
    together_l_min: float
    off: tuple[float, ...]
    to_look_at: tuple[int, ...]


def compare_nozzles(litres_min: Sequence[float]) -> Nozzles:
    """Compare what each nozzle of a sprayer gives in a minute.

    Parameters
    ----------
    litres_min : sequence of float
        What each gives. [L min⁻¹]

    Raises
    ------
    NotEnoughDataError
        If none was measured.
    """
    gives = [require("output of a nozzle", each, 0, 100, "L/min") for each in litres_min]
    if not gives or fmean(gives) <= 0:
        raise NotEnoughDataError("what the sprayer gives", "a minute into a jug", "none")
    mean = fmean(gives)
    off = tuple(each / mean - 1 for each in gives)
    bad = tuple(at for at, each in enumerate(off, 1) if abs(each) > value("nozzle_within") + 1e-9)
    return Nozzles(mean, sum(gives), off, bad)


_FAR = 0.95
"""From so much more on, it is told in times [-]."""


def _told(
    got: float, off: float, near: bool, runs: int, following: float | None, held: bool
) -> str:
    way = "more" if off > 0 else "less"
    against = f"{1 + off:.2g} times what is wanted" if off >= _FAR else (
        f"{abs(off):.0%} {way} than wanted"
    )  # fmt: skip
    told = f"One pass puts down {got:.1f} g/m², {against}."
    wanted = int(value("setting_runs"))
    if near:
        if runs < wanted:
            return f"{told} Near enough by {runs} run{'s' * (runs > 1)}; do {wanted} to trust it."
        return f"{told} It is set."
    if following is None:
        return f"{told} {'Close' if off > 0 else 'Open'} it a little and do the run again."
    why = " (held to one step, or to the dial's end)" if held else ", by proportion"
    return f"{told} Try {following:.3g}{why}, and do the run again."
