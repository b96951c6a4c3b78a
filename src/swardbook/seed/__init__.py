"""Seed arithmetic: lots, mixtures, rates, orders and the gates a lot must pass."""

from swardbook.seed.comfort import Comfort, ComponentComfort, weigh_comfort
from swardbook.seed.emergence import days_to_half, first_day_at, warmth_until
from swardbook.seed.germination_test import TEST, Germination, read_test
from swardbook.seed.label import (
    LabelShare,
    changed_components,
    read_lot_code,
    read_pair,
    read_parts,
    read_seed_weight,
    read_share,
    with_label,
)
from swardbook.seed.lot import LotPart, SeedLot
from swardbook.seed.mixture import (
    OTHERS,
    Component,
    MixtureByNumber,
    PartByNumber,
    as_tested,
    blend,
    by_number,
    check_sum,
    fill_in,
)
from swardbook.seed.order import Order, seed_order
from swardbook.seed.pure_live import bulk_for, price_of_pure_live, pure_live_share
from swardbook.seed.quality import Gate, Standard, gates, least
from swardbook.seed.rates import (
    Method,
    Range,
    establishment,
    expected_plants,
    read_method,
    read_rate,
    sowing_rate,
    usual_rate,
)
from swardbook.seed.weeds_in_bag import WeedLimit, WeedSeeds, weed_seeds

__all__ = [
    "OTHERS", "TEST", "Comfort", "Component", "ComponentComfort", "Gate", "Germination",
    "LabelShare", "LotPart", "Method", "MixtureByNumber", "Order", "PartByNumber", "Range",
    "SeedLot", "Standard", "WeedLimit", "WeedSeeds", "as_tested", "blend", "bulk_for", "by_number",
    "changed_components",
    "check_sum", "days_to_half", "establishment", "expected_plants", "fill_in", "first_day_at",
    "gates", "least", "price_of_pure_live", "pure_live_share", "read_lot_code", "read_method",
    "read_pair", "read_parts", "read_rate", "read_seed_weight", "read_share", "read_test",
    "seed_order", "sowing_rate", "usual_rate", "warmth_until", "weed_seeds", "weigh_comfort",
    "with_label",
]  # fmt: skip
