"""Laws of units: what is shown reads back to what is kept, a hundred times over, without drift."""

import re
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swardbook.book.fields import quantity
from swardbook.foundation.quantities import (
    FACTORS,
    celsius_from_fahrenheit,
    convert,
    read_number,
    read_quantity,
)
from swardbook.foundation.unit_words import column, in_words, typed, without_marks
from swardbook.foundation.units import COMMA, METRIC, POINT, System, Units

ROUNDS = 100
CHOICES = [Units(system, mark) for system in System for mark in (POINT, COMMA)]
SAME_KIND = [
    (one, other)
    for one, (canonical, _) in FACTORS.items()
    for other, (another, _) in FACTORS.items()
    if canonical == another and one != other
]
KEPT_IN = {
    # the unit written inside: (the unit a field is read in, decimals printed, largest)
    "mm": ("mm", (0, 1), 150.0), "m": ("m", (0, 1, 2), 400.0), "cm": ("cm", (0, 1), 90.0),
    "m²": ("m2", (0, 1), 20_000.0), "g/m²": ("g/m2", (0, 1, 2), 600.0),
    "kg": ("kg", (1, 2), 900.0), "g": ("g", (0, 1), 20_000.0), "L": ("l", (0, 1), 9_000.0),
    "m³": ("m3", (1, 2), 60.0),
}  # fmt: skip
JUDGE: Any = pint.UnitRegistry()
METRIC_IN_PINT = {
    "mm": "mm", "cm": "cm", "m": "m", "m²": "m**2", "m³": "m**3", "g/m²": "g/m**2",
    "g N/m²": "g/m**2", "kg": "kg", "g": "g", "t": "metric_ton", "L": "liter", "L/min": "liter/min",
    "m/s": "m/s", "km/h": "km/hour", "L of soil": "liter", "m³ of water": "m**3",
}  # fmt: skip
IN_PINT = {
    "in": "inch", "ft": "foot", "yd": "yard", "mph": "mile/hour", "yd²": "yard**2",
    "ft²": "foot**2", "ft³": "foot**3", "yd³": "yard**3", "oz/yd²": "oz/yard**2",
    "oz N/yd²": "oz/yard**2", "lb/1000 ft²": "lb/(1000*foot**2)",
    "lb N/1000 ft²": "lb/(1000*foot**2)", "oz": "oz", "lb": "lb", "UK gal": "imperial_gallon",
    "US gal": "US_liquid_gallon", "UK gal/min": "imperial_gallon/min",
    "US gal/min": "US_liquid_gallon/min",
}  # fmt: skip


def read_back(text: str, unit: str) -> float:
    """Read what was shown, in the unit that the metric number had."""
    return quantity(text, unit, "what was shown") / FACTORS[unit][1]


def shown(text: str) -> tuple[str, str]:
    """Part what was shown into its number and its unit."""
    found = re.fullmatch(r"(-?[\d.,\N{NO-BREAK SPACE} /]*\d) (\D.*|1000.*)", text)
    assert found is not None, text
    return found[1], found[2]


@pytest.mark.parametrize(("one", "other"), SAME_KIND)
def test_a_hundred_turns_between_two_units_leave_a_number_where_it_was(
    one: str, other: str
) -> None:
    for start in (0.001, 1.0, 7.9375, 33.9057, 819.2, 1e6):
        here = start
        for _ in range(ROUNDS):
            there = convert(here, one)[0] / FACTORS[other][1]
            here = convert(there, other)[0] / FACTORS[one][1]
        assert here == pytest.approx(start, rel=1e-12)


def test_a_hundred_turns_between_celsius_and_fahrenheit_leave_a_temperature_where_it_was() -> None:
    for start in (-40.0, -3.5, 0.0, 8.9, 36.6):
        here = start
        for _ in range(ROUNDS):
            here = celsius_from_fahrenheit(here * 1.8 + 32)
        assert here == pytest.approx(start, abs=1e-12)


@pytest.mark.parametrize("units", CHOICES, ids=str)
@settings(max_examples=40)
@given(st.data())
def test_what_is_printed_reads_back_and_prints_the_same_for_ever(
    units: Units, data: st.DataObject
) -> None:
    metric = data.draw(st.sampled_from(sorted(KEPT_IN)))
    kept_in, places, largest = KEPT_IN[metric]
    decimals = data.draw(st.sampled_from(places))
    start = round(data.draw(st.floats(0.5, largest)), decimals)
    first = units.write(start, metric, decimals)
    kept = read_back(first, kept_in)
    if metric == "mm" and "/" in first:
        fine = 1.6 if start >= 50 else 0.5 * 10.0**-decimals
        assert kept == pytest.approx(start, abs=fine + 1e-9)
    printed = first
    for _ in range(ROUNDS):
        printed = units.write(read_back(printed, kept_in), metric, decimals)
        assert printed == first
    assert read_back(printed, kept_in) == kept


@pytest.mark.parametrize("metric", ["m", "g"])
@pytest.mark.parametrize("units", CHOICES, ids=str)
def test_where_one_unit_gives_way_to_the_next_what_is_printed_stays(
    units: Units, metric: str
) -> None:
    turn = {"m": 100, "g": 454}[metric]
    for tenths in range(turn * 10 - 150, turn * 10 + 150):
        for decimals in (0, 1):
            first = units.write(round(tenths / 10, decimals), metric, decimals)
            assert units.write(read_back(first, KEPT_IN[metric][0]), metric, decimals) == first


