"""The table of the machine's own work: what waits, what runs and until when, what came of it."""

from __future__ import annotations

from django.db import models


class JobRow(models.Model):
    """One piece of work for a machine; whoever takes it holds it for a lease."""

    key = models.CharField(max_length=200, unique=True)
    """What it is, so that asking twice makes one."""
    kind = models.CharField(max_length=40)
    ground = models.ForeignKey("records.GroundRow", models.CASCADE, null=True, related_name="+")
    """NULL: the whole book."""
    arguments = models.TextField()
    state = models.CharField(max_length=10)
    """``waiting``, ``running``, ``done`` or ``failed``."""
    made_at = models.DateTimeField()
    not_before = models.DateTimeField()
    began_at = models.DateTimeField(null=True)
    lease_until = models.DateTimeField(null=True)
    ended_at = models.DateTimeField(null=True)
    attempt = models.IntegerField(default=0)
    """How often it was taken; also what tells its holder from one that was too late."""
    most_attempts = models.IntegerField()
    progress = models.TextField(default="")
    share = models.FloatField(null=True)
    result = models.TextField(default="")
    reason = models.TextField(default="")
    worker = models.CharField(max_length=120, default="")
    code = models.CharField(max_length=80, default="")
    """Fingerprint of the program that did it."""

    class Meta:
        """In the order made; what may be taken is found by its state."""

        ordering = ("id",)
        indexes = (
            models.Index(fields=("state", "not_before"), name="job_by_state"),
            models.Index(fields=("kind", "state"), name="job_by_kind"),
        )
