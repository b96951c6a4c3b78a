"""The table of sendings that were answered, so that one that comes again writes nothing."""

from __future__ import annotations

from django.db import models


class AnsweredRow(models.Model):
    """One sending under a mark of its own, and what was answered."""

    ground = models.ForeignKey("records.GroundRow", models.CASCADE, related_name="+")
    mark = models.CharField(max_length=64)
    """Hash of who sent what under which mark."""
    answer = models.TextField()
    at = models.DateTimeField(db_index=True)

    class Meta:
        """One of each in a ground."""

        constraints = (
            models.UniqueConstraint(fields=("ground", "mark"), name="one_answer_of_each_sending"),
        )
