"""Jobs as values: work that is asked for, and how it stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

STATES = ("waiting", "running", "done", "failed")


@dataclass(frozen=True, slots=True)
class NewJob:
    """Work to be done.

    Parameters
    ----------
    key : str
        What it is; asking for the same twice makes one.
    kind : str
        Which sort of work.
    ground : str
        Short name of the ground; empty for the whole book.
    arguments : mapping
        What it is to be done with.
    not_before : datetime or None
        When it may begin; None: now.
    """

    key: str
    kind: str
    ground: str
    arguments: Mapping[str, Any]
    not_before: datetime | None = None


@dataclass(frozen=True, slots=True)
class Job:
    """One job as it stands.

    Parameters
    ----------
    id : int
        Its number.
    key, kind, ground : str
        What it is; `ground` is a short name, empty for the whole book.
    arguments : mapping
        What it is done with.
    state : str
        ``waiting``, ``running``, ``done`` or ``failed``.
    made_at, not_before : datetime
        When it was asked for, and when it may begin.
    began_at, lease_until, ended_at : datetime or None
        When it was last taken, until when it is held, and when it ended.
    attempt, most_attempts : int
        How often it was taken, and how often it may be.
    progress : str
        How far it is, in words.
    share : float or None
        How far it is. [-]
    result : mapping or None
        What came of it.
    reason : str
        Why it failed, or was to be done again.
    worker, code : str
        Who had it last, and the fingerprint of the program there.
    """

    id: int
    key: str
    kind: str
    ground: str
    arguments: Mapping[str, Any]
    state: str
    made_at: datetime
    not_before: datetime
    began_at: datetime | None
    lease_until: datetime | None
    ended_at: datetime | None
    attempt: int
    most_attempts: int
    progress: str
    share: float | None
    result: Mapping[str, Any] | None
    reason: str
    worker: str
    code: str
