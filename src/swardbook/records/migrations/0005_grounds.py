"""Many grounds in one book: each row says whose it is, and each ground has a chain of its own.

The tables are built anew and filled by copying, since a primary key cannot be changed in place.
Texts and checksums are copied as they are: what was damaged is not vouched for again.
"""

import json
from collections.abc import Callable
from importlib import import_module
from typing import Any

import django.db.models.deletion
from django.db import migrations, models
from django.utils.text import slugify

LONGEST = 70
WEATHER = ["tmin", "tmax", "rain", "flags", "radiation", "humidity", "wind", "et0_given"]
ENTRY = ["position", "uuid", "kind", "zone", "first_day", "last_day", "text", "checksum"]
COPIED = {
    "Entry": ("ground_id", "position", ENTRY),
    "Thing": ("ground_id", "position", ["kind", "name", "text", "checksum"]),
    "Kept": ("ground_id", "position", ["position", "kind", "name", "text", "checksum"]),
    "ForecastSeries": ("ground_id", "id", ["made_on", "series", "checksum"]),
    "ForecastDay": ("ground_id", "day", ["day", *WEATHER]),
    "WeatherDay": ("of_id", "day", ["day", *WEATHER]),
}
"""Each table's column for its owner, its order, and what is copied."""
growing = import_module("swardbook.records.migrations.0002_only_grows")


def begin(apps: Any, schema_editor: Any) -> None:
    """Make the one ground of this book; without a name where its site has none that can be read."""
    alias = schema_editor.connection.alias
    things, series, grounds = (
        apps.get_model("records", name).objects.using(alias)
        for name in ("Thing", "WeatherSeries", "GroundRow")
    )
    site = things.filter(kind="site").first()
    try:
        read = json.loads(site.text) if site is not None else {}
    except ValueError:
        read = {}
    told = read if isinstance(read, dict) else {}
    name = str(told.get("name") or "")
    grounds.create(
        slug=(slugify(name)[:LONGEST].strip("-") or "ground") if name else "",
        name=name,
        made_up=bool(told.get("made_up_today")),
        weather=series.first(),
    )


def owner(apps: Any, schema_editor: Any, table: str) -> int:
    """Give whom the rows of a table belong to: the one ground, or the weather it has."""
    alias = schema_editor.connection.alias
    if COPIED[table][0] == "ground_id":
        return int(apps.get_model("records", "GroundRow").objects.using(alias).get().pk)
    series = apps.get_model("records", "WeatherSeries").objects.using(alias)
    return int((series.first() or series.create(name="", series="")).pk)


def copy(table: str) -> Callable[[Any, Any], None]:
    """Copy a table into the new one."""

    def fill(apps: Any, schema_editor: Any) -> None:
        alias = schema_editor.connection.alias
        old = apps.get_model("records", table)
        if not old.objects.using(alias).exists():
            return
        new = apps.get_model("records", f"New{table}")
        whose, order, columns = COPIED[table]
        listed = ", ".join(schema_editor.quote_name(each) for each in columns)
        schema_editor.execute(
            f"INSERT INTO {new._meta.db_table} ({whose}, {listed})"
            f" SELECT {owner(apps, schema_editor, table)}, {listed}"
            f" FROM {old._meta.db_table} ORDER BY {order}"
        )

    return fill


def copy_back(table: str) -> Callable[[Any, Any], None]:
    """Copy a table back; only where there is one ground."""

    def fill(apps: Any, schema_editor: Any) -> None:
        alias = schema_editor.connection.alias
        if apps.get_model("records", "GroundRow").objects.using(alias).count() > 1:
            raise ValueError("a book of several grounds cannot go back to one")
        old, new = (apps.get_model("records", name) for name in (table, f"New{table}"))
        _, order, columns = COPIED[table]
        listed = ", ".join(schema_editor.quote_name(each) for each in columns)
        schema_editor.execute(
            f"INSERT INTO {old._meta.db_table} ({listed})"
            f" SELECT {listed} FROM {new._meta.db_table} ORDER BY {order}"
        )

    return fill


def _key() -> tuple[str, Any]:
    return ("id", models.BigAutoField(
        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
    ))  # fmt: skip


def _of(model: str) -> Any:
    deletion = django.db.models.deletion
    how = deletion.CASCADE if model == "weatherseries" else deletion.PROTECT
    return models.ForeignKey(f"records.{model}", on_delete=how, db_index=False)


def _day() -> list[tuple[str, Any]]:
    def number() -> Any:
        return models.FloatField(null=True)

    return [
        ("day", models.DateField()),
        *((name, models.IntegerField() if name == "flags" else number()) for name in WEATHER),
    ]


