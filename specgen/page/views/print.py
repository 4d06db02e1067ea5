"""What an issue holds: sections on screen as Word will show them, every paper by itself, the whole as one archive."""

from __future__ import annotations

import asyncio
import atexit
import hashlib
import shutil
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from tempfile import mkdtemp
from time import monotonic
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route

from specgen.assessment import OpenPointsError
from specgen.explain.origins import ParagraphOrigins, section_origins
from specgen.files.faults import OutputError
from specgen.files.names import check_name
from specgen.intake.comments import comments_beside
from specgen.model.comment import About
from specgen.model.document import Document, Properties, framed
from specgen.model.folded import FoldedFinding, folded
from specgen.page.answer import UNUSABLE, Form, back, base_of, below, desk_of, page, posted, shown
from specgen.page.comments import counts_of, finding_place, new_place
from specgen.page.desk import Desk
from specgen.page.field_view import FieldAddress, FieldView
from specgen.page.issue_jobs import ARCHIVE, WRITE, Refused, State
from specgen.page.jobs import DONE
from specgen.page.places import sheet_place
from specgen.page.views.jobs import jobs_of
from specgen.page.views.wall import field_at
from specgen.render.document_css import document_css
from specgen.render.document_html import Links, Shown, document_html
from specgen.render.files import file_stem
from specgen.render.issues import Record, read_record
from specgen.render.outputs import Papers
from specgen.sections.addendum import addendum_document
from specgen.sections.build import SectionText
from specgen.work.issue import Issued, refuse_unwritable
from specgen.work.papers import fields_to_issue

PATIENCE = 2.5  # s that a press waits for a small archive before it shows how far it is
_LOOK = 0.05  # s
TYPES = {
    ".docx": "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ".json": "application/json",
    ".pdf": "application/pdf",
    ".dxf": "image/vnd.dxf",
    ".svg": "image/svg+xml",
    ".html": "text/html; charset=utf-8",
    ".zip": "application/zip",
}


@dataclass(frozen=True)
class SectionRow:
    """One section in the list."""

    number: str
    title: str
    place: str  # of its view
    file: str
    paragraphs: int
    requirements: int


@dataclass(frozen=True)
class PaperRow:
    """Another paper in the list."""

    name: str
    words: str
    place: str  # of its view on screen; "" where it has none


@dataclass(frozen=True)
class Standing:
    """Whether an issue may go out, and what stands in its way."""

    wanted: tuple[FieldView, ...]  # values that papers bear and nobody stated
    open: tuple[FoldedFinding, ...]  # for which a final issue is refused, or marked on every page

    @property
    def ready(self) -> bool:
        """Whether nothing stands in the way."""
        return not self.wanted and not self.open


def papers_of(desk: Desk) -> Papers:
    """The papers of the state that is shown; where something stands open, each page of a final issue says so."""

    def make() -> Papers:
        spec, path, practice = desk.specification(), desk.path, desk.inputs.practice
        marked = desk.assessment.issuable(True)
        issued = spec if marked is desk.assessment else spec.again(marked.project)
        return Papers(issued, comments=lambda: comments_beside(path, practice))

    return desk.once("papers", make)


def standing_of(desk: Desk) -> Standing:
    """Whether the state that is shown may be issued."""
    one = desk.assessment
    points: Sequence[FoldedFinding] = ()
    try:
        one.issuable(False)
    except OpenPointsError as error:
        points = folded(error.points)
    wanted = (
        field_at(desk, FieldAddress(part, field.name))
        for part, field in fields_to_issue(one.project, one.practice)
    )
    return Standing(tuple(one for one in wanted if one is not None), tuple(points))


@shown
def listed(request: Request, desk: Desk) -> Response:
    """All that an issue contains, and what stands open before it."""
    papers = papers_of(desk)
    return page(
        request,
        "live/sections.html",
        sections=list(_sections(papers)),
        papers=list(_others(papers)),
        drawings=papers.drawings,
        standing=standing_of(desk),
        folders=issue_folders(desk),
    )


def _sections(papers: Papers) -> Iterator[SectionRow]:
    for one in papers.spec.sections:
        stem = file_stem(one.number, one.title)
        yield SectionRow(
            one.number,
            one.title,
            section_place(one.number),
            f"{stem}.docx",
            sum(1 for _ in one.document.paragraphs()),
            len(one.paragraphs),
        )


_WORDS = {
    "project-manual.docx": "Project manual: all sections bound, with cover and contents (Word)",
    "submittal-checklist.docx": "Submittal checklist (Word)",
    "submittal-checklist.xlsx": "Submittal checklist (Excel)",
    "submittal-checklist.json": "Submittal checklist, for programs (JSON)",
    "trace.json": "Where every number comes from, for programs (JSON)",
    "basis-of-design.html": "Basis of design report (one page for a browser)",
    "drawings.pdf": "All drawings (PDF)",
}


def _others(papers: Papers) -> Iterator[PaperRow]:
    sections = {f"{file_stem(one.number, one.title)}.docx" for one in papers.spec.sections}
    for name in papers.names:
        if name in sections or name.startswith("drawings/"):
            continue
        document = papers.documents.get(name)
        words = _WORDS.get(name) or (f"{document.properties.title} (Word)" if document else name)
        yield PaperRow(name, words, f"sections/{name.removesuffix('.docx')}" if document else "")


def section_place(number: str) -> str:
    """The view of a section.

    >>> section_place("07 71 00")
    'sections/07-71-00'
    """
    return f"sections/{number.replace(' ', '-')}"


