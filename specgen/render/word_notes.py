"""What a person wrote beside the words of a Word file: comments and tracked changes, and the paragraphs they are on.

They are read from a file that somebody worked on, and written as comments into a marked copy, at the paragraph that
says the same.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from lxml import etree

from specgen.files.package import read_package
from specgen.model.document import Block, Para, Table
from specgen.render.word_package import main_part, relations, xml_part
from specgen.render.word_xml import XML_HEAD, attribute, legal, qualified

_DATE = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(?:Z|[+-]\d{2}:\d{2})?")
_LONGEST = 255  # characters of the name of an author
_IN = ("ins", "moveTo")
_OUT = ("del", "moveFrom")
_WORDS = {"ins": "inserted", "moveTo": "moved here", "del": "deleted", "moveFrom": "moved away"}
_NAMESPACE = qualified("p").partition("}")[0].removeprefix("{")


@dataclass(frozen=True, slots=True)
class PersonNote:
    """A comment of a person, or what one changed with the changes tracked, in words."""

    author: str
    initials: str
    date: str  # as Word writes it; "" where it states none that is one
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NotedParagraph:
    """A paragraph as it was before its tracked changes, with the notes on it."""

    text: str
    notes: tuple[PersonNote, ...]


def noted_paragraphs(data: bytes, ours: str = "") -> tuple[NotedParagraph, ...]:
    """Every paragraph of a Word file with the notes on it, cells of tables too.

    Args:
        data: the file.
        ours: an author whose tracked changes are none of a person.

    Raises:
        PackageError: not a Word file.
    """
    parts = read_package(data)
    main, document = main_part(parts)
    listed = next((one.target for one in relations(parts, main) if one.kind == "comments"), "")
    comments = _comments(xml_part(parts, listed)) if listed in parts else {}
    out = []
    for paragraph in document.iter(qualified("p")):
        ids = [one.get(qualified("id"), "") for one in paragraph.iter(qualified("commentReference"))]
        found = tuple(comments[one] for one in ids if one in comments)
        out.append(NotedParagraph(_before(paragraph), (*found, *_tracked(paragraph, ours))))
    return tuple(out)


def _comments(root: etree._Element) -> dict[str, PersonNote]:
    found = {}
    for one in root.iterchildren(qualified("comment")):
        lines = tuple(_now(paragraph) for paragraph in one.iter(qualified("p")))
        found[one.get(qualified("id"), "")] = _note(one, lines)
    return found


def _note(holder: etree._Element, lines: tuple[str, ...]) -> PersonNote:
    date = holder.get(qualified("date"), "")
    return PersonNote(
        holder.get(qualified("author"), "")[:_LONGEST],
        holder.get(qualified("initials"), "")[:_LONGEST],
        date if _DATE.fullmatch(date) else "",
        tuple(line for line in lines if line.strip()) or ("(no words)",),
    )


def _tracked(paragraph: etree._Element, ours: str) -> Iterator[PersonNote]:
    """What people changed in a paragraph with the changes tracked: one note a person."""
    holders = [
        one
        for one in paragraph.iter(*(qualified(name) for name in (*_IN, *_OUT)))
        if one.get(qualified("author"), "") != ours or not ours
    ]
    for author in dict.fromkeys(one.get(qualified("author"), "") for one in holders):
        theirs = [one for one in holders if one.get(qualified("author"), "") == author]
        lines = []
        for one in theirs:
            if words := "".join(_pieces(one)):
                lines.append(f"Tracked change, {_WORDS[_local(one)]}: {words}")
            elif _local(one.getparent()) == "rPr":
                lines.append(f"Tracked change, paragraph {_WORDS[_local(one)]}")
        if lines:
            yield _note(theirs[0], tuple(lines))


def _local(node: etree._Element | None) -> str:
    return "" if node is None else etree.QName(node).localname


def _pieces(holder: etree._Element, without: Sequence[str] = ()) -> Iterator[str]:
    """The words of a paragraph or a change, without those of some changes."""
    gone = {node for one in holder.iter(*map(qualified, without)) for node in one.iter()} if without else ()
    for node in holder.iter(*(qualified(name) for name in ("t", "delText", "tab", "br", "noBreakHyphen"))):
        if node not in gone and _local(node.getparent()) == "r":  # a tab of the style is none of the words
            yield {"tab": "\t", "br": "\n", "noBreakHyphen": "-"}.get(_local(node), node.text or "")


def _before(paragraph: etree._Element) -> str:
    """The words as they were before the tracked changes."""
    return "".join(_pieces(paragraph, _IN))


def _now(paragraph: etree._Element) -> str:
    return "".join(_pieces(paragraph, _OUT))


def placed(blocks: Sequence[Block], noted: Sequence[NotedParagraph]) -> dict[int, tuple[PersonNote, ...]]:
    """The notes by the paragraph of a document that they are on, its place among the blocks.

    A note on a cell goes to the paragraph above its table, one on a paragraph that the document does not have to the
    one above it: none is lost.
    """
    lines = list(_lines(blocks))
    if not lines:
        return {}
    out: dict[int, tuple[PersonNote, ...]] = {}
    theirs = [one.text for one in noted]
    matcher = SequenceMatcher(None, [text for text, _ in lines], theirs, autojunk=False)
    for _, old_from, old_to, new_from, new_to in matcher.get_opcodes():
        for at in range(new_from, new_to):
            inside = min(old_from + at - new_from, old_to - 1) if old_to > old_from else old_from - 1
            index = lines[max(inside, 0)][1]
            if noted[at].notes:
                out[index] = (*out.get(index, ()), *noted[at].notes)
    return out


def _lines(blocks: Sequence[Block]) -> Iterator[tuple[str, int]]:
    """The words of each paragraph and cell, with the place of the paragraph that notes on it go to."""
    last = next((at for at, block in enumerate(blocks) if isinstance(block, Para)), None)
    if last is None:
        return
    for at, block in enumerate(blocks):
        if isinstance(block, Para):
            last = at
            yield block.text, at
        elif isinstance(block, Table):
            yield from ((cell, last) for row in (block.header, *block.rows) for cell in row)


def comments_part(notes: Mapping[int, PersonNote]) -> bytes:
    """The part that holds comments, by their numbers."""
    written = []
    for number, one in notes.items():
        date = f' w:date="{one.date}"' if one.date else ""
        initials = f' w:initials="{attribute(one.initials)}"' if one.initials else ""
        lines = "".join(
            f'<w:p><w:r><w:t xml:space="preserve">{html.escape(legal(line), quote=False)}</w:t></w:r></w:p>'
            for line in one.lines
        )
        written.append(
            f'<w:comment w:id="{number}" w:author="{attribute(one.author)}"{date}{initials}>{lines}</w:comment>'
        )
    return f'{XML_HEAD}<w:comments xmlns:w="{_NAMESPACE}">{"".join(written)}</w:comments>'.encode()


def commented(runs: str, numbers: Sequence[int]) -> str:
    """The runs of a paragraph with comments on all of them."""
    start = "".join(f'<w:commentRangeStart w:id="{one}"/>' for one in numbers)
    end = "".join(
        f'<w:commentRangeEnd w:id="{one}"/><w:r><w:commentReference w:id="{one}"/></w:r>' for one in numbers
    )
    return f"{start}{runs}{end}"
