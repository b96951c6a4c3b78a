"""The tables. Values are kept as the JSON text they were written as; columns are for asking."""

from __future__ import annotations

from django.db import models


class Entry(models.Model):
    """One diary entry; the table only grows."""

    position = models.BigIntegerField(primary_key=True)
    uuid = models.UUIDField(unique=True)
    kind = models.CharField(max_length=40, db_index=True)
    zone = models.TextField()
    first_day = models.DateField(db_index=True)
    last_day = models.DateField()
    text = models.TextField()
    checksum = models.CharField(max_length=64)

    class Meta:
        """In the order written."""

        ordering = ("position",)


class Thing(models.Model):
    """One piece of the ground: the site, a zone, peg, square, plot or lot."""

    position = models.BigAutoField(primary_key=True)
    kind = models.CharField(max_length=20)
    name = models.TextField()
    """Case-folded: two names that differ in case only are one."""
    text = models.TextField()
    checksum = models.CharField(max_length=64, default="")

    class Meta:
        """In the order first written; a name stands once for each kind."""

        ordering = ("position",)
        constraints = (models.UniqueConstraint(fields=("kind", "name"), name="one_of_each_name"),)


class WeatherSeries(models.Model):
    """The weather that is in use, and which series it has."""

    name = models.TextField()
    series = models.TextField()
    checksum = models.CharField(max_length=64, default="")
    """Empty where nobody has vouched for it."""


class DayOfWeather(models.Model):
    """One day's weather; NULL is not known."""

    day = models.DateField(primary_key=True)
    tmin = models.FloatField(null=True)
    tmax = models.FloatField(null=True)
    rain = models.FloatField(null=True)
    flags = models.IntegerField()
    radiation = models.FloatField(null=True)
    humidity = models.FloatField(null=True)
    wind = models.FloatField(null=True)
    et0_given = models.FloatField(null=True)

    class Meta:
        """In the order of days; no table of its own."""

        abstract = True
        ordering = ("day",)


class WeatherDay(DayOfWeather):
    """One day that was measured."""


class ForecastSeries(models.Model):
    """The forecast there is, and which series it has."""

    made_on = models.DateField(null=True)
    """NULL where nobody wrote it down."""
    series = models.TextField()
    checksum = models.CharField(max_length=64)


class ForecastDay(DayOfWeather):
    """One day that was told before it came; never a record of it."""


class Kept(models.Model):
    """A result that is kept as it was, such as a sealed guess; the table only grows."""

    position = models.BigIntegerField(primary_key=True)
    kind = models.CharField(max_length=40, db_index=True)
    name = models.TextField()
    text = models.TextField()
    checksum = models.CharField(max_length=64)

    class Meta:
        """In the order written."""

        ordering = ("position",)
