"""Weather in which two leaf diseases of turf break out, by published sums of warmth and humidity.

Both were made in the United States. They tell when to look, never what to do: which trouble it is
the signs decide.
"""

from __future__ import annotations

import numpy as np

from swardbook.handbook.parameters import value
from swardbook.weather.series import Values


def dollar_spot_chance(celsius: Values, humidity: Values) -> Values:
    """Chance of dollar spot, by the means of five days.

    Parameters
    ----------
    celsius : array
        Mean air temperature of five days. [°C]
    humidity : array
        Mean relative humidity of five days. [%]

    Returns
    -------
    array
        Chance; from 0.2 on it was worth acting in its trials. It was made between 10 and 35 °C. [-]

    Notes
    -----
    A logistic regression: Smith, D. L., Kerns, J. P. and others, 2018, PLoS ONE 13, e0194216.
    """
    odds = (
        value("outbreak.dollar_spot_constant")
        + value("outbreak.dollar_spot_humidity") * humidity
        + value("outbreak.dollar_spot_warmth") * celsius
    )
    chance: Values = 1.0 / (1.0 + np.exp(-odds))
    return chance


def brown_patch_index(tmin: Values, humidity: Values) -> Values:
    """Index of brown patch: a warm damp night raises it; high from 6.

    Parameters
    ----------
    tmin : array
        Minimum air temperature of the day. [°C]
    humidity : array
        Mean relative humidity of the day. [%]

    Returns
    -------
    array
        The index. It is said to warn too seldom. [-]

    Notes
    -----
    Fidanza, M. A., Dernoeden, P. H. and Grybauskas, A. P., 1996, Phytopathology 86, 385-390.
    """
    index: Values = (
        value("outbreak.brown_patch_constant")
        + value("outbreak.brown_patch_humidity") * humidity
        + value("outbreak.brown_patch_warmth") * tmin
        + value("outbreak.brown_patch_warmth_squared") * tmin**2
    )
    return index
