"""Numbers of the equations that are alike in every draw, read once from the handbook.

The kernel takes them up as they stand, so that they cost no memory in a draw; their values are
part of its identity.
"""

from __future__ import annotations

from swardbook.handbook.parameters import value

RIPENING_TEMPERATURE = value("model.fixed.ripening_temperature")
HEADING_BASE = value("model.fixed.heading_base")
HEADS_SIZE_MOST = value("model.fixed.heads_size_most")
GERMINATION_WARM_MOST = value("model.fixed.germination_warm_most")
POTENTIAL_FULL = value("model.fixed.potential_full")
POTENTIAL_LOG_RANGE = value("model.fixed.potential_log_range")
EMERGENCE_MOST = value("model.fixed.emergence_most")
OFF_HEIGHT_MOST = value("model.fixed.off_height_most")
BLADE_HEIGHT = value("model.fixed.blade_height")
MOST_A_DAY = value("model.fixed.most_a_day")
MOST_A_PASS = value("model.fixed.most_a_pass")
UPTAKE_MOST = value("model.fixed.uptake_most")
HOLES_MOST = value("model.fixed.holes_most")


def fixed_numbers() -> dict[str, float]:
    """Give each of them by its name."""
    return {name: number for name, number in globals().items() if name.isupper()}
