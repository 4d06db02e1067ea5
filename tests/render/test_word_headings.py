"""What heads something is a heading for every reader: its style descends from the built-in one, whoever made the look."""

from __future__ import annotations

import io
from collections.abc import Callable

import docx
import pytest
from docx.document import Document as WordDocument
from docx.enum.text import WD_ALIGN_PARAGRAPH
from docx.oxml import parse_xml
from docx.oxml.ns import nsdecls, qn
from docx.shared import Inches, Pt, RGBColor

from specgen.model.document import Style
from specgen.render.word import volume_bytes, word_bytes
from specgen.render.word_office import office_template
from specgen.render.word_office_headings import LEVELS
from specgen.render.word_template import Template, base_template
from tests.published.test_word_schema import errors
from tests.render import word_samples as samples
from tests.render.test_word_office import office_file
from tests.render.word_reading import opened


def loud() -> bytes:
    """An office whose built-in headings look like nothing else, with styles of our names on a style of its own."""
    word = docx.Document()
    for level in (1, 2, 3):
        style = word.styles[f"Heading {level}"]
        style.font.size, style.font.italic, style.font.underline = Pt(30), True, True
        style.paragraph_format.space_before, style.paragraph_format.left_indent = Pt(60), Inches(1)
        style.paragraph_format.page_break_before = True
        style.paragraph_format.alignment = WD_ALIGN_PARAGRAPH.RIGHT
    base = word.styles.add_style("Spec Base", 1)
    base.font.name, base.font.size, base.font.color.rgb = "Georgia", Pt(12), RGBColor(0, 128, 0)
    part = word.styles.add_style("Part Heading", 1)
    part.base_style, part.font.bold = base, True
    word.styles.add_style("Article Heading", 1).base_style = None
    word.styles.add_style("Report Subheading", 1).base_style = word.styles["Heading 4"]
    return saved(word)


def bare() -> bytes:
    """An office whose file knows no built-in heading, and no style that others stand on."""
    word = docx.Document()
    for name in [f"Heading {level}" for level in range(1, 10)]:
        word.styles[name].delete()
    word.styles.add_style("Section Title", 1).font.size = Pt(40)
    return saved(word)


def saved(word: WordDocument) -> bytes:
    out = io.BytesIO()
    word.save(out)
    return out.getvalue()


MADE: dict[str, Callable[[], Template | None]] = {
    "specgen": lambda: None,
    "office": lambda: office_template(office_file()).template,
    "loud": lambda: office_template(loud()).template,
    "bare": lambda: office_template(bare()).template,
}


def heading_of(word: WordDocument, name: str) -> tuple[str, str]:
    """The built-in heading that a style descends from, and the outline level that holds for it."""
    style, level = next(one for one in word.styles if name in (one.name, one.style_id)), ""
    seen = []
    while style is not None and style not in seen:
        found = style.element.find(f"{qn('w:pPr')}/{qn('w:outlineLvl')}")
        level = level or ("" if found is None else found.get(qn("w:val")))
        if style.name.startswith("Heading ") and style.builtin:
            return style.name, level
        seen.append(style)
        style = style.base_style
    return "", level


@pytest.mark.parametrize("template", MADE)
def test_each_head_descends_from_the_built_in_heading_of_its_level(template: str) -> None:
    made = MADE[template]()
    word = opened(word_bytes(samples.SECTION, made))
    for use, level in LEVELS.items():
        name, outline = heading_of(word, (made or base_template()).look.paragraph_styles[use])
        wanted = 4 if template == "loud" and use is Style.SUBHEADING else level  # the office's own choice
        assert (name, outline) == (f"Heading {wanted}", str(level - 1)), use


def test_the_sections_and_articles_of_a_volume_are_headings() -> None:
    word = opened(volume_bytes(samples.VOLUME))
    heads = [one.text for one in word.paragraphs if heading_of(word, one.style.name)[0]]
    uses = {use.value for use in LEVELS}
    assert heads == [one.text for one in word.paragraphs if one.style.name in uses]
    assert len(heads) > 5


def test_what_the_built_in_heading_would_add_to_the_look_is_undone() -> None:
    styles = opened(word_bytes(samples.SECTION, MADE["loud"]())).styles
    part = styles["Part Heading"]
    assert (part.font.name, part.font.size, part.font.bold) == ("Georgia", Pt(12), True)
    assert (part.font.color.rgb, part.font.italic, part.font.underline) == (
        RGBColor(0, 128, 0), False, False,
    )  # fmt: skip
    assert part.paragraph_format.page_break_before is False
    for name in ("Part Heading", "Article Heading", "Section Title"):
        form = styles[name].paragraph_format
        assert (form.space_before, form.page_break_before) == (Pt(0), False), name
        assert form.left_indent is None, name  # the list of the sections indents it
    assert styles["Section Title"].paragraph_format.alignment == WD_ALIGN_PARAGRAPH.CENTER
    assert styles["Article Heading"].paragraph_format.alignment == WD_ALIGN_PARAGRAPH.LEFT


def test_words_are_spelled_in_the_language_of_the_document_whatever_the_office_writes_in() -> None:
    word = docx.Document()
    for name in ("Normal", "Heading 2"):
        properties = word.styles[name].element.get_or_add_rPr()
        properties.append(parse_xml(f'<w:lang {nsdecls("w")} w:val="de-DE" w:eastAsia="ja-JP"/>'))
    styles = opened(word_bytes(samples.SECTION, office_template(saved(word)).template)).styles
    found = [one.get(qn("w:val")) for one in styles.element.iter(qn("w:lang")) if one.get(qn("w:val"))]
    assert found == ["en-US"]


def test_a_circle_of_styles_ends() -> None:
    word = docx.Document()
    one, other = (word.styles.add_style(name, 1) for name in ("Part Heading", "Article Heading"))
    one.base_style, other.base_style = other, one
    content = word_bytes(samples.SECTION, office_template(saved(word)).template)
    assert heading_of(opened(content), "Part Heading")[0] == "Heading 2"


@pytest.mark.word
@pytest.mark.parametrize("template", ["loud", "bare"])
def test_the_styles_keep_to_the_schema(template: str, tmp_path) -> None:
    path = tmp_path / "written.docx"
    path.write_bytes(word_bytes(samples.SECTION, MADE[template]()))
    assert errors(path) == []