def _once(name: str, *fields: str) -> Any:
    return models.UniqueConstraint(fields=fields, name=name)


def _by(name: str, *fields: str) -> Any:
    return models.Index(fields=fields, name=name)


def _rebuilt(
    table: str, fields: list[tuple[str, Any]], order: str = "", constraints: tuple[Any, ...] = (),
    indexes: tuple[Any, ...] = (),
) -> list[Any]:  # fmt: skip
    options: dict[str, Any] = {"ordering": (order,)} if order else {}
    options |= {"constraints": list(constraints)} if constraints else {}
    options |= {"indexes": list(indexes)} if indexes else {}
    if order == "day":
        options["abstract"] = False
    return [
        migrations.CreateModel(name=f"New{table}", fields=fields, options=options),
        migrations.RunPython(copy(table), copy_back(table)),
        migrations.DeleteModel(table),
        migrations.RenameModel(f"New{table}", table),
    ]


class Migration(migrations.Migration):
    dependencies = [("records", "0004_forecast")]
    operations = [
        migrations.RunPython(growing.allow, growing.forbid),
        migrations.CreateModel(
            name="GroundRow",
            fields=[
                _key(),
                ("slug", models.CharField(max_length=80, unique=True)),
                ("name", models.TextField()),
                ("made_up", models.BooleanField(default=False)),
                ("writes", models.BigIntegerField(default=0)),
                (
                    "weather",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="users",
                        to="records.weatherseries",
                    ),
                ),
            ],
            options={"ordering": ("id",)},
        ),
        migrations.RunPython(begin, migrations.RunPython.noop),
        migrations.RemoveConstraint("thing", "one_of_each_name"),
        *_rebuilt(
            "Entry",
            [
                _key(),
                ("position", models.BigIntegerField()),
                ("uuid", models.UUIDField()),
                ("kind", models.CharField(max_length=40)),
                ("zone", models.TextField()),
                ("first_day", models.DateField()),
                ("last_day", models.DateField()),
                ("text", models.TextField()),
                ("checksum", models.CharField(max_length=64)),
                ("ground", _of("groundrow")),
            ],
            "position",
            (
                _once("one_of_each_position", "ground", "position"),
                _once("one_of_each_id", "ground", "uuid"),
            ),
            (
                _by("entry_by_day", "ground", "first_day"),
                _by("entry_by_kind", "ground", "kind"),
            ),
        ),
        *_rebuilt(
            "Thing",
            [
                ("position", models.BigAutoField(primary_key=True, serialize=False)),
                ("kind", models.CharField(max_length=20)),
                ("name", models.TextField()),
                ("text", models.TextField()),
                ("checksum", models.CharField(max_length=64, default="")),
                ("ground", _of("groundrow")),
            ],
            "position",
            (_once("one_of_each_name", "ground", "kind", "name"),),
        ),
        *_rebuilt(
            "Kept",
            [
                _key(),
                ("position", models.BigIntegerField()),
                ("kind", models.CharField(max_length=40)),
                ("name", models.TextField()),
                ("text", models.TextField()),
                ("checksum", models.CharField(max_length=64)),
                ("ground", _of("groundrow")),
            ],
            "position",
            (_once("one_of_each_place_kept", "ground", "position"),),
            (_by("kept_by_kind", "ground", "kind"),),
        ),
        *_rebuilt(
            "ForecastSeries",
            [
                _key(),
                ("made_on", models.DateField(null=True)),
                ("series", models.TextField()),
                ("checksum", models.CharField(max_length=64)),
                (
                    "ground",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT, to="records.groundrow"
                    ),
                ),
            ],
        ),
        *_rebuilt(
            "ForecastDay",
            [_key(), *_day(), ("ground", _of("groundrow"))],
            "day",
            (_once("one_of_each_day_told", "ground", "day"),),
        ),
        *_rebuilt(
            "WeatherDay",
            [_key(), *_day(), ("of", _of("weatherseries"))],
            "day",
            (_once("one_of_each_day_measured", "of", "day"),),
        ),
        migrations.AddIndex("weatherseries", _by("weather_by_checksum", "checksum")),
        migrations.CreateModel(
            name="Summary",
            fields=[
                (
                    "ground",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        serialize=False,
                        to="records.groundrow",
                    ),
                ),
                ("day", models.DateField()),
                ("writes", models.BigIntegerField()),
                ("text", models.TextField()),
            ],
        ),
        migrations.RunPython(growing.forbid, growing.allow),
    ]
