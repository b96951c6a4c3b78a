"""Quantities as a person reads them in the units chosen."""

import pytest

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.units import (
    COMMA,
    METRIC,
    PARTING_SPACE,
    System,
    Units,
    read_units,
    written,
)

IMPERIAL, US = Units(System.IMPERIAL), Units(System.US)


@pytest.mark.parametrize(
    ("value", "metric", "decimals", "imperial", "us"),
    [
        (8, "mm", 0, "5/16 in", "5/16 in"),
        (7.9, "mm", 1, "5/16 in", "5/16 in"),
        (12.7, "mm", 1, "1/2 in", "1/2 in"),
        (25, "mm", 0, "1 in", "1 in"),
        (38, "mm", 0, "1 1/2 in", "1 1/2 in"),
        (50, "mm", 0, "2 in", "2 in"),
        (12.5, "mm", 1, "0.492 in", "0.492 in"),
        (-2, "mm", 0, "-1/16 in", "-1/16 in"),
        (0, "mm", 0, "0 in", "0 in"),
        (25, "g/m²", 0, "0.74 oz/yd²", "5.1 lb/1000 ft²"),
        (4.882, "g/m²", 3, "0.144 oz/yd²", "1.00 lb/1000 ft²"),
        (33.906, "g/m²", 3, "1.00 oz/yd²", "6.94 lb/1000 ft²"),
        (819.2, "m²", 1, "980 yd²", "8,818 ft²"),
        (960, "L", 0, "211 UK gal", "254 US gal"),
        (4.546, "L", 3, "1.00 UK gal", "1.20 US gal"),
        (24.58, "kg", 2, "54.19 lb", "54.19 lb"),
        (453, "g", 0, "15.98 oz", "15.98 oz"),
        (9830, "g", 0, "21.67 lb", "21.67 lb"),
        (14, "°C", 0, "14 °C", "57 °F"),
        (4.3, "km/h", 1, "2.67 mph", "2.67 mph"),
    ],
)
def test_a_quantity_has_as_many_figures_as_were_known(
    value: float, metric: str, decimals: int, imperial: str, us: str
) -> None:
    assert IMPERIAL.write(value, metric, decimals) == imperial
    assert US.write(value, metric, decimals) == us
    assert METRIC.write(value, metric, decimals) == f"{value:,.{decimals}f} {metric}"


def test_water_is_told_in_decimals_and_a_height_in_fractions() -> None:
    inch = US.unit("mm")
    assert inch is not None
    assert written(["4", "12"], inch) == ["5/32", "15/32"]
    assert written(["4", "12"], inch, is_wet=True) == ["0.16", "0.47"]


def test_a_comma_has_spaces_for_thousands_and_a_nought_where_it_could_be_misread() -> None:
    comma = Units(decimal_mark=COMMA)
    assert comma.marked("13,800.5") == f"13{PARTING_SPACE}800,5"
    assert comma.marked("3.125") == "3,1250"
    assert comma.marked("0.125") == "0,125"
    assert METRIC.marked("13,800.5") == "13,800.5"


@pytest.mark.parametrize(("system", "mark"), [("stone", ""), ("", ";")])
def test_a_word_that_is_not_known_is_refused(system: str, mark: str) -> None:
    with pytest.raises(BadInputError, match="understood here"):
        read_units(system, mark)


def test_nothing_said_is_metric_with_a_point() -> None:
    assert read_units("") == METRIC
    assert read_units(" Imperial ", "comma") == Units(System.IMPERIAL, COMMA)