@pytest.mark.parametrize("units", CHOICES, ids=str)
@settings(max_examples=40)
@given(st.data())
def test_a_number_of_few_figures_is_told_finely_enough_to_be_had_back(
    units: Units, data: st.DataObject
) -> None:
    metric = data.draw(st.sampled_from(["mm", "g/m²", "g", "cm"]))
    kept_in, _, _ = KEPT_IN[metric]
    start = float(data.draw(st.integers(1, 49)))
    again = read_back(units.write(start, metric), kept_in)
    assert f"{again:.0f}" == f"{start:.0f}"


@pytest.mark.parametrize("system", [System.IMPERIAL, System.US])
@pytest.mark.parametrize("metric", sorted(METRIC_IN_PINT))
@pytest.mark.parametrize("size", [3.0, 7000.0])
def test_every_factor_of_what_is_shown_agrees_with_pint(
    system: System, metric: str, size: float
) -> None:
    unit = Units(system).unit(metric, size)
    assert unit is not None
    judged = (
        (JUDGE.Quantity(size, METRIC_IN_PINT[metric]) / JUDGE.parse_expression(IN_PINT[unit.name]))
        .to("dimensionless")
        .magnitude
    )
    assert size * unit.factor == pytest.approx(judged, rel=1e-12)


@given(st.integers(-60, 60), st.integers(0, 1))
def test_a_temperature_in_fahrenheit_reads_back_to_the_same_celsius(
    tens: int, decimals: int
) -> None:
    start = tens / 10**decimals
    printed = Units(System.US).write(start, "°C", decimals)
    number, unit = shown(printed)
    judged = JUDGE.Quantity(start, "degC").to("degF").magnitude
    assert unit == "°F"
    assert float(number) == pytest.approx(judged, abs=0.5 * 10**-decimals + 1e-9)
    again = celsius_from_fahrenheit(float(number))
    assert again == pytest.approx(start, abs=0.5 * 10**-decimals)


NUMBERS = st.integers(0, 99_999_999).flatmap(
    lambda whole: st.integers(0, 4).map(lambda decimals: f"{whole / 10**decimals:,.{decimals}f}")
)


@given(NUMBERS)
def test_a_number_with_a_decimal_comma_is_read_as_the_number_it_was(number: str) -> None:
    plain = float(number.replace(",", ""))
    assert read_number(Units(decimal_mark=COMMA).marked(number)) == plain
    assert read_quantity(Units(decimal_mark=COMMA).marked(number) + " g", "g", "x").value == plain


SENTENCES = st.lists(
    st.sampled_from(
        [
            "Cut at 8 mm, likely 7 to 9, by the height as told.", "Rain 12.5 mm in 3 days;",
            "1,640 L at 14 L/min;", "30 g/m² on 819.2 m² (803 to 836),",
            "soil 14 °C, wants 8 to 9;",
            "Gives N 2.4, P₂O₅ 2.0 (P 0.9) g/m².", "3.93 t (3.69 to 4.06 by the range)",
            "at most 1.0 g N/m²; 0.0 so far.", "9,545 seeds/m², 1.125 of 3;", "on 7 May 2011,",
            "up to 1.20 m/s (4.3 km/h);", "5.5 m³ loose, water 12 to 55 m³ beyond rain;",
            typed("8 mm, as I said"), "swardbook cut --height '8 mm' --line 0.5", "-0.5 mm below;",
        ]
    ),
    max_size=6,
).map(" ".join)  # fmt: skip


@pytest.mark.parametrize("units", CHOICES, ids=str)
@settings(max_examples=40)
@given(SENTENCES)
def test_putting_a_sentence_into_units_again_changes_nothing(units: Units, text: str) -> None:
    once = in_words(text, units)
    for _ in range(ROUNDS):
        assert in_words(once, units) == once


@settings(max_examples=40)
@given(SENTENCES)
def test_metric_with_a_point_is_the_sentence_as_it_was_written(text: str) -> None:
    assert in_words(text, METRIC) == text


@pytest.mark.parametrize("units", CHOICES, ids=str)
@settings(max_examples=40)
@given(SENTENCES)
def test_what_was_typed_and_what_is_to_be_copied_stay_as_they_are(units: Units, text: str) -> None:
    told = in_words(f"{typed('Box full, 8.25 mm')}. {text} swardbook cut --height 8.25", units)
    assert without_marks(told).startswith("Box full, 8.25 mm. ")
    assert told.endswith("swardbook cut --height 8.25")


@pytest.mark.parametrize("units", CHOICES, ids=str)
def test_a_column_is_put_into_units_once(units: Units) -> None:
    for head, cells in (("mm", ["2.2 (2.0-2.5)", "4.0 (3.1-5.2)"]), ("m²", ["819.2", "460.8"]),
                        ("cut at mm", ["8", "20", "7.9"]), ("rate", ["25", "-"])):  # fmt: skip
        unit = "g/m²" if head == "rate" else ""
        once = column(head, cells, units, unit)
        again = (in_words(once[0], units), [in_words(each, units) for each in once[1]])
        assert again == once
