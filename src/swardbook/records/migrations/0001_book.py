"""The first tables."""

from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = []

    operations = [
        migrations.CreateModel(
            name="Entry",
            fields=[
                ("position", models.BigIntegerField(primary_key=True, serialize=False)),
                ("uuid", models.UUIDField(unique=True)),
                ("kind", models.CharField(db_index=True, max_length=40)),
                ("zone", models.TextField()),
                ("first_day", models.DateField(db_index=True)),
                ("last_day", models.DateField()),
                ("text", models.TextField()),
                ("checksum", models.CharField(max_length=64)),
            ],
            options={
                "ordering": ("position",),
            },
        ),
        migrations.CreateModel(
            name="Kept",
            fields=[
                ("position", models.BigIntegerField(primary_key=True, serialize=False)),
                ("kind", models.CharField(db_index=True, max_length=40)),
                ("name", models.TextField()),
                ("text", models.TextField()),
                ("checksum", models.CharField(max_length=64)),
            ],
            options={
                "ordering": ("position",),
            },
        ),
        migrations.CreateModel(
            name="WeatherDay",
            fields=[
                ("day", models.DateField(primary_key=True, serialize=False)),
                ("tmin", models.FloatField(null=True)),
                ("tmax", models.FloatField(null=True)),
                ("rain", models.FloatField(null=True)),
                ("flags", models.IntegerField()),
                ("radiation", models.FloatField(null=True)),
                ("humidity", models.FloatField(null=True)),
                ("wind", models.FloatField(null=True)),
                ("et0_given", models.FloatField(null=True)),
            ],
            options={
                "ordering": ("day",),
            },
        ),
        migrations.CreateModel(
            name="WeatherSeries",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.TextField()),
                ("series", models.TextField()),
            ],
        ),
        migrations.CreateModel(
            name="Thing",
            fields=[
                ("position", models.BigAutoField(primary_key=True, serialize=False)),
                ("kind", models.CharField(max_length=20)),
                ("name", models.TextField()),
                ("text", models.TextField()),
            ],
            options={
                "ordering": ("position",),
                "constraints": [
                    models.UniqueConstraint(fields=("kind", "name"), name="one_of_each_name")
                ],
            },
        ),
    ]
