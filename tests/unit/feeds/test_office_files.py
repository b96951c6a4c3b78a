from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from swardbook.book.weather_normals import read_normals
from swardbook.feeds.monthly_station import read_monthly
from swardbook.feeds.office_files import read_office
from swardbook.feeds.station_csv import read_station
from swardbook.foundation.errors import BadInputError
from swardbook.weather.series import Flag

STATION = "XX000000001"


def dly(element: str, cells: dict[int, str], month: str = "201110") -> str:
    none = "-9999   "
    return f"{STATION}{month}{element}" + "".join(cells.get(day, none) for day in range(1, 32))


FIXED = "\n".join([
    dly("TMAX", {1: "  151  E", 2: "  160  E", 3: "  999 GE"}),
    dly("TMIN", {1: "   40  E", 2: "  -12  E", 3: "   50  E"}),
    dly("PRCP", {1: "    0T E", 2: "  123  E", 3: "    0  E"}),
    dly("SNWD", {1: "    5  E"}),
])  # fmt: skip


def test_daily_records_of_fixed_width_are_read_in_tenths() -> None:
    found = read_office(FIXED, "x.dly")
    assert found is not None
    readings = found.readings
    assert readings.days.astype(str).tolist() == ["2011-10-01", "2011-10-02", "2011-10-03"]
    assert readings.tmin.tolist() == [4.0, -1.2, 5.0]
    assert readings.tmax[:2].tolist() == [15.1, 16.0]
    assert readings.rain.tolist() == [0.0, 12.3, 0.0]


def test_values_that_the_office_doubts_are_left_out_and_counted() -> None:
    found = read_office(FIXED, "x.dly")
    assert found is not None
    assert np.isnan(found.readings.tmax[2])
    assert any(each.startswith("1 values with a quality flag") for each in found.notes)


def test_a_trace_of_rain_stays_one() -> None:
    found = read_office(FIXED, "x.dly")
    assert found is not None
    assert [Flag(int(each)) for each in found.readings.flags] == [Flag.TRACE, Flag(0), Flag(0)]


def test_records_of_a_station_with_a_value_in_a_row_say_the_same() -> None:
    rows = [
        f"{STATION},20111001,TMAX,151,,,E,", f"{STATION},20111002,TMAX,160,,,E,",
        f"{STATION},20111003,TMAX,999,,G,E,", f"{STATION},20111001,TMIN,40,,,E,",
        f"{STATION},20111002,TMIN,-12,,,E,", f"{STATION},20111003,TMIN,50,,,E,0700",
        f"{STATION},20111001,PRCP,0,T,,E,", f"{STATION},20111002,PRCP,123,,,E,",
        f"{STATION},20111003,PRCP,0,,,E,", f"{STATION},20111003,WT01,1,,,E,",
    ]  # fmt: skip
    one, other = read_office(FIXED, "x.dly"), read_office("\n".join(rows), "x.csv")
    assert one is not None
    assert other is not None
    for name in ("days", "tmin", "tmax", "rain", "flags"):
        np.testing.assert_array_equal(getattr(one.readings, name), getattr(other.readings, name))
    assert other.notes == one.notes


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        (f"{FIXED}\nshort", "short"),
        (FIXED.replace("  151  E", "  x51  E"), "whole number of tenths"),
        (f"{FIXED}\n{FIXED.replace(STATION, 'XX000000002')}", "2 stations"),
        (dly("SNWD", {1: "    5  E"}), "no TMIN, TMAX or PRCP"),
        (f"{STATION},20111001,TMAX,151,,,E,\n{STATION},20111301,TMAX,1,,,E,", "YYYYMMDD"),
    ],
)
def test_a_broken_file_of_an_office_is_refused_by_its_line(text: str, reason: str) -> None:
    with pytest.raises(BadInputError, match=reason):
        read_office(text, "x.dly")


def epw(first: date, days: int, years: tuple[int, ...] = ()) -> str:
    heads = ["LOCATION,Fennowick,-,XX,SRC,000000,52.0,0.1,0.0,62.0", *(["HEAD,"] * 7)]
    rows = []
    for at in range(days):
        day = first + timedelta(days=at)
        year = years[day.month % len(years)] if years else day.year
        for hour in range(1, 25):
            cells = ["0"] * 35
            cells[:5] = [str(year), str(day.month), str(day.day), str(hour), "60"]
            cells[6], cells[8], cells[13], cells[21] = f"{hour / 2:.1f}", "80", "100", "4.0"
            cells[33] = "0.5" if hour < 5 else "0.0"
            rows.append(",".join(cells))
    return "\n".join([*heads, *rows])


