"""The soil follows the air, late."""

from __future__ import annotations

from swardbook.model.numbers import Numbers


def follow(soil: Numbers, air: Numbers, lag: Numbers) -> Numbers:
    """Soil temperature tonight.

    Returns
    -------
    float or array
        Daily mean at seed depth. [°C]
    """
    return soil + lag * (air - soil)
