"""An office's own Word file as the template: its styles, page, header and footer; nothing else is taken over.

The file comes from outside and is taken apart with limits. Macros, links to other places, embedded objects and
fields that fetch or run something are left out, and each omission is told.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from pathlib import Path

from lxml import etree

from specgen.files.foreign import foreign_bytes, refused
from specgen.files.package import WORD, PackageError, read_package
from specgen.model.document import Style
from specgen.render.word_office_headings import LEVELS, under_headings
from specgen.render.word_office_margin import office_margin
from specgen.render.word_package import main_part, relations, xml_part
from specgen.render.word_template import (
    CONTENTS,
    GAP,
    PLACES,
    SOFT,
    STRONG,
    STYLES,
    TABLE,
    Margin,
    Page,
    Template,
    base_parts,
    base_template,
    look_of,
    margin_of,
    page_of,
    serialised,
    style_ids,
    style_name,
)
from specgen.render.word_xml import VAL, qualified

_NUMBERING = "word/numbering.xml"
_BEHIND_PARAGRAPH = ("rPr", "tblPr", "trPr", "tcPr", "tblStylePr")
_BEHIND_OUTLINE = ("divId", "cnfStyle", "rPr", "sectPr", "pPrChange")
# Where an office has no style of our name, one of Word's own that means the same.
_OTHERWISE = {
    Style.TITLE.value: "Title",
    Style.SUBTITLE.value: "Subtitle",
    Style.HEADING.value: "heading 1",
    Style.SUBHEADING.value: "heading 2",
    Style.BODY.value: "Body Text",
    Style.BULLET.value: "List Bullet",
    TABLE: "Table Grid",
}
_WANTED = (*(style.value for style in Style), STRONG, SOFT, TABLE, GAP, CONTENTS, "header", "footer")
_LEFT_OUT = {
    "vbaProject": "macros are left out",
    "attachedTemplate": "the link to an attached template is left out",
    "customXml": "custom XML data are left out",
    "glossaryDocument": "building blocks are left out",
    "oleObject": "embedded objects are left out",
    "package": "embedded files are left out",
    "control": "embedded controls are left out",
    "aFChunk": "imported text is left out",
    "subDocument": "subdocuments are left out",
}


@dataclass(frozen=True, slots=True)
class StyleUse:
    """One style that the documents need: what the office file gives for it; "" where specgen's own is put in."""

    wanted: str
    used: str


@dataclass(frozen=True, slots=True)
class OfficeTemplate:
    """An office file as a template, and what was made of it."""

    template: Template
    styles: tuple[StyleUse, ...]
    places: tuple[str, ...]  # the places for words found in header and footer
    notes: tuple[str, ...]


def load_office_template(path: Path) -> OfficeTemplate:
    """Read an office's Word file.

    Raises:
        InputError: the file cannot be read or used.
    """
    try:
        return office_template(foreign_bytes(path, WORD.file, "a Word file", "take pictures out"))
    except PackageError as error:
        raise refused(path, str(error), error.fix) from None
    except ValueError as error:
        raise refused(path, str(error), "mend the file in Word and save it") from None


def office_template(data: bytes) -> OfficeTemplate:
    """The bytes of a .docx, .dotx, .docm or .dotm file as a template.

    Raises:
        PackageError: not a Word file, larger than the limits, or one whose XML declares entities.
        ValueError: a page without room for text, or numbers that are none.
    """
    parts = read_package(data)
    main, document = main_part(parts)
    notes = list(_omissions(parts))
    page = page_of(document)
    targets = {one.kind: one.target for one in relations(parts, main) if not one.external}
    styles, uses = _merged_styles(xml_part(parts, targets.get("styles", STYLES)))
    named = _renamed(styles, uses)
    ids = style_ids(named)
    numbering = _merged_numbering(parts, targets.get("numbering", ""), styles, ids)
    static = dict(base_template().parts)
    static |= {STYLES: serialised(styles), _NUMBERING: serialised(numbering)}
    if (theme := targets.get("theme", "")) in parts:
        static["word/theme1.xml"] = serialised(xml_part(parts, theme))
    margins = [_margin(kind, parts, main, document, page, ids, notes) for kind in ("header", "footer")]
    found = margins[0].names | margins[1].names
    missing = [place for place in PLACES if place not in found]
    if missing:
        notes.append("header and footer have no place for: " + ", ".join(f"{{{one}}}" for one in missing))
    template = Template(static, look_of(named, numbering), page, margins[0], margins[1], own_page=True)
    places = tuple(place for place in PLACES if place in found)
    return OfficeTemplate(template, tuple(StyleUse(one, uses[one]) for one in _WANTED), places, tuple(notes))


