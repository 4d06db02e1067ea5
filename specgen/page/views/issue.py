"""The issue as a whole: as one archive, or in a folder of the project, with what was kept, withdrawn, and changed."""

from __future__ import annotations

import asyncio
import atexit
import hashlib
import shutil
from pathlib import Path
from tempfile import mkdtemp
from time import monotonic
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route

from specgen.files.faults import OutputError
from specgen.files.names import check_name
from specgen.model.document import framed, properties_of
from specgen.page.answer import UNUSABLE, Form, back, below, count_in, desk_of, page, posted, shown
from specgen.page.desk import Desk
from specgen.page.issue_jobs import ARCHIVE, WRITE, Refused, State
from specgen.page.issue_papers import TYPES, standing_of
from specgen.page.jobs import DONE
from specgen.page.views.jobs import jobs_of
from specgen.render.document_css import document_css
from specgen.render.document_html import document_html
from specgen.render.files import file_stem
from specgen.render.issues import Record, read_record
from specgen.sections.addendum import addendum_document
from specgen.work.issue import Issued, refuse_unwritable

PATIENCE = 2.5  # s that a press waits for a small archive before it shows how far it is
_LOOK = 0.05  # s


def state_of(desk: Desk) -> State:
    """The state that is shown, as another process reads it."""
    return State(desk.path, hashlib.sha256(desk.standing.data).hexdigest(), desk.options)


def scratch(request: Request) -> Path:
    """The folder in which the page keeps archives while it runs; it goes with the page."""
    state = request.app.state
    if getattr(state, "scratch", None) is None:
        state.scratch = Path(mkdtemp(prefix="specgen-"))
        atexit.register(shutil.rmtree, state.scratch, ignore_errors=True)
    return Path(state.scratch)


@shown
def whole(request: Request, desk: Desk) -> Response:
    """Start the archive of the issue, and lead to where it is handed out."""
    refuse_unwritable(desk.assessment)
    marked = "open" in request.query_params
    if (points := standing_of(desk).open) and not marked:
        return page(request, "live/open_points.html", UNUSABLE, points=points)
    state = state_of(desk)
    name = f"{state.sha256[:16]}{'-open' if marked else ''}.zip"
    target, link = scratch(request) / name, f"archive/{name}"
    title = f"Archive of the issue, {desk.assessment.project.title}"
    running = jobs_of(request).latest(ARCHIVE, title)
    if running is None or running.over:
        target.unlink(missing_ok=True)
    kwargs = {"state": state, "target": target, "open_points": marked, "link": link}
    job = jobs_of(request).start(title, ARCHIVE, kwargs, made_of=desk.digest)
    return back(request, f"{link}?job={job.number}")


async def archive(request: Request) -> Response:
    """Hand out an archive; one that is being written is waited for a while, then its progress is shown."""
    target = scratch(request) / Path(request.path_params["name"]).name
    number = request.query_params.get("job", "")
    job = jobs_of(request).get(count_in(number) or 0)
    end = monotonic() + PATIENCE
    while job is not None and not job.over and monotonic() < end:
        await asyncio.sleep(_LOOK)
    if target.is_file() and (job is None or job.state == DONE):
        return FileResponse(target, media_type=TYPES[".zip"], filename=_archive_name(request))
    return back(request, f"jobs/{job.number}" if job else "sections")


def _archive_name(request: Request) -> str:
    project = desk_of(request).assessment.project
    return f"{file_stem(project.title, project.issued)}.zip"


@posted
def issue(request: Request, desk: Desk, form: Form) -> Response:
    """Write the issue into a folder of the project, as the command does."""
    refuse_unwritable(desk.assessment)
    marked, strict = bool(form["open"]), bool(form["strict"])
    if (points := standing_of(desk).open) and not marked:
        return page(request, "live/open_points.html", UNUSABLE, points=points)
    name = folder_name(form["folder"])
    link = f"issued/{quote(name)}"
    kwargs = {
        "state": state_of(desk),
        "folder": below(desk, name),
        "open_points": marked,
        "strict": strict,
        "link": link,
    }
    jobs_of(request).start(title_of(name), WRITE, kwargs, made_of=desk.digest)
    return back(request, link)


def title_of(folder: str) -> str:
    """The title of the job that writes an issue."""
    return f"Issue in {folder}"


def folder_name(words: str) -> str:
    """The folder that a person names, below that of the project.

    Raises:
        OutputError: it is none that every system accepts, or one that the page keeps for itself.
    """
    name = words.strip().rstrip("/")
    try:
        check_name(name)
    except ValueError as error:
        raise OutputError(
            f"{error}; name a folder below that of the project, as issue or out/bid-set"
        ) from None
    if name.startswith("."):
        raise OutputError("A folder of an issue does not begin with a dot; name it as issue or out/bid-set.")
    return name


@shown
def issued(request: Request, desk: Desk) -> Response:
    """What was written into a folder: files, what was kept or withdrawn, and what changed since the issue before."""
    name = folder_name(str(request.path_params["folder"]))
    job = jobs_of(request).latest(WRITE, title_of(name))
    result = job.result if job is not None else None
    done = result if isinstance(result, Issued) else None
    record = read_record(below(desk, name)) if job is None or job.over else Record()
    addendum = addendum_document(done.addendum) if done and done.addendum else None
    return page(
        request,
        "live/issued.html",
        folder=name,
        job=job if job and not (job.over and result) else None,
        now=desk.digest,
        refused=result if isinstance(result, Refused) else None,
        done=done,
        current=record.current,
        addendum=document_html(addendum) if addendum else "",
        style=f"issued/{quote(name)}.css" if addendum else "",
    )


@shown
def addendum_style(request: Request, desk: Desk) -> Response:
    """The style sheet of the addendum that a view shows."""
    blank = properties_of(desk.assessment.project, "Addendum", "", "")
    return Response(document_css(framed(blank, (), landscape=True)), media_type="text/css")


ROUTES = (
    Route("/issue.zip", whole),
    Route("/archive/{name}", archive),
    Route("/issue", issue, methods=["POST"]),
    Route("/issued/{folder:path}.css", addendum_style),
    Route("/issued/{folder:path}", issued),
)
