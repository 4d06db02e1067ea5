"""The template of Word files: styles, numbering, page, header and footer, read once from a folder of parts.

The base template (``templates/word``) is kept unzipped so that a change to it can be read; an office's own file
becomes a template of the same kind in :mod:`specgen.render.word_office`.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass, replace

from lxml import etree

from specgen.files.carried import carried
from specgen.model.document import Document, Style
from specgen.model.paper import PaperSize
from specgen.render.word_package import xml_part
from specgen.render.word_xml import VAL, XML_HEAD, qualified

STRONG, SOFT, TABLE, GAP, CONTENTS = "Strong Words", "Soft Words", "Quiet Table", "Table Gap", "toc 1"
PLACES = ("header left", "header right", "footer left", "page")
RIGHT_TAB = "right tab"
_PLACE = re.compile(r"\{(header left|header right|footer left|page)\}")
_MARK = re.compile(r"<\?specgen ([a-z ]+)\?>")
_NAMESPACES = re.compile(r' xmlns:\w+="[^"]*"')
_LONGEST_SIDE = 32_000  # [twip]; the longest that Word knows is a little less
_INCH = 1440  # [twip]
_TWIPS_A_MM = _INCH / 25.4
_NARROWEST = 2 * _INCH  # of a column of text
_NEAR = 60  # [twip]: a tab this close to the right margin is meant to stand on it
STYLES = "word/styles.xml"


@dataclass(frozen=True, slots=True)
class Page:
    """Size and margins [twip]."""

    width: int
    height: int
    top: int
    right: int
    bottom: int
    left: int
    header: int
    footer: int
    gutter: int

    @property
    def text_width(self) -> int:
        """Between the margins."""
        return self.width - self.left - self.right - self.gutter

    def on(self, paper: PaperSize) -> Page:
        """The same page on another paper; margins that leave no room for text there become an inch."""
        width, height = (round(side * _TWIPS_A_MM) for side in (paper.width, paper.height))
        page = replace(self, width=width, height=height)
        if page.text_width < _NARROWEST or height - abs(self.top) - abs(self.bottom) < _NARROWEST:
            inch = dict.fromkeys(("top", "right", "bottom", "left"), _INCH)
            page = replace(page, gutter=0, header=_INCH // 2, footer=_INCH // 2, **inch)
        return page.turned() if self.width > self.height else page

    def turned(self) -> Page:
        """The page on its long side."""
        long, short = max(self.width, self.height), min(self.width, self.height)
        return replace(self, width=long, height=short)


@dataclass(frozen=True, slots=True)
class Margin:
    """A header or a footer: XML in pieces, and between each two a place with the look of its words."""

    pieces: tuple[str, ...]
    places: tuple[tuple[str, str], ...]  # name of the place, run properties as XML
    files: Mapping[str, bytes]  # the relations of the part under "", and the pictures it shows

    @property
    def names(self) -> frozenset[str]:
        """The places for words that it has."""
        return frozenset(name for name, _ in self.places if name != RIGHT_TAB)


@dataclass(frozen=True, slots=True)
class Look:
    """What the template offers, by name."""

    paragraph_styles: Mapping[Style, str]  # style ids
    strong: str
    soft: str
    table: str
    gap: str
    contents: str
    contents_tabs: tuple[int, ...]  # where a line of the contents has tabs by its style [twip]
    indents: Mapping[Style, int]  # where the words of a list paragraph begin, from the left margin [twip]


@dataclass(frozen=True, eq=False)
class Template:
    """Everything of a Word file but its words."""

    parts: Mapping[str, bytes]  # written as they are, but for the language in the styles
    look: Look
    page: Page
    header: Margin
    footer: Margin
    own_page: bool = False  # whether its page is an office's, which stands where nobody chooses a paper

    def page_for(self, document: Document) -> Page:
        """The page that a document is set on."""
        paper = document.properties.paper
        page = self.page if self.own_page and not paper.chosen else self.page.on(paper)
        return page.turned() if document.landscape else page


@functools.cache
def base_parts() -> Mapping[str, bytes]:
    """The parts of the base template by name, without the line ends that make them readable."""
    folder = carried("templates") / "word"
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    raw = {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}
    return {name: serialised(xml_part(raw, name)) for name in raw}


@functools.cache
def base_template() -> Template:
    """The template that is used where an office names none.

    Raises:
        ValueError: the template lacks a style, or a place in header or footer.
    """
    parts = base_parts()
    styles, numbering = xml_part(parts, STYLES), xml_part(parts, "word/numbering.xml")
    page = page_of(xml_part(parts, "word/document.xml"))
    margins = [margin_of(xml_part(parts, f"word/{name}.xml"), page) for name in ("header1", "footer1")]
    missing = set(PLACES) - margins[0].names - margins[1].names
    if missing:
        raise ValueError(f"header and footer of the Word template have no place {', '.join(sorted(missing))}")
    kept = ("styles", "numbering", "settings", "fontTable")
    static = {f"word/{name}.xml": parts[f"word/{name}.xml"] for name in kept}
    look = look_of(styles, numbering)
    return Template(
        {**static, "docProps/app.xml": parts["docProps/app.xml"]}, look, page, margins[0], margins[1]
    )


def serialised(root: etree._Element) -> bytes:
    """A part as it is written."""
    return etree.tostring(root, encoding="UTF-8", xml_declaration=True, standalone=True)


def look_of(styles: etree._Element, numbering: etree._Element) -> Look:
    """The styles by name, with the indents of their list levels.

    Raises:
        ValueError: a style is missing.
    """
    ids = style_ids(styles)
    wanted = (*(style.value for style in Style), STRONG, SOFT, TABLE, GAP, CONTENTS)
    missing = [name for name in wanted if name not in ids]
    if missing:
        raise ValueError(f"styles.xml of the Word template has no style {', '.join(map(repr, missing))}")
    indents = {}
    for level in numbering.iter(qualified("lvl")):
        linked, indent = level.find(qualified("pStyle")), next(level.iter(qualified("ind")), None)
        if linked is not None and indent is not None:
            indents[linked.get(VAL)] = int(indent.get(qualified("left"), "0"))
    paragraphs = {style: ids[style.value] for style in Style}
    return Look(
        paragraph_styles=paragraphs,
        strong=ids[STRONG],
        soft=ids[SOFT],
        table=ids[TABLE],
        gap=ids[GAP],
        contents=ids[CONTENTS],
        contents_tabs=_tabs(styles, ids[CONTENTS]),
        indents={style: indents[name] for style, name in paragraphs.items() if name in indents},
    )


def _tabs(styles: etree._Element, style_id: str) -> tuple[int, ...]:
    """Where a style has tabs."""
    found = (
        one for one in styles.iterchildren(qualified("style")) if one.get(qualified("styleId")) == style_id
    )
    at = {tab.get(qualified("pos"), "0") for style in found for tab in style.iter(qualified("tab"))}
    return tuple(sorted(int(one) for one in at if one.isdecimal()))


def style_name(style: etree._Element) -> str:
    """The name a reader sees."""
    name = style.find(qualified("name"))
    return "" if name is None else str(name.get(VAL))


def style_ids(styles: etree._Element) -> dict[str, str]:
    """Style ids by name."""
    return {
        style_name(one): str(one.get(qualified("styleId"))) for one in styles.iterchildren(qualified("style"))
    }


def page_of(document: etree._Element) -> Page:
    """The page of the last section of a body.

    Raises:
        ValueError: the body states no page, or one that is none.
    """
    sections = document.findall(f".//{qualified('sectPr')}")
    size = sections[-1].find(qualified("pgSz")) if sections else None
    margins = sections[-1].find(qualified("pgMar")) if sections else None
    if size is None or margins is None:
        raise ValueError("document.xml states no page size and margins")

    def twips(holder: etree._Element, name: str) -> int:
        written = holder.get(qualified(name), "0")
        if not abs(size := float(written)) < _LONGEST_SIDE:  # no number neither
            raise ValueError(f"`{name}` of the page of document.xml is {written}, no size in twips")
        return int(size)

    names = ("top", "right", "bottom", "left", "header", "footer", "gutter")
    page = Page(twips(size, "w"), twips(size, "h"), *(twips(margins, name) for name in names))
    text_height = (
        page.height - abs(page.top) - abs(page.bottom)
    )  # below zero a margin holds whatever the header is
    if not (0 < page.text_width < _LONGEST_SIDE and text_height > 0):
        raise ValueError(
            f"the page of document.xml is {page.width} by {page.height} twips with no room for text"
        )
    return page


def margin_of(root: etree._Element, page: Page, files: Mapping[str, bytes] | None = None) -> Margin:
    """A header or footer with its places cut out; a right-hand tab at the margin follows the page."""
    root = deepcopy(root)
    places = []
    for node in list(root.iter(qualified("t"), qualified("tab"))):
        name, look, cut = "", "", node
        if node.tag == qualified("tab"):
            at = node.get(qualified("pos"))
            if node.get(VAL) == "right" and at and abs(int(at) - page.text_width) <= _NEAR:
                name = RIGHT_TAB
        elif found := _PLACE.fullmatch(node.text or ""):
            name, cut = found[1], parent_of(node)
            given = cut.find(qualified("rPr"))
            look = "" if given is None else _plain_xml(given)
        if name:
            places.append((name, look))
            cut.addprevious(etree.ProcessingInstruction("specgen", name))
            parent_of(cut).remove(cut)
    pieces = _MARK.split(etree.tostring(root, encoding="unicode"))[::2]
    return Margin(tuple(pieces), tuple(places), files or {})


def parent_of(node: etree._Element) -> etree._Element:
    """The element around one that is not the root."""
    parent = node.getparent()
    if parent is None:
        raise ValueError(f"{node.tag} stands alone")
    return parent


def _plain_xml(node: etree._Element) -> str:
    """An element as text; its prefixes are declared by the part it goes back into."""
    return _NAMESPACES.sub("", etree.tostring(node, encoding="unicode", with_tail=False))


def filled(margin: Margin, runs: Mapping[str, str], text_width: int) -> bytes:
    """A header or footer with runs in its places, each with the look of its place."""
    out = [margin.pieces[0]]
    for (name, look), piece in zip(margin.places, margin.pieces[1:], strict=True):
        if name == RIGHT_TAB:
            out.append(f'<w:tab w:val="right" w:pos="{text_width}"/>')
        else:
            out.append(runs[name].replace("<w:r>", f"<w:r>{look}"))
        out.append(piece)
    return (XML_HEAD + "".join(out)).encode()


@functools.lru_cache(maxsize=16)
def styles_in(template: Template, language: str) -> bytes:
    """The styles part with the document's language as that of every style."""
    styles = xml_part(template.parts, STYLES)
    for own in styles.iter(qualified("lang")):
        own.attrib.pop(VAL, "")
    defaults = styles.find(f"{qualified('docDefaults')}/{qualified('rPrDefault')}/{qualified('rPr')}")
    if defaults is None:
        raise ValueError("styles.xml of the Word template has no default run properties")
    found = defaults.find(qualified("lang"))
    if found is None:
        found = etree.SubElement(defaults, qualified("lang"))
    found.set(VAL, language)
    return serialised(styles)
