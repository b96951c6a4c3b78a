"""A forecast is kept apart from the weather that was measured."""

import json
from datetime import date, datetime
from typing import Any

from django.db import migrations, models

MOST = 500


def _today(things: Any) -> date | None:
    """Give the clock's day; None for a made-up ground, whose days to come were measured once."""
    site = things.filter(kind="site").first()
    try:
        made_up = site is not None and json.loads(site.text).get("made_up_today")
    except ValueError:
        return None
    return None if made_up else datetime.now().astimezone().date()


def part(apps: Any, schema_editor: Any) -> None:
    """Keep the days that have not come as a forecast; weather that is not whole is left alone."""
    from swardbook.records.rows import checksum_of, forecast_checksum, weather_in
    from swardbook.weather.forecast import Forecast

    alias = schema_editor.connection.alias
    days, series, told, told_series, things = (
        apps.get_model("records", name).objects.using(alias)
        for name in ("WeatherDay", "WeatherSeries", "ForecastDay", "ForecastSeries", "Thing")
    )
    today, about = _today(things), series.first()
    if today is None or about is None:
        return
    ahead = days.filter(day__gt=today)
    try:
        whole = weather_in(days.all(), about.series)
        is_whole = whole is not None and about.checksum in ("", checksum_of(whole))
    except (ValueError, TypeError, OverflowError):
        return
    moved = weather_in(ahead, about.series)
    if not is_whole or moved is None:
        return
    checked = forecast_checksum(Forecast(moved))
    told_series.create(made_on=None, series=about.series, checksum=checked)
    model = apps.get_model("records", "ForecastDay")
    told.bulk_create([model(**row) for row in ahead.values()], batch_size=MOST)
    ahead.delete()
    left = weather_in(days.all(), about.series)
    if left is None:
        about.delete()
    elif about.checksum:
        about.checksum = checksum_of(left)
        about.save()


def _day_fields() -> list[tuple[str, Any]]:
    series = ("radiation", "humidity", "wind", "et0_given")
    return [
        ("day", models.DateField(primary_key=True, serialize=False)),
        *((name, models.FloatField(null=True)) for name in ("tmin", "tmax", "rain")),
        ("flags", models.IntegerField()),
        *((name, models.FloatField(null=True)) for name in series),
    ]


class Migration(migrations.Migration):
    dependencies = [("records", "0003_checksums")]
    operations = [
        migrations.CreateModel(
            name="ForecastDay",
            fields=_day_fields(),
            options={"ordering": ("day",), "abstract": False},
        ),
        migrations.CreateModel(
            name="ForecastSeries",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("made_on", models.DateField(null=True)),
                ("series", models.TextField()),
                ("checksum", models.CharField(max_length=64)),
            ],
        ),
        migrations.RunPython(part, migrations.RunPython.noop),
    ]
