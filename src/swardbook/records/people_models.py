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
    device = models.TextField(default="")
    """What it is, in a few words, as its browser says."""
    seen_on = models.DateField(null=True)
    """The last day on which something was asked with it."""
    is_half = models.BooleanField(default=False)
    """Whether the password was right and the second factor is still asked for."""


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


class InvitationRow(models.Model):
    """A way in for somebody who has no account yet; they have its code, the book only its hash."""

    code = models.CharField(max_length=64, unique=True)
    ground = models.ForeignKey("records.GroundRow", models.PROTECT, related_name="+")
    role = models.CharField(max_length=10)
    name = models.TextField()
    """For whom, in the owner's words; emptied once it holds no more."""
    made_by = models.ForeignKey(PersonRow, models.PROTECT, null=True, related_name="+")
    """NULL: whoever sits at the machine."""
    made_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    done_at = models.DateTimeField(null=True)
    """When it was used or withdrawn."""

    class Meta:
        """In the order made."""

        ordering = ("id",)


class LeavingRow(models.Model):
    """Until when entries are taken that still wait on the phone of somebody who has left."""

    person = models.ForeignKey(PersonRow, models.PROTECT, related_name="+")
    ground = models.ForeignKey("records.GroundRow", models.PROTECT, related_name="+")
    until = models.DateTimeField()

    class Meta:
        """Once for each ground."""

        constraints = (
            models.UniqueConstraint(fields=("person", "ground"), name="one_leaving_of_each_ground"),
        )


class LeftBehindRow(models.Model):
    """What came from the phone of somebody after they had left; an owner decides about it."""

    ground = models.ForeignKey("records.GroundRow", models.PROTECT, related_name="+")
    person = models.ForeignKey(PersonRow, models.PROTECT, related_name="+")
    checksum = models.CharField(max_length=64)
    text = models.TextField()
    """As it was sent."""
    file = models.TextField(default="")
    """Name of the picture or voice note that came with it; empty for an entry."""
    came_at = models.DateTimeField()
    decided = models.CharField(max_length=20, default="")
    """Empty until an owner has decided."""
    decided_at = models.DateTimeField(null=True)

    class Meta:
        """In the order come; the same twice is kept once."""

        ordering = ("id",)
        constraints = (
            models.UniqueConstraint(
                fields=("ground", "person", "checksum"), name="one_of_each_left_behind"
            ),
        )


class SecondFactorRow(models.Model):
    """The second factor of somebody; its secret is made from this and a key beside the book."""

    person = models.OneToOneField(PersonRow, models.PROTECT, related_name="second_factor")
    seed = models.CharField(max_length=64)
    key_mark = models.CharField(max_length=16)
    """By which the key beside the book is known again."""
    made_at = models.DateTimeField()
    is_on = models.BooleanField(default=False)
    last_step = models.BigIntegerField(default=0)
    """Step of the last code that was right; none up to it is right again."""


class RecoveryRow(models.Model):
    """A code that stands in for the second factor once; only its hash is kept."""

    person = models.ForeignKey(PersonRow, models.PROTECT, related_name="+")
    number = models.IntegerField()
    secret = models.CharField(max_length=255)
    used_at = models.DateTimeField(null=True)

    class Meta:
        """A number stands once for each person."""

        constraints = (
            models.UniqueConstraint(fields=("person", "number"), name="one_of_each_recovery_code"),
        )


class HappenedRow(models.Model):
    """What somebody did with access or with the book as a whole; the table only grows."""

    at = models.DateTimeField()
    ground = models.ForeignKey("records.GroundRow", models.PROTECT, null=True, related_name="+")
    person = models.ForeignKey(PersonRow, models.PROTECT, null=True, related_name="+")
    """Who; NULL: whoever sits at the machine, or a stranger."""
    by = models.CharField(max_length=20)
    what = models.CharField(max_length=40)
    whom = models.ForeignKey(PersonRow, models.PROTECT, null=True, related_name="+")
    about = models.TextField(default="")

    class Meta:
        """In the order written."""

        ordering = ("id",)
        indexes = (models.Index(fields=("ground", "at"), name="happened_by_ground"),)


class SawRow(models.Model):
    """That somebody opened pages with personal data on a day; goes after its day, never before."""

    ground = models.ForeignKey("records.GroundRow", models.PROTECT, related_name="+")
    person = models.ForeignKey(PersonRow, models.PROTECT, related_name="+")
    day = models.DateField()
    what = models.CharField(max_length=40)
    kept_until = models.DateField()

    class Meta:
        """Once a day for each ground and kind of page."""

        ordering = ("id",)
        constraints = (
            models.UniqueConstraint(
                fields=("ground", "person", "day", "what"), name="one_of_each_day_seen"
            ),
        )
