"""Questions that are composed once give what Django gives that composes them each time."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.db.models import QuerySet

from swardbook.records.models import GroundRow
from swardbook.records.opening import create_store, open_store
from swardbook.records.people_models import PersonRow, SessionRow
from swardbook.records.questions import About, Question
from swardbook.records.store import Store
from swardbook.settings import Settings
from tests.support.books import filled
from tests.support.databases import emptied

NOW = datetime(2026, 11, 26, 2, 0, tzinfo=UTC)
COLUMNS = ("token", "person__name", "person__must_change", "began_at", "ends_at", "seen_on")
COMPOSED: list[bool] = []


@Question
def _holding(is_half: bool) -> QuerySet[SessionRow, Any]:
    """Ask for log-ins of somebody that hold."""
    COMPOSED.append(is_half)
    rows = SessionRow.objects.filter(person_id=About("person"), ends_at__gt=About("now"))
    return rows.filter(is_half=is_half).order_by("token").values_list(*COLUMNS)


@pytest.fixture(scope="module")
def alias(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    settings: Settings = emptied(tmp_path_factory.mktemp("questions") / "home")
    filled(create_store(settings)).close()
    store: Store = open_store(settings)
    made = store._rows.alias
    for name, must_change in (("ann", True), ("ben", False)):
        person = PersonRow.objects.using(made).create(
            key=name, name=name, initials=name[:1], secret="", must_change=must_change, made_at=NOW
        )
        for hours, seen in ((-1, None), (1, None), (2, NOW.date())):
            SessionRow.objects.using(made).create(
                token=f"{name} {hours}", person=person, began_at=NOW - timedelta(days=1),
                ends_at=NOW + timedelta(hours=hours), seen_on=seen, is_half=hours == 2,
            )  # fmt: skip
    yield made
    store.close()


@pytest.mark.parametrize("is_half", [False, True])
@pytest.mark.parametrize("name", ["ann", "ben"])
def test_the_rows_are_those_that_django_gives_with_the_same_types(
    alias: str, name: str, is_half: bool
) -> None:
    person = PersonRow.objects.using(alias).get(name=name)
    rows = SessionRow.objects.using(alias).filter(person=person, ends_at__gt=NOW, is_half=is_half)
    expected = list(rows.order_by("token").values_list(*COLUMNS))
    found = _holding(alias, is_half, person=person.pk, now=NOW)
    assert found == expected
    assert len(found) == 1
    assert [list(map(type, row)) for row in found] == [list(map(type, row)) for row in expected]


def test_it_is_composed_once_for_each_form_whatever_it_is_about(alias: str) -> None:
    for is_half in (False, True):
        _holding(alias, is_half, person=0, now=NOW)
    COMPOSED.clear()
    for person in range(5):
        for is_half in (False, True):
            _holding(alias, is_half, person=person, now=NOW + timedelta(hours=person))
    assert COMPOSED == []


def test_each_time_is_asked_anew_and_nothing_is_held_but_the_words(alias: str) -> None:
    named = Question(lambda: GroundRow.objects.filter(pk=About("key")).values_list("name"))
    ground = GroundRow.objects.using(alias).create(slug="further", name="Before")
    assert named(alias, key=ground.pk) == [("Before",)]
    GroundRow.objects.using(alias).filter(pk=ground.pk).update(name="After")
    assert named(alias, key=ground.pk) == [("After",)]
    ground.delete(using=alias)
    assert named(alias, key=ground.pk) == []


def test_a_text_with_signs_of_the_language_is_taken_as_it_is(alias: str) -> None:
    named = Question(lambda: PersonRow.objects.filter(name=About("name")).values_list("id"))
    assert named(alias, name="ann' OR '1'='1") == []
    assert len(named(alias, name="ann")) == 1


def test_what_it_is_about_must_be_given(alias: str) -> None:
    with pytest.raises(KeyError, match="now"):
        _holding(alias, False, person=1)
