"""A marked copy: what changed between two issues of a document, as Word's own insertions and deletions."""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from specgen.model.document import Block, CrossRef, Document, Inline, Para, Style, Table
from specgen.render.word import WordFile
from specgen.render.word_blocks import (
    Writing,
    column_widths,
    content_runs,
    refuse_misfit,
    row_xml,
    table_frame,
)
from specgen.render.word_notes import NotedParagraph, PersonNote, commented, comments_part, placed
from specgen.render.word_references import bookmarked, reference_runs
from specgen.render.word_template import Template, base_template
from specgen.render.word_xml import attribute, run

_WORD = re.compile(r"\s+|\S+")
AUTHOR = "specgen"


def marked_bytes(
    old: Document,
    new: Document,
    template: Template | None = None,
    noted: Sequence[NotedParagraph] = (),
) -> bytes:
    """Write ``new`` with its changes since ``old`` marked, as a .docx file.

    A paragraph is the same one while it keeps its key, or, where it has none, its words; inside it the words are
    compared. Accepting all changes gives the new document, rejecting all the old one; the numbers are counted by
    Word, which counts deleted paragraphs too while it shows them.

    Args:
        old: the document as issued before.
        new: as it is issued now.
        template: the look; that of specgen if not given.
        noted: the paragraphs of a file that somebody worked on: comments and tracked changes stand at the same
            paragraphs of the copy.

    Raises:
        ValueError: as for :func:`specgen.render.word.word_bytes`.
    """
    file = WordFile(template or base_template(), (new,), new.properties)
    marker = _Marker(file.writing(0), new.properties.issue_date, placed(old.blocks, noted))
    elements = marker.elements(old.blocks, new.blocks)
    if marker.comments:
        file.add_part("comments", comments_part(marker.comments))
    return file.bound([file.section(0, elements=elements)])


@dataclass(frozen=True, slots=True)
class _Token:
    """One word, run of blanks, or reference of a paragraph."""

    text: str
    emphasis: str
    key: str = ""  # of a reference: its number may change without a change of the text

    @property
    def same(self) -> Hashable:
        return (self.key, self.emphasis) if self.key else (self.text, self.emphasis)


def _tokens(content: tuple[Inline, ...]) -> list[_Token]:
    out = []
    for part in content:
        if isinstance(part, CrossRef):
            out.append(_Token(part.text, "none", part.key))
        else:
            out += [_Token(word, part.emphasis) for word in _WORD.findall(part.text)]
    return out


def _same(block: Block) -> Hashable:
    """By what a block of one issue is found in the other."""
    if isinstance(block, Para):
        return (block.style, block.key or block.text)
    return ("table", block.caption) if isinstance(block, Table) else ("picture", block.alt)


