"""Headings of an office's Word file: each style that heads something descends from the built-in heading of its level.

By that the navigation pane, a converter and a screen reader know a heading. What the style looks like stays: what it
had from the styles it was based on moves into it, and what the built-in heading would add to its look is undone in it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from copy import deepcopy

from lxml import etree

from specgen.model.document import Style
from specgen.render.word_xml import VAL, qualified

LEVELS: Mapping[Style, int] = {
    Style.SECTION_TITLE: 1,
    Style.PART: 2,
    Style.ARTICLE: 3,
    Style.HEADING: 1,
    Style.SUBHEADING: 2,
}
_IN_LIST = (Style.SECTION_TITLE, Style.PART, Style.ARTICLE)
# In the order that the format wants; an element of neither list stands behind them.
_PARAGRAPH = (
    *("pStyle", "keepNext", "keepLines", "pageBreakBefore", "framePr", "widowControl", "numPr"),
    *("suppressLineNumbers", "pBdr", "shd", "tabs", "suppressAutoHyphens", "kinsoku", "wordWrap"),
    *("overflowPunct", "topLinePunct", "autoSpaceDE", "autoSpaceDN", "bidi", "adjustRightInd", "snapToGrid"),
    *("spacing", "ind", "contextualSpacing", "mirrorIndents", "suppressOverlap", "jc", "textDirection"),
    *("textAlignment", "textboxTightWrap", "outlineLvl", "divId", "cnfStyle"),
)
_LETTERS = (
    *("rStyle", "rFonts", "b", "bCs", "i", "iCs", "caps", "smallCaps", "strike", "dstrike", "outline"),
    *("shadow", "emboss", "imprint", "noProof", "snapToGrid", "vanish", "webHidden", "color", "spacing", "w"),
    *("kern", "position", "sz", "szCs", "highlight", "u", "effect", "bdr", "shd", "fitText", "vertAlign"),
    *("rtl", "cs", "em", "lang", "eastAsianLayout", "specVanish", "oMath"),
)
_BY_ATTRIBUTE = ("spacing", "ind", "rFonts", "lang")  # inherited value by value
# What a property is where nothing sets it; an attribute of lengths is 0, and whatever else is on or off is off.
_NEUTRAL = {
    "color": "auto", "w": "100", "sz": "20", "szCs": "20", "highlight": "none", "u": "none", "effect": "none",
    "vertAlign": "baseline", "em": "none", "jc": "left", "textAlignment": "auto", "textDirection": "lrTb",
    "textboxTightWrap": "none",
}  # fmt: skip
_NEUTRAL_ATTRIBUTE = {"line": "240", "lineRule": "auto"}
_SLOTS = {one.lower(): one for one in ("ascii", "hAnsi", "eastAsia", "cs")}
_FONT = "Times New Roman"  # of a file that names none
_KEPT = (
    "pStyle",
    "keepNext",
    "keepLines",
    "outlineLvl",
    "framePr",
    "lang",
    "rStyle",
)  # no look, or no way back
_Found = dict[str, etree._Element]


def under_headings(
    styles: etree._Element, heads: Mapping[Style, etree._Element], built_in: Mapping[int, etree._Element]
) -> None:
    """Let each style that heads something descend from a built-in heading.

    Args:
        styles: the merged styles of the office; built-in headings that it lacks are put in.
        heads: by use, the style of the office or the one put in.
        built_in: headings of no look of their own, by level, to put in.
    """
    for use, level in LEVELS.items():
        style = heads[use]
        if any(_heading_level(one) for one in _chain(styles, style)):
            continue
        heading = next((one for one in _all(styles) if _heading_level(one) == level), None)
        if heading is None:
            heading = _put_in(styles, built_in[level])
        _rebase(styles, style, heading, indented=use in _IN_LIST)


def _heading_level(style: etree._Element) -> int:
    """1 to 9 for a built-in heading; 0 for any other style."""
    name = style.find(qualified("name"))
    words = ("" if name is None else str(name.get(VAL))).casefold().split()
    known = len(words) == 2 and words[0] == "heading" and words[1] in "123456789" and len(words[1]) == 1
    return int(words[1]) if known and style.get(qualified("type")) == "paragraph" else 0


def _all(styles: etree._Element) -> Iterator[etree._Element]:
    return styles.iterchildren(qualified("style"))


def _id(style: etree._Element) -> str:
    return str(style.get(qualified("styleId")))


def _chain(styles: etree._Element, style: etree._Element) -> Iterator[etree._Element]:
    """A style and those it is based on, as far as they go."""
    by_id = {_id(one): one for one in _all(styles)}
    seen: set[str] = set()
    at: etree._Element | None = style
    while at is not None and _id(at) not in seen:
        yield at
        seen.add(_id(at))
        below = at.find(qualified("basedOn"))
        at = by_id.get("" if below is None else str(below.get(VAL)))


def _put_in(styles: etree._Element, heading: etree._Element) -> etree._Element:
    new = deepcopy(heading)
    taken = {_id(one) for one in _all(styles)}
    name, number = _id(new), 1
    while _id(new) in taken:
        number += 1
        new.set(qualified("styleId"), f"{name}x{number}")
    default = next((_id(one) for one in _all(styles) if _is_default(one)), "")
    for way in ("basedOn", "next"):
        link = new.find(qualified(way))
        if link is not None and default:
            link.set(VAL, default)
        elif link is not None:
            new.remove(link)
    styles.append(new)
    return new


def _is_default(style: etree._Element) -> bool:
    return style.get(qualified("type")) == "paragraph" and style.get(qualified("default")) in (
        "1", "true", "on",
    )  # fmt: skip


def _rebase(
    styles: etree._Element, style: etree._Element, heading: etree._Element, *, indented: bool
) -> None:
    """Base a style on a heading, and state in it whatever would look otherwise by that.

    Where the list of the sections indents the style, the indents of those it is based on do not count.
    """
    old, new = list(_chain(styles, style)), list(_chain(styles, heading))
    for holder, default, order in (
        ("pPr", "pPrDefault", _PARAGRAPH),
        ("rPr", "rPrDefault", _LETTERS),
    ):
        own, added, stated = (_merged(one, holder) for one in (old, new, [style]))
        if indented:
            own = {name: one for name, one in own.items() if name != "ind"} | {
                name: one for name, one in stated.items() if name == "ind"
            }
            added.pop("ind", None)
        base = styles.find("/".join(map(qualified, ("docDefaults", default, holder))))
        basic = {} if base is None else {_local(one): one for one in base}
        for name, element in added.items():
            if name not in _KEPT and name in order:
                _undo(own, name, element, basic.get(name))
        same = [one for one in own if one not in stated and one in added and _equal(own[one], added[one])]
        _state(style, holder, {name: one for name, one in own.items() if name not in same}, order)
    link = style.find(qualified("basedOn"))
    if link is None:
        link = etree.Element(qualified("basedOn"))
        before = [one for one in style if _local(one) in ("name", "aliases")]
        style.insert(style.index(before[-1]) + 1 if before else 0, link)
    link.set(VAL, _id(heading))


def _merged(chain: list[etree._Element], holder: str) -> _Found:
    """The properties that a style has by itself and by all it is based on."""
    found: _Found = {}
    for style in reversed(chain):
        properties = style.find(qualified(holder))
        for one in properties if properties is not None else ():
            name = _local(one)
            new = deepcopy(one)
            if name in _BY_ATTRIBUTE and name in found:
                for key, value in found[name].attrib.items():
                    if key not in new.attrib:
                        new.set(str(key), str(value))
            elif name == "tabs" and name in found:
                at = {tab.get(qualified("pos")) for tab in new}
                new.extend(deepcopy(tab) for tab in found[name] if tab.get(qualified("pos")) not in at)
            found[name] = new
    return found


def _undo(own: _Found, name: str, added: etree._Element, basic: etree._Element | None) -> None:
    """State a property as it was before a heading adds its own."""
    if name in _BY_ATTRIBUTE:
        new = own.setdefault(name, etree.Element(added.tag))
        for key in added.attrib:
            if key not in new.attrib and not (name == "rFonts" and _same_slot(key, new)):
                _as_before(new, name, key, basic)
    elif name in own:
        return
    elif basic is not None:
        own[name] = deepcopy(basic)
    elif name == "numPr":
        own[name] = etree.Element(added.tag)
        etree.SubElement(own[name], qualified("numId")).set(VAL, "0")
    elif name in ("pBdr", "tabs"):
        own[name] = deepcopy(added)
        for side in own[name]:
            side.set(VAL, "clear" if name == "tabs" else "nil")
    elif name in ("shd", "bdr"):
        own[name] = etree.Element(added.tag)
        own[name].set(VAL, "clear" if name == "shd" else "nil")
        if name == "shd":
            own[name].set(qualified("color"), "auto")
            own[name].set(qualified("fill"), "auto")
    else:
        own[name] = etree.Element(added.tag)
        own[name].set(VAL, _NEUTRAL.get(name, "0"))


def _same_slot(key: object, fonts: etree._Element) -> bool:
    """Whether the letters that an attribute is about have a font by another attribute, a theme's or a name."""
    slot = _slot(key)
    return any(_slot(one) == slot for one in fonts.attrib)


