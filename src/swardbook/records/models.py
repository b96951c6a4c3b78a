"""The tables. Values are kept as the JSON text they were written as; columns are for asking."""

from __future__ import annotations

from django.db import models


class DayOfWeather(models.Model):
    """One day's weather; NULL is not known."""

    day = models.DateField()
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


class WeatherSeries(models.Model):
    """One weather that was saved; never changed, so that several grounds may share it."""

    name = models.TextField()
    series = models.TextField()
    checksum = models.CharField(max_length=64, default="")
    """Empty where nobody has vouched for it; then it is not shared."""

    class Meta:
        """A weather that was saved for another ground already is found by its checksum."""

        indexes = (models.Index(fields=("checksum",), name="weather_by_checksum"),)


class WeatherDay(DayOfWeather):
    """One day that was measured."""

    of = models.ForeignKey(WeatherSeries, models.CASCADE, db_index=False)

    class Meta(DayOfWeather.Meta):
        """A day stands once in a weather."""

        constraints = (
            models.UniqueConstraint(fields=("of", "day"), name="one_of_each_day_measured"),
        )


class GroundRow(models.Model):
    """One ground; the first stands without a name until its site is saved."""

    slug = models.CharField(max_length=80, unique=True)
    """Its name in addresses and commands; stays when the site is given another name."""
    name = models.TextField()
    made_up = models.BooleanField(default=False)
    writes = models.BigIntegerField(default=0)
    """Counts what was written, so that a summary knows whether it is of today's book."""
    weather = models.ForeignKey(WeatherSeries, models.PROTECT, null=True, related_name="users")

    class Meta:
        """In the order begun."""

        ordering = ("id",)


class Entry(models.Model):
    """One diary entry; the table only grows. Each ground has a chain of its own."""

    ground = models.ForeignKey(GroundRow, models.PROTECT, db_index=False)
    position = models.BigIntegerField()
    uuid = models.UUIDField()
    kind = models.CharField(max_length=40)
    zone = models.TextField()
    first_day = models.DateField()
    last_day = models.DateField()
    text = models.TextField()
    checksum = models.CharField(max_length=64)

    class Meta:
        """In the order written; a place and an id stand once in a ground."""

        ordering = ("position",)
        constraints = (
            models.UniqueConstraint(fields=("ground", "position"), name="one_of_each_position"),
            models.UniqueConstraint(fields=("ground", "uuid"), name="one_of_each_id"),
        )
        indexes = (
            models.Index(fields=("ground", "first_day"), name="entry_by_day"),
            models.Index(fields=("ground", "kind"), name="entry_by_kind"),
        )


class Thing(models.Model):
    """One piece of the ground: the site, a zone, peg, square, plot or lot."""

    position = models.BigAutoField(primary_key=True)
    ground = models.ForeignKey(GroundRow, models.PROTECT, db_index=False)
    kind = models.CharField(max_length=20)
    name = models.TextField()
    """Case-folded: two names that differ in case only are one."""
    text = models.TextField()
    checksum = models.CharField(max_length=64, default="")

    class Meta:
        """In the order first written; a name stands once in a ground for each kind."""

        ordering = ("position",)
        constraints = (
            models.UniqueConstraint(fields=("ground", "kind", "name"), name="one_of_each_name"),
        )


class ForecastSeries(models.Model):
    """The forecast a ground has, and which series are in it."""

    ground = models.OneToOneField(GroundRow, models.PROTECT)
    made_on = models.DateField(null=True)
    """NULL where nobody wrote it down."""
    series = models.TextField()
    checksum = models.CharField(max_length=64)
    about = models.TextField(default="")
    """Where it came from, as JSON; empty for one that was brought in by hand."""
    members = models.TextField(default="")
    """The other courses that were told, as JSON; empty where one alone was."""


class ForecastDay(DayOfWeather):
    """One day that was told before it came; never a record of it."""

    ground = models.ForeignKey(GroundRow, models.PROTECT, db_index=False)

    class Meta(DayOfWeather.Meta):
        """A day stands once in a forecast."""

        constraints = (
            models.UniqueConstraint(fields=("ground", "day"), name="one_of_each_day_told"),
        )


class Kept(models.Model):
    """A result that is kept as it was, such as a sealed guess; the table only grows."""

    ground = models.ForeignKey(GroundRow, models.PROTECT, db_index=False)
    position = models.BigIntegerField()
    kind = models.CharField(max_length=40)
    name = models.TextField()
    text = models.TextField()
    checksum = models.CharField(max_length=64)

    class Meta:
        """In the order written; a place stands once in a ground."""

        ordering = ("position",)
        constraints = (
            models.UniqueConstraint(fields=("ground", "position"), name="one_of_each_place_kept"),
        )
        indexes = (models.Index(fields=("ground", "kind"), name="kept_by_kind"),)


class Summary(models.Model):
    """What was last made out about a ground as a whole; made anew at any time, so not chained."""

    ground = models.OneToOneField(GroundRow, models.CASCADE, primary_key=True)
    day = models.DateField()
    """The day it is for."""
    writes = models.BigIntegerField()
    """The ground's count when it was made."""
    text = models.TextField()
