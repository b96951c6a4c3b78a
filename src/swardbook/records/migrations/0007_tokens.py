"""Keys for other programs."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0006_people")]
    operations = [
        migrations.CreateModel(
            name="TokenRow",
            fields=[
                ("id", models.BigAutoField(
                    auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                )),
                ("token", models.CharField(max_length=64, unique=True)),
                ("name", models.TextField()),
                ("role", models.CharField(max_length=10)),
                ("made_at", models.DateTimeField()),
                ("ended_at", models.DateTimeField(null=True)),
                ("ground", models.ForeignKey(
                    on_delete=django.db.models.deletion.PROTECT, related_name="+",
                    to="records.groundrow",
                )),
                ("person", models.ForeignKey(
                    null=True, on_delete=django.db.models.deletion.PROTECT,
                    related_name="tokens", to="records.personrow",
                )),
            ],
            options={"ordering": ("id",)},
        ),
    ]  # fmt: skip
