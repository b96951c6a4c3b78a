"""Daily weather as checked arrays, and what follows from it."""

from swardbook.weather.checks import check_weather, set_aside_impossible
from swardbook.weather.derive import Derived, compare_with_given, derive
from swardbook.weather.evapotranspiration import (
    hargreaves,
    penman_monteith,
    reference_evapotranspiration,
    wind_at_2m,
)
from swardbook.weather.gaps import fill_gaps
from swardbook.weather.humidity import (
    actual_vapour_pressure,
    dew_point,
    leaf_wet_hours,
    saturation_vapour_pressure,
    wet_bulb,
)
from swardbook.weather.months import summarise_months
from swardbook.weather.series import DailyWeather, Flag
from swardbook.weather.soil_temperature import (
    running_mean,
    soil_temperature_5cm,
    soil_temperature_10cm,
)
from swardbook.weather.soil_water import (
    root_zone_balance,
    root_zone_of,
    seedbed_balance,
    seedbed_of,
    stress_factor,
)
from swardbook.weather.sun import (
    clear_sky_radiation,
    day_length,
    extraterrestrial_radiation,
    light_sum,
    radiation_from_sunshine,
    radiation_from_temperature,
)
from swardbook.weather.thermal import (
    GrowingWeeks,
    days_to_growing_weeks,
    degree_days,
    growing_weeks,
    growth_potential,
)

__all__ = [
    "DailyWeather",
    "Derived",
    "Flag",
    "GrowingWeeks",
    "actual_vapour_pressure",
    "check_weather",
    "clear_sky_radiation",
    "compare_with_given",
    "day_length",
    "days_to_growing_weeks",
    "degree_days",
    "derive",
    "dew_point",
    "extraterrestrial_radiation",
    "fill_gaps",
    "growing_weeks",
    "growth_potential",
    "hargreaves",
    "leaf_wet_hours",
    "light_sum",
    "penman_monteith",
    "radiation_from_sunshine",
    "radiation_from_temperature",
    "reference_evapotranspiration",
    "root_zone_balance",
    "root_zone_of",
    "running_mean",
    "saturation_vapour_pressure",
    "seedbed_balance",
    "seedbed_of",
    "set_aside_impossible",
    "soil_temperature_5cm",
    "soil_temperature_10cm",
    "stress_factor",
    "summarise_months",
    "wet_bulb",
    "wind_at_2m",
]
