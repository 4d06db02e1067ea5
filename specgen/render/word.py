"""The document tree as a Word file.

A template (``templates/word``, or an office's own file) carries every look: styles, list numbering, page, header
and footer. This module adds words, so an office restyles its files by editing the template's styles.
"""

from __future__ import annotations

import html
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from specgen.model.document import Document, Para, Properties, Style, Volume
from specgen.render.word_blocks import Writing, blocks_xml
from specgen.render.word_package import relations_part, write_package
from specgen.render.word_pictures import Pictures
from specgen.render.word_references import References, Spot, find_references
from specgen.render.word_template import STYLES, Page, Template, base_template, filled, styles_in
from specgen.render.word_xml import XML_HEAD, field, legal, run

_SAMPLE_DATE = "2026-01-15"
_LONGEST = 255  # characters of a property
_W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
_R = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_TOP = frozenset({Style.SECTION_TITLE, Style.HEADING})  # what a table of contents names
_PACKAGE = {
    "rId1": ("officeDocument", "word/document.xml"),
    "rId2": ("core-properties", "docProps/core.xml"),
    "rId3": ("extended-properties", "docProps/app.xml"),
}


def word_bytes(document: Document, template: Template | None = None) -> bytes:
    """Write a document as a .docx file.

    Numbers are Word's own multi-level list, linked to the six paragraph styles; a reference to a paragraph
    is a field that follows the number when the file is edited and its fields are updated.

    Parameters:
        document: the tree; list paragraphs may not skip a level.
        template: the look; that of specgen if not given.

    Returns:
        bytes of the file: the same document gives the same bytes.

    Raises:
        ValueError: text that XML cannot hold, an empty paragraph, a table whose parts do not fit together,
            a reference to no paragraph or with another number than its paragraph, a bad issue date.
    """
    file = WordFile(template or base_template(), (document,), document.properties)
    return file.bound([file.section(0)])


