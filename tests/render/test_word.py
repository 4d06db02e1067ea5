"""The Word writer: the saved file, opened again, says what the tree says."""

from __future__ import annotations

import dataclasses
import io
import re
import zipfile
from datetime import UTC, datetime

import pytest
from docx.oxml.ns import qn
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.model.document import CrossRef, Para, Span, Style, Table, numbered, text
from specgen.render.word import volume_bytes, word_bytes
from specgen.render.word_references import bookmark_name
from specgen.render.word_template import base_template
from tests.render import word_samples as samples
from tests.render.word_reading import lines, opened

NAMES = sorted(samples.ALL)
HEADS = (samples.line(Style.PART, "General"), samples.line(Style.ARTICLE, "Summary"))


def part(content: bytes, name: str) -> str:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return archive.read(name).decode()


@pytest.mark.parametrize("name", NAMES)
def test_paragraphs_styles_and_numbers_come_back(name: str) -> None:
    tree = samples.ALL[name]
    labels = iter([line.label for line in numbered(tree.blocks)])
    in_list = {line.para.style for line in numbered(tree.blocks)}
    found = lines(word_bytes(tree))
    expected = list(tree.paragraphs())
    assert [(line.style, line.text) for line in found] == [(para.style.value, para.text) for para in expected]
    for line, para in zip(found, expected, strict=True):
        bullet = "•" if para.style is Style.BULLET else ""
        assert line.label == (next(labels) if para.style in in_list else bullet), para.text


def test_section_sample_counts_past_z_and_restarts() -> None:
    labels = [line.label for line in lines(word_bytes(samples.SECTION))]
    assert {"PART 3", "2.2", "CC.", "c.", "2)"} <= set(labels)
    assert labels.count("1.1") == 1
    assert labels.count("A.") == 5  # one an article


@st.composite
def outlines(draw: st.DrawFn) -> tuple[Para, ...]:
    """Section paragraphs at levels that never skip one."""
    level, out = -1, []
    for index in range(draw(st.integers(1, 60))):
        level = draw(st.integers(0, min(level + 1, 5)))
        out.append(samples.line(list(Style)[3 + level], f"Words {index}"))
    return tuple(out)


@settings(max_examples=40, deadline=None)
@given(outlines())
def test_any_outline_is_numbered_as_the_tree_says(blocks: tuple[Para, ...]) -> None:
    found = lines(word_bytes(samples.document(*blocks)))
    assert [line.label for line in found] == [line.label for line in numbered(blocks)]


LEGAL = st.text(
    st.characters(exclude_categories=("Cs",)).filter(
        lambda c: c in "\t\n" or (c >= " " and c not in "\ufffe\uffff")
    ),
    min_size=1,
    max_size=60,
)


@settings(max_examples=150, deadline=None)
@given(words=LEGAL, cell=LEGAL, emphasis=st.sampled_from(["none", "strong", "soft"]))
def test_any_legal_text_comes_back(words: str, cell: str, emphasis: str) -> None:
    table = Table((cell, "b"), ((words, cell),), (0.5, 0.5), words)
    tree = samples.document(Para(Style.BODY, (Span(words, emphasis), Span(cell))), table)
    tree = dataclasses.replace(tree, header_left=words, footer_left=cell)
    word = opened(word_bytes(tree))
    assert word.paragraphs[0].text == words + cell
    assert [[c.text for c in row.cells] for row in word.tables[0].rows] == [[cell, "b"], [words, cell]]
    assert word.sections[0].header.paragraphs[0].text == f"{words}\t{tree.header_right}"
    assert word.sections[0].footer.paragraphs[0].text.startswith(f"{cell}\t07 27 00-")


@pytest.mark.parametrize(("given_end", "read"), [("\r\n", "\n"), ("\r", "\n"), ("\n", "\n")])
def test_every_kind_of_line_end_is_one_line_break(given_end: str, read: str) -> None:
    assert (
        lines(word_bytes(samples.document(samples.line(Style.BODY, f"a{given_end}b"))))[0].text == f"a{read}b"
    )


