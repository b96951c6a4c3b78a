"""The heads of one weed grass through one day: lifted, cut, shed, ripened, made."""

from __future__ import annotations

from typing import NamedTuple

from swardbook.model.day_zone import Today
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.numbers import Numbers
from swardbook.model.parameter_sets import BinShares, WeedParameters, ZoneParameters
from swardbook.model.processes import flowering, mowing, ripening, verticutting
from swardbook.model.state import HeadBins, WeedState, ZoneState


class Taking(NamedTuple):
    """Shares and speeds that hold for every bin today."""

    lift: Numbers
    high: Numbers
    """Heads above the blade cut. [-]"""
    low: Numbers
    """Heads below it cut. [-]"""
    pulled: Numbers
    """Heads that leave with pulled plants. [-]"""
    days: Numbers
    """Ripening the day is worth. [d]"""
    moved: Numbers
    """Share of a bin that moves on. [-]"""
    shedding: Numbers
    """Ripe seed shed a day at 12 °C. [d⁻¹]"""


class Bin(NamedTuple):
    """One bin of heads after cutting and shedding, and what left it."""

    high: Numbers
    low: Numbers
    cut: Numbers
    cut_viable: Numbers
    shed: Numbers
    pulled: Numbers


class HeadFlows(NamedTuple):
    """What happens to heads today, in heads a square metre."""

    high: HeadBins
    low: HeadBins
    made: Numbers
    cut: Numbers
    cut_viable: Numbers
    shed: Numbers
    pulled: Numbers


def taking(
    w: WeedState, p: WeedParameters, z: ZoneState, zone: ZoneParameters, t: Today, o: Operations,
    pulled: Numbers,
) -> Taking:  # fmt: skip
    """Work out the shares that hold for every bin today."""
    before = mowing.share_above(p.odds_above, z.cut_height)
    now = mowing.share_above(p.odds_above, o.cut_height)
    passes = o.verticut_tips + o.verticut_blade + o.verticut_soil + o.scarify
    days = ripening.ripening_days(t.warm)
    return Taking(
        verticutting.lifted(p.lift, passes, o.brush, zone.brush_lift),
        mowing.takes_high(before, now, o.cut),
        mowing.takes_low(before, now, o.cut),
        pulled,
        days,
        ripening.moved_share(days),
        p.shedding,
    )


def bin_day(high: Numbers, low: Numbers, ripe: Numbers, cut_ripe: Numbers, k: Taking) -> Bin:
    """Take one bin of heads through lifting, pulling, cutting and shedding."""
    raised = ripening.raised(low, k.lift)
    up, down = high + raised, low - raised
    pulled = (up + down) * k.pulled
    up, down = up * (1.0 - k.pulled), down * (1.0 - k.pulled)
    cut = up * k.high + down * k.low
    shed = ripening.shed_share(k.shedding, ripe, k.days)
    standing = up + down - cut
    return Bin(
        ripening.left_after(up, k.high, shed),
        ripening.left_after(down, k.low, shed),
        cut,
        cut * cut_ripe,
        standing * shed,
        pulled,
    )


def shifted(
    b0: Numbers, b1: Numbers, b2: Numbers, b3: Numbers, b4: Numbers, b5: Numbers, moved: Numbers,
    made: Numbers, grown: Numbers,
) -> HeadBins:  # fmt: skip
    """Move a share of every bin to the next; `made` enters the first, `grown` the second."""
    stay = 1.0 - moved
    return HeadBins(
        b0 * stay + made,
        b1 * stay + grown,
        b2 * stay + b1 * moved,
        b3 * stay + b2 * moved,
        b4 * stay + b3 * moved,
        b5 + b4 * moved,
    )


def heads_made(w: WeedState, p: WeedParameters, d: Drivers, t: Today, plants: Numbers) -> Numbers:
    """Heads made today [m⁻²] by the plants that are left."""
    flush = flowering.flush(w.season_warmth, p.flush_scale)
    days = ripening.ripening_days(t.warm)
    season = flowering.season_share(flush, d.autumn, p.autumn_flush, p.background_heads, days)
    size = flowering.size_factor(w.cover, grown_up(w), p.typical_area)
    return flowering.heads_today(plants * size, p.heads, season, p.mown_heads, t.stress)


def heads_day(w: WeedState, p: WeedParameters, z: ZoneState, k: Taking, made: Numbers) -> HeadFlows:
    """Take all heads through the day.

    A new head lies low; two days of ripening later its stem is grown, and a share stands above the
    blade. What a pass lifts is above it at once.
    """
    left: BinShares = p.ripe_left
    cut: BinShares = p.ripe_cut
    a = bin_day(w.high.b0, w.low.b0, left.b0, cut.b0, k)
    b = bin_day(w.high.b1, w.low.b1, left.b1, cut.b1, k)
    c = bin_day(w.high.b2, w.low.b2, left.b2, cut.b2, k)
    d = bin_day(w.high.b3, w.low.b3, left.b3, cut.b3, k)
    e = bin_day(w.high.b4, w.low.b4, left.b4, cut.b4, k)
    f = bin_day(w.high.b5, w.low.b5, left.b5, cut.b5, k)
    above = mowing.share_above(p.odds_above, z.cut_height)
    risen = ripening.grown_high(a.low, k.moved, above)
    flat = a.low * k.moved - risen
    return HeadFlows(
        shifted(
            a.high, b.high, c.high, d.high, e.high, f.high, k.moved, 0.0, a.high * k.moved + risen
        ),
        shifted(a.low, b.low, c.low, d.low, e.low, f.low, k.moved, made, flat),
        made,
        a.cut + b.cut + c.cut + d.cut + e.cut + f.cut,
        a.cut_viable + b.cut_viable + c.cut_viable + d.cut_viable + e.cut_viable + f.cut_viable,
        a.shed + b.shed + c.shed + d.shed + e.shed + f.shed,
        a.pulled + b.pulled + c.pulled + d.pulled + e.pulled + f.pulled,
    )


def grown_up(w: WeedState) -> Numbers:
    """Plants that tiller or head [m⁻²]."""
    return w.tillering_0 + w.tillering_1 + w.tillering_2 + w.flowering


def standing(w: WeedState) -> Numbers:
    """Heads that stand [m⁻²]."""
    h, low = w.high, w.low
    return (
        h.b0 + h.b1 + h.b2 + h.b3 + h.b4 + h.b5
        + low.b0 + low.b1 + low.b2 + low.b3 + low.b4 + low.b5
    )  # fmt: skip
