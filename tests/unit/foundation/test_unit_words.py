"""Sentences and tables in the units chosen."""

import pytest

from swardbook.foundation.unit_words import (
    column,
    in_words,
    kept_over_lines,
    typed,
    unit_name,
    without_marks,
)
from swardbook.foundation.units import COMMA, System, Units

IMPERIAL, US = Units(System.IMPERIAL), Units(System.US)
US_COMMA = Units(System.US, COMMA)


@pytest.mark.parametrize(
    ("metric", "us"),
    [
        ("Thatch 18 mm (16 to 20, 5 cores).", "Thatch 23/32 in (5/8 to 25/32, 5 cores)."),
        ("At 25 mm: in 1 day, likely 0 to 3.", "At 1 in: in 1 day, likely 0 to 3."),
        ("about 35 mm, likely 32 to 38, by", "about 1 3/8 in, likely 1 1/4 to 1 1/2, by"),
        ("6 mm of rain in 3 days", "0.24 in of rain in 3 days"),
        ("boxed at 11 mm, above the zone's 8", "boxed at 7/16 in, above the zone's 5/16"),
        ("soil 15 °C (13 to 16), wants 8 to 9; 31 days",
         "soil 59 °F (55 to 61), wants 46 to 48; 31 days"),
        ("right to about 2 °C", "right to about 3.6 °F"),
        ("450 °C d still to come", "450 °C d still to come"),
        ("at most 0.1 g N/m²; 0.0 so far.", "at most 0.02 lb N/1000 ft²; 0 so far."),
        ("9.4 g/m²; 6 to 12 is common", "1.93 lb/1000 ft²; 1.2 to 2.5 is common"),
        ("Gives N 2.4, P₂O₅ 2.0 (P 0.9) g/m²;", "Gives N 0.49, P₂O₅ 0.41 (P 0.18) lb/1000 ft²;"),
        ("3.93 t (3.69 to 4.06 by the soil)", "8,660 lb (8,140 to 8,950 by the soil)"),
        ("and 12 g of seed (9 to 15).", "and 0.42 oz of seed (0.32 to 0.53)."),
        ("water 12 to 55 m³ beyond rain", "water 3,200 to 14,500 US gal beyond rain"),
        ("4,349 L as it lay", "5.69 yd³ as it lay"),
        ("up to 1.20 m/s (4.3 km/h)", "up to 2.68 mph"),
        ("32 by 25.6 m", "105 by 84 ft"),
        ("8 mm is lower; 8 in is 203.2 mm.", "8 mm is lower; 8 in is 203.2 mm."),
        ("9,545 seeds a m², 30 plants/m²", "9,545 seeds a m², 30 plants/m²"),
        ("1.60 kg a litre, 41 mol/m² a day", "1.60 kg a litre, 41 mol/m² a day"),
        ("4 m/s² for 1 h, lot BB-0417 and 3 mm", "4 m/s² for 1 h, lot BB-0417 and 1/8 in"),
    ],
)  # fmt: skip
def test_each_quantity_of_a_sentence_is_told_in_the_units_chosen(metric: str, us: str) -> None:
    assert in_words(metric, US).replace("\N{NO-BREAK SPACE}", " ") == us


def test_a_line_does_not_break_within_a_number() -> None:
    assert in_words("38 mm", US) == "1\N{NO-BREAK SPACE}1/2 in"


def test_a_chosen_comma_marks_every_number() -> None:
    assert in_words("Evenness 0.71; 1,640 L", US_COMMA) == "Evenness 0,71; 433 US gal"
    assert in_words("0.5 of 13,800", Units(decimal_mark=COMMA)) == "0,5 of 13\N{NO-BREAK SPACE}800"


def test_what_was_typed_is_shown_as_it_was_typed() -> None:
    told = in_words(f"note: {typed('Stops at 10 mm, 0.5 h.')} 10 mm", IMPERIAL)
    assert without_marks(told) == "note: Stops at 10 mm, 0.5 h. 3/8 in"
    assert (
        in_words("swardbook cut --height '8.5 mm'", US_COMMA) == "swardbook cut --height '8.5 mm'"
    )


def test_marks_are_closed_where_a_wrapped_line_ends() -> None:
    lines = kept_over_lines([typed("8 mm").removesuffix("\ue001"), "or 5 mm\ue001 or 8 mm"])
    assert [without_marks(in_words(each, IMPERIAL)) for each in lines] == [
        "8 mm", "or 5 mm or 5/16 in",
    ]  # fmt: skip


def test_a_column_takes_the_unit_of_its_head_or_of_the_legend() -> None:
    assert column("cut at mm", ["8", "20", "?"], US) == ("cut at in", ["5/16", "25/32", "?"])
    assert column("m²", ["819.2", "1"], IMPERIAL) == ("yd²", ["980", "1.2"])
    assert column("mm", ["2.2 (2.0-2.5)"], US) == ("in", ["0.087 (0.079-0.098)"])
    assert column("rate", ["25", "-"], US, "g/m²") == ("rate", ["5.1", "-"])
    assert column("litres", ["1,147"], US) == ("US gal", ["303"])
    assert column("seed a m²", ["71 to 5,900"], US) == ("seed a m²", ["71 to 5,900"])
    assert column("hours", ["9"], US) == ("hours", ["9"])


def test_a_legend_names_the_unit_in_full_where_its_short_name_is_a_word() -> None:
    assert unit_name("mm", US) == "inches"
    assert unit_name("mm", Units()) == "mm"
