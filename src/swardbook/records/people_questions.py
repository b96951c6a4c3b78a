"""What is asked of people with nearly every page: who somebody is, and who is here."""

from __future__ import annotations

from typing import Any

from django.db.models import OuterRef, QuerySet, Value
from django.db.models.functions import Coalesce

from swardbook.records.people_models import PersonRow, RoleRow, SessionRow
from swardbook.records.questions import About, Question

_TOLD = ("id", "name", "initials")


@Question
def everyone() -> QuerySet[RoleRow, Any]:
    """Ask for who has access."""
    told = (f"person__{name}" for name in _TOLD)
    rows = RoleRow.objects.filter(ground_id=About("ground")).order_by("person_id")
    return rows.values_list(*told, "role", "person__must_change")


@Question
def gone() -> QuerySet[PersonRow, Any]:
    """Ask for who has access to nothing, and a name."""
    rows = PersonRow.objects.filter(roles=None).exclude(name="")
    return rows.values_list(*_TOLD, "must_change")


@Question
def roles_of() -> QuerySet[RoleRow, Any]:
    """Ask for what somebody is to each ground."""
    rows = RoleRow.objects.filter(person_id=About("person")).order_by("ground_id")
    return rows.values_list("ground_id", "ground__slug", "role")


@Question
def logged_in(is_half: bool) -> QuerySet[SessionRow, Any]:
    """Ask for whose a log-in is, with what they are to the ground."""
    here = RoleRow.objects.filter(person_id=OuterRef("person_id"), ground_id=About("ground"))
    rows = SessionRow.objects.filter(token=About("token"), ends_at__gt=About("now"))
    told = (f"person__{name}" for name in _TOLD)
    return rows.filter(is_half=is_half).values_list(
        *told, Coalesce(here.values("role"), Value("")), "person__must_change", "seen_on",
        "began_at",
    )  # fmt: skip