def _slot(key: object) -> str:
    return etree.QName(str(key)).localname.lower().removesuffix("theme")


def _as_before(new: etree._Element, name: str, key: object, basic: etree._Element | None) -> None:
    wanted, local = str(key), etree.QName(str(key)).localname
    if basic is not None and (held := basic.get(wanted)) is not None:
        new.set(wanted, str(held))
    elif name == "rFonts":
        alike = () if basic is None else (one for one in basic.attrib.items() if _slot(one[0]) == _slot(key))
        named = {str(one): str(value) for one, value in alike}
        if not named and (slot := _SLOTS.get(_slot(key))):
            named = {qualified(slot): _FONT}
        for one, value in named.items():
            new.set(one, value)
    else:
        new.set(wanted, _NEUTRAL_ATTRIBUTE.get(local, "0"))


def _state(style: etree._Element, holder: str, own: _Found, order: tuple[str, ...]) -> None:
    """Write the properties into a style, in the order of the format."""
    old = style.find(qualified(holder))
    if not own and old is None:
        return
    new = etree.Element(qualified(holder))
    for name in (*(one for one in order if one in own), *(one for one in own if one not in order)):
        new.append(own[name])
    if old is not None:
        style.replace(old, new)
        return
    behind = ("tblPr", "trPr", "tcPr", "tblStylePr", *(("rPr",) if holder == "pPr" else ()))
    place = [one for one in style if _local(one) in behind]
    style.insert(style.index(place[0]) if place else len(style), new)


def _equal(one: etree._Element, other: etree._Element) -> bool:
    return etree.tostring(one, method="c14n") == etree.tostring(other, method="c14n")


def _local(node: etree._Element) -> str:
    return etree.QName(node).localname
