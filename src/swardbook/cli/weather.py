"""`swardbook weather`: import, show and derive daily weather."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.chosen import unit_in_chosen
from swardbook.cli.doors import Door, clock_today, door_options
from swardbook.cli.output import table
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.weather_fetch import fetch, normals
from swardbook.cli.weather_words import (
    findings_payload,
    forecast_line,
    forecast_payload,
    listed,
)
from swardbook.cli.wrapping import under
from swardbook.foundation.dates import read_day, say
from swardbook.foundation.errors import BadInputError

if TYPE_CHECKING:
    from datetime import date

    from swardbook.book.opening import Book
    from swardbook.book.weather import Imported, WeatherDerived, WeatherShown
    from swardbook.figures.picture import Picture
    from swardbook.weather.months import Month

METHODS = ("average", "modified-average", "single-sine", "single-triangle")


@click.group()
def command() -> None:
    """Import, fetch, show and derive daily weather."""


command.add_command(fetch)
command.add_command(normals)


def file_options(function: Any) -> Any:
    """Give a command what tells how a file is read."""
    for option in reversed(
        (
            click.option("--column", "columns", multiple=True, metavar="WHAT=HEADING",
                         help="Name a column yourself, such as 'tmin=Night low'."),
            click.option("--fahrenheit", is_flag=True,
                         help="Temperatures without a unit in the heading are °F."),
            click.option("--inches", is_flag=True,
                         help="Rain without a unit in the heading is in inches."),
        )
    ):  # fmt: skip
        function = option(function)
    return function


@command.command(name="import", short_help="Bring a daily weather file into the book.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--name", default="", help="Name of the series; the file's if not given.")
@click.option("--in-place-of-all", is_flag=True, help="Leave out what was there before.")
@file_options
@door_options
def import_command(
    file: Path,
    name: str,
    in_place_of_all: bool,
    columns: Sequence[str],
    fahrenheit: bool,
    inches: bool,
    door: Door,
) -> None:
    """Bring a daily weather file into the book.

    Columns are found by name: date, minimum, maximum and rain, and radiation, humidity, wind and
    et0 where there are any. Days that are there already are read again.
    """
    from swardbook.book.weather import import_weather

    book = door.book()
    done = import_weather(
        book,
        file,
        name=name,
        columns=_chosen(columns),
        units=_units(fahrenheit, inches),
        in_place_of_all=in_place_of_all,
    )
    door.show(_imported_payload(done), _imported_lines(done), book)


@command.command()
@click.option("--from", "first", default="", metavar="DAY", help="First day to show.")
@click.option("--to", "last", default="", metavar="DAY", help="Last day to show.")
@click.option("--months", default=24, show_default=True, type=click.IntRange(0),
              help="Months in the table, latest; 0 for all. JSON has all.")  # fmt: skip
@picture_option("warmth, rain and soil of those days, or of the last twelve months")
@door_options
def show(first: str, last: str, months: int, picture: Path | None, door: Door) -> None:
    """Show the weather in the book by month, what was filled and what is odd."""
    from swardbook.book.weather import show_weather

    check_places(picture)
    book = door.book()
    days = [read_day(each, book.today) if each else None for each in (first, last)]
    shown = show_weather(book, *days)
    payload, lines = with_picture(
        picture, lambda: _drawn(book, *days), _shown_payload(shown), _shown_lines(shown, months)
    )
    door.show(payload, lines, book)


def _drawn(book: Book, first: date | None, last: date | None) -> Picture:
    from swardbook.book.pictures import draw_weather

    return draw_weather(book, first, last)


@command.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--latitude", required=True, type=float, help="Degrees, south negative.")
@click.option("--elevation", default=0.0, show_default=True, type=float,
              help="Metres above the sea.")  # fmt: skip
@click.option("--base", default=None, type=float, help="Lower limit of degree-days, °C. [5]")
@click.option("--upper", default=None, type=float, help="Upper limit of degree-days, °C. [30]")
@click.option("--method", default="single-sine", show_default=True, type=click.Choice(METHODS),
              help="How degree-days are reached.")  # fmt: skip
@click.option("--coastal", is_flag=True, help="On or near the coast of a large water.")
@click.option("--all", "all_series", is_flag=True, help="Put every series into the JSON.")
@click.option("--months", default=24, show_default=True, type=click.IntRange(0),
              help="Months in the table, latest; 0 for all. JSON has all days.")  # fmt: skip
@file_options
@door_options
def derive(
    file: Path,
    latitude: float,
    elevation: float,
    base: float | None,
    upper: float | None,
    method: str,
    coastal: bool,
    all_series: bool,
    months: int,
    columns: Sequence[str],
    fahrenheit: bool,
    inches: bool,
    door: Door,
) -> None:
    """Derive evapotranspiration, day length, degree-days, growth and soil warmth from a file.

    Needs no book.
    """
    from swardbook.book.weather import derive_weather

    done = derive_weather(
        file,
        latitude,
        elevation,
        base=base,
        upper=upper,
        method=method,
        coastal=coastal,
        until=read_day(door.on, clock_today()) if door.on else None,
        columns=_chosen(columns),
        units=_units(fahrenheit, inches),
    )
    door.show(_derived_payload(done, all_series=all_series), _derived_lines(done, months))


def _chosen(columns: Sequence[str]) -> dict[str, str]:
    chosen = {}
    for pair in columns:
        quantity, equals, heading = pair.partition("=")
        if not equals or not heading:
            raise BadInputError("--column", pair, "WHAT=HEADING, such as 'tmin=Night low'")
        chosen[quantity.strip().lower()] = heading.strip()
    return chosen


def _units(fahrenheit: bool, inches: bool) -> dict[str, str]:
    units = {"tmin": "f", "tmax": "f"} if fahrenheit else {}
    return {**units, "rain": "in"} if inches else units


def _number(value: float | None, digits: int = 1) -> float | None:
    return None if value is None else round(value, digits)


def _month_payload(month: Month) -> dict[str, Any]:
    return {
        "month": f"{month.first:%Y-%m}",
        "days": month.days,
        "tmin_mean_c": _number(month.tmin, 2),
        "tmax_mean_c": _number(month.tmax, 2),
        "rain_mm": _number(month.rain, 2),
        "frost_days": month.frosts,
        "et0_mm": _number(month.et0, 2),
        "degree_days": _number(month.degree_days, 2),
        "growth_potential_mean": _number(month.growth_potential, 4),
        "soil_temperature_5cm_mean_c": _number(month.soil_temperature, 2),
        "filled_days": month.filled,
        "odd_days": month.odd,
    }


def _month_lines(months: Sequence[Month], most: int) -> list[str]:
    shown = months[-most:] if most else months
    heads = ["month", "days", "min", "max", "rain", "frost", "filled", "odd"]
    has_derived = bool(shown) and shown[0].et0 is not None
    if has_derived:
        heads += ["ET0", "°C d", "growth", "soil"]
    rows = []
    for month in shown:
        row = [
            f"{month.first:%b %Y}", str(month.days), f"{month.tmin:.1f}", f"{month.tmax:.1f}",
            f"{month.rain:.0f}", str(month.frosts), str(month.filled), str(month.odd),
        ]  # fmt: skip
        if has_derived:
            row += [
                f"{month.et0:.0f}", f"{month.degree_days:.0f}", f"{month.growth_potential:.2f}",
                f"{month.soil_temperature:.0f}".replace("-0", "0"),
            ]  # fmt: skip
        rows.append(row)
    earlier = len(months) - len(shown)
    left = [f"{earlier} earlier months are left out; --months 0 shows all."] if earlier else []
    warmth, wet = unit_in_chosen("°C"), unit_in_chosen("mm")
    units = f"Minimum and maximum in {warmth}; rain in {wet}; frost, filled and odd in days."
    if has_derived:
        units += f" ET0 in {wet}; °C d: degree-days; growth from 0 to 1; soil at 5 cm in {warmth}."
    said = ("", "", "°C", "°C", "mm", "", "", "", "mm", "", "", "°C")
    return [*under("", units, 0), *table(heads, rows, said[: len(heads)]), *left]


def _imported_payload(done: Imported) -> dict[str, Any]:
    return {
        "name": done.name,
        "first": done.first.isoformat(),
        "last": done.last.isoformat(),
        "days_read": done.days_read,
        "days_read_again": done.days_again,
        "days_now": done.days_now,
        "forecast": forecast_payload(done.forecast),
        "notes": list(done.notes),
        "findings": findings_payload(done.findings),
    }


def _imported_lines(done: Imported) -> list[str]:
    return [
        f"{done.name.rstrip('.')}: {done.days_read} days read"
        + (f", {done.days_again} of them again." if done.days_again else "."),
        f"The book now has {done.days_now} days, {say(done.first)} to {say(done.last)}."
        if done.days_now
        else "The book has no measured day yet.",
        *forecast_line(done.forecast),
        *listed("How it was read", done.notes),
        *listed("Needs a look", [each.words for each in done.findings]),
    ]


def _shown_payload(shown: WeatherShown) -> dict[str, Any]:
    return {
        "name": shown.name,
        "first": shown.first.isoformat(),
        "last": shown.last.isoformat(),
        "longest_dry_spell_days": shown.dry_spell,
        "forecast": forecast_payload(shown.forecast),
        "forecast_never_measured": shown.only_told
        and {
            "first": shown.only_told[0].isoformat(),
            "last": shown.only_told[1].isoformat(),
            "days": (shown.only_told[1] - shown.only_told[0]).days + 1,
        },
        "months": [_month_payload(month) for month in shown.months],
        "fetched_days": shown.fetched_days,
        "credits": list(shown.credits),
        "missing": [
            {"first": first.isoformat(), "last": last.isoformat(), "days": (last - first).days + 1}
            for first, last in shown.missing
        ],
        "filled": findings_payload(shown.filled),
        "findings": findings_payload(shown.findings),
    }


def _shown_lines(shown: WeatherShown, months: int) -> list[str]:
    return [
        f"{shown.name.rstrip('.')}: {say(shown.first)} to {say(shown.last)}.",
        f"Longest run of days under 1 mm of rain: {shown.dry_spell}.",
        *(
            f"Missing: {say(first)} to {say(last)}, {(last - first).days + 1} days"
            + (", forecast but never measured." if (first, last) == shown.only_told else ".")
            for first, last in shown.missing
        ),
        *forecast_line(shown.forecast),
        *_fetched_lines(shown),
        "",
        *_month_lines(shown.months, months),
        *listed("Filled", [each.words for each in shown.filled]),
        *listed("Needs a look", [each.words for each in shown.findings]),
    ]


def _fetched_lines(shown: WeatherShown) -> list[str]:
    days = shown.fetched_days
    told = f"Not measured here but fetched: {days} {'day' if days == 1 else 'days'}."
    return [*([told] if days else []), *(f"{each.rstrip('.')}." for each in shown.credits)]


def _derived_payload(done: WeatherDerived, *, all_series: bool) -> dict[str, Any]:
    derived = done.derived
    series = {
        "et0_mm": derived.et0,
        "extraterrestrial_radiation_mj_m2": derived.extraterrestrial_radiation,
        "daylength_h": derived.daylength,
        "degree_days": derived.degree_days,
        "growth_potential": derived.growth_potential,
        "soil_temperature_5cm_c": derived.soil_temperature_5cm,
    }
    if all_series:
        series |= {
            "soil_temperature_10cm_c": derived.soil_temperature_10cm,
            "hargreaves_et0_mm": derived.hargreaves,
            "radiation_mj_m2": derived.radiation,
            "light_mol_m2": derived.light,
            "vapour_pressure_kpa": derived.vapour_pressure,
            "dew_point_c": derived.dew_point,
            "leaf_wet_hours": derived.leaf_wet_hours,
        }
    columns = [[_finite(number) for number in values.tolist()] for values in series.values()]
    dates = [str(day) for day in derived.days]
    return {
        "latitude_deg": derived.latitude,
        "elevation_m": derived.elevation_m,
        "method": derived.method.value,
        "base_c": derived.base,
        "upper_c": derived.upper,
        "days": [
            {"date": day, **dict(zip(series, row, strict=True))}
            for day, row in zip(dates, zip(*columns, strict=True), strict=True)
        ],
        "months": [_month_payload(month) for month in done.months],
        "notes": list(done.notes),
        "findings": findings_payload(done.findings),
    }


def _finite(number: float) -> float | None:
    return None if number != number else round(number, 6)  # noqa: PLR0124


def _derived_lines(done: WeatherDerived, months: int) -> list[str]:
    derived, weather = done.derived, done.weather
    return [
        f"{say(weather.first)} to {say(weather.last)}, {len(weather)} days, latitude"
        f" {derived.latitude:g}°, {derived.elevation_m:g} m above the sea.",
        "",
        *_month_lines(done.months, months),
        *listed("How it was reached", done.notes),
        *listed("Needs a look", [each.words for each in done.findings]),
    ]
