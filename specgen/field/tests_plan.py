"""The mock-up and test plan: the tests of the sections with their rates and criteria, and room for each result."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from specgen.field.frame import field_words, paper
from specgen.model.document import Block, Document, Para, Style, Table, list_level, numbered, text
from specgen.sections.build import SectionText
from specgen.sections.form_text import FormText
from specgen.sections.lines import FIRST_LEVEL
from specgen.specification import Specification

_WIDTHS = (0.11, 0.55, 0.15, 0.19)


@dataclass(frozen=True)
class TestParagraph:
    """One paragraph of a test: what is done, or below it a rate, a criterion, or what follows a failure."""

    __test__ = False  # not a test of pytest's

    section: SectionText
    number: str
    words: str


def test_paragraphs(sections: Iterable[SectionText], words: FormText) -> tuple[TestParagraph, ...]:
    """The paragraphs that have a criterion below them, and what stands below them, in the order of the sections."""
    criterion = words("tests_criterion")
    return tuple(one for section in sections for one in _of_section(section, criterion))


test_paragraphs.__test__ = False  # type: ignore[attr-defined]


def _of_section(section: SectionText, criterion: str) -> Iterator[TestParagraph]:
    family: list[TestParagraph] = []
    for one in (*numbered(section.document.blocks), None):
        if one is None or (list_level(one.para.style) or 0) <= FIRST_LEVEL:
            if any(below.words.startswith(criterion) for below in family[1:]):
                yield from family
            family = []
        if one is not None:
            family.append(TestParagraph(section, one.number, one.para.text))


def test_plan(spec: Specification) -> Document:
    """One table a section: its tests word for word, the result of each criterion, who made it.

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
            rows = tuple((one.number, one.words, _result(one, words), "") for one in inside)
            blocks.append(Table(words.list("tests_columns"), rows, _WIDTHS, caption))
    return paper(spec.assessment.project, words, "tests_title", blocks)


def _result(one: TestParagraph, words: FormText) -> str:
    return words("tests_result") if one.words.startswith(words("tests_criterion")) else ""


test_plan.__test__ = False  # type: ignore[attr-defined]