def _omissions(parts: Mapping[str, bytes]) -> Iterator[str]:
    """What the file holds and the documents will not, each once."""
    omitted = set()
    for listed in sorted(name for name in parts if name.endswith(".rels")):
        folder, _, last = listed.rpartition("/")
        owner = f"{folder.removesuffix('_rels')}{last.removesuffix('.rels')}"
        for one in relations(parts, owner):
            words = _LEFT_OUT.get(one.kind, "")
            if one.external and one.kind != "attachedTemplate":
                words = f"a link to another place ({one.kind}) is left out"
            if words:
                omitted.add(words)
    if any(name.lower().endswith("vbaproject.bin") for name in parts):
        omitted.add(_LEFT_OUT["vbaProject"])
    yield from sorted(omitted)


def _merged_styles(office: etree._Element) -> tuple[etree._Element, dict[str, str]]:
    """The office's styles with those it lacks put in; and by wanted name the office's own, "" where put in."""
    _with_defaults(office)
    base = xml_part(base_parts(), STYLES)
    known = _by_any_name(office)
    ours = {style_name(style): style for style in _styles(base)}
    uses: dict[str, str] = {}
    ids: dict[str, str] = {}  # id in the base template → id in the merged styles
    put_in = []
    for wanted in _WANTED:
        kind = ours[wanted].get(qualified("type"))
        for name in (wanted, _OTHERWISE.get(wanted, "")):
            found = known.get(name)
            if found and found[1].get(qualified("type")) == kind:
                uses[wanted] = found[0]
                ids[_id(ours[wanted])] = _id(found[1])
                _take_over_duties(found[1], ours[wanted])
                break
        else:
            uses[wanted] = ""
            put_in.append(deepcopy(ours[wanted]))
    taken = {_id(style) for style in _styles(office)}
    for style in put_in:
        new = _free(_id(style), taken)
        taken.add(new)
        ids[_id(style)] = new
    for kind in ("paragraph", "character", "table"):
        ids |= {_id(one): _default_id(office, kind) for one in _styles(base) if _is_default(one, kind)}
    # Until it stands under a heading, one of ours that is put in stands on what the office's words stand on.
    ids |= {_id(ours[f"heading {level}"]): _default_id(office, "paragraph") for level in LEVELS.values()}
    for style in put_in:
        style.set(qualified("styleId"), ids[_id(style)])
        for name in ("basedOn", "next"):
            _point_anew(style, name, ids)
        office.append(style)
    by_name = {style_name(style): style for style in _styles(office)}
    heads = {use: by_name[uses[use.value] or use.value] for use in LEVELS}
    under_headings(office, heads, {level: ours[f"heading {level}"] for level in LEVELS.values()})
    return office, uses


def _take_over_duties(style: etree._Element, ours: etree._Element) -> None:
    """A heading stays with what follows it and has a level for the contents, whatever it looks like."""
    for name in ("keepNext", "outlineLvl"):
        duty = ours.find(f"{qualified('pPr')}/{qualified(name)}")
        properties = paragraph_properties(style) if duty is not None else None
        if duty is None or properties is None or properties.find(qualified(name)) is not None:
            continue
        behind = [one for one in properties if etree.QName(one).localname in _BEHIND_OUTLINE]
        end = properties.index(behind[0]) if behind else len(properties)
        properties.insert(0 if name == "keepNext" else end, deepcopy(duty))


