"""What an issue holds: sections on screen as Word will show them, every paper by itself, the whole as one archive."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.drawing.shapes import Drawing
from specgen.drawing.sheets import sheets_of
from specgen.explain.origins import ParagraphOrigins, section_origins
from specgen.model.comment import About
from specgen.model.document import Document
from specgen.page.answer import base_of, page, shown
from specgen.page.comments import counts_of, finding_place, new_place
from specgen.page.desk import Desk
from specgen.page.issue_papers import TYPES, issue_folders, papers_of, standing_of
from specgen.page.places import sheet_place
from specgen.render.document_css import document_css
from specgen.render.document_html import Links, Shown, document_html
from specgen.render.drawings import PDF, named_sheets
from specgen.render.dxf import dxf_bytes
from specgen.render.files import file_stem
from specgen.render.outputs import Papers
from specgen.render.svg import svg_bytes
from specgen.sections.build import SectionText
from specgen.work.issue import refuse_unwritable


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


@shown
def listed(request: Request, desk: Desk) -> Response:
    """All that an issue contains, and what stands open before it."""
    papers = papers_of(desk)
    return page(
        request,
        "live/sections.html",
        sections=list(_sections(papers)),
        papers=list(_others(papers)),
        parapets=_drawn_parapets(desk),
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
    for name in (*papers.written, PDF):
        if name in sections:
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
    if name not in papers.written and name not in papers.names:
        raise LookupError("The issue has no such paper as the project stands now.")
    return papers.content(name)


def _file(name: str, content: bytes) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name.rpartition("/")[2]}"'}
    return Response(content, media_type=_type(name), headers=headers)


def _type(name: str) -> str:
    return TYPES.get(Path(name).suffix, "application/octet-stream")


@shown
def drawing(request: Request, desk: Desk) -> Response:
    """One drawing of the issue as a picture, by the name of its file."""
    name = f"drawings/{request.path_params['name']}.svg"
    return Response(_content(papers_of(desk), name), media_type=TYPES[".svg"])


def _drawn_parapets(desk: Desk) -> list[str]:
    """The parapets of which something can be drawn."""
    return [one.parapet.name for one in desk.assessment.walls if any(one.parapet.components())]


def _sheets(desk: Desk, parapet: str) -> Mapping[str, Drawing]:
    """The sheets of one parapet by the names of their files without ending; others are not drawn for them."""
    spec = papers_of(desk).spec
    wall = next((one for one in spec.assessment.walls if one.parapet.name == parapet), None)
    if wall is None or parapet not in _drawn_parapets(desk):
        raise LookupError("The project has no such parapet, or nothing of it can be drawn yet.")
    return desk.once(("sheets", parapet), lambda: named_sheets(sheets_of(wall, spec)))


@shown
def drawings(request: Request, desk: Desk) -> Response:
    """The drawings of one parapet."""
    every = _drawn_parapets(desk)
    parapet = request.query_params.get("parapet") or next(iter(every), "")
    found = list(_sheets(desk, parapet).values()) if every else []
    return page(request, "live/drawings.html", parapets=every, parapet=parapet, sheets=found)


@shown
def one_drawing(request: Request, desk: Desk) -> Response:
    """One drawing of a parapet: as a picture, or as a file to take along."""
    ending, number = request.path_params["ending"], request.path_params["number"]
    found = list(_sheets(desk, request.path_params["parapet"]).items())
    if ending not in ("svg", "dxf") or not 1 <= number <= len(found):
        raise LookupError("The parapet has no such drawing as the project stands now.")
    stem, sheet = found[number - 1]
    content = svg_bytes(sheet) if ending == "svg" else dxf_bytes(sheet)
    if ending == "svg" and "download" not in request.query_params:
        return Response(content, media_type=TYPES[".svg"])
    refuse_unwritable(desk.assessment)
    return _file(f"{stem}.{ending}", content)


@shown
def project_file(request: Request, desk: Desk) -> Response:
    """The project file, line by line, so that a number can name its line."""
    return page(request, "live/file.html", lines=desk.text.splitlines())


ROUTES = (
    Route("/sections", listed),
    Route("/sections/{name:path}.docx", word),
    Route("/sections/{name:path}.css", style),
    Route("/sections/{name:path}", section),
    Route("/issue/{name:path}", paper),
    Route("/drawings", drawings),
    Route("/drawings/{name}.svg", drawing),
    Route("/drawings/{parapet:path}/{number:int}.{ending}", one_drawing),
    Route("/file", project_file),
)