def issue_folders(desk: Desk) -> tuple[str, ...]:
    """The folders of the project that hold an issue, by their names."""
    found = (path.parent for path in (*desk.folder.glob("*/issue.json"), *desk.folder.glob("*/*/issue.json")))
    names = sorted(path.relative_to(desk.folder).as_posix() for path in found if path.is_dir())
    return tuple(name for name in names if not name.startswith("."))


@shown
def section(request: Request, desk: Desk) -> Response:
    """One section on screen, each number with where it comes from; or another of the Word papers."""
    papers, name = papers_of(desk), str(request.path_params["name"])
    found, document = _document(papers, name)
    base = base_of(request)
    given = Shown(links=_links(base, papers))
    if found is not None:
        names, number = desk.assessment.project.numbered_names, found.number
        counts = {
            about.paragraph: count for about, count in counts_of(desk).items() if about.section == number
        }
        given = Shown(_origins(desk, found), names, counts, _links(base, papers, number))
    file = next(file for file, one in papers.documents.items() if one is document)
    return page(
        request,
        "live/section.html",
        title=document.properties.title,
        wanted=standing_of(desk).wanted,
        fragment=document_html(document, given),
        style=f"sections/{quote(name)}.css",
        file=file,
        beside=list(_beside(papers, found)) if found else [],
    )


def _document(papers: Papers, name: str) -> tuple[SectionText | None, Document]:
    """The document of an address: a section by its number, another by its name."""
    for one in papers.spec.sections:
        if name in (one.number, one.number.replace(" ", "-")):
            return one, papers.documents[f"{file_stem(one.number, one.title)}.docx"]
    if f"{name}.docx" not in papers.documents:
        raise LookupError("The project has no such section or paper as it stands now.")
    return None, papers.documents[f"{name}.docx"]


def _beside(papers: Papers, here: SectionText) -> Iterator[tuple[str, SectionText]]:
    """The sections before and after one."""
    every = papers.spec.sections
    at = every.index(here)
    for words, other in (("Before", at - 1), ("Next", at + 1)):
        if 0 <= other < len(every):
            yield words, every[other]


def _origins(desk: Desk, found: SectionText) -> dict[str, ParagraphOrigins]:
    lines = desk.text.splitlines()

    def line(number: int) -> str:
        return lines[number - 1].strip() if 0 < number <= len(lines) else ""

    return dict(section_origins(papers_of(desk).spec, found, line))


def _links(base: str, papers: Papers, section: str = "") -> Links:
    numbers = {one.number for one in papers.spec.sections}
    return Links(
        section=lambda number: base + section_place(number) if number in numbers else "",
        calculation=lambda subject, parapet: base + sheet_place(parapet, subject),
        line=lambda number: f"{base}file#line-{number}",
        finding=lambda code, parapet: base + finding_place(code, parapet),
        comments=lambda key: base + new_place(About(section=section, paragraph=key)) if section else "",
    )


@shown
def style(request: Request, desk: Desk) -> Response:
    """The style sheet under which a document looks as in Word."""
    _, document = _document(papers_of(desk), str(request.path_params["name"]))
    return Response(document_css(document), media_type="text/css")


@shown
def paper(request: Request, desk: Desk) -> Response:
    """One file of the issue, as the issue would hold it."""
    refuse_unwritable(desk.assessment)
    papers, name = papers_of(desk), str(request.path_params["name"])
    return _file(name, _content(papers, name))


@shown
def word(request: Request, desk: Desk) -> Response:
    """The Word file of what a view shows."""
    refuse_unwritable(desk.assessment)
    papers = papers_of(desk)
    _, document = _document(papers, str(request.path_params["name"]))
    name = next(file for file, one in papers.documents.items() if one is document)
    return _file(name, _content(papers, name))


def _content(papers: Papers, name: str) -> bytes:
    if name not in papers.names:
        raise LookupError("The issue has no such paper as the project stands now.")
    return papers.content(name)


def _file(name: str, content: bytes) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name.rpartition("/")[2]}"'}
    return Response(content, media_type=_type(name), headers=headers)


def _type(name: str) -> str:
    return TYPES.get(Path(name).suffix, "application/octet-stream")


@shown
def drawing(request: Request, desk: Desk) -> Response:
    """One drawing as a picture."""
    name = f"drawings/{request.path_params['name']}.svg"
    return Response(_content(papers_of(desk), name), media_type=TYPES[".svg"])


@shown
def project_file(request: Request, desk: Desk) -> Response:
    """The project file, line by line, so that a number can name its line."""
    return page(request, "live/file.html", lines=desk.text.splitlines())


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
    job = jobs_of(request).get(int(number)) if number.isdecimal() else None
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
    blank = Properties("Addendum", "", desk.assessment.project.title, "", "")
    return Response(document_css(framed(blank, (), landscape=True)), media_type="text/css")


ROUTES = (
    Route("/sections", listed),
    Route("/sections/{name:path}.docx", word),
    Route("/sections/{name:path}.css", style),
    Route("/sections/{name:path}", section),
    Route("/issue/{name:path}", paper),
    Route("/drawings/{name}.svg", drawing),
    Route("/file", project_file),
    Route("/issue.zip", whole),
    Route("/archive/{name}", archive),
    Route("/issue", issue, methods=["POST"]),
    Route("/issued/{folder:path}.css", addendum_style),
    Route("/issued/{folder:path}", issued),
)
