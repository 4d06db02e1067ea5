"""An office's header or footer: its pictures and plain fields kept, everything that reaches outside taken out."""

from __future__ import annotations

import re
from collections.abc import Mapping
from copy import deepcopy

from lxml import etree

from specgen.render.word_package import PICTURE_TYPES, relations, relations_part, xml_part
from specgen.render.word_template import Margin, Page, margin_of, parent_of
from specgen.render.word_xml import qualified

_R = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
# Fields that read nothing but the document itself.
_PLAIN_FIELDS = frozenset(
    ["PAGE", "NUMPAGES", "SECTION", "SECTIONPAGES", "STYLEREF", "TITLE", "SUBJECT", "DOCPROPERTY", "FILENAME"]
)
_BEGINS = {b"\x89PNG": "png", b"\xff\xd8\xff": "jpeg", b"GIF8": "gif"}
_SHOWING = ("drawing", "pict", "object")
_DROPPED = ("object", "altChunk", "commentReference", "control", "subDoc", "movie", "footnoteReference")
_PLACE = re.compile(r"\{(?:header left|header right|footer left|page)\}")


def office_margin(parts: Mapping[str, bytes], name: str, kind: str, page: Page, notes: list[str]) -> Margin:
    """Read one part; what is taken out is added to ``notes``.

    Raises:
        PackageError: the part is not XML or declares a document type.
    """
    root = xml_part(parts, name)
    kept: dict[str, tuple[str, str]] = {}
    files: dict[str, bytes] = {}
    for one in relations(parts, name):
        content = parts.get(one.target, b"")
        ending = next((end for begin, end in _BEGINS.items() if content.startswith(begin)), "")
        if one.external or one.kind != "image" or ending not in PICTURE_TYPES:
            continue
        target = f"media/office-{kind}{len(kept) + 1}.{ending}"
        kept[one.id] = ("image", target)
        files[f"word/{target}"] = content
    _drop(root, kept, kind, notes)
    _plain_fields(root, kind, notes)
    for paragraph in root.iter(qualified("p")):
        _join_places(paragraph)
    if kept:
        files[""] = relations_part(kept)
    return margin_of(root, page, files)


def _drop(root: etree._Element, kept: Mapping[str, object], kind: str, notes: list[str]) -> None:
    """Take out what is embedded or linked; the words of a link stay."""
    gone = False
    for node in list(root.iter(*(qualified(name) for name in _DROPPED))):
        parent_of(node).remove(node)
        gone = True
    for node in list(root.iter(etree.Element)):
        missing = [key for key, value in node.attrib.items() if str(key).startswith(_R) and value not in kept]
        if not missing:
            continue
        gone = True
        holder = next((one for one in (node, *node.iterancestors()) if _local(one) in _SHOWING), None)
        if holder is not None:
            if holder.getparent() is not None:
                parent_of(holder).remove(holder)
        elif _local(node) == "hyperlink":
            for child in list(node):
                node.addprevious(child)
            parent_of(node).remove(node)
        else:
            for key in missing:
                del node.attrib[key]
    if gone:
        notes.append(f"a link, an embedded object or a picture of an unknown kind in the {kind} is left out")


def _local(node: etree._Element) -> str:
    return etree.QName(node).localname if isinstance(node.tag, str) else ""


def _plain_fields(root: etree._Element, kind: str, notes: list[str]) -> None:
    """Leave of a field that reads from elsewhere only what it shows."""
    foreign = [code for code in _codes(root) if not _plain(code)]
    if foreign:
        for node in list(root.iter(qualified("instrText"), qualified("fldChar"))):
            parent_of(node).remove(node)
    for node in list(root.iter(qualified("fldSimple"))):
        code = str(node.get(qualified("instr"), ""))
        if not _plain(code):
            foreign.append(code)
            for child in list(node):
                node.addprevious(child)
            parent_of(node).remove(node)
    if foreign:
        notes.append(f"a field in the {kind} that reads from elsewhere is left out, its text is kept")


def _plain(code: str) -> bool:
    words = code.split()
    return bool(words) and words[0].upper() in _PLAIN_FIELDS


def _codes(root: etree._Element) -> list[str]:
    """The codes of the fields, each put together from its runs; one inside another stands by itself."""
    done: list[str] = []
    open_codes: list[str] = []
    for node in root.iter(qualified("instrText"), qualified("fldChar")):
        kind = node.get(qualified("fldCharType"))
        if kind == "begin":
            open_codes.append("")
        elif kind is None:
            open_codes[-1:] = [(open_codes[-1] if open_codes else "") + (node.text or "")]
        elif kind == "end" and open_codes:
            done.append(open_codes.pop())
    return done + open_codes


def _join_places(paragraph: etree._Element) -> None:
    """Give each place a run of its own; Word splits words over runs as it likes."""
    words = "".join(node.text or "" for node in paragraph.iter(qualified("t")))
    if not _PLACE.search(words):
        return
    for whole in list(paragraph.iter(qualified("r"))):
        _one_child_each(whole)
    for match in reversed(list(_PLACE.finditer(words))):
        _cut_out(list(paragraph.iter(qualified("t"))), match.start(), match.end(), match[0])


def _one_child_each(whole: etree._Element) -> None:
    look = whole.find(qualified("rPr"))
    content = [child for child in whole if child is not look]
    for child in content[1:]:
        new = etree.Element(whole.tag)
        if look is not None:
            new.append(deepcopy(look))
        new.append(child)
        parent_of(whole).insert(parent_of(whole).index(whole) + content.index(child), new)


def _cut_out(texts: list[etree._Element], start: int, end: int, place: str) -> None:
    at = 0
    first: etree._Element | None = None
    for node in texts:
        words = node.text or ""
        begin, stop = max(start - at, 0), min(end - at, len(words))
        at += len(words)
        if begin >= stop:
            continue
        if first is None:
            first = node
            for piece in (words[stop:], place):
                if piece:
                    new = deepcopy(parent_of(node))
                    _set(new.find(qualified("t")), piece)
                    parent_of(node).addnext(new)
            _set(node, words[:begin])
        else:
            _set(node, words[stop:])


def _set(node: etree._Element | None, words: str) -> None:
    if node is not None:
        node.text = words
        node.set("{http://www.w3.org/XML/1998/namespace}space", "preserve")
