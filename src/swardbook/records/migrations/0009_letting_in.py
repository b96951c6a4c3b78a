"""Invitations, second factors, leaving, where somebody is logged in, and who saw and did what."""

from typing import Any

import django.db.models.deletion
from django.db import migrations, models

HAPPENED, SAW = "records_happenedrow", "records_sawrow"
_SAYS = "the record of people only grows"
_PARTS = (
    (HAPPENED, "UPDATE", ""), (HAPPENED, "DELETE", ""), (SAW, "UPDATE", ""),
    (SAW, "DELETE", "OLD.kept_until > {today}"),
)  # fmt: skip
"""Table, change, and when it is refused; empty: always. Who saw what goes after its day only."""


def forbid(apps: Any, schema_editor: Any) -> None:
    for table, change, when in _PARTS:
        name = f"{table}_no_{change.lower()}"
        if schema_editor.connection.vendor == "postgresql":
            if_so = when.format(today="current_date") or "true"
            schema_editor.execute(
                f"CREATE FUNCTION {name}() RETURNS trigger AS $$BEGIN IF {if_so} THEN RAISE"
                f" EXCEPTION '{_SAYS}'; END IF; RETURN OLD; END$$ LANGUAGE plpgsql"
            )
            schema_editor.execute(
                f"CREATE TRIGGER {name} BEFORE {change} ON {table}"
                f" FOR EACH ROW EXECUTE FUNCTION {name}()"
            )
            continue
        only_if = f" WHEN {when}".format(today="date('now')") if when else ""
        schema_editor.execute(
            f"CREATE TRIGGER {name} BEFORE {change} ON {table}{only_if}"
            f" BEGIN SELECT RAISE(ABORT, '{_SAYS}'); END"
        )


def allow(apps: Any, schema_editor: Any) -> None:
    for table, change, _when in _PARTS:
        name = f"{table}_no_{change.lower()}"
        if schema_editor.connection.vendor == "postgresql":
            schema_editor.execute(f"DROP TRIGGER {name} ON {table}")
            schema_editor.execute(f"DROP FUNCTION {name}()")
        else:
            schema_editor.execute(f"DROP TRIGGER {name}")


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0008_forecast_source"),
    ]

    operations = [
        migrations.AddField(
            model_name="sessionrow",
            name="device",
            field=models.TextField(default=""),
        ),
        migrations.AddField(
            model_name="sessionrow",
            name="is_half",
            field=models.BooleanField(default=False),
        ),
        migrations.AddField(
            model_name="sessionrow",
            name="seen_on",
            field=models.DateField(null=True),
        ),
        migrations.CreateModel(
            name="InvitationRow",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("code", models.CharField(max_length=64, unique=True)),
                ("role", models.CharField(max_length=10)),
                ("name", models.TextField()),
                ("made_at", models.DateTimeField()),
                ("ends_at", models.DateTimeField()),
                ("done_at", models.DateTimeField(null=True)),
                (
                    "ground",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.groundrow",
                    ),
                ),
                (
                    "made_by",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.personrow",
                    ),
                ),
            ],
            options={
                "ordering": ("id",),
            },
        ),
        migrations.CreateModel(
            name="SecondFactorRow",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("seed", models.CharField(max_length=64)),
                ("key_mark", models.CharField(max_length=16)),
                ("made_at", models.DateTimeField()),
                ("is_on", models.BooleanField(default=False)),
                ("last_step", models.BigIntegerField(default=0)),
                (
                    "person",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="second_factor",
                        to="records.personrow",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="HappenedRow",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("at", models.DateTimeField()),
                ("by", models.CharField(max_length=20)),
                ("what", models.CharField(max_length=40)),
                ("about", models.TextField(default="")),
                (
                    "ground",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.groundrow",
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.personrow",
                    ),
                ),
                (
                    "whom",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.personrow",
                    ),
                ),
            ],
            options={
                "ordering": ("id",),
                "indexes": [models.Index(fields=["ground", "at"], name="happened_by_ground")],
            },
        ),
        migrations.CreateModel(
            name="LeavingRow",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("until", models.DateTimeField()),
                (
                    "ground",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.groundrow",
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.personrow",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("person", "ground"), name="one_leaving_of_each_ground"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="LeftBehindRow",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("checksum", models.CharField(max_length=64)),
                ("text", models.TextField()),
                ("file", models.TextField(default="")),
                ("came_at", models.DateTimeField()),
                ("decided", models.CharField(default="", max_length=20)),
                ("decided_at", models.DateTimeField(null=True)),
                (
                    "ground",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.groundrow",
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.personrow",
                    ),
                ),
            ],
            options={
                "ordering": ("id",),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("ground", "person", "checksum"), name="one_of_each_left_behind"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="RecoveryRow",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("number", models.IntegerField()),
                ("secret", models.CharField(max_length=255)),
                ("used_at", models.DateTimeField(null=True)),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.personrow",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("person", "number"), name="one_of_each_recovery_code"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="SawRow",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("day", models.DateField()),
                ("what", models.CharField(max_length=40)),
                ("kept_until", models.DateField()),
                (
                    "ground",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.groundrow",
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.personrow",
                    ),
                ),
            ],
            options={
                "ordering": ("id",),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("ground", "person", "day", "what"), name="one_of_each_day_seen"
                    )
                ],
            },
        ),
        migrations.RunPython(forbid, allow),
    ]