def volume_bytes(volume: Volume, template: Template | None = None) -> bytes:
    """Write a volume as one .docx file: the cover without header, then a section a document, each from page 1.

    The table of contents names what heads each document and the page it stands on, as that page numbers itself. A
    document begins at its page 1, so the page is known; a field per entry counts it anew where somebody moves it.

    Raises:
        ValueError: as for :func:`word_bytes`; keys are compared over the whole volume.
    """
    file = WordFile(template or base_template(), volume.documents, volume.properties)
    entries = [
        Entry(file.headings.setdefault((index, 0), f"_Page{index:04}"), head.text, document.page_prefix)
        for index, document in enumerate(volume.documents)
        if index > 1 and isinstance(head := next(iter(document.blocks), None), Para) and head.style in _TOP
    ]
    bodies = [file.section(index, bare=index == 0) for index in range(len(volume.documents))]
    bodies[1].elements[-1:-1] = _contents(entries, file.writing(1))
    return file.bound(bodies)


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the contents: the bookmark of a heading, its words, and what stands before the number of its page."""

    bookmark: str
    words: str
    prefix: str


@dataclass(frozen=True, slots=True)
class Body:
    """One section of a file: its elements, and the properties that close it."""

    elements: list[str]
    properties: str


class WordFile:
    """A file while it is put together."""

    def __init__(self, template: Template, documents: tuple[Document, ...], properties: Properties) -> None:
        self.template = template
        self.documents = documents
        self.properties = properties
        self.headings: dict[Spot, str] = {}
        self.references: References = find_references(tuple(one.blocks for one in documents))
        self._pictures = Pictures()
        self._parts: dict[str, bytes] = {}
        self._relations: dict[str, tuple[str, str]] = {}

    def writing(self, index: int) -> Writing:
        """What the blocks of one document are written with."""
        width = self._page(index).text_width
        return Writing(self.template.look, self.references, index, width, self._pictures, self.headings)

    def section(self, index: int, *, bare: bool = False, elements: list[str] | None = None) -> Body:
        """One document as a section; ``bare`` without header and footer; ``elements`` in place of its blocks."""
        document = self.documents[index]
        written = blocks_xml(document.blocks, self.writing(index)) if elements is None else elements
        margins = "" if bare else self._margins(index)
        return Body(written, _section_properties(self._page(index), margins, document.landscape))

    def _page(self, index: int) -> Page:
        return self.template.page_for(self.documents[index])

    def _margins(self, index: int) -> str:
        document, template = self.documents[index], self.template
        runs, width = _margin_runs(document), self._page(index).text_width
        out = []
        for kind, margin in (("header", template.header), ("footer", template.footer)):
            name, reference = f"{kind}{index + 1}.xml", f"rId{kind.upper()}{index + 1}"
            self._parts[f"word/{name}"] = filled(margin, runs, width)
            for path, content in margin.files.items():
                # The empty path is the part's own list of what it shows.
                self._parts[path or f"word/_rels/{name}.rels"] = content
            self._relations[reference] = (kind, name)
            out.append(f'<w:{kind}Reference w:type="default" r:id="{reference}"/>')
        return "".join(out)

    def add_part(self, kind: str, content: bytes) -> None:
        """A part that the document refers to, of which there is one."""
        self._parts[f"word/{kind}.xml"] = content
        self._relations[f"rId{kind.upper()}"] = (kind, f"{kind}.xml")

    def bound(self, bodies: list[Body]) -> bytes:
        """The sections as the bytes of a file."""
        content = []
        for body in bodies[:-1]:
            *first, last = body.elements
            content += [*first, last.replace("</w:pPr>", f"{body.properties}</w:pPr>", 1)]
        content += [*bodies[-1].elements, bodies[-1].properties]
        document = f'{XML_HEAD}<w:document xmlns:w="{_W}" xmlns:r="{_R}"><w:body>{"".join(content)}</w:body></w:document>'
        static = dict(self.template.parts)
        static[STYLES] = styles_in(self.template, self.properties.language)
        listed = {
            f"rId{number}": (_kind(name), name.removeprefix("word/"))
            for number, name in enumerate((n for n in static if n.startswith("word/")), start=1)
        }
        relations = {**listed, **self._relations, **self._pictures.relations}
        return write_package(
            {
                "_rels/.rels": relations_part(_PACKAGE),
                "word/document.xml": document.encode(),
                "word/_rels/document.xml.rels": relations_part(relations),
                **static,
                **self._parts,
                **self._pictures.parts,
                "docProps/core.xml": _core(self.properties),
            }
        )


def _kind(name: str) -> str:
    return name.rpartition("/")[2].removesuffix(".xml").rstrip("0123456789")


def _margin_runs(document: Document) -> Mapping[str, str]:
    prefix, number = document.page_prefix, field("PAGE", "1")
    return {
        "header left": run(document.header_left),
        "header right": run(document.header_right),
        "footer left": run(document.footer_left),
        "page": run(f"{prefix}-") + number
        if prefix
        else run("Page ") + number + run(" of ") + field("NUMPAGES", "1"),
    }


def _section_properties(page: Page, margins: str, landscape: bool) -> str:
    turned = ' w:orient="landscape"' if landscape else ""
    edges = " ".join(
        f'w:{name}="{getattr(page, name)}"'
        for name in ("top", "right", "bottom", "left", "header", "footer", "gutter")
    )
    return (
        f'<w:sectPr>{margins}<w:type w:val="nextPage"/><w:pgSz w:w="{page.width}" w:h="{page.height}"{turned}/>'
        f'<w:pgMar {edges}/><w:pgNumType w:start="1"/><w:cols w:space="720"/></w:sectPr>'
    )


def _contents(entries: Sequence[Entry], writing: Writing) -> list[str]:
    """The lines of the contents, each with a field for its page.

    One field over all of them would write them anew without what stands before the number of a page.
    """
    if not entries:
        raise ValueError("a volume needs a document that begins with a heading")
    look = writing.look
    cleared = "".join(f'<w:tab w:val="clear" w:pos="{at}"/>' for at in look.contents_tabs)
    tabs = f'{cleared}<w:tab w:val="right" w:leader="dot" w:pos="{writing.text_width}"/>'
    lines = []
    for one in entries:
        page = (run(f"{one.prefix}-") if one.prefix else "") + field(rf"PAGEREF {one.bookmark} \h", "1")
        words = f"{run(one.words)}<w:r><w:tab/></w:r>{page}"
        link = f'<w:hyperlink w:anchor="{one.bookmark}" w:history="1">{words}</w:hyperlink>'
        lines.append(
            f'<w:p><w:pPr><w:pStyle w:val="{look.contents}"/><w:tabs>{tabs}</w:tabs></w:pPr>{link}</w:p>'
        )
    return lines


def fitting(properties: Properties) -> Properties:
    """The properties with title and project cut to what the format allows."""
    return replace(properties, title=_cut(properties.title), project=_cut(properties.project))


def _cut(words: str) -> str:
    return words if len(words) <= _LONGEST else words[: _LONGEST - 1] + "…"


def _core(properties: Properties) -> bytes:
    """What the file says about itself; the author is the office that issues it.

    Raises:
        ValueError: the issue date is neither an ISO date nor "", or a property is longer than 255 characters.
    """
    try:
        issued = datetime.strptime(properties.issue_date, "%Y-%m-%d") if properties.issue_date else None
    except ValueError:
        raise ValueError(f"issue date {properties.issue_date!r} is not a date as {_SAMPLE_DATE}") from None
    words = {
        "dc:title": properties.title,
        "dc:subject": properties.subject,
        "dc:creator": properties.author,
        "cp:keywords": properties.keywords,
        "dc:language": properties.language,
        "cp:category": properties.project,
        "cp:contentStatus": properties.state,
    }
    for name, value in words.items():
        if len(legal(value)) > _LONGEST:
            raise ValueError(
                f"{name.partition(':')[2]} of the file has {len(value)} characters, more than {_LONGEST}"
            )
    stamp = issued.strftime("%Y-%m-%dT%H:%M:%SZ") if issued else ""
    content = "".join(f"<{name}>{html.escape(value, quote=False)}</{name}>" for name, value in words.items())
    dates = "".join(
        f'<dcterms:{name} xsi:type="dcterms:W3CDTF">{stamp}</dcterms:{name}>'
        for name in ("created", "modified")
        if stamp
    )
    namespaces = (
        'xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties"'
        ' xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/"'
        ' xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"'
    )
    return f"{XML_HEAD}<cp:coreProperties {namespaces}>{content}{dates}</cp:coreProperties>".encode()
