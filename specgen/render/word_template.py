"""The base template: opened from its parts, filled in at header, footer, page and properties, saved to bytes."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from datetime import datetime
from io import BytesIO
from zipfile import ZipFile

import docx
from docx.document import Document as WordDocument
from lxml import etree

from specgen.files.carried import carried
from specgen.files.writing import zip_deterministic
from specgen.model.document import Document, Properties, Style
from specgen.render.word_blocks import Setting
from specgen.render.word_references import find_references
from specgen.render.word_xml import P, R, T, VAL, add_field, add_run, add_text, legal, qualified

_STRONG, _SOFT, _TABLE, _GAP = "Strong Words", "Soft Words", "Quiet Table", "Table Gap"


@functools.cache
def _template() -> tuple[Mapping[str, bytes], bytes]:
    """The parts by name, and the same parts as one file."""
    folder = carried("templates") / "word"
    parts = {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()
    }
    packed = BytesIO()
    with ZipFile(packed, "w") as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return parts, packed.getvalue()


def open_template() -> WordDocument:
    """The base template with an empty body."""
    return docx.Document(BytesIO(_template()[1]))


def save(word: WordDocument) -> bytes:
    """The document as the bytes of a .docx file: the same document, the same bytes."""
    changed = {str(part.partname).lstrip("/"): part.blob for part in word.part.package.iter_parts()}
    # The writer adds no part and no relationship, so the template's own lists of them stay true.
    return zip_deterministic({**_template()[0], **changed})


def setting_of(word: WordDocument, document: Document) -> Setting:
    """The style ids of the template, looked up once by name, and the width of the text.

    Raises:
        ValueError: a style is missing from the template, or see :func:`find_references`.
    """
    ids = {
        element.find(qualified("name")).get(VAL): element.get(qualified("styleId"))
        for element in word.styles.element.iterchildren(qualified("style"))
    }
    missing = [name for name in (*(s.value for s in Style), _STRONG, _SOFT, _TABLE, _GAP) if name not in ids]
    if missing:
        raise ValueError(f"templates/word/word/styles.xml has no style named {', '.join(map(repr, missing))}")
    return Setting(
        {style: ids[style.value] for style in Style},
        *(ids[name] for name in (_STRONG, _SOFT, _TABLE, _GAP)),
        references=find_references(document.blocks),
        indents=_indents(word, {ids[style.value]: style for style in Style}),
        text_width=_text_width(word),
    )


def _indents(word: WordDocument, styles: Mapping[str, Style]) -> dict[Style, int]:
    found = {}
    for level in word.part.numbering_part.element.iter(qualified("lvl")):
        linked, indent = level.find(qualified("pStyle")), next(level.iter(qualified("ind")), None)
        if linked is not None and indent is not None and linked.get(VAL) in styles:
            found[styles[linked.get(VAL)]] = int(indent.get(qualified("left"), "0"))
    return found


def _text_width(word: WordDocument) -> int:
    size, margins = (word.element.body.sectPr.find(qualified(name)) for name in ("pgSz", "pgMar"))
    taken = sum(int(margins.get(qualified(side))) for side in ("left", "right", "gutter"))
    return int(size.get(qualified("w"))) - taken


def turn_page(word: WordDocument) -> None:
    """Lay the page on its long side, and move the right-hand tab of header and footer to the new margin."""
    size = word.element.body.sectPr.find(qualified("pgSz"))
    width, height = size.get(qualified("w")), size.get(qualified("h"))
    size.set(qualified("w"), height)
    size.set(qualified("h"), width)
    size.set(qualified("orient"), "landscape")
    for name in ("header", "footer"):
        for tab in _style(word, name).iter(qualified("tab")):
            tab.set(qualified("pos"), str(_text_width(word)))


def _style(word: WordDocument, name: str) -> etree._Element:
    for element in word.styles.element.iterchildren(qualified("style")):
        if element.find(qualified("name")).get(VAL) == name:
            return element
    raise ValueError(f"templates/word/word/styles.xml has no style named {name!r}")


def fill_margins(word: WordDocument, document: Document) -> None:
    """Put the document's words and the page number where the template's header and footer ask for them.

    Raises:
        ValueError: header and footer of the template lack one of the places.
    """
    section = word.sections[0]
    words = {
        "{header left}": document.header_left,
        "{header right}": document.header_right,
        "{footer left}": document.footer_left,
    }
    missing = {*words, "{page}"}
    for root in (section.header._element, section.footer._element):
        for holder in list(root.iter(T)):
            place = holder.text or ""
            if place not in missing:
                continue
            missing.remove(place)
            run = holder.getparent()
            if place == "{page}":
                _page_number(run, document.page_prefix)
            else:
                run.remove(holder)
                add_text(run, words[place])
    if missing:
        raise ValueError(f"header and footer of templates/word have no place {', '.join(sorted(missing))}")


def _page_number(run: etree._Element, prefix: str) -> None:
    """Replace a run by ``07 27 00 - 3``, or by ``Page 3 of 7`` where there is no prefix."""
    scratch = etree.Element(P)
    add_run(scratch, f"{prefix} - " if prefix else "Page ")
    add_field(scratch, "PAGE", "1")
    if not prefix:
        add_run(scratch, " of ")
        add_field(scratch, "NUMPAGES", "1")
    paragraph = run.getparent()
    at = paragraph.index(run)
    paragraph[at : at + 1] = scratch.findall(R)


def fill_properties(word: WordDocument, properties: Properties) -> None:
    """Write what the file says about itself; the author stays empty.

    Raises:
        ValueError: the issue date is not an ISO date, or a property is longer than 255 characters.
    """
    try:
        issued = datetime.fromisoformat(properties.issue_date)
    except ValueError:
        raise ValueError(
            f"issue date {properties.issue_date!r} is not a date as YYYY-MM-DD, for example 2026-01-15"
        ) from None
    core = word.core_properties
    core.title = legal(properties.title)
    core.subject = legal(properties.subject)
    core.category = legal(properties.project)
    core.content_status = legal(properties.state)
    core.language = legal(properties.language)
    core.created = core.modified = issued.replace(tzinfo=None)
    for language in word.styles.element.find(qualified("docDefaults")).iter(qualified("lang")):
        language.set(VAL, properties.language)
