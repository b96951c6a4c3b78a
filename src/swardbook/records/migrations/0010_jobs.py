"""The machine's own work: rows with a lease."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0009_letting_in")]
    operations = [
        migrations.CreateModel(
            name="JobRow",
            fields=[
                ("id", models.BigAutoField(
                    auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                )),
                ("key", models.CharField(max_length=200, unique=True)),
                ("kind", models.CharField(max_length=40)),
                ("arguments", models.TextField()),
                ("state", models.CharField(max_length=10)),
                ("made_at", models.DateTimeField()),
                ("not_before", models.DateTimeField()),
                ("began_at", models.DateTimeField(null=True)),
                ("lease_until", models.DateTimeField(null=True)),
                ("ended_at", models.DateTimeField(null=True)),
                ("attempt", models.IntegerField(default=0)),
                ("most_attempts", models.IntegerField()),
                ("progress", models.TextField(default="")),
                ("share", models.FloatField(null=True)),
                ("result", models.TextField(default="")),
                ("reason", models.TextField(default="")),
                ("worker", models.CharField(default="", max_length=120)),
                ("code", models.CharField(default="", max_length=80)),
                ("ground", models.ForeignKey(
                    null=True, on_delete=django.db.models.deletion.CASCADE,
                    related_name="+", to="records.groundrow",
                )),
            ],
            options={"ordering": ("id",), "indexes": [
                models.Index(fields=["state", "not_before"], name="job_by_state"),
                models.Index(fields=["kind", "state"], name="job_by_kind"),
            ]},
        ),
    ]  # fmt: skip
