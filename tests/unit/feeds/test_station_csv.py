"""Weather-station files as people write them."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from swardbook.feeds.station_csv import StationFile, parse_readings, parse_station, read_station
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.weather.series import Flag


def read(
    *lines: str, columns: dict[str, str] | None = None, units: dict[str, str] | None = None
) -> StationFile:
    return parse_station("\n".join(lines), "mine.csv", columns, units)


def told(file: StationFile) -> str:
    return "\n".join([*file.notes, *(finding.words for finding in file.findings)])


PLAIN = ("date,tmin,tmax,rain", "2024-03-01,2.5,9.5,0", "2024-03-02,3.0,10.0,1.2")


def test_a_plain_file_is_read_and_says_which_units_it_took() -> None:
    file = read(*PLAIN)

    assert file.weather.tmin.tolist() == [2.5, 3.0]
    assert file.weather.rain.tolist() == [0, 1.2]
    assert file.weather.first == date(2024, 3, 1)
    assert file.notes == (
        "tmin, tmax without a unit: read as °C.", "rain without a unit: read as mm.",
    )  # fmt: skip
    assert file.findings == ()


@pytest.mark.parametrize(
    "heading",
    [
        "Date;Tmin (°C);Tmax (°C);Rain (mm)",
        "day_month_year date;min temp [°C];max temp [°C];rainfall (mm)",
        "DATE;Minimum Temperature (C);Maximum Temperature (C);Precipitation (mm)",
        "Timestamp;air_temp_min_c;air_temp_max_c;precip_mm",
        "date;T min;T max;Rain total (mm)",
        "date;Low;High;PRCP",
        "date;tn;tx;rr",
    ],
)
def test_columns_are_found_however_they_are_headed(heading: str) -> None:
    if heading.startswith("day_month"):
        heading = heading.replace("day_month_year ", "")

    file = read(heading, "2024-03-01;2.5;9.5;1.2")

    assert (file.weather.tmin[0], file.weather.tmax[0], file.weather.rain[0]) == (2.5, 9.5, 1.2)


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_commas_semicolons_and_tabs_all_separate(delimiter: str) -> None:
    file = read(*(line.replace(",", delimiter) for line in PLAIN))

    assert len(file.weather) == 2


def test_f39_decimal_commas_are_read_and_said_once() -> None:
    file = read("date;tmin;tmax;rain", "2024-03-01;2,5;9,5;0", "2024-03-02;3,0;10,25;3,5")

    assert file.weather.tmax.tolist() == [9.5, 10.25]
    assert file.weather.rain[1] == 3.5
    assert "Decimal commas were read: 2,5 is 2.5." in file.notes


def test_f39_decimal_commas_between_commas_are_left_out_with_the_way_out() -> None:
    file = read(*PLAIN, "2024-03-03,2,5,9,5,0,0", "2024-03-03,3,11,0")

    (found,) = file.findings
    assert found.line == 4
    assert "7 cells where the heading has 4" in found.read
    assert "Decimal commas? Then put ; or tabs" in found.likely


def test_f39_quoted_decimal_commas_are_read() -> None:
    file = read("date,tmin,tmax,rain", '2024-03-01,"2,5","9,5","0"')

    assert file.weather.tmin[0] == 2.5


def test_fahrenheit_and_inches_in_the_heading_are_turned() -> None:
    file = read("date,tmin_f,tmax_f,rain_in", "2024-03-01,41,59,0.5")

    assert file.weather.tmin[0] == pytest.approx(5)
    assert file.weather.tmax[0] == pytest.approx(15)
    assert file.weather.rain[0] == pytest.approx(12.7)


def test_wrong_units_a_file_in_fahrenheit_without_saying_so_is_refused() -> None:
    lines = [f"2024-06-{n:02},55,{70 + n},0" for n in range(1, 29)]

    with pytest.raises(BadInputError, match=r"looks like °F.*tmin_f"):
        read("date,tmin,tmax,rain", *lines)

    file = read("date,tmin,tmax,rain", *lines, units={"tmin": "f", "tmax": "f"})
    assert file.weather.tmax.max() == pytest.approx(36.7, abs=0.1)


def test_wrong_units_radiation_in_watts_without_saying_so_is_refused() -> None:
    lines = [f"2024-06-{n:02},8,{18 + n / 10},0,{200 + n}" for n in range(1, 29)]

    with pytest.raises(BadInputError, match=r"looks like W/m².*radiation_w"):
        read("date,tmin,tmax,rain,radiation", *lines)

    file = read("date,tmin,tmax,rain,Solar radiation (W/m²)", *lines)
    assert file.weather.radiation is not None
    assert file.weather.radiation[0] == pytest.approx(201 * 0.0864)


def test_wind_is_brought_to_metres_a_second_at_2_m() -> None:
    file = read("date,tmin,tmax,rain,wind_10m (km/h)", "2024-03-01,2,9,0,10")

    assert file.weather.wind is not None
    assert file.weather.wind[0] == pytest.approx(2.078, abs=0.001)
    assert "10 m, brought to 2 m" in told(file)


def test_humidity_and_a_given_et0_are_kept() -> None:
    file = read("date,tmin,tmax,rain,RH (%),ET0 (mm)", "2024-03-01,2,9,0,85,1.1")

    assert file.weather.humidity is not None
    assert file.weather.et0_given is not None
    assert (file.weather.humidity[0], file.weather.et0_given[0]) == (85, 1.1)


def test_humidity_as_shares_is_turned_to_per_cent_and_said() -> None:
    file = read("date,tmin,tmax,rain,RH", "2024-03-01,2,9,0,0.85", "2024-03-02,2,9.5,0,NA")

    assert file.weather.humidity is not None
    assert file.weather.humidity[0] == 85
    assert "0.85 is 85 %" in told(file)


def test_missing_columns_are_named_with_what_was_found_and_what_is_needed() -> None:
    with pytest.raises(BadInputError) as caught:
        read("date,tmin,tmax,gusts", "2024-03-01,2,9,40")

    message = str(caught.value)
    assert "date, tmin, tmax, gusts" in message
    assert "Not found: rain." in message
    assert "--column rain=" in message


def test_a_column_may_be_named_by_hand() -> None:
    file = read("date,tmin,tmax,Eimer", "2024-03-01,2,9,4", columns={"rain": "eimer"})

    assert file.weather.rain[0] == 4


def test_a_quantity_that_is_none_names_the_nearest() -> None:
    with pytest.raises(UnknownNameError, match="Did you mean rain"):
        read(*PLAIN, columns={"rane": "rain"})


@pytest.mark.parametrize("text", ["", "\n\n", "hello", "\ufeff"])
def test_an_empty_or_other_file_is_refused_kindly(text: str) -> None:
    with pytest.raises(BadInputError, match="columns for date, tmin, tmax and rain"):
        parse_station(text)


def test_unused_columns_are_said() -> None:
    file = read("date,tmin,tmax,rain,battery", "2024-03-01,2,9,0,12.1")

    assert "Columns not used: battery." in file.notes


def test_dates_day_first_are_settled_by_the_whole_file() -> None:
    file = read("date,tmin,tmax,rain", "12/03/2024,2,9,0", "13/03/2024,3,9,0")

    assert file.weather.last == date(2024, 3, 13)
    assert "day first: 12/3/2024 is Tue 12 March 2024" in told(file)


def test_dates_month_first_are_settled_by_the_whole_file() -> None:
    file = read("date,tmin,tmax,rain", "03/12/2024,2,9,0", "03/13/2024,3,9,0")

    assert file.weather.first == date(2024, 3, 12)
    assert "month first" in told(file)


def test_dates_that_could_be_either_are_settled_by_the_days_that_follow() -> None:
    file = read("date,tmin,tmax,rain", *(f"03/{n:02}/2024,2,{9 + n},0" for n in range(1, 8)))

    assert file.weather.last == date(2024, 3, 7)
    assert "read month first, so the days follow each other" in told(file)


def test_a_date_that_nothing_settles_is_read_day_first_and_said() -> None:
    file = read("date,tmin,tmax,rain", "03/04/2025,2,9,0")

    assert file.weather.first == date(2025, 4, 3)
    assert "nothing in the file settles it: 3/4/2025 is Thu 3 April 2025" in told(file)


def test_dates_of_both_orders_in_one_file_are_refused() -> None:
    with pytest.raises(BadInputError, match="only month first"):
        read("date,tmin,tmax,rain", "13/03/2024,2,9,0", "03/14/2024,3,9,0")


@pytest.mark.parametrize(
    "written",
    ["2024-03-14", "2024/3/14", "20240314", "14.3.2024", "14 Mar 2024", "14-Mar-24",
     "Thu 14 March 2024", "March 14, 2024", "2024-03-14T09:00:00", "14/03/2024 09:00"],
)  # fmt: skip
def test_dates_are_read_in_the_ways_people_write_them(written: str) -> None:
    file = read("date;tmin;tmax;rain", f"{written};2;9;0")

    assert file.weather.first == date(2024, 3, 14)


def test_year_month_and_day_may_stand_apart() -> None:
    file = read("Day,Month,Year,Tmin,Tmax,Rain", "14,3,2024,2,9,0")

    assert file.weather.first == date(2024, 3, 14)


def test_bad_lines_are_listed_by_number_and_the_rest_is_kept() -> None:
    file = read(
        "date,tmin,tmax,rain", "2024-03-01,2,9,0", "2024-02-30,2,9,0", "2024-03-02,2..5,9,0",
        "2024-03-02,3", "2024-03-03,4,11,wet", "2024-03-04,4,12,0", "2024-03-05,5,12,0",
    )  # fmt: skip

    lines = [finding.line for finding in file.findings if finding.line]
    assert lines == [3, 4, 5, 6]
    assert "date '2024-02-30'" in told(file)
    assert "tmin '2..5'" in told(file)
    assert len(file.weather) == 5


def test_a_file_of_mostly_bad_lines_is_refused_with_the_first_of_them() -> None:
    with pytest.raises(BadInputError, match=r"3 of 4 lines .*line 2: date 'spring'"):
        read("date,tmin,tmax,rain", "spring,1,2,3", "x,1,2,3", "y,1,2,3", "2024-03-01,2,9,0")


def test_missing_signs_are_missing_and_a_trace_is_a_trace() -> None:
    file = read(
        "date,tmin,tmax,rain", "2024-03-01,2,9,tr", "2024-03-02,NA,9,-", "2024-03-03,3,10,<1",
        "2024-03-04,3,10.5,0",
    )  # fmt: skip

    trace, filled = int(Flag.TRACE), int(Flag.FILLED_RAIN | Flag.FILLED_TEMPERATURE)
    assert file.weather.flags.tolist() == [trace, filled, trace, 0]
    assert file.weather.rain.tolist() == [0, 0, 0, 0]
    assert "a trace of rain on 2 days" in told(file)
    assert "rain missing on 1 day." in told(file)


def test_a_day_that_stands_twice_keeps_the_first_and_asks() -> None:
    file = read(*PLAIN, "2024-03-02,3.0,12.0,1.2")

    (found,) = file.findings
    assert found.words == (
        "line 4: Sat 2 March 2024: the day stands twice, also on line 3. They differ. Which is"
        " right? The first was kept."
    )
    assert file.weather.tmax[1] == 10.0
    assert file.weather.flags.tolist() == [0, int(Flag.ODD)]


def test_unsorted_lines_are_sorted_and_said() -> None:
    file = read(PLAIN[0], PLAIN[2], PLAIN[1])

    assert file.weather.tmin.tolist() == [2.5, 3.0]
    assert "they were sorted" in told(file)


def test_hourly_files_are_refused_with_what_to_do() -> None:
    lines = [f"2024-03-0{day} {hour:02}:00,2,9,0" for day in (1, 2) for hour in range(24)]

    with pytest.raises(BadInputError, match=r"looks hourly"):
        read("date,tmin,tmax,rain", *lines)


def test_byte_order_mark_blank_lines_remarks_and_a_preamble_do_no_harm() -> None:
    file = parse_station(
        "\ufeffStation: Fennowick\r\nheight 62 m\r\n\r\ndate,tmin,tmax,rain\r\n\r\n"
        "# winter\r\n2024-03-01,2,9,0\r\n,,,\r\n2024-03-02,3,10,0\r\n"
    )

    assert len(file.weather) == 2
    assert file.findings == ()


def test_line_numbers_are_those_of_the_file_below_a_preamble() -> None:
    file = read("Station: Fennowick", "", *PLAIN, "2024-03-03,x1,9,0", "2024-03-04,2,9.5,0")

    assert [finding.line for finding in file.findings if finding.line] == [6]


def test_impossible_weather_is_kept_as_missing_and_said() -> None:
    file = read(*PLAIN, "2024-03-03,3,-999,0", "2024-03-04,3,11,0")

    assert np.isfinite(file.weather.tmax).all()
    assert file.weather.flags[2] == int(Flag.FILLED_TEMPERATURE)
    assert "maximum -999 °C. That cannot be weather" in told(file)


def test_swapped_extremes_are_swapped_back_and_flagged() -> None:
    file = read(*PLAIN, "2024-03-03,11,3,0")

    assert (file.weather.tmin[2], file.weather.tmax[2]) == (3, 11)
    assert file.weather.flags[2] & Flag.SWAPPED


def test_a_mistyped_year_is_left_out_and_asked_about() -> None:
    many = [f"2024-03-{day:02d},2,9,0" for day in range(3, 9)]
    file = read(*PLAIN, *many, "2042-03-09,3,11,0")
    assert len(file.weather) == 8
    assert "1 day far from all others. Left out. Is a year mistyped?" in told(file)


def test_readings_before_gaps_are_filled_keep_what_is_missing() -> None:
    station = parse_readings("date,tmin,tmax,rain\n2024-03-01,2,9,0\n2024-03-09,2,9,NA\n")

    assert len(station.readings.days) == 2
    assert np.isnan(station.readings.rain[1])


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_a_file_is_opened_in_the_ways_programs_write_them(tmp_path: Path, encoding: str) -> None:
    path = tmp_path / "mine.csv"
    path.write_text("date;Tmin (°C);Tmax (°C);Rain\n2024-03-01;2;9;0\n", encoding=encoding)

    assert read_station(path).readings.tmax.tolist() == [9]


def test_a_file_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match="a file that can be read"):
        read_station(tmp_path / "none.csv")


def test_a_picture_is_no_weather(tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    path.write_bytes(b"\x89PNG\r\n\0\0\0\0" * 20)

    with pytest.raises(BadInputError, match="Save it as CSV first"):
        read_station(path)


def test_a_file_beyond_the_bound_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("swardbook.feeds.station_csv.MOST_BYTES", 20)
    path = tmp_path / "mine.csv"
    path.write_text("\n".join(PLAIN))

    with pytest.raises(BadInputError, match="up to 0 MB"):
        read_station(path)
