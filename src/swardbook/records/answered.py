"""Sendings that were answered: rows in and out, so that one that comes again writes nothing."""

from __future__ import annotations

from datetime import datetime, timedelta

from swardbook.records.answered_models import AnsweredRow
from swardbook.records.fingerprints import fingerprint
from swardbook.records.guard import guarded

LASTS = timedelta(days=30)
"""How long a sending may come again and is known."""


class Answered:
    """The sendings to one ground that were answered.

    Parameters
    ----------
    alias : str
        Name of the connection.
    ground : int
        Key of the ground.
    where : str
        The book, as the person knows it.
    """

    def __init__(self, alias: str, ground: int, where: str) -> None:
        self._alias, self._ground, self._where = alias, ground, where

    def of(self, mark: str) -> str | None:
        """Give what was answered to a sending; None if it never came."""
        with guarded(self._where):
            rows = AnsweredRow.objects.using(self._alias).filter(
                ground_id=self._ground, mark=fingerprint(mark)
            )
            return rows.values_list("answer", flat=True).first()

    def keep(self, mark: str, answer: str, now: datetime) -> str:
        """Keep what is answered, unless another has been; give what stands, and let old ones go."""
        with guarded(self._where):
            rows = AnsweredRow.objects.using(self._alias)
            rows.filter(ground_id=self._ground, at__lt=now - LASTS).delete()
            row, _made = rows.get_or_create(
                ground_id=self._ground, mark=fingerprint(mark),
                defaults={"answer": answer, "at": now},
            )  # fmt: skip
            return str(row.answer)
