"""The machine's own work: taken under a lease, renewed, ended once, and never lost with a worker.

The attempt that a worker was given is what it must show when it ends a job: one whose lease was
taken by another has an older number, and changes nothing.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping, Sequence
from contextlib import AbstractContextManager
from datetime import datetime, timedelta
from typing import Any

from django.db import connections, transaction
from django.db.models import Case, Count, F, Max, Q, QuerySet, Value, When

from swardbook.foundation.errors import UnknownNameError
from swardbook.records.chain import canonical
from swardbook.records.guard import guarded
from swardbook.records.job import STATES, Job, NewJob
from swardbook.records.job_models import JobRow
from swardbook.records.looking import require_writable
from swardbook.records.models import GroundRow
from swardbook.records.questions import About, Question
from swardbook.records.state import told_to

_ENDED = {"lease_until": None, "progress": "", "share": None}
_END = """\
UPDATE records_jobrow SET state = 'done', ended_at = %s, result = %s, reason = '',
  lease_until = NULL, progress = '', share = NULL
WHERE id = %s AND state = 'running' AND attempt = %s
"""
_TOLD = (
    "id", "key", "kind", "ground__slug", "arguments", "state", "made_at", "not_before", "began_at",
    "lease_until", "ended_at", "attempt", "most_attempts", "progress", "share", "result", "reason",
    "worker", "code",
)  # fmt: skip


class Jobs:
    """The jobs of a book, over one connection.

    Parameters
    ----------
    alias : str
        Name of the connection.
    where : str
        The book, as the person knows it.
    """

    def __init__(self, alias: str, where: str) -> None:
        self._alias, self._where = alias, where

    def ask(self, wanted: Sequence[NewJob], now: datetime, most_attempts: int) -> int:
        """Write down work to be done; what was asked for before is let be. Gives how many are new.

        Parameters
        ----------
        wanted : sequence of NewJob
            The work.
        now : datetime
            The time.
        most_attempts : int
            How often each may be taken.
        """
        require_writable()
        with guarded(self._where), transaction.atomic(using=self._alias):
            keys = {each.key for each in wanted}
            for some in _in_parts(sorted(keys)):
                keys -= set(self._rows().filter(key__in=some).values_list("key", flat=True))
            grounds = dict(GroundRow.objects.using(self._alias).values_list("slug", "id"))
            fresh = {each.key: each for each in wanted if each.key in keys}
            rows = [
                JobRow(
                    key=each.key, kind=each.kind, ground_id=_ground(grounds, each.ground),
                    arguments=canonical(dict(each.arguments)), state="waiting", made_at=now,
                    not_before=each.not_before or now, most_attempts=most_attempts,
                )
                for each in fresh.values()
            ]  # fmt: skip
            self._rows().bulk_create(rows, batch_size=200, ignore_conflicts=True)
        return len(rows)

    def take(
        self, worker: str, code: str, now: datetime, lease: timedelta, most: int = 1,
        kinds: Collection[str] = (), starting: str = "",
    ) -> tuple[Job, ...]:  # fmt: skip
        """Take jobs that wait, or whose holder's lease ran out; all in one transaction.

        Parameters
        ----------
        worker, code : str
            Who takes them, and the fingerprint of the program there.
        now : datetime
            The time.
        lease : timedelta
            How long they are held without being renewed.
        most : int
            How many at most.
        kinds : collection of str
            Only of these kinds; none: of any.
        starting : str
            Only those whose key starts so.
        """
        require_writable()
        with guarded(self._where), transaction.atomic(using=self._alias):
            self._give_up(now)
            free = Q(state="waiting", not_before__lte=now) | Q(
                state="running", lease_until__lte=now
            )
            rows = self._rows().filter(free)
            rows = rows.filter(kind__in=kinds) if kinds else rows
            rows = rows.filter(key__startswith=starting) if starting else rows
            if connections[self._alias].vendor == "postgresql":  # SQLite has one writer anyway
                rows = rows.select_for_update(skip_locked=True, of=("self",))
            chosen = [row.pk for row in rows.order_by("not_before", "id")[:most]]
            self._rows().filter(pk__in=chosen).update(
                state="running", attempt=F("attempt") + 1, began_at=now, lease_until=now + lease,
                worker=worker[:120], code=code[:80], progress="", share=None,
            )  # fmt: skip
            return self._told(self._rows().filter(pk__in=chosen))

    def _give_up(self, now: datetime) -> None:
        """Let a job that was lost with its worker too often be taken no more."""
        lost = self._rows().filter(
            state="running", lease_until__lte=now, attempt__gte=F("most_attempts")
        )
        lost.update(
            state="failed", ended_at=now, lease_until=None,
            reason="Whoever worked on it was gone each time, without a word.",
        )  # fmt: skip

    def renew(self, held: Collection[Job], now: datetime, lease: timedelta) -> frozenset[int]:
        """Hold jobs for a further lease; gives the numbers of those that are still held."""
        require_writable()
        with guarded(self._where), transaction.atomic(using=self._alias):
            kept = [each.id for each in held
                    if self._held(each).update(lease_until=now + lease)]  # fmt: skip
        return frozenset(kept)

    def tell(self, held: Job, progress: str, share: float | None = None) -> bool:
        """Say how far a job is; False where another holds it by now."""
        with guarded(self._where):
            told = self._held(held).update(progress=progress[:400], share=share)
        return bool(told)

    def end(self, held: Job, result: Mapping[str, Any], now: datetime) -> bool:
        """Write what came of a job; False, and nothing written, where another holds it by now."""
        require_writable()
        with guarded(self._where), self._together():
            ended = told_to(
                self._alias, _END, [now, canonical(dict(result)), held.id, held.attempt]
            )
        return bool(ended)

    def fail(self, held: Job, reason: str, now: datetime, again_at: datetime | None = None) -> bool:
        """Write why a job failed, and when it is tried again while it may be.

        Parameters
        ----------
        held : Job
            The job, as it was taken.
        reason : str
            Why, in words.
        now : datetime
            The time.
        again_at : datetime or None
            When it may be tried again; None: never.
        """
        is_last = again_at is None or held.attempt >= held.most_attempts
        changes: dict[str, Any] = {"state": "failed", "ended_at": now}
        if not is_last:
            changes = {"state": "waiting", "not_before": again_at}
        require_writable()
        with guarded(self._where), self._together():
            return bool(self._held(held).update(reason=reason[:2000], **changes, **_ENDED))

    def give_back(self, held: Job, reason: str, now: datetime) -> bool:
        """Let another take a job at once, and do not count the attempt."""
        with guarded(self._where), transaction.atomic(using=self._alias):
            return bool(self._held(held).update(
                state="waiting", not_before=now, reason=reason[:2000],
                most_attempts=F("most_attempts") + 1, **_ENDED,
            ))  # fmt: skip

    def again(self, number: int, now: datetime) -> Job:
        """Let a job that failed wait to be done again, with all its attempts.

        Raises
        ------
        UnknownNameError
            If no job of that number has failed.
        """
        require_writable()
        failed = self._rows().filter(state="failed")
        with guarded(self._where), transaction.atomic(using=self._alias):
            changed = failed.filter(pk=number).update(
                state="waiting", attempt=0, not_before=now, ended_at=None
            )
            if not changed:
                numbers = [str(each) for each in failed.values_list("pk", flat=True)[:20]]
                raise UnknownNameError("failed job", str(number), numbers)
            [job] = self._told(self._rows().filter(pk=number))
        return job

    def listed(
        self, states: Collection[str] = STATES, kind: str = "", most: int | None = None,
        starting: str = "", ground: str | None = None,
    ) -> tuple[Job, ...]:  # fmt: skip
        """List jobs in the given states, the latest first; of one ground and of the whole book."""
        rows = self._rows().filter(state__in=states).order_by("-id")
        if ground is not None:
            rows = rows.filter(Q(ground__slug=ground) | Q(ground=None))
        rows = rows.filter(kind=kind) if kind else rows
        rows = rows.filter(key__startswith=starting) if starting else rows
        with guarded(self._where):
            return self._told(rows if most is None else rows[:most])

    def latest(self, states: Sequence[str], ground: str, most: int) -> tuple[Job, ...]:
        """List jobs of one ground and of the whole book by state, the latest of each first.

        Parameters
        ----------
        states : sequence of str
            Which come first; those in others are left out.
        ground : str
            Short name of the ground.
        most : int
            How many at most.
        """
        with guarded(self._where):
            rows = _latest(self._alias, tuple(states), most, ground=ground)
            return tuple(_job(dict(zip(_TOLD, row, strict=True))) for row in rows)

    def counts(self, starting: str = "") -> dict[str, int]:
        """Count the jobs in each state."""
        rows = self._rows().filter(key__startswith=starting) if starting else self._rows()
        with guarded(self._where):
            found = dict(rows.order_by().values_list("state").annotate(many=Count("id")))
        return {state: int(found.get(state, 0)) for state in STATES}

    def last_done(self, kind: str, grounds: Collection[str] = ()) -> tuple[Job, ...]:
        """Give the last job of a kind that was done, for each ground or for those named."""
        done = self._rows().filter(kind=kind, state="done").order_by()
        done = done.filter(ground__slug__in=grounds) if grounds else done
        with guarded(self._where):
            last = done.values("ground").annotate(last=Max("id")).values("last")
            return self._told(self._rows().filter(pk__in=last))

    def forget(self, kind: str, before: datetime) -> int:
        """Take away done jobs of a kind that ended before a time, but the last of each ground."""
        require_writable()
        done = self._rows().filter(kind=kind, state="done").order_by()
        with guarded(self._where), transaction.atomic(using=self._alias):
            last = list(
                done.values("ground").annotate(last=Max("id")).values_list("last", flat=True)
            )
            old = [each for each in done.filter(ended_at__lt=before).values_list("pk", flat=True)
                   if each not in set(last)]  # fmt: skip
            for some in _in_parts(old):
                self._rows().filter(pk__in=some).delete()
        return len(old)

    def _together(self) -> AbstractContextManager[object]:
        """Give a transaction, or be part of the one that is begun."""
        return transaction.atomic(using=self._alias, savepoint=False)

    def _rows(self) -> QuerySet[JobRow]:
        return JobRow.objects.using(self._alias)

    def _held(self, job: Job) -> QuerySet[JobRow]:
        return self._rows().filter(pk=job.id, state="running", attempt=job.attempt)

    def _told(self, rows: QuerySet[JobRow]) -> tuple[Job, ...]:
        return tuple(_job(row) for row in rows.values(*_TOLD))


@Question
def _latest(states: tuple[str, ...], most: int) -> QuerySet[JobRow, Any]:
    """Ask for the jobs of a ground and of the whole book, by state."""
    rows = JobRow.objects.filter(Q(ground__slug=About("ground")) | Q(ground=None))
    order = Case(*(When(state=each, then=Value(n)) for n, each in enumerate(states)))
    return rows.filter(state__in=states).order_by(order, "-id").values_list(*_TOLD)[:most]


def _job(row: dict[str, Any]) -> Job:
    slug = row.pop("ground__slug") or ""
    given, result = json.loads(row.pop("arguments")), row.pop("result")
    held = json.loads(result) if result else None
    return Job(ground=slug, arguments=given, result=held, **row)


def _in_parts(values: Sequence[Any], size: int = 500) -> list[Sequence[Any]]:
    return [values[n : n + size] for n in range(0, len(values), size)]


def _ground(grounds: Mapping[str, int], slug: str) -> int | None:
    if not slug:
        return None
    if slug not in grounds:
        raise UnknownNameError("ground", slug, list(grounds))
    return grounds[slug]