@pytest.mark.parametrize("bad", ["\x00", "\x0b", "\x1f", "\ud800", "\ufffe", "\uffff"])
@pytest.mark.parametrize("place", ["paragraph", "cell", "caption", "header", "title"])
def test_a_character_xml_cannot_hold_is_refused(bad: str, place: str) -> None:
    words = f"6 mil{bad}"
    cell, caption = (words if place == "cell" else "x"), (words if place == "caption" else "x")
    tree = samples.document(
        samples.line(Style.BODY, words if place == "paragraph" else "x"),
        Table(("a",), ((cell,),), (1.0,), caption),
    )
    if place == "header":
        tree = dataclasses.replace(tree, header_right=words)
    if place == "title":
        tree = dataclasses.replace(tree, properties=dataclasses.replace(tree.properties, title=words))
    with pytest.raises(ValueError, match=rf"character U\+{ord(bad):04X} at position 6"):
        word_bytes(tree)


def test_same_document_same_bytes_and_no_clock() -> None:
    content = word_bytes(samples.SECTION)
    assert content == word_bytes(samples.SECTION)
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        assert {item.date_time for item in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}


def test_properties_come_from_the_document_alone() -> None:
    core = opened(word_bytes(samples.SECTION)).core_properties
    given_properties = samples.PROPERTIES
    assert (core.title, core.subject) == (given_properties.title, given_properties.subject)
    assert (core.category, core.content_status) == (given_properties.project, given_properties.state)
    assert core.created == core.modified == datetime(2026, 1, 15, tzinfo=UTC)
    assert (core.author, core.comments, core.keywords, core.last_modified_by) == ("", "", "", "")
    everything = "".join(
        part(word_bytes(samples.SECTION), f"docProps/{name}.xml") for name in ("core", "app")
    )
    assert "python" not in everything


@pytest.mark.parametrize("date", [" ", "January 15", "2026-13-01", "2026-01-15T10:00"])
def test_an_issue_date_that_is_none_is_refused(date: str) -> None:
    properties = dataclasses.replace(samples.PROPERTIES, issue_date=date)
    with pytest.raises(ValueError, match="is not a date as 2026-01-15"):
        word_bytes(dataclasses.replace(samples.WIDE, properties=properties))


def test_language_is_the_documents() -> None:
    properties = dataclasses.replace(samples.PROPERTIES, language="es-US")
    other = dataclasses.replace(samples.WIDE, properties=properties)
    for document, language in ((other, "es-US"), (samples.WIDE, "en-US")):
        written = re.findall(r'<w:lang [^>]*w:val="([^"]*)"', part(word_bytes(document), "word/styles.xml"))
        assert written == [language]


def test_footer_counts_pages_by_section_or_of_all() -> None:
    section, report = (
        part(word_bytes(tree), "word/footer1.xml") for tree in (samples.SECTION, samples.REPORT)
    )
    assert " PAGE " in section and "NUMPAGES" not in section and "07 27 00-" in section
    assert " PAGE " in report and " NUMPAGES " in report and "{page}" not in report


def test_landscape_turns_the_page_and_its_right_hand_tab() -> None:
    for tree, size, tab in ((samples.WIDE, (11, 8.5), "12960"), (samples.SECTION, (8.5, 11), "9360")):
        content = word_bytes(tree)
        page = opened(content).sections[0]
        assert (page.page_width.inches, page.page_height.inches) == size
        for margin in ("header1", "footer1"):
            assert f'w:val="right" w:pos="{tab}"' in part(content, f"word/{margin}.xml")
        width = sum(int(w) for w in re.findall(r'<w:gridCol w:w="(\d+)"', part(content, "word/document.xml")))
        assert width == (12960 if tree.landscape else 9360 - 1584)  # under level 1. the table is inset