def paragraph_properties(style: etree._Element) -> etree._Element:
    """The paragraph properties of a style, made if it has none."""
    properties = style.find(qualified("pPr"))
    if properties is None:
        properties = etree.Element(qualified("pPr"))
        behind = [one for one in style if etree.QName(one).localname in _BEHIND_PARAGRAPH]
        style.insert(style.index(behind[0]) if behind else len(style), properties)
    return properties


def _by_any_name(styles: etree._Element) -> dict[str, tuple[str, etree._Element]]:
    """The styles by name, and by the wanted name where that differs in capitals alone."""
    twins = [name for name in _WANTED if [one.casefold() for one in _WANTED].count(name.casefold()) > 1]
    found = [(style_name(style), style) for style in _styles(styles)]
    known = {name: (name, style) for name, style in found}
    for name, style in found:
        for wanted in (*_WANTED, *_OTHERWISE.values()):
            if wanted.casefold() == name.casefold() and wanted not in twins:
                known.setdefault(wanted, (name, style))
    return known


def _point_anew(style: etree._Element, name: str, ids: Mapping[str, str]) -> None:
    reference = style.find(qualified(name))
    if reference is None:
        return
    target = ids.get(str(reference.get(VAL)), "")
    if target:
        reference.set(VAL, target)
    else:
        style.remove(reference)


def _styles(root: etree._Element) -> list[etree._Element]:
    return list(root.iterchildren(qualified("style")))


def _id(style: etree._Element) -> str:
    return str(style.get(qualified("styleId")))


def _is_default(style: etree._Element, kind: str) -> bool:
    return style.get(qualified("type")) == kind and style.get(qualified("default")) in ("1", "true", "on")


def _default_id(styles: etree._Element, kind: str) -> str:
    return next((_id(one) for one in _styles(styles) if _is_default(one, kind)), "")


def _free(wanted: str, taken: set[str]) -> str:
    number, name = 1, wanted
    while name in taken:
        number += 1
        name = f"{wanted}{number}"
    return name


def _with_defaults(styles: etree._Element) -> None:
    """Give the styles a place for the document's language where they have none."""
    holder = styles
    for at, name in enumerate(("docDefaults", "rPrDefault", "rPr")):
        found = holder.find(qualified(name))
        if found is None:
            found = etree.Element(qualified(name))
            holder.insert(0, found)
        if at == 2 and found.find(qualified("lang")) is None:
            etree.SubElement(found, qualified("lang"))
        holder = found


def _renamed(styles: etree._Element, uses: Mapping[str, str]) -> etree._Element:
    """A copy of the styles in which each bears the name that the documents know it by."""
    copy = deepcopy(styles)
    by_name = {style_name(style): style for style in _styles(copy)}
    aliases = etree.Element(styles.tag)
    for wanted in _WANTED:
        style = deepcopy(by_name[uses[wanted] or wanted])
        name = style.find(qualified("name"))
        if name is not None:
            name.set(VAL, wanted)
        aliases.append(style)
    return aliases


