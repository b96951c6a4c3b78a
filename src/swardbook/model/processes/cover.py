"""Growth into the gap, and what makes it faster or slower."""

from __future__ import annotations

from swardbook.model.fixed import MOST_A_DAY
from swardbook.model.numbers import Numbers, least, most, within


def light_response(light: Numbers, enough: Numbers) -> Numbers:
    """Growth against that in enough light."""
    return least(light / enough, 1.0)


def nitrogen_response(nitrogen: Numbers, half: Numbers) -> Numbers:
    """Growth against that with plenty of nitrogen; 1 at three times the half-way amount."""
    return least(1.3333333 * nitrogen / (nitrogen + half), 1.0)


def water_response(rooted: Numbers, seedbed: Numbers, gap: Numbers) -> Numbers:
    """Growth against that in moist soil: by the root zone, and if bare by the seedbed too.

    What grows into bare ground is young and needs both; the bare share stands for how much of the
    sward that is.
    """
    return rooted + (least(rooted, seedbed) - rooted) * gap


def temperature_response(temperature: Numbers, base: Numbers, full: Numbers) -> Numbers:
    """Leaf growth against that on a warm day: a straight line from `base` to `full`."""
    return within((temperature - base) / (full - base), 0.0, 1.0)


def spreading(
    cover: Numbers, gap: Numbers, drive: Numbers, rate: Numbers, closure: Numbers, gap_open: Numbers
) -> Numbers:
    """Ground a cover would take today: logistic in open ground, slower in the last gaps.

    Parameters
    ----------
    cover, gap : float or array
        Shares of ground. [-]
    drive : float or array
        Degree-days of the day times the responses to water, nitrogen and light. [°C d]
    rate, closure : float or array
        Rates in open ground and from the edges of small gaps. [(°C d)⁻¹]
    gap_open : float or array
        Bare share from which the rate is that of open ground. [-]
    """
    open_share = least(gap / gap_open, 1.0)
    return (closure + (rate - closure) * open_share) * drive * cover * gap


def room_left(cover: Numbers, plants: Numbers, largest: Numbers) -> Numbers:
    """How far plants are from the largest area they can hold: 1 far, 0 there."""
    return most(1.0 - cover / (plants * largest + 1e-9), 0.0)


def rationed(wanted: Numbers, gap: Numbers) -> Numbers:
    """Share of what all want together that the gap can give today."""
    return least(MOST_A_DAY * gap / (wanted + 1e-30), 1.0)


def height_growth(best: Numbers, temperature: Numbers, other: Numbers) -> Numbers:
    """Growth in height today.

    Returns
    -------
    float or array
        Growth. [mm d⁻¹]
    """
    return best * temperature * other
