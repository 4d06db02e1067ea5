"""A document in HTML against the Word file of the same tree, and each number against the trace."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from docx.oxml.ns import qn

from specgen.explain.origins import section_origins
from specgen.model.document import CrossRef, Document, Para, Picture, Span, Style, Table
from specgen.render.document_css import css_string, document_css, style_types
from specgen.render.document_html import Links, Shown, document_html, style_name
from specgen.render.files import docx_bytes, file_stem
from specgen.render.outputs import documents
from specgen.render.word_office import office_template
from specgen.render.word_template import base_template
from specgen.sections.numbers import number_places, numbers_in
from specgen.specification import Specification, specify
from specgen.work.inputs import read_inputs
from tests.chain.runs import FAULTY, REPO
from tests.published.browser import chromium, hold_clean, seen_of
from tests.render import word_samples
from tests.render.html_reading import Element, read_html
from tests.render.test_word_office import office_file
from tests.render.word_reading import Line, lines, opened

EXAMPLES = sorted(path.parent.name for path in (REPO / "projects").glob("*/project.yaml"))
HOSTILE = "<script>alert('1')</script> & \"x\" {{ 7 * 7 }} 'y' \\ </style>"


def spec_of(name: str) -> Specification:
    return specify(read_inputs(REPO / "projects" / name, None, False).assessed())


def lines_of(page: Element) -> list[Line]:
    """The paragraphs outside tables as the page shows them: style, number, words."""
    names = {f"is-{style_name(style)}": style.value for style in Style}
    found = []
    for one in page.all():
        style = names.get(one.attributes.get("class", ""))
        if style is None or one.tag in ("td", "th") or one.all("img"):
            continue
        label = "".join(each.text for each in one.all("span", "label")).removesuffix(" ")
        (words,) = one.all("span", "words")
        found.append(Line(style, label, words.text))
    return found


def tables_of(page: Element) -> list[list[list[str]]]:
    return [
        [[cell.text for cell in row.inside if isinstance(cell, Element)] for row in table.all("tr")]
        for table in page.all("table")
    ]


def without_bullets(found: list[Line]) -> list[Line]:
    """A bullet of the list is drawn by the style sheet."""
    return [replace(one, label="") if one.style == Style.BULLET.value else one for one in found]


def held(document: Document, shown: Shown | None = None) -> Element:
    """The page of a document, once it says what its Word file says."""
    page, content = read_html(document_html(document, shown)), docx_bytes(document)
    assert lines_of(page) == without_bullets(lines(content))
    word = opened(content)
    assert tables_of(page) == [
        [[cell.text for cell in row.cells] for row in table.rows] for table in word.tables
    ]
    return page


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_word_file_of_an_issue_reads_the_same_on_screen(name: str) -> None:
    made = documents(spec_of(name))
    assert len(made) > 8
    for document in made.values():
        page = held(document)
        head, foot = (page.all("p", look)[0].text.strip() for look in ("doc-head", "doc-foot"))
        assert head == f"{document.header_left} {document.header_right}".strip()
        assert foot == f"{document.footer_left} {document.page_prefix or 'Page'}".strip()


@pytest.mark.parametrize("document", [word_samples.SECTION, word_samples.REPORT])
def test_each_kind_of_block_reads_the_same(document: Document) -> None:
    held(document)


@pytest.mark.parametrize("name", EXAMPLES)
def test_each_number_leads_to_where_it_comes_from(name: str) -> None:
    spec = spec_of(name)
    written = Path(spec.assessment.project.path).read_text("utf-8").splitlines()
    made = documents(spec)
    names = spec.assessment.project.numbered_names
    for section in spec.sections:
        origins = section_origins(spec, section, lambda number: written[number - 1].strip())
        document = made[f"{file_stem(section.number, section.title)}.docx"]
        page = held(document, Shown(origins, names))
        by_id = {one.attributes["id"]: one for one in page.all() if "id" in one.attributes}
        assert len(by_id) == sum("id" in one.attributes for one in page.all())
        seen = []
        for link in page.all("a", "from"):
            target = by_id[link.attributes["href"].removeprefix("#")]
            listed = [word for one in target.all("dt") for word in one.text.split(", ")]
            assert link.text in listed, (section.number, link.text)
            seen.append(link.text)
        assert seen == [one.number for each in section.trace for one in each.numbers]
        for link in page.all("a"):
            assert link.attributes["href"].removeprefix("#") in by_id
        for each in origins.values():
            for row in each.rows:
                assert row.line is None or written[row.line.number - 1].strip() == row.line.words


def test_the_panel_says_value_source_status_line_sheet_and_finding() -> None:
    spec = specify(read_inputs(FAULTY, None, False).assessed())
    links = Links(
        section=lambda number: f"/s/{number}",
        calculation=lambda subject, parapet: f"/c/{subject}/{parapet}",
        line=lambda number: f"/l/{number}",
        finding=lambda code, parapet: f"/f/{code}/{parapet}",
        comments=lambda key: f"/n/{key}",
    )
    text = ""
    for section in spec.sections:
        origins = section_origins(spec, section, lambda number: f"words of line {number}")
        keys = dict.fromkeys(list(origins)[:1], 2)
        names = spec.assessment.project.numbered_names
        text += document_html(section.document, Shown(origins, names, keys, links))
    page = read_html(text)
    panels = " ".join(" ".join(one.text.split()) for one in page.all("details"))
    for words in (
        "Status: choice of the project",
        "Status: model code",
        "edition",
        "words of line",
        "Defect ",
    ):
        assert words in panels, words
    addresses = [one.attributes["href"] for one in page.all("a")]
    for start in ("/s/", "/c/", "/l/", "/f/", "/n/"):
        assert any(one.startswith(start) for one in addresses), start
    assert "2 open comments on" in panels
    assert not any(one.tag in ("style", "script") or "style" in one.attributes for one in page.all())


def test_hostile_words_are_words() -> None:
    document = word_samples.document(
        Para(Style.PART, (Span(HOSTILE),), key=HOSTILE),
        Para(Style.ARTICLE, (Span(HOSTILE, "strong"), CrossRef(HOSTILE, "PART 1"))),
        Table((HOSTILE, "b"), ((HOSTILE, HOSTILE),), (0.5, 0.5), HOSTILE),
    )
    document = replace(document, header_left=HOSTILE, footer_left=HOSTILE)
    page = read_html(document_html(document))
    assert not page.all("script") and [one.text for one in page.all("td")] == [HOSTILE, HOSTILE]
    assert page.all("span", "strong-words")[0].text == HOSTILE
    sheet = document_css(document)
    assert css_string(HOSTILE) in sheet
    assert "<" not in sheet and "script>" not in sheet and "{{" not in sheet
    plain = re.sub(r'"(?:[^"\\]|\\[0-9a-f]+ )*"', "", sheet)
    assert '"' not in plain and plain.count("{") == plain.count("}")


@pytest.mark.parametrize(
    ("blocks", "message"),
    [
        ((Para(Style.PARAGRAPH, (Span("A."),)),), "level"),
        ((Para(Style.BODY, ()),), "no text"),
        ((Para(Style.BODY, (CrossRef("gone", "1.1"),)),), "gone"),
        ((Table(("a",), (("1", "2"),), (1.0,), "x"),), "cells"),
    ],
)
def test_what_no_word_file_holds_no_page_holds(blocks: tuple[object, ...], message: str) -> None:
    document = word_samples.document(*blocks)
    with pytest.raises(ValueError, match=message):
        document_html(document)
    with pytest.raises(ValueError):
        docx_bytes(document)


def test_a_picture_stands_where_it_is_and_names_its_address() -> None:
    dot = Picture(b"", "Section of P-1", 4.0, 3.0)
    document = word_samples.document(Para(Style.TITLE, (Span("Sheet"),)), dot, dot)
    page = read_html(document_html(document, Shown(links=Links(picture=lambda number: f"/p/{number}"))))
    found = [
        (one.attributes["src"], one.attributes["alt"], one.attributes["width"]) for one in page.all("img")
    ]
    assert found == [("/p/1", "Section of P-1", "384"), ("/p/2", "Section of P-1", "384")]
    assert "Section of P-1" in read_html(document_html(document)).text


@pytest.mark.parametrize("office", [False, True], ids=["own", "office"])
def test_letters_and_indents_are_those_of_the_word_file(office: bool) -> None:
    template = office_template(office_file()).template if office else base_template()
    word = opened(docx_bytes(word_samples.SECTION, template))
    types = style_types(template)
    by_id = {one.style_id: one for one in word.styles}
    (usual,) = (int(one.get(qn("w:val"))) for one in word.styles.element.xpath("w:docDefaults//w:sz"))
    for style in Style:
        one = by_id[template.look.paragraph_styles[style]]
        size = _stated(one, lambda each: each.font.size)
        assert types[style].size == (size.pt * 2 if size is not None else usual), style
        assert types[style].bold == bool(_stated(one, lambda each: each.font.bold)), style
        assert types[style].capitals == bool(_stated(one, lambda each: each.font.all_caps)), style
        before = _stated(one, lambda each: each.paragraph_format.space_before)
        assert types[style].before == (before.pt * 20 if before is not None else 0), style
    for style, indent in template.look.indents.items():
        assert types[style].indent == indent
    page = template.page
    sheet = document_css(word_samples.SECTION, template)
    assert f"size:{page.width / 1440:.4g}in {page.height / 1440:.4g}in" in sheet
    section = word.sections[0]
    assert (page.width, page.height) == (round(section.page_width.twips), round(section.page_height.twips))


def _stated(style: object, asked: object) -> object:
    while style is not None:
        if (found := asked(style)) is not None:
            return found
        style = style.base_style
    return None


@pytest.mark.parametrize("name", EXAMPLES)
def test_places_of_numbers_are_the_numbers(name: str) -> None:
    spec = spec_of(name)
    names = spec.assessment.project.numbered_names
    for section in spec.sections:
        for para in section.document.paragraphs():
            places = [para.text[start:end] for start, end in number_places(para.text, names)]
            assert tuple(places) == numbers_in(para.text, names)


def test_a_section_is_clean_in_a_browser(tmp_path: Path) -> None:
    chromium()
    spec = specify(read_inputs(FAULTY, None, False).assessed())
    section = max(spec.sections, key=lambda one: len(one.trace))
    origins = section_origins(spec, section, lambda number: f"line {number}")
    links = Links(*(lambda *words: "#top" for _ in range(5)))
    body = document_html(section.document, Shown(origins, spec.assessment.project.numbered_names, {}, links))
    sheets = [REPO / "templates" / name for name in ("page/page.css", "live/still/paper.css")]
    style = "".join(one.read_text("utf-8") for one in sheets) + document_css(section.document)
    page = tmp_path / "section.html"
    page.write_text(
        '<!DOCTYPE html><html lang="en-US"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1"><title>Section</title>'
        f'<style>{style}</style></head><body><a class="skip" href="#top">Skip to the section</a>'
        f'<header><h1>Sections</h1></header><main id="top">{body}</main></body></html>',
        "utf-8",
    )
    hold_clean(seen_of(page, "look.mjs"))
