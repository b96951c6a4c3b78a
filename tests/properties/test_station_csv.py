"""Whatever a weather file holds, it is read or refused in words; it never breaks."""

import numpy as np
from hypothesis import event, given
from hypothesis import strategies as st

from swardbook.feeds.station_csv import StationFile, parse_station
from swardbook.foundation.errors import BadInputError
from swardbook.weather.series import Flag

cells = st.one_of(
    st.floats(-60, 400).map(lambda number: f"{number:.1f}"),
    st.sampled_from(
        ["", "NA", "tr", "-", "3,5", "1e999", "−4", "x", '"', "2024-03-01", "01/02/2024", "<1"]
    ),
    st.text(max_size=6),
)
dates = st.one_of(
    st.dates().map(str),
    st.integers(1, 28).map(lambda day: f"2024-03-{day:02}"),
    st.integers(1, 28).map(lambda day: f"{day}/03/2024"),
    cells,
)
headings = st.sampled_from(
    ["date,tmin,tmax,rain", "date;tmin_f;tmax_f;rain_in;wind_10m;RH;solar (W/m2);et0", "a,b",
     "Day\tMonth\tYear\tlow\thigh\tprecip", "date,tmin,tmax,rain,radiation,humidity"]
)  # fmt: skip


def outcome(text: str, latitude: float | None = None) -> StationFile | str:
    """Read a text; a refusal gives its words."""
    try:
        return parse_station(text, latitude=latitude)
    except BadInputError as refusal:
        return str(refusal)


@given(st.text())
def test_any_text_is_read_or_refused(text: str) -> None:
    assert outcome(text)


@given(
    headings,
    st.lists(st.tuples(dates, st.lists(cells, max_size=8)), max_size=30),
    st.sampled_from([None, 52.0, -37.8]),
)
def test_any_rows_are_read_or_refused(
    heading: str, rows: list[tuple[str, list[str]]], latitude: float | None
) -> None:
    delimiter = next(each for each in ";\t," if each in heading)
    text = "\n".join([heading, *(delimiter.join([day, *rest]) for day, rest in rows)])

    assert outcome(text, latitude)


numbers = st.one_of(st.floats(-40, 55).map(lambda number: f"{number:.1f}"), cells)


@given(
    st.lists(st.tuples(st.integers(1, 28), numbers, numbers, numbers), min_size=3, max_size=28),
    st.sampled_from([None, 52.0, -37.8]),
)
def test_what_is_read_is_whole_and_in_order(
    rows: list[tuple[int, str, str, str]], latitude: float | None
) -> None:
    lines = [";".join([f"2024-03-{day:02}", *rest]) for day, *rest in rows]
    found = outcome("\n".join(["date;tmin;tmax;rain", *lines]), latitude)
    if isinstance(found, str):
        event("refused")
        return
    event("read")
    weather = found.weather
    known = np.isfinite([weather.tmin, weather.tmax, weather.rain]).all(axis=0)
    assert (known == ((weather.flags & int(Flag.MISSING)) == 0)).all()
    assert (weather.tmin[known] <= weather.tmax[known]).all()
    assert (weather.rain[known] >= 0).all()
    assert all(finding.words for finding in found.findings)
