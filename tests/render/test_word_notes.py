"""What people write into a Word file stands in the marked copies: comments, tracked changes, and what is odd of both."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import docx
import pytest
from docx.document import Document as WordDocument
from docx.oxml import parse_xml
from docx.oxml.ns import nsdecls, qn

from specgen.render.word import word_bytes
from specgen.render.word_marked import AUTHOR, marked_bytes
from specgen.render.word_notes import NotedParagraph, PersonNote, noted_paragraphs, placed
from specgen.render.word_text import hand_edits
from tests.published.test_word_schema import errors
from tests.render import word_samples as samples
from tests.render.test_issues import NAME, issue, write
from tests.render.test_word_headings import saved
from tests.render.test_word_marked import body, changed, read
from tests.render.word_reading import opened

SAME, GONE = "Section includes:", "Color: one that differs from the sheathing."
WHO = {"author": "Ann Lee", "initials": "AL"}


def paragraph(word: WordDocument, words: str):
    return next(one for one in word.paragraphs if one.text == words)


def worked_on() -> bytes:
    """The section as somebody gave it back: comments on a paragraph, a word, a cell; a word changed with tracking."""
    word = opened(word_bytes(samples.SECTION))
    word.add_comment(paragraph(word, SAME).runs, "Which ones? <all> & sundry", **WHO)
    word.add_comment(paragraph(word, GONE).runs[0], "Say which color.\nAnd why.", **WHO)
    word.add_comment(word.tables[0].rows[1].cells[1].paragraphs[0].runs, "At which pressure?", "Bo", "")
    given = paragraph(word, "Sign the letter.")
    stamp = f'{nsdecls("w")} w:id="901" w:author="Bo" w:date="2026-01-20T08:00:00Z"'
    gone = given.runs[0]._r
    gone.find(qn("w:t")).tag = qn("w:delText")
    holder = parse_xml(f"<w:del {stamp}/>")
    gone.addprevious(holder)
    holder.append(gone)
    holder.addnext(parse_xml(f"<w:ins {stamp}><w:r><w:t>Sign and date the letter.</w:t></w:r></w:ins>"))
    return saved(word)


def comments(content: bytes) -> dict[str, tuple[str, str]]:
    """By the words of a comment, its author and the paragraph it stands on, deleted words too."""
    word, found = opened(content), {}
    known = {str(one.comment_id): one for one in word.comments}
    for one in body(content).iter(qn("w:p")):
        for mark in one.iter(qn("w:commentReference")):
            words = "".join(t.text or "" for t in one.iter(qn("w:t"), qn("w:delText")))
            comment = known[mark.get(qn("w:id"))]
            found[comment.text] = (comment.author, words)
    assert len(found) == len(known)
    return found


def test_comments_and_tracked_changes_are_read_with_the_paragraph_as_it_was() -> None:
    noted = [one for one in noted_paragraphs(worked_on()) if one.notes]
    assert [one.text for one in noted] == [
        SAME, "Sign the letter.", "0.004 cfm/sq ft at 1.57 psf, maximum", GONE,
    ]  # fmt: skip
    first, tracked, cell, last = (one.notes[0] for one in noted)
    assert (first.author, first.initials, first.lines) == ("Ann Lee", "AL", ("Which ones? <all> & sundry",))
    assert first.date.startswith("20") and cell.author == "Bo"
    assert last.lines == ("Say which color.", "And why.")
    assert tracked.lines == (
        "Tracked change, deleted: Sign the letter.",
        "Tracked change, inserted: Sign and date the letter.",
    )


def test_they_stand_in_the_marked_copy_at_the_paragraph_that_says_the_same() -> None:
    old, new = samples.SECTION, changed()
    content = marked_bytes(old, new, None, noted_paragraphs(worked_on()))
    found = comments(content)
    assert found["Which ones? <all> & sundry"] == ("Ann Lee", SAME)
    assert found["Say which color.\nAnd why."] == ("Ann Lee", GONE)
    author, above = found["At which pressure?"]  # on a cell: at the paragraph above its table
    assert author == "Bo" and "of the table below." in above
    assert [words for words, (one, _) in found.items() if one == "Bo" and words.startswith("Tracked")] == [
        "Tracked change, deleted: Sign the letter.\nTracked change, inserted: Sign and date the letter."
    ]
    without = marked_bytes(old, new)
    assert [read(content, kind) for kind in ("ins", "del")] == [
        read(without, kind) for kind in ("ins", "del")
    ]


def test_a_note_on_what_is_deleted_or_was_never_ours_is_not_lost() -> None:
    gone = dataclasses.replace(
        samples.SECTION,
        blocks=tuple(one for one in samples.SECTION.blocks if getattr(one, "text", "") != GONE),
    )
    note = PersonNote("Bo", "", "", ("Why?",))
    noted = (
        NotedParagraph("", ()),
        NotedParagraph("Words of a person.", (note,)),
        NotedParagraph(GONE, (note,)),
    )
    found = placed(samples.SECTION.blocks, noted)
    assert sum(len(one) for one in found.values()) == 2
    content = marked_bytes(samples.SECTION, gone, None, noted_paragraphs(worked_on()))
    assert comments(content)["Say which color.\nAnd why."] == ("Ann Lee", GONE)


def test_what_we_marked_ourselves_is_no_note_of_a_person() -> None:
    content = marked_bytes(samples.SECTION, changed())
    assert not [one for one in noted_paragraphs(content, AUTHOR) if one.notes]
    assert [one for one in noted_paragraphs(content) if one.notes]


def test_a_date_that_is_none_is_left_out_a_long_name_cut_and_the_comment_stays() -> None:
    word = opened(worked_on())
    for one in word.part._comments_part.element:
        one.set(qn("w:date"), "yesterday")
        one.set(qn("w:author"), 'A "<' * 100)
    content = marked_bytes(samples.SECTION, changed(), None, noted_paragraphs(saved(word)))
    assert {author for author, _ in comments(content).values()} >= {('A "<' * 100)[:255]}


def test_an_issue_carries_them_and_leaves_the_file_of_the_person_alone(tmp_path: Path) -> None:
    write(tmp_path, issue("2026-01-15"))
    theirs = worked_on()
    (tmp_path / NAME).write_bytes(theirs)
    _, edits, _ = write(tmp_path, issue("2026-02-15", later=True))
    assert (tmp_path / NAME).read_bytes() == theirs
    marked = (tmp_path / "marked-2026-02-15" / NAME).read_bytes()
    assert "Which ones? <all> & sundry" in comments(marked)
    assert [one.now for one in edits[NAME]] == ["Sign and date the letter."]


def test_a_comment_alone_changes_no_words() -> None:
    word = opened(word_bytes(samples.SECTION))
    word.add_comment(paragraph(word, SAME).runs, "Which ones?", **WHO)
    assert hand_edits(saved(word), word_bytes(samples.SECTION)) == ()


@pytest.mark.word
def test_validator_finds_no_error(tmp_path: Path) -> None:
    path = tmp_path / "marked.docx"
    path.write_bytes(marked_bytes(samples.SECTION, changed(), None, noted_paragraphs(worked_on())))
    assert errors(path) == []
    assert len(list(docx.Document(str(path)).comments)) == 4
