"""The nine mixtures of the made-up ground with their labels, as the trade would print them."""

from __future__ import annotations

from swardbook.seed.lot import LotPart

LABEL = {
    # species: (thousand-seed weight [g], purity, germination)
    "perennial ryegrass": (1.9, 0.98, 0.85),
    "chewings fescue": (1.0, 0.97, 0.82),
    "slender creeping red fescue": (1.0, 0.97, 0.82),
    "strong creeping red fescue": (1.1, 0.97, 0.82),
    "hard fescue": (0.8, 0.96, 0.80),
    "browntop bent": (0.07, 0.97, 0.85),
    "smooth-stalked meadow-grass": (0.33, 0.95, 0.78),
    "tall fescue": (2.2, 0.98, 0.85),
    "tufted hair-grass": (0.25, 0.92, 0.75),
}
CHEWINGS, SLENDER, STRONG = (
    "chewings fescue", "slender creeping red fescue", "strong creeping red fescue",
)  # fmt: skip
PRG, BENT, SMOOTH = "perennial ryegrass", "browntop bent", "smooth-stalked meadow-grass"
MIXTURES: dict[str, tuple[dict[str, int], float, float, str, float, float]] = {
    # name: (percent by weight, rate [g/m2], viable seeds/m2, largest, its percent, price per kg)
    "Bobbin": ({CHEWINGS: 40, SLENDER: 40, BENT: 20}, 30, 89_800, BENT, 79, 9.40),
    "Thimble": ({BENT: 100}, 9, 106_000, BENT, 100, 24.00),
    "Candlewick": ({SLENDER: 50, CHEWINGS: 30, "hard fescue": 20}, 35, 29_000, SLENDER, 48, 8.60),
    "Gatepost": ({PRG: 100}, 35, 15_300, PRG, 100, 6.20),
    "Teacake": ({PRG: 40, STRONG: 25, SLENDER: 25, SMOOTH: 10}, 35, 27_300, SMOOTH, 29, 6.40),
    "Wheelbarrow": ({PRG: 60, SMOOTH: 40}, 35, 40_600, SMOOTH, 77, 6.90),
    "Pocketwatch": ({PRG: 70, SLENDER: 20, BENT: 10}, 30, 49_300, BENT, 72, 7.80),
    "Umbrella": (
        {STRONG: 35, CHEWINGS: 30, "hard fescue": 20, "tufted hair-grass": 10, BENT: 5},
        35, 54_200, BENT, 38, 8.20,
    ),
    "Haystack": ({"tall fescue": 85, SMOOTH: 15}, 45, 29_600, SMOOTH, 51, 6.60),
}  # fmt: skip
COST_PER_M2 = {
    "Bobbin": "0.282", "Thimble": "0.216", "Candlewick": "0.301", "Gatepost": "0.217",
    "Teacake": "0.224", "Wheelbarrow": "0.242", "Pocketwatch": "0.234", "Umbrella": "0.287",
    "Haystack": "0.297",
}  # fmt: skip


def parts_of(name: str) -> tuple[LotPart, ...]:
    """Give one of the nine mixtures with its label."""
    return tuple(
        LotPart(
            species, percent / 100, purity=LABEL[species][1], germination=LABEL[species][2],
            thousand_seed_weight=LABEL[species][0],
        )
        for species, percent in MIXTURES[name][0].items()
    )  # fmt: skip