def test_tables_repeat_their_header_hold_rows_together_and_speak() -> None:
    word = opened(word_bytes(samples.REPORT))
    for table, tree in zip(
        word.tables, [b for b in samples.REPORT.blocks if isinstance(b, Table)], strict=True
    ):
        rows = table._tbl.tr_lst
        assert [row.trPr.find(qn("w:tblHeader")) is not None for row in rows] == [True] + [False] * len(
            tree.rows
        )
        assert all(row.trPr.find(qn("w:cantSplit")) is not None for row in rows)
        assert table._tbl.tblPr.find(qn("w:tblCaption")).get(qn("w:val")) == tree.caption
        assert tree.header[0] in table._tbl.tblPr.find(qn("w:tblDescription")).get(qn("w:val"))
        assert table.style.name == "Quiet Table"
        fills = [tc.find(".//" + qn("w:shd")) is not None for tc in (row.tc_lst[0] for row in rows[1:])]
        assert fills == [tone != "plain" for tone in tree.tones or ("plain",) * len(tree.rows)]


def test_tables_never_touch_and_never_end_the_body() -> None:
    body = opened(word_bytes(samples.REPORT)).element.body
    tags = [child.tag.rpartition("}")[2] for child in body]
    assert "tbl tbl" not in " ".join(tags)
    assert tags[-2:] == ["p", "sectPr"]


def test_what_leads_into_something_stays_with_it() -> None:
    word = opened(word_bytes(samples.SECTION))
    kept = {p.text for p in word.paragraphs if p.paragraph_format.keep_with_next}
    assert {"Section includes:", "Galvanized steel:", "Meet the limits of the table below."} <= kept
    assert word.paragraphs[-2].paragraph_format.keep_with_next  # END OF SECTION is never alone
    assert not any(text.startswith(("Sign the letter", "Step 3")) for text in kept)


def test_outline_levels_feed_the_navigation_pane() -> None:
    styles = opened(word_bytes(samples.SECTION)).styles
    found = {
        style.name: outline.get(qn("w:val"))
        for style in styles
        if (outline := style.element.find(".//" + qn("w:outlineLvl"))) is not None
    }
    assert found == {
        "Heading 1": "0",
        "Heading 2": "1",
        "Heading 3": "2",
        "Section Title": "0",
        "Part Heading": "1",
        "Article Heading": "2",
        "Report Heading": "0",
        "Report Subheading": "1",
    }


@pytest.mark.parametrize("style", list(Style))
def test_every_style_is_custom_quick_and_stands_on_normal(style: Style) -> None:
    found = opened(word_bytes(samples.WIDE)).styles[style.value]
    assert found.element.get(qn("w:customStyle")) == "1"
    assert found.quick_style
    base = found
    while base.base_style is not None:
        base = base.base_style
    assert base.name == "Normal"


def test_a_reference_is_a_field_a_level_that_reads_as_its_number() -> None:
    content = word_bytes(samples.SECTION)
    xml = part(content, "word/document.xml")
    codes = re.findall(r"<w:instrText[^>]*> (REF \S+ \\n \\h) </w:instrText>", xml)
    names = [code.split()[1] for code in codes]
    assert len(codes) == 4  # 2.1, A and 1 for one reference, 2.2 for the other
    assert set(names) == set(re.findall(r'<w:bookmarkStart [^>]*w:name="([^"]+)"', xml))
    assert xml.count("<w:bookmarkStart ") == xml.count("<w:bookmarkEnd ") == 4
    sentence = next(line.text for line in lines(content) if line.text.startswith("Hold point"))
    assert "membrane of 2.1.A.1 or the accessories of 2.2 before" in sentence


@given(st.lists(st.text(min_size=1, max_size=60), unique=True, min_size=2, max_size=8))
def test_bookmark_names_are_valid_and_differ(keys: list[str]) -> None:
    names = [bookmark_name(key.encode(errors="replace").decode()) for key in keys]
    assert all(re.fullmatch(r"[A-Za-z_][A-Za-z0-9_]{0,39}", name) for name in names)
    distinct = {key.encode(errors="replace").decode() for key in keys}
    assert len({name.lower() for name in names}) == len(distinct)


def test_keys_that_differ_late_or_in_case_or_look_marked_keep_different_names() -> None:
    long = "coping.attachment.cleat.thickness.at_corner_zone_"
    marked = bookmark_name("a.b").removeprefix("_Ref_")
    for one, other in ((long + "1", long + "2"), ("Width", "width"), ("a.b", "a_b"), ("a.b", marked)):
        assert bookmark_name(one).lower() != bookmark_name(other).lower()


