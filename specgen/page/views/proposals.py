"""Walls proposed from the facts of the open project, side by side, and one of them taken."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.files.marks import InputError
from specgen.page.answer import UNUSABLE, Form, back, base_of, live, page, piece, posted, refused, shown
from specgen.page.desk import Desk
from specgen.page.jobs import DONE, Job
from specgen.page.views.jobs import jobs_of
from specgen.page.views.overview import is_described
from specgen.page.views.steps import in_words
from specgen.page.views.wall import address
from specgen.page.walls_job import VIEW, WALLS, drawn
from specgen.propose.proposals import refuse_unready
from specgen.render.compared import ComparedWall, Comparison
from specgen.sections.words import without_keys

TITLE = "Proposed walls"
MOST_REASONS = 12  # why the others fell


@shown
def proposals(request: Request, desk: Desk) -> Response:
    """What was proposed; while it runs how far it is; before, what it would take."""
    job = jobs_of(request).latest(WALLS, TITLE)
    wanted = _wanted(desk)
    here = job if job is not None and not job.outdated(desk.digest) else None
    if live(request):  # asked for by the line that says how far the search is
        if here is None or here.over:
            return Response(headers={"HX-Redirect": base_of(request) + VIEW})
        return piece(request, "live/proposals_wait.html", job=here)
    found = here.result if here is not None and here.state == DONE else None
    return page(
        request,
        "live/proposals.html",
        job=here,
        now=desk.digest,
        found=found,
        outdated=job is not None and here is None,
        wanted=wanted,
        drawn=drawn,
        most=MOST_REASONS,
        first=address("", desk.assessment.project.parapets[0].name),
        described=any(map(is_described, desk.assessment.project.parapets)),
    )


def _wanted(desk: Desk) -> tuple[str, ...]:
    """The facts that are open and without which no wall can be proposed, in words."""
    try:
        refuse_unready(desk.inputs.project)
    except InputError as error:
        known = desk.assessment.practice.vocabulary
        return tuple(without_keys(one.message, known) for one in error.problems)
    return ()


@posted
def propose(request: Request, desk: Desk, form: Form) -> Response:
    """Start the search beside the page."""
    wanted = _wanted(desk)
    if wanted:
        return refused(request, wanted)
    start_search(request, desk)
    return back(request, VIEW)


def start_search(request: Request, desk: Desk) -> None:
    """Search beside the page, where the facts suffice."""
    if not _wanted(desk):
        given = {"path": desk.path, "options": desk.options}
        jobs_of(request).start(TITLE, WALLS, given, desk.digest)


@posted
def take(request: Request, desk: Desk, form: Form) -> Response:
    """Write a proposed wall into the project file, as a step that can be taken back."""
    job = jobs_of(request).latest(WALLS, TITLE)
    wall = _chosen(job, desk, form["wall"])
    if wall is None:
        return page(
            request,
            "live/refused.html",
            UNUSABLE,
            lines=["The facts have changed since these walls were proposed. Propose walls again."],
        )
    done = desk.change(lambda _: wall.text, f"{wall.title} of the proposed walls taken")
    return back(request, address("", desk.assessment.project.parapets[0].name), in_words(done))


def _chosen(job: Job | None, desk: Desk, name: str) -> ComparedWall | None:
    """The wall of a name, if it was proposed for the file as it stands."""
    if job is None or job.state != DONE or job.outdated(desk.digest):
        return None
    found = job.result
    walls = found.walls if isinstance(found, Comparison) else ()
    return next((one for one in walls if one.name == name), None)


ROUTES = (
    Route(f"/{VIEW}", proposals),
    Route(f"/{VIEW}", propose, methods=["POST"]),
    Route("/start/take", take, methods=["POST"]),
)
