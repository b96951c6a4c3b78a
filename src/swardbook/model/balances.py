"""Whether a day adds up: seeds, plants, water and cover."""

from __future__ import annotations

from typing import NamedTuple

from swardbook.model.day_heads import standing
from swardbook.model.day_sown import SownFlows
from swardbook.model.day_weed import WeedFlows
from swardbook.model.numbers import Numbers, most
from swardbook.model.parameter_sets import WeedParameters
from swardbook.model.state import Gaps, SownSet, SownState, SwardState, WeedState


class Ledger(NamedTuple):
    """One thing that is counted: what there was, came, went, and is."""

    before: Numbers
    came: Numbers
    went: Numbers
    after: Numbers


def miss(book: Ledger) -> Numbers:
    """How far a ledger misses, as a share of gross flow plus stock."""
    gap = book.after - (book.before + book.came - book.went)
    gross = book.before + book.came + book.went + book.after
    return most(gap, -gap) / (gross + 1e-6)


def weed_seeds(w: WeedState, n: WeedState, p: WeedParameters, f: WeedFlows) -> Ledger:
    """Seeds of a weed grass: in heads, lying, on the surface and buried."""
    before = w.dormant + w.ready + w.buried + w.lying + standing(w) * p.seeds_per_head
    after = n.dormant + n.ready + n.buried + n.lying + standing(n) * p.seeds_per_head
    came = f.heads.made * p.seeds_per_head + f.bank.carried_in
    return Ledger(before, came, f.bank.emerged + f.bank.died + f.bank.removed, after)


def plants_of(w: WeedState) -> Numbers:
    """Plants of a weed grass of any age [m⁻²]."""
    return (
        w.seedling_0 + w.seedling_1 + w.seedling_2
        + w.tillering_0 + w.tillering_1 + w.tillering_2 + w.flowering
    )  # fmt: skip


def weed_plants(w: WeedState, n: WeedState, f: WeedFlows) -> Ledger:
    """Plants of a weed grass."""
    return Ledger(plants_of(w), f.bank.emerged, f.plants.died + f.plants.killed, plants_of(n))


def sown_seeds(s: SownState, n: SownState, f: SownFlows) -> Ledger:
    """Seed of a sown component."""
    return Ledger(s.seed, f.sown, f.emerged + f.died, n.seed)


def ground(s: SwardState, n: SwardState) -> Numbers:
    """How far the day's covers and gap miss."""
    covered = covered_by(s)
    now = covered_by(n)
    return miss(Ledger(s.zone.gap + covered, 0.0, 0.0, n.zone.gap + now))


def sown_cover(s: SownSet) -> Numbers:
    """Ground the sown components cover [-]."""
    return s.a.cover + s.b.cover + s.c.cover + s.d.cover


def covered_by(s: SwardState) -> Numbers:
    """Ground that any grass covers [-]."""
    return sown_cover(s.sown) + sum(w.cover for w in s.weeds)


def worst(one: Gaps, other: Gaps) -> Gaps:
    """Keep the larger of two misses for each balance."""
    return Gaps(
        most(one.seeds, other.seeds), most(one.plants, other.plants),
        most(one.water, other.water), most(one.cover, other.cover),
    )  # fmt: skip
