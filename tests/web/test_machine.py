"""The page of the machine's jobs: what failed and why, and again."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client

from swardbook.records.job import NewJob
from swardbook.records.job_list import jobs_of
from swardbook.records.jobs import Jobs
from swardbook.web.opened import the_book
from swardbook.web.page import Role
from swardbook.web.urls import BY_NAME
from swardbook.web.views.machine import MOST

NOW = datetime(2026, 11, 26, 2, 0, tzinfo=UTC)


@pytest.fixture
def jobs(client: Client) -> Iterator[Jobs]:
    client.get("/jobs/")
    jobs = jobs_of(the_book().store)
    yield jobs
    jobs._rows().delete()


def failed(jobs: Jobs, key: str = "letter one", ground: str | None = None) -> int:
    slug = the_book().store.slug() if ground is None else ground
    jobs.ask([NewJob(key, "letter", slug, {})], NOW, 3)
    [held] = jobs.take("a", "v", NOW, timedelta(minutes=1))
    jobs.fail(held, "The disk is <full>.", NOW)
    return held.id


def token(client: Client) -> str:
    return client.get("/jobs/").content.decode().split('csrfmiddlewaretoken" value="')[1][:64]


def test_a_ground_without_jobs_says_how_they_come(client: Client, jobs: Jobs) -> None:
    answer = client.get("/jobs/")
    assert answer.status_code == 200
    assert "swardbook worker --nightly-at 2" in answer.content.decode()


def test_what_failed_comes_first_with_its_reason(client: Client, jobs: Jobs) -> None:
    jobs.ask([NewJob("waits", "copy", "", {}, NOW + timedelta(days=9))], NOW, 3)
    failed(jobs)
    text = client.get("/jobs/").content.decode()
    assert text.index("The disk is &lt;full&gt;.") < text.index("The whole book.")


def test_what_failed_is_done_again_by_a_button(client: Client, jobs: Jobs) -> None:
    number = failed(jobs)
    sent = {"csrfmiddlewaretoken": token(client), "job": str(number)}
    assert client.post("/jobs/", sent).status_code == 302
    assert jobs.counts()["waiting"] == 1
    again = client.post("/jobs/", sent)
    assert again.status_code >= 400
    assert "No failed job" in again.content.decode()


@pytest.mark.parametrize("job", ["", "x", "9" * 30, "-1"])
def test_no_other_number_does_anything(client: Client, jobs: Jobs, job: str) -> None:
    failed(jobs)
    sent = {"csrfmiddlewaretoken": token(client), "job": job}
    assert client.post("/jobs/", sent).status_code >= 400
    assert jobs.counts()["failed"] == 1


def test_only_an_owner_sees_it() -> None:
    assert BY_NAME["jobs"].role == Role.OWNER


def test_it_says_that_there_are_more_than_are_shown_also_where_all_stand_alike(
    client: Client, jobs: Jobs
) -> None:
    def told(many: int) -> str:
        slug = the_book().store.slug()
        jobs.ask([NewJob(f"letter {n}", "letter", slug, {}) for n in range(many)], NOW, 3)
        return client.get("/jobs/").content.decode()

    assert "swardbook jobs list" not in told(MOST)
    assert "swardbook jobs list" in told(MOST + 1)