class _Marker:
    """Writes blocks with revisions; each revision has a number of its own."""

    def __init__(self, writing: Writing, date: str, notes: Mapping[int, tuple[PersonNote, ...]]) -> None:
        self._writing = writing
        self._date = date
        self._count = 0
        self._notes = notes  # of people, by the place of a paragraph in the old document
        self.comments: dict[int, PersonNote] = {}  # by number, as they are written

    def elements(self, old: tuple[Block, ...], new: tuple[Block, ...]) -> list[str]:
        """The body: blocks of both issues in order, a paragraph last."""
        out: list[str] = []
        matcher = SequenceMatcher(
            None, [_same(one) for one in old], [_same(one) for one in new], autojunk=False
        )
        for tag, old_from, old_to, new_from, new_to in matcher.get_opcodes():
            if tag == "equal":
                for offset in range(new_to - new_from):
                    pair = (old[old_from + offset], new[new_from + offset])
                    out += self._pair(*pair, new_from + offset, old_from + offset)
                continue
            for index in range(old_from, old_to):
                out += self._whole(old[index], "del", was=index)
            for index in range(new_from, new_to):
                out += self._whole(new[index], "ins", index)
        gap = f'<w:p><w:pPr><w:pStyle w:val="{self._writing.look.gap}"/></w:pPr></w:p>'
        # Tables may not touch, and a paragraph closes the body.
        spaced = [piece for one in out for piece in ((one, gap) if one.startswith("<w:tbl>") else (one,))]
        return spaced or [gap]

    def _revision(self, kind: str, content: str = "") -> str:
        self._count += 1
        attributes = f'w:id="{self._count}" w:author="{AUTHOR}" w:date="{attribute(self._date)}T00:00:00Z"'
        return f"<w:{kind} {attributes}>{content}</w:{kind}>" if content else f"<w:{kind} {attributes}/>"

    def _pair(self, old: Block, new: Block, index: int, was: int) -> Iterator[str]:
        if isinstance(old, Para) and isinstance(new, Para):
            same = old.content == new.content
            runs = content_runs(new, self._writing.look, self._writing.references) if same else ()
            words = "".join(runs) or self._compared(old, new)
            yield self._paragraph(new, self._with_notes(words, was), index)
        elif isinstance(old, Table) and isinstance(new, Table):
            yield self._table(old, new)
        else:
            yield from self._whole(new, "ins", index)

    def _with_notes(self, words: str, was: int) -> str:
        """The words of a paragraph with the comments of people on it."""
        first = len(self.comments)
        numbered = dict(enumerate(self._notes.get(was, ()), start=first))
        self.comments.update(numbered)
        return commented(words, tuple(numbered))

    def _whole(self, block: Block, kind: str, index: int = -1, was: int = -1) -> Iterator[str]:
        """A block that one issue lacks."""
        if isinstance(block, Para):
            runs = "".join(self._run(one, kind) for one in _joined(_tokens(block.content)))
            words = self._with_notes(self._revision(kind, runs), was)
            yield self._paragraph(block, words, index, kind)
        elif isinstance(block, Table):
            yield self._table(block if kind == "del" else None, block if kind == "ins" else None)

    def _paragraph(self, para: Para, words: str, index: int, kind: str = "") -> str:
        mark = f"<w:rPr>{self._revision(kind)}</w:rPr>" if kind else ""
        bookmark = self._writing.references.bookmarks.get((self._writing.document, index))
        if bookmark:
            words = bookmarked(words, bookmark)
        style_id = self._writing.look.paragraph_styles[para.style]
        return f'<w:p><w:pPr><w:pStyle w:val="{style_id}"/>{mark}</w:pPr>{words}</w:p>'

    def _compared(self, old: Para, new: Para) -> str:
        before, after = _tokens(old.content), _tokens(new.content)
        matcher = SequenceMatcher(
            None, [one.same for one in before], [one.same for one in after], autojunk=False
        )
        out = []
        for tag, old_from, old_to, new_from, new_to in matcher.get_opcodes():
            if tag == "equal":
                out += [self._run(one, "") for one in _joined(after[new_from:new_to])]
                continue
            for kind, tokens in (("del", before[old_from:old_to]), ("ins", after[new_from:new_to])):
                if tokens:
                    out.append(self._revision(kind, "".join(self._run(one, kind) for one in _joined(tokens))))
        return "".join(out)

    def _run(self, token: _Token, kind: str) -> str:
        if token.key and kind != "del":
            return reference_runs(self._writing.references.trails[token.key])
        look = self._writing.look
        style = {"none": "", "strong": look.strong, "soft": look.soft}[token.emphasis]
        written = run(token.text, style)
        if kind != "del":
            return written
        return re.sub(r"<w:t([ >])", r"<w:delText\1", written).replace("</w:t>", "</w:delText>")

    def _table(self, old: Table | None, new: Table | None) -> str:
        """A table row by row: a row of one issue alone is marked whole."""
        table = new or old
        if table is None:
            raise ValueError("a table needs an issue")
        refuse_misfit(table)
        look, width = self._writing.look, self._writing.text_width
        widths = column_widths(table.widths, width)
        before = (old.header, *old.rows) if old else ()
        after = (new.header, *new.rows) if new else ()
        fits = [len(row) == len(widths) for row in before]
        rows: list[str] = []
        matcher = SequenceMatcher(None, before, after, autojunk=False)
        for tag, old_from, old_to, new_from, new_to in matcher.get_opcodes():
            steps = [("", row) for row in after[new_from:new_to]] if tag == "equal" else [
                *(("del", row) for row, fit in zip(before[old_from:old_to], fits[old_from:old_to], strict=True) if fit),
                *(("ins", row) for row in after[new_from:new_to]),
            ]  # fmt: skip
            for kind, row in steps:
                head = Style.CELL_HEAD if row == table.header else Style.CELL
                marked = {
                    column: self._revision(kind, self._run(_Token(cell, "none"), kind))
                    for column, cell in enumerate(row)
                    if kind and cell
                }
                rows.append(
                    row_xml(
                        row, widths, look.paragraph_styles[head],
                        repeated=row == table.header and not rows, linked=marked,
                        mark=self._revision(kind) if kind else "",
                    )
                )  # fmt: skip
        return table_frame(table, 0, width, look, rows)


def _joined(tokens: list[_Token]) -> Iterator[_Token]:
    """Neighbours of one emphasis in one run."""
    held: _Token | None = None
    for token in tokens:
        if held and not held.key and not token.key and held.emphasis == token.emphasis:
            held = _Token(held.text + token.text, held.emphasis)
            continue
        if held:
            yield held
        held = token
    if held:
        yield held
