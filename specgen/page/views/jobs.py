"""Long calculations: what runs, how far it is, what came of it; each can be canceled."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.page.answer import Form, back, live, page, piece, pieces, posted, shown
from specgen.page.desk import Desk
from specgen.page.jobs import Job, Jobs


def jobs_of(request: Request) -> Jobs:
    """The jobs of the page."""
    jobs: Jobs = request.app.state.jobs
    return jobs


@shown
def jobs(request: Request, desk: Desk) -> Response:
    """Every job that is known, the newest first."""
    now = desk.digest if desk.is_open else ""
    return page(request, "live/jobs.html", jobs=jobs_of(request).every, now=now)


@shown
def job(request: Request, desk: Desk) -> Response:
    """One job; a script of the page looks at it every second until it is over."""
    one = _named(request)
    now = desk.digest if desk.is_open else ""
    if live(request) and one.over:
        return pieces(request, [("live/job.html", {"job": one, "now": now})], f"{one.title}: {one.words}")
    if live(request):
        return piece(request, "live/job.html", job=one, now=now)
    return page(request, "live/job_page.html", job=one, now=now)


@posted
def cancel(request: Request, desk: Desk, form: Form) -> Response:
    """Stop a job with everything it started."""
    one = _named(request)
    jobs_of(request).cancel(one.number)
    if live(request):
        return piece(request, "live/job.html", job=one, now=desk.digest if desk.is_open else "")
    return back(request, f"jobs/{one.number}", f"{one.title}: {one.words}")


def _named(request: Request) -> Job:
    """The job of the address.

    Raises:
        LookupError: there is none.
    """
    one = jobs_of(request).get(request.path_params["number"])
    if one is None:
        raise LookupError("That calculation is no longer kept. Start it again where it is needed.")
    return one


ROUTES = (
    Route("/jobs", jobs),
    Route("/jobs/{number:int}", job),
    Route("/jobs/{number:int}/cancel", cancel, methods=["POST"]),
)
