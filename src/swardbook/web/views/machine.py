"""What the machine does by itself for this ground: for owners, with what failed and why."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render

from swardbook.book.machine_jobs import KINDS, do_again, latest_jobs
from swardbook.foundation.errors import SwardbookError
from swardbook.web.at_hand import short_name
from swardbook.web.guarding import status_of
from swardbook.web.opened import clock_now, the_book
from swardbook.web.page import Page, Role, Shelf

MOST = 40
_ORDER = ("failed", "running", "waiting", "done")


def jobs(request: HttpRequest) -> HttpResponseBase:
    """Show the jobs of the ground and of the whole book; let a failed one be done again."""
    book, said, status = the_book(), "", 200
    ground = short_name()
    if request.method == "POST":
        text = request.POST.get("job", "")
        try:
            number = int(text) if text.isdecimal() and len(text) < 16 else 0
            do_again(book, number, clock_now(), ground)
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
        else:
            return redirect("jobs")
    shown = [
        {"job": job, "name": KINDS[job.kind].name if job.kind in KINDS else job.kind}
        for job in latest_jobs(book, _ORDER, MOST + 1, ground)
    ]
    about = {"jobs": shown[:MOST], "said": said, "is_more": len(shown) > MOST}
    return render(request, "pages/jobs.html", about, status=status)


PAGES = (
    Page("jobs/", jobs, "jobs", Role.OWNER, ("GET", "POST"), title="Jobs of the machine",
         shelf=Shelf.BOOK, says="What it does by itself, what failed and why, and again."),
)  # fmt: skip
