"""The tables of people: who they are, what they are to a ground, where they are logged in."""

from __future__ import annotations

from django.db import models


class PersonRow(models.Model):
    """Somebody who may be let in; stays when access ends, so that initials keep their name."""

    key = models.CharField(max_length=80, unique=True)
    """The name, case-folded."""
    name = models.TextField()
    initials = models.CharField(max_length=8)
    secret = models.CharField(max_length=255)
    """The password's hash."""
    must_change = models.BooleanField(default=False)
    """Whether the password was given by somebody else."""
    made_at = models.DateTimeField()

    class Meta:
        """In the order made."""

        ordering = ("id",)


class RoleRow(models.Model):
    """What somebody is to a ground."""

    person = models.ForeignKey(PersonRow, models.PROTECT, related_name="roles")
    ground = models.ForeignKey("records.GroundRow", models.PROTECT, related_name="+")
    role = models.CharField(max_length=10)

    class Meta:
        """One role in each ground."""

        constraints = (
            models.UniqueConstraint(fields=("person", "ground"), name="one_role_in_each_ground"),
        )


class SessionRow(models.Model):
    """One log-in; the browser has the token, the book only its hash."""

    token = models.CharField(max_length=64, unique=True)
    person = models.ForeignKey(PersonRow, models.CASCADE, related_name="sessions")
    began_at = models.DateTimeField()
    ends_at = models.DateTimeField()


class TryRow(models.Model):
    """Wrong log-ins by one name or from one address, of which only a hash is kept."""

    key = models.CharField(max_length=64, unique=True)
    wrong = models.IntegerField()
    last_at = models.DateTimeField()
    opens_at = models.DateTimeField()
    """From when the next one is looked at."""


class TokenRow(models.Model):
    """A key for another program, to one ground; the program has it, the book only its hash."""

    token = models.CharField(max_length=64, unique=True)
    ground = models.ForeignKey("records.GroundRow", models.PROTECT, related_name="+")
    person = models.ForeignKey(PersonRow, models.PROTECT, null=True, related_name="tokens")
    """Whose; NULL: of whoever sits at the machine."""
    name = models.TextField()
    role = models.CharField(max_length=10)
    made_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True)

    class Meta:
        """In the order made."""

        ordering = ("id",)