def test_hours_are_made_into_days() -> None:
    found = read_office(epw(date(2011, 3, 1), 2), "x.epw")
    assert found is not None
    readings = found.readings
    assert (readings.tmin[0], readings.tmax[0], readings.rain[0]) == (0.5, 12.0, 2.0)
    assert readings.radiation is not None
    assert readings.radiation[0] == pytest.approx(24 * 100 * 3600 / 1e6)
    assert readings.humidity is not None
    assert readings.humidity[0] == 80
    assert readings.wind is not None
    assert readings.wind[0] == pytest.approx(2.99, abs=0.01)


def test_a_day_that_lacks_hours_is_missing() -> None:
    lines = epw(date(2011, 3, 1), 2).split("\n")
    found = read_office("\n".join(lines[:-3]), "x.epw")
    assert found is not None
    assert np.isnan(found.readings.tmin).tolist() == [False, True]


def test_a_typical_year_is_no_record_but_has_normals(tmp_path: Path) -> None:
    text = epw(date(2011, 1, 1), 365, years=(2003, 2007, 2009))
    with pytest.raises(BadInputError, match="typical year"):
        read_office(text, "x.epw")
    file = tmp_path / "x.epw"
    file.write_text(text, encoding="utf-8")
    found = read_normals(file)
    assert [each.years for each in found.months] == [1] * 12
    assert found.months[1].rain == pytest.approx(2.0 * 28)
    assert (found.first_year, found.last_year) == (2003, 2009)


def test_a_station_file_is_known_by_what_it_holds(tmp_path: Path) -> None:
    for name, text in (("a.csv", FIXED), ("b.txt", epw(date(2011, 3, 1), 2))):
        file = tmp_path / name
        file.write_text(text, encoding="utf-8")
        assert len(read_station(file).readings.days) >= 2


MONTHLY = """Fennowick
Location 400000E 300000N, 62 metres amsl
Estimated data is marked with a * after the value.
   yyyy  mm   tmax    tmin      af    rain     sun
              degC    degC    days      mm   hours
   2009   1    6.0     0.5      12    50.0     ---
   2009   2    7.0     1.0      10    40.0    60.0#
   2010   1    4.0*   -1.5      20     ---    55.0
   2010   2    7.4     ---      11    60.0    70.0   Provisional
"""


def test_monthly_text_tells_what_is_missing_estimated_and_not_final() -> None:
    found = read_monthly(MONTHLY, "x.txt")
    assert [(each.year, each.month) for each in found] == [
        (2009, 1), (2009, 2), (2010, 1), (2010, 2),
    ]  # fmt: skip
    assert (found[2].tmax, found[2].rain, found[2].is_estimated) == (4.0, None, True)
    assert (found[3].tmin, found[3].is_provisional) == (None, True)
    assert not found[1].is_estimated


def test_normals_are_means_over_the_years_that_tell(tmp_path: Path) -> None:
    file = tmp_path / "x.txt"
    file.write_text(MONTHLY, encoding="utf-8")
    found = read_normals(file)
    january, february, march = found.months[:3]
    assert (january.years, january.tmin, january.tmax, january.rain) == (2, -0.5, 5.0, 50.0)
    assert (february.years, february.tmax, february.rain) == (1, 7.0, 50.0)
    assert (march.years, march.tmin, march.rain) == (0, None, None)
    assert any("1 of them were estimated" in each for each in found.notes)
    assert read_normals(file, years=1).months[0].years == 1


def test_monthly_text_is_no_daily_weather(tmp_path: Path) -> None:
    file = tmp_path / "x.txt"
    file.write_text(MONTHLY, encoding="utf-8")
    with pytest.raises(BadInputError):
        read_station(file)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "no month"), ("yyyy mm tmax", "no month"),
        (MONTHLY.replace("2010   1", "2009   1"), "a second time"),
        (MONTHLY.replace("6.0 ", "six "), "a number"),
        (MONTHLY.replace("2010   2", "2010  13"), "13"),
    ],
)  # fmt: skip
def test_broken_monthly_text_is_refused(text: str, reason: str) -> None:
    with pytest.raises(BadInputError, match=reason):
        read_monthly(text, "x.txt")
