"""Marked copies: accepting all changes gives the new text, rejecting them the old one."""

from __future__ import annotations

import dataclasses
import io
import zipfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from specgen.model.document import CrossRef, Document, Para, Span, Style, Table
from specgen.render.word import word_bytes
from specgen.render.word_marked import marked_bytes
from specgen.render.word_text import HandEdit, hand_edits, paragraph_texts
from specgen.render.word_xml import qualified
from tests.published.test_word_schema import errors
from tests.render import word_samples as samples
from tests.render.test_word_order import misplaced


def body(content: bytes) -> etree._Element:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return etree.fromstring(archive.read("word/document.xml"))


def read(content: bytes, kept: str) -> list[str]:
    """The paragraphs once all changes are accepted (``ins``) or rejected (``del``), as Word does it."""
    other = "del" if kept == "ins" else "ins"
    root = body(content)
    for row in list(root.iter(qualified("tr"))):
        if row.find(f"{qualified('trPr')}/{qualified(other)}") is not None:
            row.getparent().remove(row)
    out = []
    for paragraph in root.iter(qualified("p")):
        words = ""
        for node in paragraph.iter(qualified("t"), qualified("delText"), qualified("tab"), qualified("br")):
            if qualified(other) not in {one.tag for one in node.iterancestors()}:
                words += {"tab": "\t", "br": "\n"}.get(etree.QName(node).localname, node.text or "")
        mark = paragraph.find(f"{qualified('pPr')}/{qualified('rPr')}/{qualified(other)}")
        assert mark is None or not words  # a paragraph that goes has nothing that stays
        if words.strip():
            out.append(words)
    return out


def changed() -> Document:
    """The section with a paragraph taken out, one put in, words changed, and a row of the table changed."""
    blocks = list(samples.SECTION.blocks)
    at = next(i for i, one in enumerate(blocks) if isinstance(one, Table))
    table = blocks[at]
    assert isinstance(table, Table)
    rows = (*table.rows[:2], ("Thickness, dry", "25 mil, minimum", ""), ("Color", "grey", ""))
    blocks[at] = dataclasses.replace(table, rows=rows)
    blocks[at - 1] = samples.line(
        Style.SUBPARAGRAPH, "Meet each limit of the table below.", "membrane.limits"
    )
    del blocks[at + 1]
    blocks.insert(5, samples.line(Style.SUBPARAGRAPH, "New: <tested> & put in first.", "new"))
    return dataclasses.replace(samples.SECTION, blocks=tuple(blocks))


def test_accepting_gives_the_new_text_and_rejecting_the_old() -> None:
    old, new = samples.SECTION, changed()
    content = marked_bytes(old, new)
    assert read(content, "ins") == paragraph_texts(word_bytes(new))
    assert read(content, "del") == paragraph_texts(word_bytes(old))


def test_only_what_changed_is_marked() -> None:
    root = body(marked_bytes(samples.SECTION, changed()))
    shown = {
        kind: ["".join(one.itertext()) for one in root.iter(qualified(kind)) if "".join(one.itertext())]
        for kind in ("ins", "del")
    }
    assert shown["ins"][0] == "New: <tested> & put in first."
    assert "each" in shown["ins"] and "the" in shown["del"]
    assert "25 mil, minimum" in shown["ins"] and "17 mil, minimum" in shown["del"]
    assert {one.get(qualified("date")) for one in root.iter(qualified("ins"))} == {"2026-01-15T00:00:00Z"}
    same = body(marked_bytes(samples.SECTION, samples.SECTION))
    assert not list(same.iter(qualified("ins"), qualified("del")))


def test_a_number_that_moved_on_is_no_change_of_the_text() -> None:
    heads = (samples.line(Style.PART, "General"), samples.line(Style.ARTICLE, "Summary"))
    more = samples.line(Style.PARAGRAPH, "More.", "more")

    def tree(number: str, *first: Para) -> Document:
        para = Para(Style.PARAGRAPH, (Span("See "), CrossRef("k", number), Span(".")), "para")
        return samples.document(*heads, *first, samples.line(Style.PARAGRAPH, "Aim.", "k"), para)

    root = body(marked_bytes(tree("1.1.A"), tree("1.1.B", more)))
    assert ["".join(one.itertext()) for one in root.iter(qualified("ins")) if len(one)] == ["More."]
    assert not list(root.iter(qualified("del")))


WORDS = st.lists(st.sampled_from(["lap", "roll", "6 in", "& <", "vapor", "  "]), min_size=1, max_size=8).map(
    lambda words: " ".join(words).strip() or "x"
)
TREES = st.lists(
    st.tuples(st.sampled_from(["a", "b", "c", "d", ""]), WORDS),
    min_size=1,
    max_size=6,
    unique_by=lambda one: one[0],
)


@settings(max_examples=60, deadline=None)
@given(TREES, TREES)
def test_any_two_documents_can_be_had_back(old: list[tuple[str, str]], new: list[tuple[str, str]]) -> None:
    before, after = (
        samples.document(*(samples.line(Style.BODY, words, key) for key, words in one)) for one in (old, new)
    )
    content = marked_bytes(before, after)
    assert read(content, "ins") == [words for _, words in new]
    assert read(content, "del") == [words for _, words in old]


def test_children_stand_in_schema_order() -> None:
    assert misplaced(body(marked_bytes(samples.SECTION, changed()))) == []


@pytest.mark.word
def test_validator_finds_no_error(tmp_path: Path) -> None:
    path = tmp_path / "marked.docx"
    path.write_bytes(marked_bytes(samples.SECTION, changed()))
    assert errors(path) == []


def test_edits_by_hand_are_the_paragraphs_that_differ() -> None:
    ours = word_bytes(samples.SECTION)
    edited = word_bytes(changed())
    assert hand_edits(ours, ours) == ()
    found = hand_edits(edited, ours)
    assert HandEdit("", "New: <tested> & put in first.") in found
    assert HandEdit("17 mil, minimum", "25 mil, minimum") in found
