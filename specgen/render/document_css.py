"""The style sheet of a document on screen and on paper, read from the Word template that its file is written with."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from lxml import etree

from specgen.model.document import Document, Style
from specgen.render.document_html import STEPS, style_name
from specgen.render.word_blocks import TINTS
from specgen.render.word_package import xml_part
from specgen.render.word_template import STYLES, Page, Template, base_template
from specgen.render.word_xml import VAL, qualified

_NUMBERING = "word/numbering.xml"
_POINT, _INCH = 20, 1440  # twips
_WHOLE_LINE = 240  # of a spacing that is a multiple of the line
_HALF = 2  # sizes of letters are written in half points
_ALIGNED = {"center": "center", "right": "right", "end": "right", "both": "justify"}
_GENERIC = {
    "Arial": 'Helvetica, "Liberation Sans", sans-serif',
    "Times New Roman": '"Liberation Serif", serif',
}


@dataclass(frozen=True)
class Type:
    """What a paragraph style looks like; lengths in twips, the size in half points."""

    font: str = "Arial"
    size: int = 20
    bold: bool = False
    capitals: bool = False
    color: str = ""  # six hexadecimal digits; "" for that of the page
    aligned: str = ""
    before: int = 0
    after: int = 0
    line: int = _WHOLE_LINE  # 240 for a single line
    indent: int = 0
    hanging: int = 0


def document_css(document: Document, template: Template | None = None) -> str:
    """The style sheet under which :func:`specgen.render.document_html.document_html` looks as the Word file.

    Args:
        document: its header and footer stand in the margins of the printed pages, where the browser can do that.
        template: that of the Word file; the one of specgen if not given.
    """
    look = template or base_template()
    page = look.page_for(document)
    types = style_types(look)
    rules = [*_sheet(page, types[Style.BODY]), *_styles(types), *_tables(), *_printed(page, document)]
    return "\n".join(rules) + "\n"


def style_types(template: Template) -> Mapping[Style, Type]:
    """What each paragraph style of a template looks like, what it is based on included."""
    styles = xml_part(template.parts, STYLES)
    by_id = {one.get(qualified("styleId"), ""): one for one in styles.iterchildren(qualified("style"))}
    first = Type()
    for path in ("rPrDefault/rPr", "pPrDefault/pPr"):
        found = styles.find("/".join(map(qualified, ("docDefaults", *path.split("/")))))
        first = _with(first, found)
    levels = _levels(template)
    out = {}
    for style in Style:
        name = template.look.paragraph_styles[style]
        found_type = first
        for one in reversed(list(_chain(by_id, name))):
            found_type = _with(_with(found_type, one.find(qualified("pPr"))), one.find(qualified("rPr")))
        own = levels.get(name)
        out[style] = replace(found_type, indent=own[0], hanging=own[1]) if own else found_type
    return out


def _chain(by_id: Mapping[str, etree._Element], name: str) -> Iterator[etree._Element]:
    """A style and those it is based on, as far as they go."""
    seen: set[str] = set()
    while name in by_id and name not in seen:
        seen.add(name)
        yield by_id[name]
        below = by_id[name].find(qualified("basedOn"))
        name = "" if below is None else below.get(VAL, "")


def _levels(template: Template) -> dict[str, tuple[int, int]]:
    """By style id of a list level: where its words begin, and how far its number hangs to the left of them."""
    out = {}
    for level in xml_part(template.parts, _NUMBERING).iter(qualified("lvl")):
        linked, indent = level.find(qualified("pStyle")), next(level.iter(qualified("ind")), None)
        if linked is not None and indent is not None:
            out[linked.get(VAL, "")] = (_number(indent, "left"), _number(indent, "hanging"))
    return out


def _with(found: Type, properties: etree._Element | None) -> Type:
    """A look with what the properties of a paragraph or of its letters say otherwise."""
    for one in properties if properties is not None else ():
        name, value = etree.QName(one).localname, one.get(VAL, "")
        match name:
            case "rFonts":
                found = replace(found, font=one.get(qualified("ascii"), found.font))
            case "sz" if value.isdecimal():
                found = replace(found, size=int(value))
            case "b":
                found = replace(found, bold=_on(value))
            case "caps":
                found = replace(found, capitals=_on(value))
            case "color":
                found = replace(found, color=value if _is_color(value) else "")
            case "jc":
                found = replace(found, aligned=_ALIGNED.get(value, ""))
            case "spacing":
                found = replace(
                    found,
                    before=_number(one, "before", found.before),
                    after=_number(one, "after", found.after),
                    line=_number(one, "line", found.line),
                )
            case "ind":
                left = _number(one, "left") or _number(one, "start")
                found = replace(found, indent=left, hanging=_number(one, "hanging"))
    return found


def _on(value: str) -> bool:
    return value not in ("0", "false", "off")


def _is_color(value: str) -> bool:
    return len(value) == 6 and all(letter in "0123456789abcdefABCDEF" for letter in value)


def _number(element: etree._Element, name: str, otherwise: int = 0) -> int:
    written = element.get(qualified(name), "")
    return int(written) if written.removeprefix("-").isdecimal() else otherwise


def css_string(words: str) -> str:
    """Words as a string of a style sheet: whatever is no plain letter, digit or blank is written by its number.

    >>> css_string('2601 "A"</style>')
    '"2601 \\\\22 A\\\\22 \\\\3c \\\\2f style\\\\3e "'
    """
    return '"' + "".join(one if one.isalnum() or one == " " else f"\\{ord(one):x} " for one in words) + '"'


def _inches(twips: int) -> str:
    return f"{twips / _INCH:.4g}in"


def _wide(twips: int) -> str:
    """A length that shrinks with the sheet on a narrow screen."""
    return f"calc({twips / _INCH:.4g}*var(--inch))"


def _family(font: str) -> str:
    return f"{css_string(font)}, {_GENERIC.get(font, 'sans-serif')}"


def _sheet(page: Page, body: Type) -> Iterator[str]:
    edges = " ".join(_wide(abs(one)) for one in (page.top, page.right, page.bottom, page.left + page.gutter))
    yield f"@media screen{{.doc{{max-width:{_inches(page.width)};padding:{edges}}}}}"
    yield (
        f".doc{{font-family:{_family(body.font)};font-size:{body.size / _HALF:g}pt;line-height:{_line(body)}}}"
    )
    yield f".doc-head{{top:{_wide(abs(page.header))}}}"
    yield f".doc-foot{{bottom:{_wide(abs(page.footer))}}}"
    yield f".doc-head,.doc-foot{{left:{_wide(page.left + page.gutter)};right:{_wide(page.right)}}}"


def _line(one: Type) -> str:
    # A single line of Word is about 1.15 times the size of common letters.
    return f"{1.15 * one.line / _WHOLE_LINE:.3g}"


def _styles(types: Mapping[Style, Type]) -> Iterator[str]:
    for style, one in types.items():
        name = f".doc .is-{style_name(style)}"
        rules = {
            "font-family": _family(one.font),
            "font-size": f"{one.size / _HALF:g}pt",
            "font-weight": "700" if one.bold else "400",
            "text-transform": "uppercase" if one.capitals else "none",
            "text-align": one.aligned or "left",
            "line-height": _line(one),
            "margin-top": f"{one.before / _POINT:g}pt",
            "margin-bottom": f"{one.after / _POINT:g}pt",
            "padding-left": _wide(one.indent),
        }
        if one.color:
            rules["color"] = f"#{one.color}"
        yield f"{name}{{{';'.join(f'{key}:{value}' for key, value in rules.items())}}}"
        if one.hanging:
            yield f"{name} .label{{margin-left:{_wide(-one.hanging)};min-width:{_wide(one.hanging)}}}"
            yield f"{name}+.origins{{margin-left:{_wide(one.indent)}}}"


def _tables() -> Iterator[str]:
    for number in range(1, STEPS + 1):
        yield f".doc .w{number}{{width:{100 * number / STEPS:g}%}}"
    for tone, color in TINTS.items():
        if color:
            yield f".doc .tone-{tone}{{background:#{color}}}"


def _printed(page: Page, document: Document) -> Iterator[str]:
    """The pages as printed: paper, margins, and header and footer with the number of the page."""
    edges = " ".join(
        _inches(abs(one)) for one in (page.top, page.right, page.bottom, page.left + page.gutter)
    )
    folio = '"Page " counter(page) " of " counter(pages)'
    if document.page_prefix:
        folio = f"{css_string(document.page_prefix + '-')} counter(page)"
    boxes = {
        "top-left": css_string(document.header_left),
        "top-right": css_string(document.header_right),
        "bottom-left": css_string(document.footer_left),
        "bottom-right": folio,
    }
    look = "font:8pt Arial,sans-serif;color:#404040"
    inside = "".join(f"@{place}{{content:{words};{look}}}" for place, words in boxes.items())
    yield f"@page{{size:{_inches(page.width)} {_inches(page.height)};margin:{edges};{inside}}}"
