"""The base template: opened from its parts, filled in at header, footer, page and properties, saved."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from copy import deepcopy
from datetime import datetime
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import docx
from docx.document import Document as WordDocument
from docx.opc.constants import RELATIONSHIP_TYPE
from lxml import etree

from specgen.files.carried import carried
from specgen.files.writing import zip_deterministic
from specgen.model.document import Document, Properties, Style
from specgen.render.word_blocks import Look
from specgen.render.word_xml import VAL, field, legal, parsed, qualified, run

_STRONG, _SOFT, _TABLE, _GAP = "Strong Words", "Soft Words", "Quiet Table", "Table Gap"
_SAMPLE_DATE = "2026-01-15"


@functools.cache
def _template() -> tuple[Mapping[str, bytes], bytes]:
    """The parts by name, and the same parts as one file."""
    folder = carried("templates") / "word"
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    parts = {path.relative_to(folder).as_posix(): _compact(path) for path in files}
    packed = BytesIO()
    with ZipFile(packed, "w") as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return parts, packed.getvalue()


def _compact(path: Path) -> bytes:
    """A part without the line ends and blanks that make it readable in the repository."""
    root = etree.fromstring(
        path.read_bytes(), etree.XMLParser(remove_blank_text=True, resolve_entities=False)
    )
    return etree.tostring(root, encoding="UTF-8", xml_declaration=True, standalone=True)


def open_template() -> WordDocument:
    """The base template with an empty body."""
    return docx.Document(BytesIO(_template()[1]))


def save(word: WordDocument) -> bytes:
    """The document as the bytes of a .docx file: the same document, the same bytes."""
    changed = {str(part.partname).lstrip("/"): part.blob for part in word.part.package.iter_parts()}
    # The writer adds no part and no relationship, so the template's own lists of them stay true.
    return zip_deterministic({**_template()[0], **changed})


@functools.cache
def template_look() -> Look:
    """The styles of the template, looked up once by name.

    Raises:
        ValueError: the template lacks a style.
    """
    word = open_template()
    ids = {_name(style): str(style.get(qualified("styleId"))) for style in _styles(word)}
    missing = [name for name in (*(s.value for s in Style), _STRONG, _SOFT, _TABLE, _GAP) if name not in ids]
    if missing:
        raise ValueError(f"styles.xml of the Word template has no style {', '.join(map(repr, missing))}")
    indents = {}
    for level in word.part.numbering_part.element.iter(qualified("lvl")):
        linked, indent = level.find(qualified("pStyle")), next(level.iter(qualified("ind")), None)
        if linked is not None and indent is not None:
            indents[linked.get(VAL)] = int(indent.get(qualified("left"), "0"))
    return Look(
        paragraph_styles={style: ids[style.value] for style in Style},
        strong=ids[_STRONG],
        soft=ids[_SOFT],
        table=ids[_TABLE],
        gap=ids[_GAP],
        indents={style: indents[ids[style.value]] for style in Style if ids[style.value] in indents},
    )


def _styles(word: WordDocument) -> list[etree._Element]:
    return list(word.styles.element.iterchildren(qualified("style")))


def _name(style: etree._Element) -> str:
    name = style.find(qualified("name"))
    return "" if name is None else str(name.get(VAL))


def _page(word: WordDocument, name: str) -> etree._Element:
    found: etree._Element | None = word.element.body.sectPr.find(qualified(name))
    if found is None:
        raise ValueError(f"document.xml of the Word template has no {name}")
    return found


def text_width(word: WordDocument) -> int:
    """The width between the margins [twip]."""
    margins = _page(word, "pgMar")
    taken = sum(int(margins.get(qualified(side), "0")) for side in ("left", "right", "gutter"))
    return int(_page(word, "pgSz").get(qualified("w"), "0")) - taken


def turn_page(word: WordDocument) -> None:
    """Lay the page on its long side, and move the right-hand tab of header and footer to the new margin."""
    size = _page(word, "pgSz")
    width, height = size.get(qualified("w"), ""), size.get(qualified("h"), "")
    size.set(qualified("w"), height)
    size.set(qualified("h"), width)
    size.set(qualified("orient"), "landscape")
    for style in _styles(word):
        if _name(style) in ("header", "footer"):
            for tab in style.iter(qualified("tab")):
                tab.set(qualified("pos"), str(text_width(word)))


def fill_margins(word: WordDocument, document: Document) -> None:
    """Put the document's words and the page number where the template's header and footer ask for them.

    Raises:
        ValueError: header and footer of the template lack one of the places.
    """
    prefix = document.page_prefix
    number = field("PAGE", "1")
    runs = {
        "{header left}": run(document.header_left),
        "{header right}": run(document.header_right),
        "{footer left}": run(document.footer_left),
        "{page}": run(f"{prefix} - ") + number
        if prefix
        else run("Page ") + number + run(" of ") + field("NUMPAGES", "1"),
    }
    for part in word.part.rels.values():
        if part.reltype not in (RELATIONSHIP_TYPE.HEADER, RELATIONSHIP_TYPE.FOOTER):
            continue
        for holder in list(part.target_part.element.iter(qualified("t"))):
            if holder.text in runs:
                _replace(holder.getparent(), parsed(runs.pop(holder.text)))
    if runs:
        raise ValueError(f"header and footer of the Word template have no place {', '.join(sorted(runs))}")


def _replace(old: etree._Element, runs: list[etree._Element]) -> None:
    """Put runs in place of one, with its formatting."""
    look = old.find(qualified("rPr"))
    for new in runs:
        if look is not None:
            new.insert(0, deepcopy(look))
        old.addprevious(new)
    parent = old.getparent()
    if parent is not None:
        parent.remove(old)


def fill_properties(word: WordDocument, properties: Properties) -> None:
    """Write what the file says about itself; the author stays empty.

    Raises:
        ValueError: the issue date is not an ISO date, or a property is longer than 255 characters.
    """
    said = properties.issue_date
    try:
        issued = datetime.strptime(said, "%Y-%m-%d")
    except ValueError:
        raise ValueError(f"issue date {said!r} is not a date as {_SAMPLE_DATE}") from None
    core = word.core_properties
    core.title = legal(properties.title)
    core.subject = legal(properties.subject)
    core.category = legal(properties.project)
    core.content_status = legal(properties.state)
    core.language = legal(properties.language)
    core.created = core.modified = issued
    for language in word.styles.element.iterfind(f"{qualified('docDefaults')}//{qualified('lang')}"):
        language.set(VAL, properties.language)
