"""The mock-up and test plan: the paragraphs of the sections that ask for a test, with room for the result."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from specgen.field.frame import field_words, paper
from specgen.model.document import Block, Document, Para, Style, Table, list_level, numbered, text
from specgen.sections.build import SectionText
from specgen.sections.form_text import FormText
from specgen.specification import Specification

_WIDTHS = (0.11, 0.55, 0.15, 0.19)
_ARTICLE_LEVEL = 1


@dataclass(frozen=True)
class TestParagraph:
    """One paragraph under an article on field tests or mock-ups."""

    __test__ = False  # not a test of pytest's

    section: SectionText
    number: str
    words: str


def test_paragraphs(sections: Iterable[SectionText], words: FormText) -> tuple[TestParagraph, ...]:
    """The paragraphs under the articles that ``test_articles`` names, in the order of the sections."""
    titles = words.list("test_articles")
    return tuple(one for section in sections for one in _of_section(section, titles))


test_paragraphs.__test__ = False  # type: ignore[attr-defined]


def _of_section(section: SectionText, titles: tuple[str, ...]) -> Iterator[TestParagraph]:
    inside = False
    for one in numbered(section.document.blocks):
        level = list_level(one.para.style)
        if level is not None and level <= _ARTICLE_LEVEL:
            inside = level == _ARTICLE_LEVEL and any(title in one.para.text.lower() for title in titles)
        elif inside:
            yield TestParagraph(section, one.number, one.para.text)


def test_plan(spec: Specification) -> Document:
    """One table a section: the test paragraphs word for word, the result, who made it.

    Args:
        spec: the project as written.
    """
    words = field_words()
    found = test_paragraphs(spec.sections, words)
    blocks: list[Block] = [Para(Style.BODY, text(words("tests_note" if found else "tests_none")))]
    for section in spec.sections:
        inside = [one for one in found if one.section is section]
        if inside:
            caption = words("tests_caption", section=section.number, title=section.title)
            blocks.append(Para(Style.HEADING, text(caption)))
            rows = tuple((one.number, one.words, "", "") for one in inside)
            blocks.append(Table(words.list("tests_columns"), rows, _WIDTHS, caption))
    return paper(spec.assessment.project, words, "tests_title", blocks)


test_plan.__test__ = False  # type: ignore[attr-defined]