def _merged_numbering(
    parts: Mapping[str, bytes], name: str, styles: etree._Element, ids: Mapping[str, str]
) -> etree._Element:
    """The office's lists with the section list and the bullets behind them; the list styles point at those.

    The numbers are specgen's own, since checklist and letters name paragraphs by them.
    """
    ours = xml_part(base_parts(), _NUMBERING)
    office = xml_part(parts, name) if name in parts else etree.Element(ours.tag)
    for bullet in office.findall(qualified("numPicBullet")):
        office.remove(bullet)
    for reference in list(office.iter(qualified("lvlPicBulletId"))):
        holder = reference.getparent()
        if holder is not None:
            holder.remove(reference)
    base_ids = {value: key for key, value in style_ids(xml_part(base_parts(), STYLES)).items()}
    by_id = {_id(style): style for style in _styles(styles)}
    abstracts, nums = office.findall(qualified("abstractNum")), office.findall(qualified("num"))
    last = max(
        [0]
        + [int(one.get(qualified("abstractNumId"), "0")) for one in abstracts]
        + [int(one.get(qualified("numId"), "0")) for one in nums]
    )
    at = len(abstracts)
    for number, abstract in enumerate(ours.findall(qualified("abstractNum")), start=1):
        abstract.set(qualified("abstractNumId"), str(last + number))
        for level in abstract.iter(qualified("lvl")):
            linked = level.find(qualified("pStyle"))
            if linked is None:
                continue
            wanted = base_ids[str(linked.get(VAL))]
            linked.set(VAL, ids[wanted])
            _point_at_list(by_id[ids[wanted]], level, last + number, office)
        office.insert(at, abstract)
        at += 1
    for number, num in enumerate(ours.findall(qualified("num")), start=1):
        num.set(qualified("numId"), str(last + number))
        holder = num.find(qualified("abstractNumId"))
        if holder is not None:
            holder.set(VAL, str(last + number))
        office.insert(at + len(nums) + number - 1, num)
    return office


def _point_at_list(style: etree._Element, level: etree._Element, number: int, office: etree._Element) -> None:
    """Link a style to a level of our list; where the office's own list indents it, its indent is kept."""
    properties = paragraph_properties(style)
    old = properties.find(qualified("numPr"))
    indent = _office_indent(old, office)
    if indent is not None:
        own = level.find(f"{qualified('pPr')}/{qualified('ind')}")
        if own is not None:
            own.attrib.clear()
            own.attrib.update({str(key): str(value) for key, value in indent.attrib.items()})
    new = etree.Element(qualified("numPr"))
    etree.SubElement(new, qualified("ilvl")).set(VAL, str(level.get(qualified("ilvl"))))
    etree.SubElement(new, qualified("numId")).set(VAL, str(number))
    if old is not None:
        properties.replace(old, new)
        return
    before = ("pStyle", "keepNext", "keepLines", "pageBreakBefore", "framePr", "widowControl")
    place = sum(1 for one in properties if etree.QName(one).localname in before)
    properties.insert(place, new)


def _office_indent(link: etree._Element | None, office: etree._Element) -> etree._Element | None:
    """The indent of the level of the office's list that a style is linked to."""
    if link is None:
        return None

    def value(name: str) -> str:
        found = link.find(qualified(name))
        return "0" if found is None else str(found.get(VAL))

    for num in office.findall(qualified("num")):
        holder = num.find(qualified("abstractNumId"))
        if num.get(qualified("numId")) != value("numId") or holder is None:
            continue
        for abstract in office.findall(qualified("abstractNum")):
            if abstract.get(qualified("abstractNumId")) == holder.get(VAL):
                for level in abstract.findall(qualified("lvl")):
                    if level.get(qualified("ilvl")) == value("ilvl"):
                        return level.find(f"{qualified('pPr')}/{qualified('ind')}")
    return None


def _margin(
    kind: str,
    parts: Mapping[str, bytes],
    main: str,
    document: etree._Element,
    page: Page,
    ids: Mapping[str, str],
    notes: list[str],
) -> Margin:
    """The office's header or footer of ordinary pages, or specgen's own where it has none."""
    section = document.findall(f".//{qualified('sectPr')}")[-1]
    wanted = {
        str(one.get("{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"))
        for one in section.findall(qualified(f"{kind}Reference"))
        if one.get(qualified("type"), "default") == "default"
    }
    name = next((one.target for one in relations(parts, main) if one.id in wanted and not one.external), "")
    if name in parts:
        return office_margin(parts, name, kind, page, notes)
    notes.append(f"the file has no {kind} of ordinary pages: specgen's own is used")
    root = xml_part(base_parts(), f"word/{kind}1.xml")
    for reference in root.iter(qualified("pStyle")):
        reference.set(VAL, ids[kind])
    return margin_of(root, base_template().page)
