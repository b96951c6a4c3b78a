"""People: accounts, roles in grounds, sessions, and wrong log-ins."""

from typing import Any

import django.db.models.deletion
from django.db import migrations, models


def _key() -> tuple[str, Any]:
    return ("id", models.BigAutoField(
        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
    ))  # fmt: skip


class Migration(migrations.Migration):
    dependencies = [("records", "0005_grounds")]
    operations = [
        migrations.CreateModel(
            name="PersonRow",
            fields=[
                _key(),
                ("key", models.CharField(max_length=80, unique=True)),
                ("name", models.TextField()),
                ("initials", models.CharField(max_length=8)),
                ("secret", models.CharField(max_length=255)),
                ("must_change", models.BooleanField(default=False)),
                ("made_at", models.DateTimeField()),
            ],
            options={"ordering": ("id",)},
        ),
        migrations.CreateModel(
            name="RoleRow",
            fields=[
                _key(),
                ("role", models.CharField(max_length=10)),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="roles",
                        to="records.personrow",
                    ),
                ),
                (
                    "ground",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.groundrow",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("person", "ground"), name="one_role_in_each_ground"
                    )
                ]
            },
        ),
        migrations.CreateModel(
            name="SessionRow",
            fields=[
                _key(),
                ("token", models.CharField(max_length=64, unique=True)),
                ("began_at", models.DateTimeField()),
                ("ends_at", models.DateTimeField()),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="sessions",
                        to="records.personrow",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="TryRow",
            fields=[
                _key(),
                ("key", models.CharField(max_length=64, unique=True)),
                ("wrong", models.IntegerField()),
                ("last_at", models.DateTimeField()),
                ("opens_at", models.DateTimeField()),
            ],
        ),
    ]