@pytest.mark.parametrize(
    ("blocks", "message"),
    [
        ((samples.line(Style.PARAGRAPH, "x"),), "is at level 2"),
        ((samples.line(Style.BODY, ""),), "has no text"),
        (
            (samples.line(Style.BODY, "x", "k"), samples.line(Style.BODY, "y", "k")),
            "two paragraphs have the key 'k'",
        ),
        ((Para(Style.BODY, (CrossRef("gone", "1.1"),)),), "names 'gone': no numbered paragraph"),
        (
            (samples.line(Style.BODY, "x", "k"), Para(Style.BODY, (CrossRef("k", "1.1"),))),
            "no numbered paragraph",
        ),
        (
            (*HEADS, samples.line(Style.PARAGRAPH, "x", "k"), Para(Style.BODY, (CrossRef("k", "1.1.B"),))),
            "says '1.1.B', but the paragraph is '1.1.A'",
        ),
        ((Table(("a", "b"), (), (1.0,), "T"),), "2 columns and 1 widths"),
        ((Table(("a", "b"), (), (0.5, 0.6), "T"),), "together 1"),
        ((Table(("a", "b"), (), (1.5, -0.5), "T"),), "each above 0"),
        ((Table(("a",), (("x", "y"),), (1.0,), "T"),), "row 1 of table 'T' has 2 cells under 1 headings"),
        ((Table(("a",), (("x",),), (1.0,), "T", ("bad", "good")),), "1 rows and 2 tones"),
        ((Table(("a",), (), (1.0,), ""),), "needs a caption"),
        ((Table((), (), (), "T"),), "needs a caption and a header"),
    ],
)
def test_what_cannot_be_written_is_refused(blocks: tuple[Para | Table, ...], message: str) -> None:
    with pytest.raises(ValueError, match=re.escape(message)):
        word_bytes(samples.document(*blocks))


def test_a_reference_to_a_part_and_to_each_level_reads_back() -> None:
    words = ["General", "Summary", "A", "1", "a", "1)"]
    blocks = [
        samples.line(style, word, f"k{i}")
        for i, (style, word) in enumerate(zip(list(Style)[3:9], words, strict=True))
    ]
    for line in numbered(tuple(blocks)):
        para = Para(Style.BODY, (*text("See "), CrossRef(line.para.key, line.number), *text(".")))
        assert lines(word_bytes(samples.document(*blocks, para)))[-1].text == f"See {line.number}."


def test_the_contents_name_each_section_and_a_page_that_is_right_without_an_update() -> None:
    content = volume_bytes(samples.VOLUME)
    xml, settings_part = part(content, "word/document.xml"), part(content, "word/settings.xml")
    word = opened(content)
    found = [one.text for one in word.paragraphs if one.style.name == "toc 1"]
    heads = [
        part_of.blocks[0].text for part_of in samples.VOLUME.parts[:2]
    ]  # the third begins with no heading
    assert found == [
        f"{head}\t{number}-1" for head, number in zip(heads, ("07 27 00", "07 71 00"), strict=True)
    ]
    codes = re.findall(r"<w:instrText[^>]*> PAGEREF (\S+) \\h </w:instrText>", xml)
    assert [xml.index(f'w:name="{one}"') > xml.index(f"PAGEREF {one} ") for one in codes] == [True, True]
    # A heading stands first in a section that begins on a new page 1: so its page is known before Word counts it.
    assert xml.count('<w:pgNumType w:start="1"/>') == xml.count('<w:type w:val="nextPage"/>') == 5
    assert "updateFields" not in settings_part and "dirty" not in xml and " TOC " not in xml


def test_the_tabs_of_an_offices_contents_give_way_to_that_of_the_page() -> None:
    look = base_template()
    styled = dataclasses.replace(look, look=dataclasses.replace(look.look, contents_tabs=(440, 9016)))
    xml = part(volume_bytes(samples.VOLUME, styled), "word/document.xml")
    tabs = '<w:tab w:val="clear" w:pos="440"/><w:tab w:val="clear" w:pos="9016"/>'
    assert f'{tabs}<w:tab w:val="right" w:leader="dot" w:pos="9360"/>' in xml
